// npm run faults [-- WORDS OF A FAULT [DESIGN,...]] [-- --many 230 --share 0.3 --seed 1]
import { parseArgs } from 'node:util';
import { bundle } from '../bench/bundle.mjs';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { many: { type: 'string' }, share: { type: 'string' }, seed: { type: 'string' } },
});
const numbers = Object.fromEntries(Object.entries(values).map(([name, text]) => [name, Number(text)]));
if (Object.values(numbers).some((value) => !(value > 0)))
  throw new Error('--many, --share and --seed want a number above zero');
const { sweep } = await bundle(import.meta.filename, ["export { sweep } from './sweep.ts';"]);
await sweep((line) => process.stdout.write(`${line}\n`), {
  only: positionals[0],
  names: positionals[1]?.split(','),
  ...numbers,
});
