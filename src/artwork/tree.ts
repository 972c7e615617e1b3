import { type INode, parseSync } from 'svgson';
import type { Mark } from './artwork.ts';
import type { Skeleton } from './xml.ts';

/** One element of the drawing. `name` is its plain SVG name, or `foreign` for an element of another language. */
export interface Element {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  /** Text directly inside it. */
  readonly text: string;
  readonly offset: number;
  readonly parent: Element | undefined;
  /** Its place among its parent's children, from 0. */
  readonly index: number;
  readonly children: readonly Element[];
}

/** The drawing's tree, built from the strict reader's skeleton and joined again with what that kept aside. */
export function growTree(skeleton: Skeleton): Element {
  const top = parseSync(skeleton.text);
  const root = join(top, skeleton, undefined, 0);
  const waiting: { readonly node: INode; readonly element: Element }[] = [{ node: top, element: root }];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const children = next.element.children as Element[];
    for (const node of next.node.children) {
      const element = join(node, skeleton, next.element, children.length);
      children.push(element);
      waiting.push({ node, element });
    }
  }
  return root;
}

function join(node: INode, skeleton: Skeleton, parent: Element | undefined, index: number): Element {
  const record = skeleton.records[Number(node.attributes['i'])]!;
  const { attributes, text, offset } = record;
  return { name: node.name, attributes, text, offset, parent, index, children: [] };
}

/** The element with this id; when several share it, the first, as a browser takes it. */
export function indexIds(root: Element): {
  readonly byId: ReadonlyMap<string, Element>;
  readonly twice: ReadonlySet<string>;
} {
  const byId = new Map<string, Element>();
  const twice = new Set<string>();
  for (const element of descendants(root)) {
    const id = element.attributes.get('id');
    if (id === undefined || id === '') continue;
    if (byId.has(id)) twice.add(id);
    else byId.set(id, element);
  }
  return { byId, twice };
}

/** The element and everything below it, in the order of the file. */
export function* descendants(root: Element): Generator<Element> {
  const waiting = [root];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    yield next;
    for (let i = next.children.length - 1; i >= 0; i--) waiting.push(next.children[i]!);
  }
}

/** How far up an element's way is told when it has no id. */
const STEPS_TOLD = 6;

/** The element's id, or its way down the tree from the nearest element with an id, and its place in the file. */
export function markOf(element: Element, place: Skeleton['place']): Mark {
  return { element: wayTo(element), ...place(element.offset) };
}

function wayTo(element: Element): string {
  const id = element.attributes.get('id');
  if (id !== undefined && id !== '') return `#${id}`;
  const steps: string[] = [];
  for (let at: Element | undefined = element; at !== undefined; at = at.parent) {
    if (steps.length === STEPS_TOLD) return `.../${steps.join('/')}`;
    const parent: Element | undefined = at.parent;
    if (parent === undefined) return `/${[at.name, ...steps].join('/')}`;
    const name = at.name;
    let nth = 1;
    for (let i = 0; i < at.index; i++) if (parent.children[i]!.name === name) nth++;
    steps.unshift(`${name}[${nth}]`);
  }
  return `/${steps.join('/')}`;
}
