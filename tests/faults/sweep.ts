import { loadClipper } from '../../src/geometry/combine.ts';
import { CATALOGUE, sound } from './catalogue.ts';
import { type Design, designs, randomFrom } from './designs.ts';
import { EXPORTS } from './exports.ts';
import { blamed, complaint, type Trial, tryFault } from './trial.ts';

type Print = (line: string) => void;

/**
 * Plants the faults whose names hold `only` in the designs named (all of either unless given) and prints, for each
 * size, how many came out as due and what was wrong with the others.
 */
export async function sweep(print: Print, only = '', names?: readonly string[]): Promise<void> {
  await loadClipper();
  const all = designs(names);
  let planted = 0;
  let wrong = 0;
  for (const kind of CATALOGUE.filter(({ name }) => name.includes(only))) {
    const trials = all.flatMap((design, n) => tryFault(kind, design, n + 1));
    print(`${kind.name} (${kind.checks.join(', ')})`);
    for (const [size, due] of kind.sizes) {
      const here = trials.filter((trial) => trial.size === size);
      const off = here.filter((trial) => complaint(trial) !== undefined);
      planted += here.length;
      wrong += off.length;
      const good = here.length - off.length;
      print(`  ${Number(size.toPrecision(6))} ${kind.unit}, due ${due}: ${good} of ${here.length}`);
      for (const trial of off) print(`    ${lineOf(trial)}`);
    }
  }
  print(`${wrong} of ${planted} planted faults came out otherwise than due`);
  if (only === '') savedAnew(print, all);
}

function lineOf(trial: Trial): string {
  const off = trial.off === undefined ? '' : ` ${trial.off.toFixed(2)} mm off`;
  return `${trial.design}: ${complaint(trial)}, ${trial.seen}${off} ${trial.says.slice(0, 150)}`;
}

const DRAWN = [
  'artwork.read',
  'artwork.closed',
  'artwork.clean',
  'artwork.size',
  'pair.mirror',
  'pair.match',
];

/** Sound pairs saved in other ways: how many are blamed for more than they are as they were. */
function savedAnew(print: Print, all: readonly Design[]): void {
  for (const { name, save } of EXPORTS) {
    const worse = all.filter(
      (design, n) =>
        blamed(save(design, randomFrom(n + 1)), DRAWN).length > blamed(sound(design), DRAWN).length,
    );
    print(
      `saved ${name}: ${worse.length} of ${all.length} blamed ${worse.map((one) => one.name).join(', ')}`,
    );
  }
}
