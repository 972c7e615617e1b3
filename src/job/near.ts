/**
 * The name among `known` that was most likely meant by `written`; undefined when none is near. Case, underscores,
 * blanks and inner capitals count for nothing.
 */
export function nearest(written: string, known: readonly string[]): string | undefined {
  const plain = plainName(written);
  let best: string | undefined;
  let bestDistance = Math.max(1, Math.floor(plain.length / 3)) + 1;
  for (const name of known) {
    const distance = editDistance(plain, plainName(name));
    if (distance < bestDistance) {
      best = name;
      bestDistance = distance;
    }
  }
  return best;
}

function plainName(name: string): string {
  return name
    .slice(0, 60)
    .toLowerCase()
    .replace(/[-_\s]/g, '');
}

/** Fewest single letters to put in, take out, change or swap with a neighbour. */
function editDistance(a: string, b: string): number {
  let twoBack: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (last[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      let cost = Math.min(change, (last[j] as number) + 1, (row[j - 1] as number) + 1);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, (twoBack[j - 2] as number) + 1);
      row.push(cost);
    }
    twoBack = last;
    last = row;
  }
  return last[b.length] as number;
}
