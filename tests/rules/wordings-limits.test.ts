import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { SPREAD } from '../../src/job/spread.ts';
import { ask, type BenchPair, LEAF, mirrored } from '../pairs.ts';

/**
 * Word for word what a maker is told, on one small pair for each thing a check can say. The wordings are our own
 * choice and have no source; the figures in them are held to theory by the other tests of this folder. After a
 * wording was changed on purpose: `npm run vitest -- tests/rules/wordings -u`, and read what the files then say.
 */
const files = resolve(import.meta.dirname, '../fixtures/wordings');

const rect = (x: number, y: number, width: number, height: number, id = 'piece') =>
  `<rect id="${id}" x="${x}" y="${y}" width="${width}" height="${height}"/>`;
const panel = rect(20, 20, 60, 60);
const bar = (width: number) => rect(10, 40, 80, width);
const neck = (width: number) =>
  `<path d="M10 20 H40 V${50 - width / 2} H60 V20 H90 V80 H60 V${50 + width / 2} H40 V80 H10 Z"/>`;
const twoBlocks = (gap: number) => rect(10, 20, 30, 60) + rect(40 + gap, 30, 35, 40, 'other');
const ell = '<path d="M20 20 H80 V40 H50 V80 H20 Z"/>';
const pair = (
  pocket: string,
  job: Record<string, unknown> = {},
  more: Partial<BenchPair> = {},
): BenchPair => ({
  pocket,
  job,
  ...more,
});
const plain = (...jobs: Record<string, unknown>[]) => jobs.map((job) => pair(panel, job));
const clamp = (left: number, top: number) => ({
  'keep-out': [{ part: 'plug', name: 'clamp', box: { left, top, width: 5, length: 5 } }],
});

const BLACK_CHERRY = { 'plug.stock.wood': 'cherry-black' };
const WHOLE_BIT = { angle: 30, 'tip-flat': 0.1, shank: 8, 'cutting-length': 20, 'cutting-diameter': 12.7 };
const wedge = '<path d="M10 50 L80 46 L80 54 Z"/>';
/** A block with a finger that stands out of it. */
const finger = (width: number, length: number) =>
  `<path id="finger" d="M20 20 H50 V${50 - width / 2} H${50 + length} V${50 + width / 2} H50 V80 H20 Z"/>`;
/** One of everything that can be in a drawing and is no outline. */
const ODD_THINGS = `<g id="moves"><animate attributeName="opacity" dur="1s"/></g>
<rect id="name" x="1" y="1" width="5" height="5"/><rect id="name" x="1" y="10" width="5" height="5"/>
<use id="which" href="#name"/><use id="away" href="other.svg#leaf"/>
<rect id="blurred" x="1" y="20" width="5" height="5" filter="url(#soft)"/>
<foreignObject id="page" width="5" height="5"><p/></foreignObject>
<rect id="glass" x="1" y="30" width="5" height="5" fill="#00000000"/>
<path id="arrow" d="M1 40 h5 v5 Z" marker-end="url(#tip)"/>
<rect id="masked" x="1" y="50" width="5" height="5" mask="url(#fade)"/>
<path id="line" d="M1 60 L6 60" stroke="black"/>
<pattern id="dots" width="2" height="2"/><rect id="dotted" x="1" y="62" width="5" height="5" fill="url(#dots)"/>
<script id="program">draw()</script>
<rect id="faint" x="1" y="70" width="5" height="5" opacity="0"/>
<rect id="edged" x="1" y="80" width="5" height="5" stroke="black" stroke-width="2"/>
<style id="sheet" type="text/less">rect { fill: red }</style>
<rect id="crooked" x="1" y="88" width="5" height="5" transform="turn(30)"/>
<blob id="blob"/>
<rect id="odd" x="9" y="88" width="5 apples" height="5"/>`;

/** A shop in which nothing varies but what is told here. */
const onlyVaries = (name: string, by: number, more: Record<string, unknown> = {}): BenchPair => {
  const still = Object.fromEntries(Object.keys(SPREAD).map((key) => [`spread.${key}`, 0]));
  return pair(panel, { 'bit.tip-flat': 0, ...still, [`spread.${name}`]: by, 'spread.draws': 200, ...more });
};

