// npm run fuzz [-- KIND [COUNT [FIRST]]]
//
// Tries COUNT inputs of a kind (those of kinds.ts; or all, shared out among them), numbered from FIRST on: the same number
// is the same input for ever. Prints how they were answered, the numbers of those whose answer was bad, and the slowest.
// One input alone is printed as well. Time is processor time of the child that tries; a child that takes more than 5 s
// (whole runs of advice: as long as their kind says) or too much memory over one input is stopped, and the next goes on
// after it.
import { fork } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, readFileSync, readSync, rmSync } from 'node:fs';
import { availableParallelism, cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { bundle } from '../bench/bundle.mjs';

const MOST_BYTES = 500 * 1024 * 1024;
const TICKS = 100; // of /proc/PID/stat, a second
const PAGE = 4096;
const MOST_SORTS = 20;

const [asked = 'all', count = '100000', first = '1'] = process.argv.slice(2);
const { KINDS, inputOf } = await bundle(import.meta.filename, [
  "export { KINDS, inputOf } from './kinds.ts';",
]);
const chosen = KINDS.filter(([kind]) => asked === 'all' || kind.name === asked);
if (chosen.length === 0) {
  console.error(
    `There is no kind "${asked}"; there are ${KINDS.map(([kind]) => kind.name).join(', ')} and all.`,
  );
  process.exit(2);
}
if (count === '1' && chosen.length === 1) process.stdout.write(`${inputOf(chosen[0][0], Number(first))}\n`);
console.log(
  `${cpus()[0]?.model}, ${availableParallelism()} cores, Node ${process.version}; numbers from ${first}`,
);
let bad = 0;
for (const [kind, share] of chosen) {
  const total = asked === 'all' ? Math.round(Number(count) * share) : Number(count);
  bad += await sweep(kind, Number(first), total);
}
process.exitCode = bad === 0 ? 0 : 1;

/** All inputs of one kind, by as many children as it takes; how many were bad. */
async function sweep({ name, seconds = 5 }, from, total) {
  const sum = { done: 0, words: {}, bad: [], slowest: { number: from, ms: 0 }, seconds: 0, mostBytes: 0 };
  const end = from + total;
  for (let next = from; next < end; ) {
    const stopped = await oneChild({ name, seconds }, next, end - next, sum);
    if (stopped === undefined) break;
    // Memory may have come together over many inputs: only what takes it alone is bad.
    const alone = stopped.memory ? await oneChild({ name, seconds }, stopped.number, 1, sum) : stopped;
    if (alone !== undefined) sum.bad.push(alone);
    next = stopped.number + 1;
  }
  const words = Object.entries(sum.words)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([word, times]) => `${word} ${times}`);
  const { slowest } = sum;
  console.log(
    `${name}: ${sum.done} tried (${words.join(', ')}), ${sum.bad.length} bad; ` +
      `${Math.round(sum.done / sum.seconds)} a second of processor time, slowest number ${slowest.number} with ${Math.round(slowest.ms)} ms, ` +
      `most memory ${Math.round(sum.mostBytes / 1048576)} MB`,
  );
  for (const [like, numbers] of alike(sum.bad))
    console.log(`  ${numbers.length} like ${name} ${numbers.slice(0, 5).join(', ')}: ${like}`);
  return sum.bad.length;
}

/** Bad answers of one sort together: those whose complaints differ in figures and quoted words only. */
function alike(bads) {
  const sorts = new Map();
  for (const { number, bad } of bads) {
    const sort = bad.replace(/".*?"|[^A-Za-z ]+/g, '').slice(0, 45);
    const known = sorts.get(sort) ?? {
      text: bad.split('\n').slice(0, 5).join('\n     ').slice(0, 600),
      numbers: [],
    };
    known.numbers.push(number);
    sorts.set(sort, known);
  }
  return [...sorts.values()].slice(0, MOST_SORTS).map(({ text, numbers }) => [text, numbers]);
}

/** Resolves to the input over which the child had to be stopped or fell, or to nothing when it came to its end. */
function oneChild({ name, seconds: most }, from, count, sum) {
  const folder = mkdtempSync(join(tmpdir(), 'dryfit-fuzz-'));
  const numbers = openSync(join(folder, 'number'), 'w+');
  const child = fork(join(import.meta.dirname, 'child.mjs'), [name, String(from), String(count)], {
    execArgv: ['--max-old-space-size=350'],
    stdio: ['ignore', 'inherit', 'inherit', numbers, 'ipc'],
  });
  let why;
  let memory = false;
  let lately = { number: -1, since: 0 };
  let used = 0;
  const watch = setInterval(() => {
    const { seconds, bytes } = usageOf(child.pid);
    used = Math.max(used, seconds);
    sum.mostBytes = Math.max(sum.mostBytes, bytes);
    const number = numberIn(numbers);
    if (number !== lately.number) lately = { number, since: seconds };
    if (number >= from && seconds - lately.since > 2 * most + 1)
      why ??= `took more than ${most} s, if it ends at all`;
    if (bytes > MOST_BYTES) {
      memory = true;
      why ??= `took ${Math.round(bytes / 1048576)} MB`;
    }
    if (why !== undefined) child.kill('SIGKILL');
  }, 200);
  child.on('message', (heard) => add(sum, heard));
  return new Promise((resolve) => {
    child.on('exit', (code, signal) => {
      clearInterval(watch);
      const number = numberIn(numbers);
      closeSync(numbers);
      rmSync(folder, { recursive: true });
      sum.seconds += used;
      resolve(code === 0 ? undefined : { number, memory, bad: why ?? `the child fell: ${signal ?? code}` });
    });
  });
}

function add(sum, { done, words, bad, slowest }) {
  sum.done += done;
  sum.bad.push(...bad);
  for (const [word, times] of Object.entries(words)) sum.words[word] = (sum.words[word] ?? 0) + times;
  if (slowest.ms > sum.slowest.ms) sum.slowest = slowest;
}

function numberIn(file) {
  const bytes = Buffer.alloc(8);
  return readSync(file, bytes, 0, 8, 0) === 8 ? bytes.readDoubleLE() : -1;
}

/** Processor time and memory of a process (Linux; elsewhere wall time and no memory). */
function usageOf(pid) {
  try {
    const fields = readFileSync(`/proc/${pid}/stat`, 'latin1')
      .replace(/^.*\) /, '')
      .split(' ');
    return { seconds: (Number(fields[11]) + Number(fields[12])) / TICKS, bytes: Number(fields[21]) * PAGE };
  } catch {
    return { seconds: performance.now() / 1000, bytes: 0 };
  }
}
