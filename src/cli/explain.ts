import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { RULES } from '../../rules/index.ts';
import { ADVICE_NAMES, type AdviceName } from '../advice/pages.ts';
import type { Rule } from '../engine/rule.ts';
import { InputFault } from '../fault.ts';
import { LIMITS, type Limit } from '../job/limits.ts';
import { nearest } from '../job/near.ts';
import { padEnd, wrap } from '../report/layout.ts';
import { type Page, pageLines, readPage } from '../report/page.ts';
import { figureWords, notPassing, placeText } from '../report/sheet.ts';
import { show } from '../units.ts';
import { EXIT } from './exit.ts';
import { readText } from './files.ts';
import { packageFolder } from './package.ts';
import { type Run, runJobFile } from './run.ts';
import { type Screen, screen } from './terminal.ts';

/** Readings of a sample that are shown; more of one kind teach nothing new. */
const SHOWN = 3;
const INDENT = '  ';

/** Prints the list, or the page of a check or command; a check's with its sample's figures. Returns the exit status. */
export async function explain(id: string | undefined): Promise<number> {
  const lines = await linesOf(id, screen());
  process.stdout.write(`${lines.join('\n')}\n`);
  return EXIT.good;
}

async function linesOf(id: string | undefined, view: Screen): Promise<string[]> {
  if (id === undefined) return listLines(view);
  const command = advicePages().find(({ name }) => name === id);
  if (command !== undefined)
    return [view.ink.faint(`dryfit ${id}`), ...pageLines(command.page, view.width, view.ink)];
  const rule = ruleNamed(id);
  return explainLines(rule, view, await sampleRun(rule.id));
}

/** The pages of what Dryfit does besides checking. */
export function advicePages(): readonly { readonly name: AdviceName; readonly page: Page }[] {
  return ADVICE_NAMES.map((name) => ({ name, path: join(packageFolder(), 'src', 'advice', `${name}.md`) }))
    .filter(({ path }) => existsSync(path))
    .map(({ name, path }) => ({ name, page: readPage(readText(path, 'the page of this command')) }));
}

function ruleNamed(id: string): Rule {
  const rule = RULES.find((candidate) => candidate.id === id);
  if (rule !== undefined) return rule;
  const ids = [...RULES.map((candidate) => candidate.id), ...ADVICE_NAMES];
  const near = nearIds(id, ids);
  const hint =
    near.length > 0 ? `Did you mean ${near.join(' or ')}?` : '"dryfit explain" without an id lists them all.';
  throw new InputFault(`There is no check "${id}". ${hint}`);
}

/** Ids a slip away, else those with the same subject or aspect (`mirror`, `depth`). */
export function nearIds(id: string, ids: readonly string[]): readonly string[] {
  const slip = nearest(id, ids);
  if (slip !== undefined) return [slip];
  const words = id.toLowerCase().split(/[^a-z]+/);
  return ids.filter((candidate) => candidate.split('.').some((word) => words.includes(word)));
}

/** Every check with its question, then every other thing there is a page of. */
export function listLines({ ink, width }: Screen): string[] {
  const longest = Math.max(...RULES.map((rule) => rule.id.length)) + 2;
  const row = (id: string, asks: string): string[] => {
    const [first, ...rest] = wrap(asks, width - longest);
    return [`${ink.strong(padEnd(id, longest))}${first}`, ...rest.map((line) => padEnd('', longest) + line)];
  };
  return [
    'The checks, in the order a maker would ask them.',
    '',
    ...RULES.flatMap((rule) => row(rule.id, rule.asks)),
    '',
    'The other things Dryfit does',
    '',
    ...advicePages().flatMap(({ name, page }) => row(name, page.title)),
    '',
    'One of them in full: dryfit explain ID',
  ];
}

/** The page of one check, the limits it uses with their ground, and what was measured on its sample. */
export function explainLines(rule: Rule, view: Screen, sample: Run | undefined): string[] {
  return [
    view.ink.faint(rule.id),
    ...pageLines(pageOf(rule.id), view.width, view.ink),
    '',
    ...limitLines(rule, view),
    ...(sample === undefined ? [] : sampleLines(rule, sample, view)),
  ];
}

/** Asks one check of the design that shows its mistake; undefined when there is none. */
export async function sampleRun(id: string): Promise<Run | undefined> {
  const path = samplePath(id);
  return path === undefined ? undefined : runJobFile(join(packageFolder(), path), { only: [id] });
}

/** The page that stands beside a check. */
export function pageOf(id: string): Page {
  const [subject, aspect] = id.split('.') as [string, string];
  const path = join(packageFolder(), 'rules', subject, `${aspect}.md`);
  return readPage(readText(path, 'the page of this check'));
}

/** Where the design with this one mistake lies, from the package's folder; undefined when there is none. */
export function samplePath(id: string): string | undefined {
  const path = join('samples', id, `${id}.dryfit.yaml`);
  return existsSync(join(packageFolder(), path)) ? path : undefined;
}

function limitLines(rule: Rule, { ink, width }: Screen): string[] {
  const heading = ink.strong('The limits it uses');
  if (rule.limits.length === 0) return [heading, `${INDENT}None that can be set.`];
  const longest = Math.max(...rule.limits.map((name) => name.length)) + 2;
  const lines = [heading];
  for (const name of rule.limits) {
    const { value, unit, means, ground }: Limit = LIMITS[name];
    const text =
      unit === 'mm' ? `${show(value, unit, 'mm')} (${show(value, unit, 'in')})` : show(value, unit, 'mm');
    lines.push(`${INDENT}${padEnd(name, longest)}${text}`);
    lines.push(...wrap(`${means}; ${ground}`, width - 6).map((line) => `      ${line}`));
  }
  return [...lines, `${INDENT}A job sets another with its name under "limits:".`];
}

function sampleLines(rule: Rule, { checked, facts }: Run, { ink, width }: Screen): string[] {
  const check = checked.checks.find(({ id }) => id === rule.id);
  const bad = check === undefined ? [] : notPassing(check);
  const lines = ['', ink.strong('A design with this mistake'), `${INDENT}${samplePath(rule.id)}`];
  for (const reading of bad.slice(0, SHOWN)) {
    const { have, need, room } = figureWords(reading, facts.job.units);
    const where = placeText({ ...reading.place, file: undefined }, facts.job.units);
    const label = `${reading.label ?? rule.row}${where === '' ? '' : ` [${where}]`}`;
    lines.push('', ...wrap(label, width - 2).map((line) => INDENT + line));
    lines.push(`${INDENT}have ${have}   need ${need}   room ${room}`);
    lines.push(...wrap(reading.says, width - 2).map((line) => INDENT + line));
    if (reading.cure !== undefined)
      lines.push(...wrap(`Mend: ${reading.cure}`, width - 2).map((line) => INDENT + line));
  }
  if (bad.length > SHOWN) lines.push('', `${INDENT}and ${bad.length - SHOWN} more of this kind`);
  return lines;
}
