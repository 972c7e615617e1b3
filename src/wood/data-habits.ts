/**
 * How the woods move, what pores they have and how they bond, as printed, table by table (sources as in data.ts).
 * A dash in the table is `blank` here and stays one.
 */
type Cell = number | undefined;
const blank = undefined;
const words = (text: string): readonly string[] => text.split(/\s+/);

/** Shrinkage from green to ovendry, % of the green size: radial, tangential, volumetric; grouped by source. */
export const SHRINKAGE: readonly {
  readonly source: string;
  readonly rows: Readonly<Record<string, readonly Cell[]>>;
}[] = [
  {
    source: 'GTR-190 Table 4-3',
    rows: {
      'alder-red': [4.4, 7.3, 12.6],
      'ash-black': [5, 7.8, 15.2],
      'ash-green': [4.6, 7.1, 12.5],
      'aspen-bigtooth': [3.3, 7.9, 11.8],
      'aspen-quaking': [3.5, 6.7, 11.5],
      'basswood-american': [6.6, 9.3, 15.8],
      'beech-american': [5.5, 11.9, 17.2],
      'birch-paper': [6.3, 8.6, 16.2],
      'birch-sweet': [6.5, 9, 15.6],
      'birch-yellow': [7.3, 9.5, 16.8],
      butternut: [3.4, 6.4, 10.6],
      'chestnut-american': [3.4, 6.7, 11.6],
      'cottonwood-eastern': [3.9, 9.2, 13.9],
      'elm-american': [4.2, 9.5, 14.6],
      'elm-slippery': [4.9, 8.9, 13.8],
      hackberry: [4.8, 8.9, 13.8],
      'hickory-pecan-pecan': [4.9, 8.9, 13.6],
      'hickory-true-mockernut': [7.7, 11, 17.8],
      'hickory-true-pignut': [7.2, 11.5, 17.9],
      sweetgum: [5.3, 10.2, 15.8],
      'sycamore-american': [5, 8.4, 14.1],
      'walnut-black': [5.5, 7.8, 12.8],
      'cedar-eastern-redcedar': [3.1, 4.7, 7.8],
      'cedar-western-redcedar': [2.4, 5, 6.8],
    },
  },
  {
    source: 'GTR-190 and GTR-282 Table 4-3',
    rows: {
      'ash-white': [4.9, 7.8, 13.3],
      'cherry-black': [3.7, 7.1, 11.5],
      'oak-white-white': [5.6, 10.5, 16.3],
      'yellow-poplar': [4.6, 8.2, 12.7],
      'douglas-fir-coast': [4.8, 7.6, 12.4],
    },
  },
  {
    source: 'secondary listing; the row of Table 4-3 was only partly seen',
    rows: {
      'hickory-true-shagbark': [7, 10.5, 16.7],
    },
  },
  {
    source: 'worked back from Table 13-5 by C = S/(3000 - 20 S); the row of Table 4-3 was not seen',
    rows: {
      honeylocust: [4.2, 6.6, blank],
      'locust-black': [4.6, 7.2, blank],
      'maple-bigleaf': [3.7, 7.1, blank],
      'maple-red': [4, 8.2, blank],
      'maple-silver': [3, 7.2, blank],
    },
  },
  {
    source: 'GTR-282 Table 4-3',
    rows: {
      'maple-sugar': [4.8, 9.9, 14.7],
      'oak-red-northern-red': [4, 8.6, 13.7],
      'pine-loblolly': [4.8, 7.4, 12.3],
      'pine-longleaf': [5.1, 7.5, 12.2],
    },
  },
  {
    source: 'GTR-190 Table 16-1',
    rows: {
      baldcypress: [3.8, 6.2, blank],
      'pine-eastern-white': [2.1, 6.1, blank],
      'redwood-old-growth': [2.6, 4.4, blank],
    },
  },
  {
    source: 'GTR-190 Table 4-4',
    rows: {
      afrormosia: [3, 6.4, 10.7],
      limba: [4.5, 6.2, 10.8],
      macawood: [2.7, 3.5, 6.5],
      'mahogany-african': [2.5, 4.5, 8.8],
      'mahogany-true': [3, 4.1, 7.8],
    },
  },
  {
    source: 'FPL technical sheet (radial only)',
    rows: {
      purpleheart: [3.2, blank, blank],
    },
  },
];