const PAIRS: Readonly<Record<string, readonly BenchPair[]>> = {
  'artwork.read': [
    pair(panel),
    pair(`${panel}<text id="name" x="20" y="90">fern</text>`),
    pair(`${panel}<image id="scan" href="data:image/png;base64,AAAA" width="10" height="10"/>`),
    pair(`${panel}<path id="vein" d="M20 60 L80 30" fill="none" stroke="black"/>`),
    pair(
      `${panel}<path id="torn" d="M5 5 L15 5 L15 15 L5 15 Z M 40 85 L 50 X 9"/><use id="gone" href="#no"/>`,
    ),
    pair(`${panel}<rect id="far" x="92" y="80" width="20" height="10"/>`),
    pair(
      `${panel}<clipPath id="c"><circle cx="8" cy="8" r="4"/></clipPath><g clip-path="url(#c)">${rect(4, 4, 8, 8)}</g>`,
    ),
    pair(`<rect id="ghost" display="none" width="9" height="9"/>${panel}`, {}, { plug: '<g/>' }),
    pair(panel + ODD_THINGS, {}, { plug: mirrored(panel) }),
  ],
  'artwork.closed': [
    pair(panel),
    pair('<path d="M20 20 L80 20 L80 80 L20 80 L20 20.011"/>', {}, { plug: mirrored(panel) }),
  ],
  'artwork.clean': [
    pair(panel),
    pair('<path d="M20 20 L60 60 L60 20 L20 60 Z"/>', {}, { plug: panel }),
    pair(rect(20, 20, 30, 30) + rect(20, 20, 30, 30, 'twin'), {}, { plug: panel }),
    pair(rect(20, 20, 30, 30) + rect(40, 40, 30, 30, 'other'), {}, { plug: panel }),
    pair(panel + rect(30, 30, 10, 10, 'inner'), {}, { plug: panel }),
    pair(panel + rect(90, 90, 0.2, 0.2, 'speck'), {}, { plug: panel }),
    pair(panel + rect(90, 10, 0.015, 30, 'shaving'), {}, { plug: panel }),
    pair('<path d="M20 20 L60 20 L60 60 L60 90 L60 60 L20 60 Z"/>', {}, { plug: panel }),
    pair(rect(20, 20, 20, 20) + rect(40.02, 20, 20, 20, 'other'), {}, { plug: panel }),
  ],
  'artwork.size': [
    pair(panel),
    pair(panel, {}, { pocketFrame: 'width="100" height="100" viewBox="0 0 100 100"' }),
    pair(panel, {}, { plugFrame: 'viewBox="0 0 100 100"' }),
    pair(ell, {}, { plugFrame: 'width="101mm" height="101mm" viewBox="0 0 100 100"' }),
    pair(
      ell,
      {},
      { pocketFrame: 'width="100mm" height="102mm" viewBox="0 0 100 100" preserveAspectRatio="none"' },
    ),
  ],
  'bit.tip': [0.7, 0.52, 0.45]
    .map((width) => pair(neck(width), { 'bit.tip-flat': 0.5 }))
    .concat(
      pair('<g/>'),
      pair('<g/>', {}, { plug: panel }),
      pair(panel, { 'bit.tip-flat': undefined }),
      pair(panel, { 'bit.tip-flat': 0.5 }),
      pair(rect(20, 40, 60, 0.4), { 'bit.tip-flat': 0.5 }),
      pair(rect(20, 40, 0.4, 0.4), { 'bit.tip-flat': 0.5 }),
      pair('<path d="M20 20 H60 V49.8 H80 V50.2 H60 V80 H20 Z"/>', { 'bit.tip-flat': 0.5 }),
      pair(wedge, { 'bit.tip-flat': 0.5 }),
    ),
  'bit.between': [0.7, 0.52, 0.45]
    .map((gap) => pair(twoBlocks(gap), { 'bit.tip-flat': 0.5 }))
    .concat(pair(panel, {}, { plug: '<g/>' }), pair(panel, { 'bit.tip-flat': undefined }), pair(panel)),
  'bit.reach': [
    ...plain(
      {},
      { 'bit.cutting-length': 7 },
      { 'bit.cutting-length': 7.6 },
      { 'bit.cutting-diameter': 3 },
      { 'bit.cutting-length': undefined },
      { 'bit.cutting-diameter': undefined },
      { 'bit.shank': 13, 'bit.cutting-length': 7 },
      { 'bit.shank': 13, 'bit.cutting-length': 8 },
      { 'bit.shank': 12.7, 'bit.cutting-length': 7 },
      { 'plug-bit': { angle: 30, 'tip-flat': 0.1, shank: 8, 'cutting-length': 7, 'cutting-diameter': 3 } },
      { 'plug-bit': { angle: 30, 'tip-flat': 0.1 } },
      { 'bit.cutting-length': undefined, 'plug-bit': WHOLE_BIT },
      { 'bit.shank': undefined, 'bit.cutting-diameter': 6 },
      { 'bit.shank': 13, 'bit.cutting-length': undefined },
      { 'bit.shank': 13, 'bit.cutting-length': 7.6 },
    ),
  ],
  'bit.clearing': [
    ...plain(
      {},
      { 'clearing-bit': { diameter: 3 } },
      { 'clearing-bit': { diameter: 6, 'cutting-length': 7 } },
      { 'clearing-bit': { diameter: 6, 'cutting-length': 7.6 } },
    ),
    ...plain({
      'clearing-bit': { diameter: 3, 'cutting-length': 9 },
      feeds: {
        'v-bit': { feed: 600, 'step-down': 2, 'step-over': 0.5 },
        clearing: { feed: 1200, 'step-down': 2, 'step-over': 1.2 },
      },
    }),
    pair(bar(3), { 'clearing-bit': { diameter: 6, 'cutting-length': 20 } }),
    pair(panel, {
      'clearing-bit': { diameter: 3, 'cutting-length': 7.5 },
      'pocket.flat-depth': 5.5,
      'plug.flat-depth': 3,
    }),
  ],
  'depth.mating': plain(
    {},
    { 'plug.start-depth': 1.5 },
    { 'plug.start-depth': 0.5 },
    { 'plug.start-depth': 2.5 },
  ),
  'depth.glue': [
    ...plain(
      {},
      { 'pocket.flat-depth': 5.3 },
      { 'pocket.flat-depth': 4.5 },
      { 'pocket.flat-depth': 5.5 },
      { 'pocket.flat-depth': 9 },
      { 'pocket.flat-depth': 9.5 },
      { 'pocket.flat-depth': 5 },
      { 'bit.tip-flat': undefined },
      { 'bit.tip-flat': 0.2, 'bit.toolpath-tip-flat': 0 },
      { 'bit.tip-flat': 0.2, 'bit.toolpath-tip-flat': 0, 'pocket.flat-depth': 5.8 },
    ),
    pair(panel + rect(85, 20, 3, 60, 'thin'), {
      'bit.tip-flat': 0.2,
      'bit.toolpath-tip-flat': 0,
      'pocket.flat-depth': 8,
    }),
    pair('<circle cx="50" cy="50" r="30"/>', { 'bit.tip-flat': 0.2, 'bit.toolpath-tip-flat': 0 }),
  ],
  'depth.saw': plain(
    {},
    { 'plug.flat-depth': 1.4 },
    { 'plug.flat-depth': 1.2 },
    { saw: undefined },
    { saw: undefined, 'plug.flat-depth': 1.2 },
    { 'bit.tip-flat': undefined },
    { 'bit.tip-flat': 0.2, 'bit.toolpath-tip-flat': 0 },
    { 'bit.tip-flat': 0.2, 'bit.toolpath-tip-flat': 0, 'plug.flat-depth': 1.5 },
  ),
  'depth.board': plain(
    {},
    { 'pocket.stock.thickness': 10 },
    { 'pocket.stock.thickness': 10.6 },
    { 'pocket.stock.thickness': 7.6 },
    { 'pocket.stock.thickness': 7 },
    { 'pocket.stock.thickness': undefined },
  ),
  'depth.plug-stock': plain(
    {},
    { 'plug.stock.thickness': 10 },
    { 'plug.stock.thickness': 10.6 },
    { 'plug.stock.thickness': 7.6 },
    { 'plug.stock.thickness': 7 },
    { 'plug.stock.thickness': undefined },
  ),
  'pair.mirror': [
    pair(ell, {}),
    pair(panel, {}),
    pair(LEAF, {}, { plug: LEAF }),
    pair(LEAF, {}, { plug: `<g transform="rotate(30 50 50)">${LEAF}</g>` }),
    pair(LEAF, {}, { plug: `<g transform="scale(1.02)">${LEAF}</g>` }),
    pair(LEAF, {}, { plug: `<g transform="translate(100 0) scale(-1.02 1.02)">${LEAF}</g>` }),
    pair(ell, {}, { plug: '<path d="M19.8 19.8 H80.2 V40.2 H50.2 V80.2 H19.8 Z"/>' }),
    pair(ell, {}, { plug: mirrored('<path d="M19.8 19.8 H80.2 V40.2 H50.2 V80.2 H19.8 Z"/>') }),
    pair(LEAF, {}, { plug: '<path d="M10 10 H60 V30 H40 V90 H10 Z"/>' }),
    pair(
      LEAF,
      {},
      {
        plug: mirrored(`<path fill-rule="evenodd" d="M2 2 H98 V98 H2 Z ${/ d="([^"]+)"/.exec(LEAF)?.[1]}"/>`),
      },
    ),
    pair(
      ell,
      {},
      { plug: '<path d="M20 20 H40 V60 H80 V80 H20 Z" transform="translate(100 0) scale(-1 1)"/>' },
    ),
    pair(`${LEAF}${rect(80, 80, 8, 8)}`, {}, { plug: mirrored(LEAF) }),
    pair(LEAF, { 'plug.mirror': 'toolpath' }, { plug: LEAF }),
    pair(LEAF, { 'plug.mirror': 'toolpath' }),
    pair(LEAF, { 'plug.mirror': 'toolpath' }, { plug: `<g transform="scale(1.01)">${LEAF}</g>` }),
    pair(panel, { 'plug.mirror': 'toolpath' }),
    pair('<g/>', {}, { plug: LEAF }),
  ],
  'pair.match': [
    pair(panel),
    pair(ell, {}, { plug: `<g transform="translate(100 0) scale(-1.005 1.005)">${ell}</g>` }),
    pair(ell, {}, { plug: `<g transform="translate(100 0) scale(-1.02 1)">${ell}</g>` }),
    pair(ell, {}, { plugFrame: 'width="100in" height="100in" viewBox="0 0 100 100"' }),
    pair(ell, {}, { plugFrame: 'width="100" height="100" viewBox="0 0 100 100"' }),
    pair(ell, {}, { plug: mirrored('<path d="M19.8 19.8 H80.2 V40.2 H50.2 V80.2 H19.8 Z"/>') }),
    pair(ell, {}, { plug: mirrored('<path d="M20.2 20.2 H79.8 V39.8 H49.8 V79.8 H20.2 Z"/>') }),
    pair(ell + rect(70, 70, 12, 9), {}, { plug: mirrored(ell) }),
    pair(ell, {}, { plug: mirrored(ell + rect(70, 70, 12, 9)) }),
    pair(ell + rect(70, 70, 12, 9), {}, { plug: mirrored(ell + rect(71, 70, 12, 9)) }),
    pair(
      '<path d="M20 20 H80 V60 L50 60 L20 60 Z"/>',
      {},
      {
        plug: mirrored('<path d="M20 20 H80 V60 L50 60.5 L20 60 Z"/>'),
      },
    ),
    pair(
      `${LEAF}<circle cx="30" cy="85" r="8"/>`,
      {},
      {
        plug: mirrored(`${LEAF}<circle cx="31" cy="85" r="8"/>`),
      },
    ),
    pair(LEAF, { 'plug.mirror': 'toolpath' }, { plug: LEAF }),
    pair(LEAF, {}, { plug: LEAF }),
    pair('<g/>', {}, { plug: LEAF }),
    pair(LEAF, {}, { plug: '<g/>' }),
  ],
  'fit.proud': [
    pair(panel, { 'bit.tip-flat': 0 }),
    pair(bar(1.6), { 'bit.tip-flat': 0.34 }),
    pair(twoBlocks(1.2), { 'bit.tip-flat': 0.3 }),
    pair('<path d="M10 20 H45 L50 38.66 L55 20 H90 V80 H10 Z"/>', { 'bit.tip-flat': 0.5 }),
    pair(panel, { 'plug-bit': { angle: 20, 'tip-flat': 0.1 } }),
    pair(bar(0.3), { 'bit.tip-flat': 0.4 }),
    pair(twoBlocks(0.3), { 'bit.tip-flat': 0.4 }),
    pair(panel, { 'pocket.flat-depth': 4.5 }),
    pair(panel, { 'plug.flat-depth': 0.2, 'pocket.start-depth': 0.5 }),
    pair(ell, {}, { plug: mirrored('<path d="M19.8 19.8 H80.2 V40.2 H50.2 V80.2 H19.8 Z"/>') }),
    pair(panel, { 'bit.tip-flat': undefined }),
  ],
  'fit.rim': [
    pair(panel, { 'bit.tip-flat': 0 }),
    pair(bar(1.6), { 'bit.tip-flat': 0.24 }),
    pair(bar(1.2), { 'bit.tip-flat': 0.1 }),
    pair(bar(2.2), { 'bit.tip-flat': 0.3, 'pocket.flat-depth': 6.6 }),
    pair('<path d="M10 20 H25 L30 38.66 L35 20 H65 L70 38.66 L75 20 H90 V80 H10 Z"/>', {
      'bit.tip-flat': 0.5,
    }),
    pair(panel, { 'plug.flat-depth': 0.2, 'pocket.start-depth': 0.6 }),
    pair(panel, { 'pocket.flat-depth': 5.1 }, { plug: mirrored(rect(20.1, 20.1, 59.8, 59.8)) }),
    pair(panel + rect(86, 20, 1.2, 60, 'thin'), { 'bit.tip-flat': 0.2 }),
    pair(bar(0.3), { 'bit.tip-flat': 0.4 }),
    pair('<path d="M10 20 H45 L50 38.66 L55 20 H90 V80 H10 Z"/>', { 'bit.tip-flat': 0.5 }),
    pair(LEAF, {}, { plug: LEAF }),
  ],
  'fit.spread': [
    pair(panel, { 'bit.tip-flat': 0 }),
    onlyVaries('runout', 0),
    onlyVaries('tip-wear', 1),
    onlyVaries('angle', 3),
    // Set wrong, a depth lets the plug sink or stand, and no line opens.
    onlyVaries('pocket-zero', 1),
    onlyVaries('plug-zero', 1),
    onlyVaries('pocket-flatness', 2),
    onlyVaries('plug-flatness', 2),
    onlyVaries('scale', 1),
    onlyVaries('squareness', 1),
    onlyVaries('runout', 1),
    pair(bar(1.6), { 'bit.tip-flat': 0.3 }),
    pair(bar(1.6), { 'bit.tip-flat': 0.2, 'limits.proud-most': 5 }),
    pair(bar(1.6), { 'bit.tip-flat': 0.2, 'limits.rim-gap-most': 1 }),
    pair(bar(1.2), { 'bit.tip-flat': 0.1, 'spread.draws': 200 }),
    pair(panel, { 'bit.tip-flat': undefined }),
  ],
  'glue.wall': [
    ...plain({}, { 'pocket.flat-depth': 5.01 }, { 'plug.stock.wood': 'rosewood-indian' }),
    ...plain({ 'bit.tip-flat': 0.2, 'bit.toolpath-tip-flat': 0 }),
  ],
  'plug.breakage': [
    pair(rect(40, 20, 1, 60)),
    pair(rect(40, 20, 0.4, 8)),
    pair(rect(20, 40, 40, 0.8)),
    pair(neck(0.8)),
    pair('<path d="M20 20 L80 24 L80 20 Z"/>', {}),
    pair(rect(40, 20, 1, 60), { 'plug.stock.wood': 'oak-northern-red' }),
    pair(rect(40, 20, 1, 60), { 'plug.stock.wood': 'unlisted' }),
    pair(rect(40, 20, 1, 60), { 'plug.stock.wood': undefined }),
    pair(finger(0.4, 1), BLACK_CHERRY),
    pair(finger(0.4, 20), BLACK_CHERRY),
    pair(neck(0.3), BLACK_CHERRY),
    pair([10, 20, 30, 40, 50, 60].map((x) => rect(x, 20, 0.7, 60)).join('')),
    pair(rect(40, 20, 0.3, 0.3), BLACK_CHERRY),
    pair(rect(40, 20, 0.6, 60), { 'plug.stock.wood': 'oak-red-northern-red' }),
    pair(rect(40, 20, 0.9, 60) + rect(60, 20, 0.8, 60), { 'plug.stock.wood': 'oak-red-northern-red' }),
    pair(rect(40, 20, 0.9, 60), { 'plug.stock.wood': 'teak' }),
    pair(rect(20, 40, 40, 0.5), { ...BLACK_CHERRY, 'plug.start-depth': 0.2 }),
    pair('<g/>', {}, { plug: '<g/>' }),
  ],
  'board.breakage': [
    pair(twoBlocks(1)),
    pair(twoBlocks(1), { 'pocket.stock.grain-angle': 0 }),
    pair(twoBlocks(1), { 'pocket.stock.grain-angle': 90 }),
    pair(twoBlocks(0.2), { 'pocket.stock.grain-angle': 0 }),
    pair(twoBlocks(0.2), { 'pocket.stock.grain-angle': 90 }),
    pair(twoBlocks(0.5), { 'pocket.stock.grain-angle': 90, 'pocket.stock.wood': 'oak-red-northern-red' }),
    pair('<path d="M20 20 H70 V80 H20 Z M30 48 V52 L60 50 Z" fill-rule="evenodd"/>', {
      'pocket.stock.grain-angle': 0,
    }),
    pair(panel),
    pair('<g/>'),
  ],
  'stock.margin': [
    ...plain(
      { 'plug.stock.width': 100, 'plug.stock.length': 70 },
      { 'plug.stock.width': 66, 'plug.stock.length': 66 },
      { 'plug.stock.width': undefined, 'plug.stock.length': undefined },
      { 'plug.stock.width': 66, 'plug.stock.length': 66, 'limits.stock-spare-least-hard': 1 },
      { 'pocket.stock.width': 61, 'pocket.stock.length': 200 },
      { 'pocket.stock.width': 200, 'pocket.stock.length': 200 },
      { ...clamp(84, 40), nut: { diameter: 20 }, 'bit.stick-out': 25 },
      { ...clamp(78, 40), nut: { diameter: 20 }, 'bit.stick-out': 25 },
      { ...clamp(98, 0), nut: { diameter: 5 }, 'bit.stick-out': 25 },
      clamp(98, 0),
    ),
    pair(rect(10, 40, 80, 20), { 'plug.stock.width': 85, 'plug.stock.length': 200 }),
    pair('<g/>'),
  ],
  'wear.sanding': [
    pair(bar(1.6), { 'bit.tip-flat': 0 }),
    pair(bar(1.6), { 'bit.tip-flat': 0.3 }),
    pair(bar(0.4), { 'bit.tip-flat': 0 }),
    pair(bar(0.5), { 'bit.tip-flat': 0.06 }),
    pair(panel, { 'bit.tip-flat': 0, 'plug.start-depth': 0.8, 'pocket.flat-depth': 3.4 }),
    pair(panel, { 'bit.tip-flat': 0, 'plug-bit': { angle: 60, 'tip-flat': 0 } }),
    pair(panel, { 'bit.tip-flat': 0, 'plug-bit': { angle: 32, 'tip-flat': 0 } }),
    pair(panel, { 'bit.tip-flat': 0, 'plug-bit': { angle: 32, 'tip-flat': 0 }, 'limits.sanding-least': 2 }),
    pair(panel, {
      'bit.tip-flat': 0,
      'plug-bit': { angle: 15, 'tip-flat': 0 },
      'limits.sanding-least': 4,
    }),
    pair(bar(0.12), {}),
    pair('<g/>'),
  ],
  'wood.movement': [
    pair(panel, { 'pocket.stock.grain-angle': 0 }),
    pair(panel, { 'pocket.stock.grain-angle': 90 }),
    pair(panel, { 'pocket.stock.grain-angle': 90, 'climate.dampest.moisture': 14 }),
    pair(panel, { 'pocket.stock.grain-angle': 11 }),
    pair(panel, {
      'pocket.stock.grain-angle': 0,
      ...BLACK_CHERRY,
      'climate.workshop.moisture': 8,
      'climate.driest.moisture': 4,
      'climate.dampest.moisture': 18,
    }),
    pair(panel, { 'pocket.stock.grain-angle': 90, ...BLACK_CHERRY, 'climate.dampest.moisture': 14 }),
    pair(panel, {
      'pocket.stock.grain-angle': 0,
      'pocket.stock.wood': 'pine-eastern-white',
      'climate.dampest.moisture': 20,
    }),
    pair(panel, {
      'pocket.stock.grain': 'end',
      'pocket.stock.grain-angle': undefined,
      'plug.stock.grain': 'end',
      'plug.stock.grain-angle': undefined,
    }),
    pair(panel, { 'pocket.stock.grain-angle': 0, 'pocket.stock.moisture': 8, 'plug.stock.moisture': 11 }),
    pair(panel, { 'pocket.stock.grain-angle': 0, 'pocket.stock.moisture': 8, 'plug.stock.moisture': 9 }),
    pair(panel, {
      'pocket.stock.grain-angle': 0,
      'plug.stock.grain': 'end',
      'plug.stock.grain-angle': undefined,
    }),
    pair(panel, { 'pocket.stock.grain-angle': 0, 'plug.stock.grain': undefined }),
    pair(panel, { 'plug.stock.wood': undefined }),
  ],
};

