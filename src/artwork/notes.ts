import type { LeftOut, LeftOutKind, Mark } from './artwork.ts';

/** So many of one kind are told one by one; the rest are counted. */
const MOST_OF_A_KIND = 100;

/** Collects what did not become an outline. */
export class Notes {
  private readonly list: LeftOut[] = [];
  private readonly counts = new Map<string, number>();

  add(kind: LeftOutKind, mark: () => Mark, says: string, matters: boolean): void {
    const key = `${kind} ${matters}`;
    const count = (this.counts.get(key) ?? 0) + 1;
    this.counts.set(key, count);
    if (count <= MOST_OF_A_KIND) this.list.push({ kind, mark: mark(), says, matters });
  }

  all(rootMark: Mark): readonly LeftOut[] {
    const rest: LeftOut[] = [];
    for (const [key, count] of this.counts) {
      if (count <= MOST_OF_A_KIND) continue;
      const kind = key.split(' ')[0] as LeftOutKind;
      const says = `${count - MOST_OF_A_KIND} more like the ones before.`;
      rest.push({ kind, mark: rootMark, says, matters: key.endsWith('true') });
    }
    return [...this.list, ...rest];
  }
}
