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
  /** Which one of its name it is among its parent's children, from 1, counted from the front and from the back. */
  readonly nth: number;
  readonly nthLast: number;
  readonly children: readonly Element[];
}

/** The drawing's tree, built from the strict reader's skeleton and joined again with what that kept aside. */
export function growTree(skeleton: Skeleton): Element {
  const top = parseSync(skeleton.text);
  const root = join(top, skeleton, undefined, 0, 1, 1);
  const waiting: [INode, Element][] = [[top, root]];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const [node, parent] = next;
    const children = parent.children as Element[];
    const seen = new Map<string, number>();
    const total = new Map<string, number>();
    for (const child of node.children) total.set(child.name, (total.get(child.name) ?? 0) + 1);
    for (const child of node.children) {
      const nth = (seen.get(child.name) ?? 0) + 1;
      seen.set(child.name, nth);
      const element = join(child, skeleton, parent, children.length, nth, total.get(child.name)! - nth + 1);
      children.push(element);
      if (child.children.length > 0) waiting.push([child, element]);
    }
  }
  return root;
}

function join(
  node: INode,
  skeleton: Skeleton,
  parent: Element | undefined,
  index: number,
  nth: number,
  nthLast: number,
): Element {
  const { attributes, text, offset } = skeleton.records[Number(node.attributes['i'])]!;
  const children = node.children.length === 0 ? NO_CHILDREN : [];
  return { name: node.name, attributes, text, offset, parent, index, nth, nthLast, children };
}

const NO_CHILDREN: readonly Element[] = [];

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
    steps.unshift(`${at.name}[${at.nth}]`);
  }
  return `/${steps.join('/')}`;
}
