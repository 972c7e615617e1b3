import { writeFileSync } from 'node:fs';
import { bundle } from '/work/main/tests/bench/bundle.mjs';

const { kindNamed, inputOf } = await bundle('/work/main/tests/fuzz/x.mjs', [
  "export { kindNamed, inputOf } from './kinds.ts';",
]);
for (const a of process.argv.slice(2)) {
  const [k, n, name] = a.split(':');
  const kind = kindNamed(k);
  writeFileSync(`tests/fuzz/kept/${k}.${name}.input`, inputOf(kind, +n));
}
