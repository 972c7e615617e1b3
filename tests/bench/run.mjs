// npm run bench (builds nothing: `npm run build` first)
import { join } from 'node:path';
import { bundle } from './bundle.mjs';

const { hostile, ladder, processes } = await bundle(import.meta.filename, [
  "export { hostile } from './hostile.ts';",
  "export { ladder } from './ladder.ts';",
  "export { processes } from './process.ts';",
]);
const print = (line) => process.stdout.write(`${line}\n`);
processes(join(import.meta.dirname, '../..'), print);
print('');
hostile(join(import.meta.dirname, '../..'), print);
print('');
await ladder(import.meta.dirname, print);
