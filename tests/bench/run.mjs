// npm run bench
import { bundle } from './bundle.mjs';

const { ladder } = await bundle(import.meta.filename, ["export { ladder } from './ladder.ts';"]);
await ladder(import.meta.dirname, (line) => process.stdout.write(`${line}\n`));
