// Tries inputs of one kind, from a number on. The number being tried stands in a file that the parent watches, so
// that an input that never ends is known, too.
import { writeSync } from 'node:fs';
import { bundle } from '../bench/bundle.mjs';

const [name, from, count] = [process.argv[2], Number(process.argv[3]), Number(process.argv[4])];
const { kindNamed, inputOf, attempt, loadClipper } = await bundle(import.meta.filename, [
  "export { kindNamed, inputOf, attempt } from './kinds.ts';",
  "export { loadClipper } from '../../src/geometry/combine.ts';",
]);
await loadClipper();
const kind = kindNamed(name);
const now = Buffer.alloc(8);
const SLOW_MS = 1000;
const MOST_MS = 1000 * (kind.seconds ?? 5);
const NUMBERS = 3; // the file descriptor the parent gives

let heard = { done: 0, words: {}, bad: [], slowest: { number: from, ms: 0 } };
let told = performance.now();
for (let number = from; number < from + count; number++) {
  now.writeDoubleLE(number);
  writeSync(NUMBERS, now, 0, 8, 0);
  const input = inputOf(kind, number);
  const before = performance.now();
  const { word, bad } = await attempt(kind, input);
  let ms = performance.now() - before;
  // Others may have held the machine: only what seems slow is worth trying again by processor time.
  if (ms > SLOW_MS) ms = await processorMs(input);
  heard.done++;
  if (word !== undefined) heard.words[word] = (heard.words[word] ?? 0) + 1;
  if (bad !== undefined) heard.bad.push({ number, bad });
  if (ms > MOST_MS) heard.bad.push({ number, bad: `took ${Math.round(ms)} ms` });
  if (ms > heard.slowest.ms) heard.slowest = { number, ms };
  if (performance.now() - told > 500) tell();
}
tell();
process.disconnect();

async function processorMs(input) {
  const before = process.cpuUsage();
  await attempt(kind, input);
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

function tell() {
  process.send(heard);
  told = performance.now();
  heard = { done: 0, words: {}, bad: [], slowest: { number: from, ms: 0 } };
}
