import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Rows of a plain comma-separated file beside this one, as records by the names in its first line. */
export function readCsv(name: string): readonly Readonly<Record<string, string>>[] {
  const [head, ...lines] = readFileSync(join(import.meta.dirname, name), 'utf8')
    .trimEnd()
    .split('\n');
  const names = head!.split(',');
  return lines.map((line) => {
    const cells = line.split(',');
    return Object.fromEntries(names.map((n, i) => [n, cells[i] ?? '']));
  });
}
