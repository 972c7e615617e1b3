// npm run mutants:quick [-- AREA[,...] [COUNT [SEED]]] [--tests FILE,...] [--file PART] [--most SECONDS]
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import vm from 'node:vm';
import { shuffled } from './sample.mjs';
import { instrumented, KEPT, loaded, PROJECT, runnerInto, scriptOf, uncounted } from './script.mjs';
import { shown, tell } from './tell.mjs';

/**
 * The same mutants as run.mjs, in one process: a file's mutants stand side by side in one script with the tests, one is
 * switched on at a time, and only the tests that reach it are run, those that most often told a mutant of the file for
 * their time first. What lies below the area is loaded once, and facts that no mutant of the area can change are worked
 * out once. Much quicker than starting the runner for each; what is left alive here is left alive there.
 */
const AREAS = {
  units: { files: ['src/units.ts'], tests: ['tests'], only: /^tests\/units[^/]*\.test\.ts$/ },
  engine: { files: ['src/engine'], tests: ['tests/engine'] },
  rules: { files: ['rules'], tests: ['tests/rules'], keepsFacts: true },
  carve: { files: ['src/carve'], tests: ['tests/carve', 'tests/rules'], most: 3 },
};
/** Rooms that stand in the script itself, beside the area; all others are loaded once. */
const INSIDE = {
  units: /./,
  engine: /\/(engine|tests)\//,
  rules: /\/(rules|tests)\//,
  carve: /\/(carve|engine|rules|advice|report|cli|tests)\//,
};
/** A mutated place that is met so many times as often as without the mutant, and this often besides, has no end. */
const TIMES = 100;
const HITS = 1e6;
/** Nor has a test that takes so many times as long, ms to the second, and this long besides, ms. */
const TIMES_LONGER = 20_000;
const LONGER = 5000;

/** Processor time that is none, s. */
const NO_TIME = 0.02;

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: {
    tests: { type: 'string' },
    file: { type: 'string' },
    most: { type: 'string' },
    again: { type: 'string' },
  },
});
const areas = positionals[0]?.split(',') ?? Object.keys(AREAS);
/** Of a run over the same mutants, what it named alive is tried again; all others it has told. */
const again = values.again === undefined ? undefined : readFileSync(values.again, 'utf8');
const [count, seed] = [Number(positionals[1] ?? Number.POSITIVE_INFINITY), Number(positionals[2] ?? 1)];

function listed(paths, ending) {
  return paths.flatMap((path) =>
    path.endsWith('.ts')
      ? [path]
      : readdirSync(join(PROJECT, path), { recursive: true })
          .filter((name) => name.endsWith(ending))
          .map((name) => join(path, name)),
  );
}

const CASE = new vm.Script('dryfitCase()');
const NO_END = 'ERR_SCRIPT_EXECUTION_TIMEOUT';

/** Which mutant is on, how often it was met since, and what was reached since it was last asked. */
class Switches {
  on = -1;
  hits = 0;
  most = Number.POSITIVE_INFINITY;
  reached;

  constructor(size) {
    this.reached = new Float64Array(size);
  }

  limit(most) {
    this.hits = 0;
    this.most = most;
  }

  hit() {
    if (++this.hits > this.most) throw new Error('without end');
    return true;
  }

  /** How often each place was reached, of those that were; then none is. */
  taken() {
    const found = new Map();
    this.reached.forEach((times, id) => {
      if (times > 0) found.set(id, times);
    });
    this.reached.fill(0);
    return found;
  }
}

/** A script with all its tests, loaded anew on demand. */
async function scriptFor(area, texts, chosen, prepared = (code) => code) {
  const code = await scriptOf(INSIDE[area], texts, chosen);
  rooms ??= await loaded(code);
  const cases = [];
  const runner = runnerInto(cases);
  globalThis.dryfitRequire = (name) => (name === 'vitest' ? runner : rooms.get(name));
  const script = new vm.Script(
    `(function (require, module) {${prepared(code)}\n})(dryfitRequire, { exports: {} });`,
  );
  const load = () => {
    cases.length = 0;
    script.runInThisContext();
  };
  load();
  return { cases, load };
}
let rooms;

