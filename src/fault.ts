/** Where in an input a fault was met. Lines and columns count from 1. */
export interface FaultPlace {
  readonly file?: string | undefined;
  readonly line?: number | undefined;
  readonly column?: number | undefined;
  readonly element?: string | undefined;
}

/**
 * An input that cannot be used: a missing file, a broken drawing, a job that makes no sense.
 * Thrown by the rooms that read, caught by the cli, which prints `message` with its place and ends with
 * exit status 3. `message` is one or two plain sentences: what was read, what was wanted.
 */
export class InputFault extends Error {
  readonly place: FaultPlace;
  constructor(message: string, place: FaultPlace = {}) {
    super(message);
    this.name = 'InputFault';
    this.place = place;
  }
}

/** Several faults of one input, told at once (the job file lists every problem it has). */
export class InputFaults extends Error {
  readonly faults: readonly InputFault[];
  constructor(faults: readonly InputFault[]) {
    super(faults.map((f) => f.message).join('\n'));
    this.name = 'InputFaults';
    this.faults = faults;
  }
}
