import { jobShape } from './schema.ts';

/** The JSON Schema (draft 7) of a job file, for editors and other programs. */
export function jobSchema(): object {
  const plain = JSON.parse(
    JSON.stringify(jobShape, (key, value) => (key === 'reads' ? undefined : value)),
  ) as object;
  return { $schema: 'http://json-schema.org/draft-07/schema#', title: 'Dryfit job', ...plain };
}
