import type { RawShape } from '../geometry/shapes.ts';
import type { Mm } from '../units.ts';

/** Where a thing stands in the drawing's file. Lines and columns count from 1. */
export interface Mark {
  /** `#wing` when the element has an id, else its way down the tree, as `/svg/g[1]/path[3]`. */
  readonly element: string;
  readonly line: number;
  readonly column: number;
}

/** Why something drawn did not become an outline as it stands. */
export type LeftOutKind =
  | 'animation'
  | 'broken-reference'
  | 'clipped'
  | 'duplicate-id'
  | 'external'
  | 'filter'
  | 'foreign'
  | 'hidden'
  | 'image'
  | 'marker'
  | 'mask'
  | 'no-area'
  | 'out-of-view'
  | 'path-error'
  | 'pattern'
  | 'script'
  | 'see-through'
  | 'stroke-ignored'
  | 'stroke-only'
  | 'style'
  | 'text'
  | 'transform'
  | 'unknown'
  | 'unreadable-value'
  | 'whole-page';

export interface LeftOut {
  readonly kind: LeftOutKind;
  readonly mark: Mark;
  readonly says: string;
  /** True when it may change what is cut, so that a maker has to look. */
  readonly matters: boolean;
}

/** The drawing's stated size and what one of its own units comes to. */
export interface Size {
  readonly width: Mm | undefined;
  readonly height: Mm | undefined;
  /** How the size was stated: with a physical unit, in bare pixels (96 to the inch), or not at all. */
  readonly stated: 'physical' | 'pixels' | 'none';
  /** Millimetres for one unit of the drawing, along x and along y. */
  readonly perUserUnit: readonly [x: number, y: number];
  /** Where the drawing's own 0,0 lies on the page, in millimetres. */
  readonly userOrigin: readonly [x: number, y: number];
  readonly mark: Mark;
}

/** A drawing as it will be measured. Points are millimetres from the page's top left corner, y down. */
export interface Artwork {
  readonly file: string;
  readonly select?: string;
  readonly size: Size;
  readonly shapes: readonly RawShape[];
  /** The element that each shape came from: `marks[shape.source]`. */
  readonly marks: readonly Mark[];
  readonly leftOut: readonly LeftOut[];
  readonly vertices: number;
}
