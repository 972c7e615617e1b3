import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { type Order, type Outcome, outcomeOf } from './jobs-one.ts';

/** One job handed out to a hand, and what came of it. */
export interface Handed {
  readonly index: number;
  readonly job: string;
}
export interface Done {
  readonly index: number;
  readonly outcome: Outcome;
}

/** The hands' own file beside the bundle; there is none when the sources run unbundled. */
const HAND = new URL('./jobs-hand.js', import.meta.url);

/**
 * Checks jobs on as many cores as there are, and gives the outcomes in the order of the jobs, whoever was first.
 * `onDone` hears how many are done.
 */
export async function runJobs(
  jobs: readonly string[],
  order: Order,
  onDone: (done: number) => void = () => {},
): Promise<readonly Outcome[]> {
  const hands = Math.min(availableParallelism(), jobs.length);
  if (hands < 2 || !existsSync(HAND)) return inTurn(jobs, order, onDone);
  const workers = Array.from({ length: hands }, () => new Worker(HAND, { workerData: order }));
  try {
    return await sharedOut(jobs, workers, onDone);
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
}

async function inTurn(
  jobs: readonly string[],
  order: Order,
  onDone: (done: number) => void,
): Promise<readonly Outcome[]> {
  const outcomes: Outcome[] = [];
  for (const job of jobs) {
    outcomes.push(await outcomeOf(job, order));
    onDone(outcomes.length);
  }
  return outcomes;
}

/** Every hand takes the next job when it has done one, so that a long job holds up nobody else. */
function sharedOut(
  jobs: readonly string[],
  workers: readonly Worker[],
  onDone: (done: number) => void,
): Promise<readonly Outcome[]> {
  return new Promise((resolve, reject) => {
    const outcomes = new Array<Outcome>(jobs.length);
    let next = 0;
    let done = 0;
    const handOut = (worker: Worker): void => {
      if (next >= jobs.length) return;
      const handed: Handed = { index: next, job: jobs[next] as string };
      next++;
      worker.postMessage(handed);
    };
    for (const worker of workers) {
      worker.on('error', reject);
      worker.on('exit', () => reject(new Error('A part of the work ended early.')));
      worker.on('message', ({ index, outcome }: Done) => {
        outcomes[index] = outcome;
        done++;
        onDone(done);
        if (done === jobs.length) resolve(outcomes);
        else handOut(worker);
      });
      handOut(worker);
    }
  });
}
