import type { BenchSheet, Figure } from '../advice/bench-sheet.ts';
import type { Quantity } from '../engine/reading.ts';
import { VERSION } from './version.ts';

/** Figures are written to a millionth of their unit, as in the report of a check. */
const DECIMALS = 6;

/** The bench sheet as data: lengths mm, forces N, each figure with its ground. Ends with a newline. */
export function benchSheetJson(sheet: BenchSheet): string {
  const { job, title, answer, units, amiss, setup, steps, cautions, ranges } = sheet;
  const record = {
    dryfit: VERSION,
    'bench-sheet': 1,
    job,
    title,
    answer,
    units,
    amiss,
    setup: setup.map(({ name, pocket, plug }) => ({
      name,
      pocket: figureRecord(pocket),
      plug: figureRecord(plug),
    })),
    steps: steps.map(({ part, does, figures, notes }) => ({
      part,
      does,
      figures: figures.map((figure) => ({ name: figure.name, ...figureRecord(figure) })),
      notes,
    })),
    cautions,
    ranges,
  };
  return `${JSON.stringify(record, null, 2)}\n`;
}

function figureRecord(figure: Omit<Figure, 'name'> | Figure): object {
  const ground = figure.ground === undefined ? {} : { ground: figure.ground };
  if (!('value' in figure)) {
    const told =
      'words' in figure ? { words: figure.words } : 'missing' in figure ? { missing: figure.missing } : {};
    return { ...told, ...ground };
  }
  const { value, from, to } = figure as { value: Quantity; from?: number; to?: number };
  return {
    value: rounded(value.value),
    unit: value.unit,
    ...(from === undefined || to === undefined ? {} : { from: rounded(from), to: rounded(to) }),
    ...ground,
  };
}

/** Rounded, never -0; what is no finite number becomes null, as JSON has no other word for it. */
function rounded(value: number): number | null {
  if (!Number.isFinite(value)) return null;
  const scale = 10 ** DECIMALS;
  return Math.round(value * scale) / scale + 0;
}
