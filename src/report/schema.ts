import { SCHEMA_ID } from './version.ts';

const number = { type: 'number' } as const;
const text = { type: 'string' } as const;
const numberOrNull = { type: ['number', 'null'] } as const;
const UNITS = ['mm', 'mm2', 'mm3', 'deg', 'N', 'MPa', '%', 'times', 'count', 'min', 'yes'];

const quantity = {
  type: 'object',
  properties: { value: numberOrNull, unit: { enum: UNITS } },
  required: ['value', 'unit'],
  additionalProperties: false,
} as const;

const reading = {
  type: 'object',
  description:
    'One measurement: what was measured, how far it may be off (give), what is wanted, where it is.',
  properties: {
    measured: quantity,
    give: numberOrNull,
    'at-least': numberOrNull,
    'at-most': numberOrNull,
    room: {
      ...numberOrNull,
      description: 'how far on the good side of what is wanted; negative: on the bad side',
    },
    outcome: { enum: ['pass', 'close', 'fail'] },
    part: { enum: ['pocket', 'plug', 'pair', 'job'] },
    at: {
      type: 'object',
      description: "millimetres in the drawing's own frame, y down",
      properties: { x: numberOrNull, y: numberOrNull },
      required: ['x', 'y'],
      additionalProperties: false,
    },
    element: text,
    file: text,
    line: number,
    column: number,
    label: text,
    says: text,
    cure: text,
  },
  required: ['measured', 'give', 'at-least', 'at-most', 'room', 'outcome', 'part', 'says'],
  additionalProperties: false,
} as const;

const check = {
  type: 'object',
  properties: {
    id: text,
    asks: text,
    outcome: { enum: ['pass', 'close', 'fail', 'moot', 'untold'] },
    readings: { type: 'array', items: { $ref: '#/definitions/reading' } },
    untold: { ...text, description: 'what is missing' },
    moot: { ...text, description: 'why the check has no business here' },
  },
  required: ['id', 'asks', 'outcome', 'readings'],
  additionalProperties: false,
} as const;

const job = {
  type: 'object',
  properties: {
    schema: { const: SCHEMA_ID },
    dryfit: text,
    job: text,
    title: text,
    answer: { enum: ['pass', 'care', 'fail', 'unknown'] },
    facts: { type: 'object', additionalProperties: { anyOf: [quantity, { type: 'null' }] } },
    checks: { type: 'array', items: { $ref: '#/definitions/check' } },
    'not-asked': { type: 'array', items: text },
  },
  required: ['schema', 'dryfit', 'job', 'title', 'answer', 'facts', 'checks', 'not-asked'],
  additionalProperties: false,
} as const;

const unreadable = {
  type: 'object',
  properties: {
    job: text,
    answer: { const: 'unreadable' },
    faults: { type: 'array', items: { type: 'object' } },
  },
  required: ['job', 'answer', 'faults'],
  additionalProperties: false,
} as const;

/** The JSON Schema (draft 7) of a JSON report: one job's record, or a list of them for several jobs. */
export function reportSchema(): object {
  const one = { anyOf: [{ $ref: '#/definitions/job' }, { $ref: '#/definitions/unreadable' }] };
  return {
    $schema: 'http://json-schema.org/draft-07/schema#',
    $id: SCHEMA_ID,
    title: 'Dryfit report',
    definitions: { reading, check, job, unreadable },
    anyOf: [...one.anyOf, { type: 'array', items: one }],
  };
}