async function score(area) {
  const { files, tests, only, keepsFacts } = AREAS[area];
  const most = Number(values.most ?? AREAS[area].most ?? Number.POSITIVE_INFINITY);
  globalThis.dryfitFacts = keepsFacts ? new Map() : undefined;
  rooms = undefined;
  const chosen =
    values.tests?.split(',') ?? listed(tests, '.test.ts').filter((test) => only?.test(test) ?? true);
  const wanted = listed(files, '.ts').filter((file) => file.includes(values.file ?? ''));
  const { mutants, texts } = await instrumented(wanted);
  const switches = new Switches(mutants.length);
  globalThis.dryfitMutants = switches;
  const { cases } = await scriptFor(area, texts, chosen);
  const atLoading = switches.taken();
  const took = [];
  const reached = [];
  for (const run of cases) {
    const start = process.cpuUsage().user;
    await run();
    took.push((process.cpuUsage().user - start) / 1e6);
    reached.push(switches.taken());
  }
  const sum = took.reduce((all, seconds) => all + seconds, 0);
  process.stderr.write(`${area}: ${mutants.length} mutants, ${took.length} tests, ${sum.toFixed(0)} s\n`);
  const sample = shuffled(mutants, seed).slice(0, count);
  for (const mutant of sample)
    if (again?.includes(`alive ${shown(mutant)}`) === false) mutant.status = 'Killed';
  for (const file of wanted) {
    const here = sample.filter((mutant) => mutant.file === file && mutant.status !== 'Killed');
    if (here.length > 0) await tryAll(file, here);
  }
  tell(area, mutants.length, sample, seed);

  async function tryAll(file, here) {
    const path = join(PROJECT, file);
    const start = performance.now();
    const { cases, load } = await scriptFor(area, new Map([[path, texts.get(path)]]), chosen, uncounted);
    const ids = mutants.filter((mutant) => mutant.file === file).map(({ id }) => Number(id));
    const entered = took.map((_, k) => ids.some((id) => reached[k].has(id)));
    const told = took.map(() => 1);
    const first = (a, b) => took[a] / told[a] - took[b] / told[b];
    for (const mutant of here) {
      const id = Number(mutant.id);
      // What is set at loading may matter to any test that enters its file, and to those that take no time because
      // all their work is done at loading.
      const early = atLoading.has(id);
      const which = [...took.keys()]
        .filter((k) => (early ? entered[k] || took[k] < NO_TIME : reached[k].has(id)))
        .sort(first);
      mutant.status = which.length === 0 ? 'NoCoverage' : await fate(id, early, which);
    }
    const alive = here.filter(({ status }) => status === 'Survived' || status === 'NoCoverage').length;
    const time = ((performance.now() - start) / 1000).toFixed(0);
    process.stderr.write(`${file}: ${alive} of ${here.length} alive, ${time} s\n`);

    /** How the test that stands ready ended; `undefined` when it minded nothing. */
    async function endOf(seconds, patience = 1) {
      const limit = Math.ceil(LONGER + TIMES_LONGER * seconds);
      const timeout = limit * patience;
      const start = process.cpuUsage().user;
      try {
        await CASE.runInThisContext({ timeout });
        return undefined;
      } catch (thrown) {
        if (switches.hits > switches.most) return 'Timeout';
        if (thrown?.code !== NO_END) return 'Killed';
        // On a busy machine the clock runs on while nothing is done: then the test is asked again, with more time.
        return process.cpuUsage().user - start > 500 * limit ? 'Timeout' : endOf(seconds, 2 * patience);
      }
    }

    async function fate(id, early, which) {
      switches.on = id;
      try {
        if (early) {
          switches.limit(HITS + TIMES * atLoading.get(id));
          load();
        }
        let used = 0;
        for (const k of which) {
          used += took[k];
          if (used > most) continue;
          switches.limit(HITS + TIMES * (reached[k].get(id) ?? atLoading.get(id)));
          globalThis.dryfitCase = cases[k];
          const ended = await endOf(took[k]);
          if (ended === undefined) continue;
          told[k]++;
          return ended;
        }
        return 'Survived';
      } catch {
        return 'Killed';
      } finally {
        switches.on = -1;
        if (early) load();
      }
    }
  }
}

for (const area of areas) await score(area);
rmSync(KEPT, { recursive: true, force: true });
