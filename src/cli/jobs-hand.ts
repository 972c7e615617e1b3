import { parentPort, workerData } from 'node:worker_threads';
import type { Done, Handed } from './jobs.ts';
import { type Order, outcomeOf } from './jobs-one.ts';

// One of several threads that check jobs: takes a job, gives its outcome, until it is sent away.
parentPort?.on('message', async ({ index, job }: Handed) => {
  const done: Done = { index, outcome: await outcomeOf(job, workerData as Order) };
  parentPort?.postMessage(done);
});
