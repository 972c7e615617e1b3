/** Statuses of a mutant that no test minded. */
export const UNHARMED = new Set(['Survived', 'NoCoverage']);

/** Says how an area's sample fared, and names every mutant left alive. */
export function tell(area, total, sample, seed) {
  const of = (...states) => sample.filter(({ status }) => states.includes(status));
  const alive = of(...UNHARMED);
  const killed = of('Killed', 'Timeout', 'Types').length;
  const judged = killed + alive.length;
  const wording = (mutant) => mutant.mutatorName === 'StringLiteral';
  const words = sample.filter((mutant) => wording(mutant) && mutant.status !== 'RuntimeError');
  const whole = sample.length === total;
  const say = (line) => process.stdout.write(`${line}\n`);
  say(`\n${area}: ${killed} of ${judged} killed, ${percent(killed, judged)}${whole ? ' (all of them)' : ''}`);
  say(`  sample ${sample.length} of ${total}, seed ${seed}; ${bounds(killed, judged, whole)}`);
  say(
    `  by tests ${of('Killed').length}, without end ${of('Timeout').length}, by types ${of('Types').length}; ` +
      `not loadable ${sample.length - judged}, reached by no test ${of('NoCoverage').length}`,
  );
  say(`  texts: ${words.length - alive.filter(wording).length} of ${words.length}`);
  for (const mutant of alive.toSorted(
    (a, b) => a.file.localeCompare(b.file) || a.location.start.line - b.location.start.line,
  ))
    say(`  alive ${shown(mutant)}${mutant.status === 'NoCoverage' ? ', reached by no test' : ''}`);
}

const percent = (part, whole) => `${((100 * part) / whole).toFixed(1)} %`;

/** Wilson's interval for a share seen in a sample, 95 in 100 (E. B. Wilson, JASA 22, 1927). */
function bounds(part, whole, all) {
  if (all) return 'no sampling error';
  const [z, p] = [1.96, part / whole];
  const middle = p + z ** 2 / (2 * whole);
  const half = z * Math.sqrt((p * (1 - p)) / whole + z ** 2 / (4 * whole ** 2));
  const [low, high] = [middle - half, middle + half].map((x) => (100 * x) / (1 + z ** 2 / whole));
  return `95 times in 100 the whole lies between ${low.toFixed(1)} % and ${high.toFixed(1)} %`;
}

/** One line that tells a mutant from all others. */
export function shown({ file, source, location: { start, end }, mutatorName, replacement }) {
  const line = source.split('\n')[start.line - 1] ?? '';
  const was = start.line === end.line ? line.slice(start.column - 1, end.column - 1) : line.trim();
  const brief = (text) => text.replace(/\s+/g, ' ').slice(0, 90);
  return `${file}:${start.line}:${start.column} ${mutatorName}: ${brief(was)} -> ${brief(replacement)}`;
}