/** All that one check tells of one pair, a line each, with what decides the outcome and where it points. */
function told(id: string, bench: BenchPair): string {
  const rule = RULES.find((one) => one.id === id);
  if (rule === undefined) throw new Error(`no check is called ${id}`);
  const check = ask(rule, bench);
  const round = (value: number | undefined) => (value === undefined ? '-' : Number(value.toFixed(2)));
  const lines = check.readings.map(({ label, measured, want, give, outcome, place, says, cure }) => {
    const bounds = [want.hardAtLeast, want.atLeast, want.atMost, want.hardAtMost].map(round).join(' ');
    const at = place.at === undefined ? '' : ` at ${place.at.map((x) => Math.round(x) + 0).join(',')}`;
    const spot = [place.part, place.element, place.file, place.line]
      .filter((part) => part !== undefined)
      .join(' ');
    return [
      `${label ?? check.row}: ${round(measured.value)} ${measured.unit} (give ${round(give)}; ${bounds}) ${outcome}, ${spot}${at}`,
      `  ${says}`,
      ...(cure === undefined ? [] : [`  > ${cure}`]),
    ].join('\n');
  });
  return [
    `= ${check.outcome}`,
    ...lines,
    ...check.untold.map((text) => `untold: ${text}`),
    ...check.moot.map((text) => `moot: ${text}`),
  ].join('\n');
}

describe('what a maker is told', () => {
  it.each(Object.keys(PAIRS))('%s, word for word', async (id) => {
    const text = (PAIRS[id] ?? []).map((bench) => told(id, bench)).join('\n\n');
    await expect(`${text}\n`).toMatchFileSnapshot(resolve(files, `${id}.txt`));
  });

  it('asks the same questions in the same order, with the same limits', async () => {
    const text = RULES.map(
      ({ id, asks, row, essential, limits }) =>
        `${id}${essential ? ', essential' : ''}\n  ${asks}\n  ${row}\n  ${limits.join(', ')}`,
    ).join('\n');
    await expect(`${text}\n`).toMatchFileSnapshot(resolve(files, 'checks.txt'));
  });
});
