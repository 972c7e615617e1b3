import type { Ink } from './colour.ts';
import { wrap } from './layout.ts';

/** A page of a check, read from its text: a title, then sections in a fixed order. */
export interface Page {
  readonly title: string;
  readonly sections: readonly Section[];
}

export interface Section {
  readonly heading: string;
  readonly blocks: readonly Block[];
}

/** A paragraph, one point of a list, or a drawing in plain characters that keeps its lines. */
export type Block =
  | { readonly kind: 'text' | 'point'; readonly text: string }
  | { readonly kind: 'drawing'; readonly lines: readonly string[] };

/** The sections of every page, in their order. */
export const SECTIONS = [
  'What it asks',
  'Why wood cares',
  'The drawing',
  'How it is measured',
  'How to mend it',
  'What it does not see',
] as const;

/** Columns that running text takes at most: longer lines are hard to follow. */
const MEASURE = 80;
const INDENT = '  ';

/** Reads a page: `# title`, `## heading`, paragraphs, `- ` points and fenced drawings. */
export function readPage(text: string): Page {
  let title = '';
  const sections: { heading: string; blocks: Block[] }[] = [];
  let loose: { kind: 'text' | 'point'; text: string } | undefined;
  let drawing: string[] | undefined;
  const put = (block: Block): void => {
    sections.at(-1)?.blocks.push(block);
  };
  const settle = (): void => {
    if (loose !== undefined) put(loose);
    loose = undefined;
  };
  for (const line of text.split(/\r?\n/)) {
    if (line.startsWith('```')) {
      settle();
      if (drawing !== undefined) put({ kind: 'drawing', lines: drawing });
      drawing = drawing === undefined ? [] : undefined;
    } else if (drawing !== undefined) drawing.push(line);
    else if (line.startsWith('# ')) title = line.slice(2);
    else if (line.startsWith('## ')) {
      settle();
      sections.push({ heading: line.slice(3), blocks: [] });
    } else if (line.trim() === '') settle();
    else if (line.startsWith('- ')) {
      settle();
      loose = { kind: 'point', text: line.slice(2) };
    } else if (loose === undefined) loose = { kind: 'text', text: line.trim() };
    else loose = { ...loose, text: `${loose.text} ${line.trim()}` };
  }
  settle();
  return { title, sections };
}

/** The section of this heading; a page without it is a mistake of ours. */
export function sectionOf(page: Page, heading: (typeof SECTIONS)[number]): Section {
  const section = page.sections.find((candidate) => candidate.heading === heading);
  if (section === undefined) throw new Error(`The page "${page.title}" has no section "${heading}".`);
  return section;
}

/** A page as lines for a terminal of `width` columns. Drawings keep their own width. */
export function pageLines(page: Page, width: number, ink: Ink): string[] {
  const lines = wrap(page.title, Math.min(width, MEASURE)).map((line) => ink.strong(line));
  for (const section of page.sections)
    lines.push('', ink.strong(section.heading), ...sectionLines(section, width));
  return lines;
}

/** What stands in one section, indented, without its heading. */
export function sectionLines(section: Section, width: number): string[] {
  const lines: string[] = [];
  let before: Block['kind'] | undefined;
  for (const block of section.blocks) {
    if (before !== undefined && (block.kind !== 'point' || before !== 'point')) lines.push('');
    lines.push(...blockLines(block, Math.min(width, MEASURE)));
    before = block.kind;
  }
  return lines;
}

/** A paragraph or point as one line of plain text. */
export function plainBlock({ kind, text }: Exclude<Block, { kind: 'drawing' }>): string {
  return `${kind === 'point' ? '- ' : ''}${text.replaceAll('`', '')}`;
}

function blockLines(block: Block, width: number): string[] {
  if (block.kind === 'drawing') return block.lines.map((line) => `${INDENT}${line}`.trimEnd());
  const text = block.text.replaceAll('`', '');
  if (block.kind === 'text') return wrap(text, width - INDENT.length).map((line) => INDENT + line);
  return wrap(text, width - INDENT.length - 2).map((line, i) => `${INDENT}${i === 0 ? '- ' : '  '}${line}`);
}
