import { InputFault, InputFaults, printable } from '../fault.ts';

/** Everything that is not the report goes to standard error. */
export function say(text: string): void {
  process.stderr.write(`${text}\n`);
}

/** One fault as a maker reads it: where, then what. */
export function faultText(fault: Pick<InputFault, 'message' | 'place'>): string {
  const { file, line, column, element } = fault.place;
  const where: string[] = [];
  if (file !== undefined) where.push(file === '' ? '""' : printable(file));
  if (line !== undefined)
    where.push(column === undefined ? `line ${line}` : `line ${line}, column ${column}`);
  if (element !== undefined) where.push(printable(element));
  return where.length > 0 ? `${where.join(', ')}:\n   ${printable(fault.message)}` : printable(fault.message);
}

/** The faults inside anything thrown; undefined when it is a mistake of ours and not of the input. */
export function faultsOf(thrown: unknown): readonly InputFault[] | undefined {
  if (thrown instanceof InputFault) return [thrown];
  if (thrown instanceof InputFaults) return thrown.faults;
  return undefined;
}
