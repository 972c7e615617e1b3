import {
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  parseDocument,
  visit,
  type YAMLError,
} from 'yaml';
import { type FaultPlace, InputFault, InputFaults, quoted } from '../fault.ts';

/** What stands in a job file, with the place of everything. Numbers keep the text they were written as. */
export type Written = WrittenMap | WrittenList | WrittenValue;
export interface WrittenMap {
  readonly kind: 'map';
  readonly place: FaultPlace;
  readonly entries: ReadonlyMap<string, { readonly place: FaultPlace; readonly value: Written }>;
}
export interface WrittenList {
  readonly kind: 'list';
  readonly place: FaultPlace;
  readonly items: readonly Written[];
}
export interface WrittenValue {
  readonly kind: 'value';
  readonly place: FaultPlace;
  readonly value: string | number | boolean | null;
  readonly text: string;
  /** A remark that follows with no blank after its `#`: perhaps an id that lost its drawing. */
  readonly gluedRemark?: string;
}

/** Far above any job a person writes; keeps a hostile file from taking time. */
const LONGEST_TEXT = 65_536;
const MOST_FAULTS = 12;

/** Reads YAML text; throws InputFaults with line and column when it is not one plain map. */
export function readDocument(text: string, file: string): WrittenMap {
  if (text.length > LONGEST_TEXT)
    throw fault(`The file has ${text.length} characters; at most ${LONGEST_TEXT} are read.`, { file });
  const lines = new LineCounter();
  const at = (offset: number): FaultPlace => {
    const { line, col } = lines.linePos(offset);
    return line === 0 ? { file } : { file, line, column: col };
  };
  const document = parse(text, file, lines);
  if (document.errors.length > 0) throw new InputFaults(syntaxFaults(document.errors, at));
  refuseMachinery(document, at);
  const root = document.contents as Node | null;
  if (root === null || (isScalar(root) && root.value === null))
    throw fault('The file is empty; a map of keys like "units: mm" was wanted.', { file });
  if (!isMap(root))
    throw fault(
      text.trimStart().startsWith('<')
        ? 'This looks like a drawing; a job file was wanted, with lines like "units: mm" (dryfit begin makes one of two drawings).'
        : 'The file holds no lines like "units: mm", as a job file does.',
      at(root.range?.[0] ?? 0),
    );
  const doubled: InputFault[] = [];
  const written = convert(root, at(root.range?.[0] ?? 0), at, doubled) as WrittenMap;
  if (doubled.length > 0) throw new InputFaults(doubled);
  return written;
}

function parse(text: string, file: string, lineCounter: LineCounter): Document {
  try {
    return parseDocument(text, {
      lineCounter,
      prettyErrors: false,
      uniqueKeys: false,
      merge: false,
      version: '1.2',
    });
  } catch (error) {
    if (error instanceof RangeError) throw fault('The file is nested too deeply to be read.', { file });
    throw error;
  }
}

const SENTENCES: Readonly<Record<string, string>> = {
  TAB_AS_INDENT: 'A tab stands at the start of this line; indent with blanks.',
  MULTIPLE_DOCS: 'A second document begins here (---); one is read.',
  BAD_INDENT: 'This line is indented unlike its neighbours, or a bracket or brace before it is not closed.',
  BAD_ALIAS: 'Anchors and references (& and *) are not used here.',
  BAD_DQ_ESCAPE:
    'A backslash in double quotes means something else to YAML; leave the quotes away or write / in paths.',
  BLOCK_AS_IMPLICIT_KEY:
    'Two keys stand on one line; write each on its own line, or put quotes round text with a colon in it.',
  MISSING_CHAR: 'Something is missing here: a closing quote, bracket or brace, or the colon after a key.',
  UNEXPECTED_TOKEN: 'This is out of place here; perhaps a bracket, quote or colon too many.',
  KEY_OVER_1024_CHARS: 'This key is far too long.',
  MULTILINE_IMPLICIT_KEY: 'The colon after this key is missing.',
  RESOURCE_EXHAUSTION: 'The file is nested too deeply to be read.',
};

function syntaxFaults(errors: readonly YAMLError[], at: (offset: number) => FaultPlace): InputFault[] {
  const faults = new Map<string, InputFault>();
  const deep = errors.find((error) => error.code === 'RESOURCE_EXHAUSTION');
  for (const error of deep === undefined ? errors : [deep]) {
    const place = at(error.pos[0]);
    const sentence = SENTENCES[error.code] ?? `This is not YAML: ${error.message}.`;
    const where = `${place.line} ${sentence}`;
    if (!faults.has(where) && faults.size < MOST_FAULTS) faults.set(where, new InputFault(sentence, place));
  }
  return [...faults.values()];
}

/** Anchors, references and tags make one text mean another; a job has no need of them. */
function refuseMachinery(document: Document, at: (offset: number) => FaultPlace): void {
  const faults: InputFault[] = [];
  const refuse = (node: Node, sentence: string) =>
    faults.push(new InputFault(sentence, at(node.range?.[0] ?? 0)));
  visit(document, {
    Node(_key, node) {
      if (isAlias(node) || node.anchor !== undefined) refuse(node, SENTENCES['BAD_ALIAS'] as string);
      else if (node.tag !== undefined) refuse(node, 'Tags (!) are not used here.');
      return faults.length >= MOST_FAULTS ? visit.BREAK : undefined;
    },
  });
  if (faults.length > 0) throw new InputFaults(faults);
}

function convert(
  node: unknown,
  place: FaultPlace,
  at: (offset: number) => FaultPlace,
  doubled: InputFault[],
): Written {
  if (isMap(node)) {
    const entries = new Map<string, { place: FaultPlace; value: Written }>();
    for (const pair of node.items) {
      const keyNode = pair.key as Node | null;
      const keyPlace = at(keyNode?.range?.[0] ?? 0);
      const key = isScalar(keyNode) ? String(keyNode.source ?? keyNode.value) : '';
      if (!isScalar(keyNode) || key === '') {
        doubled.push(new InputFault('A key must be one plain word.', keyPlace));
        continue;
      }
      const first = entries.get(key);
      if (first !== undefined) {
        doubled.push(
          new InputFault(
            `${quoted(key)} is written twice; it stands on line ${first.place.line} already.`,
            keyPlace,
          ),
        );
        continue;
      }
      entries.set(key, {
        place: keyPlace,
        value: convert(pair.value, placeOf(pair.value, keyPlace, at), at, doubled),
      });
    }
    return { kind: 'map', place, entries };
  }
  if (isSeq(node))
    return {
      kind: 'list',
      place,
      items: node.items.map((item) => convert(item, placeOf(item, place, at), at, doubled)),
    };
  return scalarOf(node, place);
}

/** An empty value has no place of its own: its key's is the one to look at. */
function placeOf(value: unknown, keyPlace: FaultPlace, at: (offset: number) => FaultPlace): FaultPlace {
  const range = (value as Node | null)?.range;
  if (!range || (isScalar(value) && value.value === null && value.source === '')) return keyPlace;
  return at(range[0]);
}

function scalarOf(node: unknown, place: FaultPlace): WrittenValue {
  if (!isScalar(node)) return { kind: 'value', place, value: null, text: '' };
  const value = node.value as WrittenValue['value'];
  const plain = { kind: 'value', place, value, text: node.source ?? String(value ?? '') } as const;
  const remark = node.comment;
  return remark && /^\S/.test(remark) ? { ...plain, gluedRemark: remark.split(/\s/)[0] as string } : plain;
}

function fault(message: string, place: FaultPlace): InputFaults {
  return new InputFaults([new InputFault(message, place)]);
}