/**
 * GTR-190 Table 13-5: change of size per 1 % of moisture between 6 and 14 %, radial and tangential, and the name
 * of the printed row where it is not the species' own.
 */
export const TABLE_13_5: Readonly<
  Record<string, readonly [radial: number, tangential: number, row?: string]>
> = {
  'alder-red': [0.00151, 0.00256],
  'ash-black': [0.00172, 0.00274],
  'ash-green': [0.00169, 0.00274],
  'ash-white': [0.00169, 0.00274],
  'aspen-quaking': [0.00119, 0.00234],
  'basswood-american': [0.0023, 0.0033],
  'beech-american': [0.0019, 0.00431],
  'birch-paper': [0.00219, 0.00304],
  'birch-sweet': [0.00256, 0.00338],
  'birch-yellow': [0.00256, 0.00338],
  butternut: [0.00116, 0.00223],
  'cherry-black': [0.00126, 0.00248],
  'chestnut-american': [0.00116, 0.00234],
  'cottonwood-eastern': [0.00133, 0.00327],
  'elm-american': [0.00144, 0.00338],
  'elm-slippery': [0.00169, 0.00315],
  hackberry: [0.00165, 0.00315],
  'hickory-pecan-pecan': [0.00169, 0.00315, 'Hickory, pecan (group)'],
  'hickory-true-mockernut': [0.00259, 0.00411, 'Hickory, true (group)'],
  'hickory-true-pignut': [0.00259, 0.00411, 'Hickory, true (group)'],
  'hickory-true-shagbark': [0.00259, 0.00411, 'Hickory, true (group)'],
  'hickory-true-shellbark': [0.00259, 0.00411, 'Hickory, true (group)'],
  honeylocust: [0.00144, 0.0023],
  'locust-black': [0.00158, 0.00252],
  'maple-bigleaf': [0.00126, 0.00248],
  'maple-black': [0.00165, 0.00353],
  'maple-red': [0.00137, 0.00289],
  'maple-silver': [0.00102, 0.00252],
  'maple-sugar': [0.00165, 0.00353],
  'oak-red-northern-red': [0.00158, 0.00369, 'Red oak, commercial (group)'],
  'oak-white-white': [0.0018, 0.00365, 'White oak, commercial (group)'],
  sweetgum: [0.00183, 0.00365],
  'sycamore-american': [0.00172, 0.00296],
  'walnut-black': [0.0019, 0.00274],
  'yellow-poplar': [0.00158, 0.00289],
  baldcypress: [0.0013, 0.00216],
  'cedar-eastern-redcedar': [0.00106, 0.00162, 'Cedar, eastern red'],
  'cedar-western-redcedar': [0.00111, 0.00234, 'Cedar, western red'],
  'douglas-fir-coast': [0.00165, 0.00267],
  'pine-eastern-white': [0.00071, 0.00212],
  'pine-loblolly': [0.00165, 0.00259],
  'pine-longleaf': [0.00176, 0.00263],
  'pine-ponderosa': [0.00133, 0.00216],
  'redwood-old-growth': [0.0012, 0.00205],
  'redwood-young-growth': [0.00101, 0.00229, 'Redwood, second growth'],
  iroko: [0.00153, 0.00205],
  limba: [0.00151, 0.00187],
  'mahogany-african': [0.00141, 0.00201, 'Khaya'],
  'mahogany-true': [0.00172, 0.00238],
  primavera: [0.00106, 0.0018],
  'spanish-cedar': [0.00141, 0.00219],
  teak: [0.00101, 0.00186],
};

export type PoreStructure = 'ring' | 'semi-ring' | 'diffuse' | 'none';

