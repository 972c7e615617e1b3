// npm run faults [-- WORDS OF A FAULT]
import { bundle } from '../bench/bundle.mjs';

const { sweep } = await bundle(import.meta.filename, ["export { sweep } from './sweep.ts';"]);
await sweep((line) => process.stdout.write(`${line}\n`), process.argv[2], process.argv[3]?.split(','));
