import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { goodJob } from '../pairs.ts';
import { cells, run } from './process.ts';

const many = (count: number, text: string): string => text.repeat(count);
const page = (inner: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">${inner}</svg>`;

/** Drawings meant to hold the machine up; each at full size, as pocket and as plug. */
const HOSTILE: readonly (readonly [name: string, drawing: () => string])[] = [
  ['entities of entities', entities],
  ['uses of uses', uses],
  ['use of itself', () => page('<g id="a"><use href="#a"/></g>')],
  ['a million nested groups', () => `<svg>${many(1e6, '<g>')}`],
  ['50 MB of digits', () => page(`<path d="M${many(5e6, '1234567890')}"/>`)],
  ['coordinates of 1e308', () => page('<path d="M0 0L1e308 1e308-1e308 5z"/>')],
  ['no numbers', () => page('<path d="M0 0LNaN Infinity"/><rect width="NaN" height="Infinity"/>')],
];

/** Prints what a whole check of each costs, with its exit status and the beginning of what it says. */
export function hostile(root: string, print: (line: string) => void): void {
  const folder = mkdtempSync(join(tmpdir(), 'dryfit-bench-'));
  const job = join(folder, 'hostile.dryfit.yaml');
  writeFileSync(job, JSON.stringify(goodJob()));
  print(cells('hostile drawings', 'cpu s', 'wall s', 'MB', 'status'));
  for (const [name, drawing] of HOSTILE) {
    const text = drawing();
    for (const part of ['pocket', 'plug']) writeFileSync(join(folder, `${part}.svg`), text);
    const { seconds, wall, megabytes, status, says } = run([join(root, 'bin/dryfit.js'), 'check', job]);
    print(cells(name, seconds.toFixed(2), wall.toFixed(2), megabytes.toFixed(0), `${status}`));
    print(`  ${says.replaceAll(`${folder}/`, '').slice(0, 150)}`);
  }
  rmSync(folder, { recursive: true });
}

/** Ten entities of ten of the one before: a thousand million letters. */
function entities(): string {
  const names = Array.from({ length: 9 }, (_, i) => `<!ENTITY e${i + 1} "${many(10, `&e${i};`)}">`).join('');
  return `<!DOCTYPE svg [<!ENTITY e0 "M0 0h9v9z">${names}]>${page('<path d="&e9;"/>')}`;
}

function uses(): string {
  const groups = Array.from(
    { length: 12 },
    (_, i) => `<g id="u${i + 1}">${many(10, `<use href="#u${i}"/>`)}</g>`,
  );
  return page(`<defs><rect id="u0" width="1" height="1"/>${groups.join('')}</defs><use href="#u12"/>`);
}