/** How the pores lie in a year's growth, grouped by source; softwoods have none. */
export const PORES: readonly {
  readonly source: string;
  readonly rows: Readonly<Partial<Record<PoreStructure, readonly string[]>>>;
}[] = [
  {
    source: 'GTR-190 Table 16-1 p. 16-5',
    rows: {
      diffuse: words(`alder-red aspen-bigtooth aspen-quaking basswood-american beech-american birch-paper
        birch-sweet birch-yellow cherry-black cottonwood-eastern maple-sugar sweetgum
        sycamore-american yellow-poplar`),
      ring: words(`ash-black ash-green ash-white chestnut-american elm-american hickory-true-mockernut
        hickory-true-pignut hickory-true-shagbark hickory-true-shellbark oak-red-northern-red
        oak-white-white`),
      'semi-ring': words(`butternut walnut-black`),
      none: words(`baldcypress cedar-western-redcedar douglas-fir-coast pine-eastern-white pine-loblolly
        pine-longleaf pine-ponderosa redwood-old-growth redwood-young-growth`),
    },
  },
  {
    source: '1914 public-domain wood-mechanics textbook (for the genus)',
    rows: {
      ring: words(`elm-slippery`),
      diffuse: words(`maple-bigleaf maple-black maple-red maple-silver`),
    },
  },
  {
    source: 'from memory',
    rows: {
      ring: words(`hackberry honeylocust`),
      'semi-ring': words(`hickory-pecan-pecan spanish-cedar teak`),
      diffuse: words(`bubinga courbaril ipe iroko lignumvitae limba mahogany-african purpleheart sapele`),
    },
  },
  {
    source: '1914 public-domain wood-mechanics textbook',
    rows: {
      ring: words(`locust-black`),
    },
  },
  {
    source: 'softwood by definition',
    rows: {
      none: words(`cedar-eastern-redcedar`),
    },
  },
  {
    source: 'published chapter on wood anatomy, p. 30',
    rows: {
      diffuse: words(`mahogany-true`),
    },
  },
];

/** Woods with pores large enough to be filled in finishing, and those without. From memory of an earlier edition's
 * chapter on finishing: a class to warn by, never a figure. */
export const PORE_SIZE_SOURCE =
  'from memory: the list of woods that need filler, earlier edition, chapter on finishing';
export const LARGE_PORES: readonly string[] = words(
  `ash-black ash-green ash-white butternut chestnut-american elm-american elm-slippery
        hackberry hickory-pecan-pecan hickory-true-mockernut hickory-true-pignut
        hickory-true-shagbark hickory-true-shellbark oak-red-northern-red oak-white-white
        walnut-black mahogany-african mahogany-true`,
);
export const SMALL_PORES: readonly string[] = words(
  `alder-red aspen-bigtooth aspen-quaking basswood-american beech-american birch-paper
        birch-sweet birch-yellow cherry-black cottonwood-eastern maple-bigleaf maple-black maple-red
        maple-silver maple-sugar sweetgum sycamore-american yellow-poplar`,
);

/** GTR-190 Table 10-1, p. 10-7: ease of bonding. The maples, red and white oaks stand there as groups. */
export const TABLE_10_1: Readonly<
  Record<'easily' | 'well' | 'satisfactorily' | 'with difficulty', readonly string[]>
> = {
  easily: words(`alder-red aspen-bigtooth aspen-quaking basswood-american chestnut-american
        cottonwood-eastern cedar-western-redcedar pine-eastern-white redwood-old-growth
        redwood-young-growth courbaril purpleheart`),
  well: words(`butternut elm-american hackberry maple-bigleaf maple-red maple-silver sweetgum
        sycamore-american walnut-black yellow-poplar cedar-eastern-redcedar douglas-fir-coast
        pine-ponderosa afrormosia iroko limba mahogany-african mahogany-true sapele spanish-cedar`),
  satisfactorily: words(`ash-white beech-american birch-sweet birch-yellow cherry-black hickory-pecan-pecan
        hickory-true-mockernut hickory-true-pignut hickory-true-shagbark hickory-true-shellbark
        maple-black maple-sugar oak-red-northern-red oak-white-white pine-loblolly pine-longleaf
        bubinga`),
  'with difficulty': words(`ipe lignumvitae rosewood-indian teak`),
};
