import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { degrees } from '../../src/units.ts';
import { jointMovement, type Year } from '../../src/wood/joint.ts';
import { allSpecies, speciesOf } from '../../src/wood/species.ts';
import {
  atAngle,
  LEAST_SPLITTING_SHARE,
  type Piece,
  spreadPerHeight,
  standingShear,
  standingStrength,
} from '../../src/wood/strength.ts';

const piece = (id: string, grain: Piece['grain'] = 'face', angle = 0): Piece => ({
  species: speciesOf(id)!,
  grain,
  grainAngle: degrees(angle),
});

describe('strength at an angle to the grain', () => {
  it('follows Eq. 5-2 for sugar maple in compression, 7830 along and 1470 across, n = 2', () => {
    // Worked out apart from the printed formula; sugar maple figures of Table 5-3b.
    const want = { 0: 7830, 15: 6070.6, 30: 3761.5, 45: 2475.3, 60: 1844.6, 75: 1554.6, 90: 1470 };
    for (const [angle, value] of Object.entries(want)) {
      expect(atAngle(7830, 1470, degrees(Number(angle)), 2)).toBeCloseTo(value, 1);
    }
  });

  it('falls from along to across and is the same from both sides', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 89, noNaN: true }),
        fc.double({ min: 1.5, max: 2.5, noNaN: true }),
        (a, n) => {
          const here = atAngle(100, 5, degrees(a), n);
          expect(atAngle(100, 5, degrees(a + 1), n)).toBeLessThanOrEqual(here + 1e-9);
          expect(atAngle(100, 5, degrees(-a), n)).toBeCloseTo(here, 9);
          expect(atAngle(100, 5, degrees(180 - a), n)).toBeCloseTo(here, 9);
        },
      ),
      { seed: 7, numRuns: 200 },
    );
  });
});

describe('strength of a part standing on its root', () => {
  it('is splitting when the fibres lie, bending when they stand', () => {
    const oak = speciesOf('oak-white-white')!;
    expect(standingStrength(piece('oak-white-white'))).toEqual({
      value: oak.splitting!.value,
      printed: true,
      source: 'GTR-282 Table 5-3b',
    });
    expect(standingStrength(piece('oak-white-white', 'end')).value).toBe(oak.bending!.value);
  });

  it('says so where no splitting is printed, and what it took instead', () => {
    const maple = standingStrength(piece('maple-sugar'));
    expect(maple.printed).toBe(false);
    expect(maple.says).toContain('No strength across the grain is printed for sugar maple');
    expect(maple.value! / speciesOf('maple-sugar')!.bending!.value).toBeCloseTo(260 / 8400, 6);
    expect(standingStrength(piece('cedar-eastern-redcedar')).value!).toBeCloseTo(60.67 * 0.024, 2);
  });

  it.each(['hardwood', 'softwood'] as const)(
    'the least share of any %s is found again from the table',
    (kind) => {
      const shares = allSpecies()
        .filter((s) => s.splitting && s.bending && (s.pores?.value === 'none') === (kind === 'softwood'))
        .map((s) => ({ share: s.splitting!.value / s.bending!.value, name: s.name }))
        .sort((a, b) => a.share - b.share);
      expect(shares.length).toBeGreaterThan(kind === 'softwood' ? 5 : 20);
      expect(LEAST_SPLITTING_SHARE[kind].share).toBeCloseTo(shares[0]!.share, 9);
      const words = LEAST_SPLITTING_SHARE[kind].of.split(' ');
      for (const word of words) expect(shares[0]!.name.toLowerCase()).toContain(word);
    },
  );

  it('has no figure at all where neither is printed', () => {
    expect(standingStrength(piece('lignumvitae'))).toMatchObject({ value: undefined, source: 'no data' });
    expect(standingShear(piece('ovangkol'))).toMatchObject({ value: undefined, source: 'no data' });
  });

  it('shear: the printed figure for standing fibres, a third of it for lying ones', () => {
    const shear = speciesOf('cherry-black')!.shear!.value;
    expect(standingShear(piece('cherry-black', 'end')).value).toBe(shear);
    expect(standingShear(piece('cherry-black')).value).toBeCloseTo(shear / 3, 9);
  });
});

describe('how far a push spreads along a wall', () => {
  it('is the fourth root of the stiffness ratio: mahogany, Table 5-1', () => {
    // ER/EL 0.107, ET/EL 0.064: along the fibres (1/0.107)^(1/4), across them (0.064/0.107)^(1/4).
    expect(spreadPerHeight(piece('mahogany-true'), 0)).toBeCloseTo(1.7484, 3);
    expect(spreadPerHeight(piece('mahogany-true'), degrees(90))).toBeCloseTo(0.8794, 3);
    expect(spreadPerHeight(piece('mahogany-true', 'end'), 1)).toBeCloseTo(0.064 ** 0.25, 9);
  });

  it('takes for an unlisted wood what spreads least among the listed ones', () => {
    for (const id of ['mahogany-true', 'douglas-fir-coast', 'maple-sugar']) {
      for (const axis of [0, 90]) {
        const unlisted = spreadPerHeight(piece('cherry-black'), degrees(axis));
        expect(unlisted).toBeLessThanOrEqual(spreadPerHeight(piece(id), degrees(axis)) + 1e-12);
      }
    }
  });
});

describe('movement of a joint over the year', () => {
  const year: Year = { made: 8, least: 6, most: 12 };
  const wide = (): number => 100;

  it('is nothing for the same wood the same way round', () => {
    const { across, along, mismatch } = jointMovement(
      piece('maple-sugar'),
      piece('maple-sugar'),
      year,
      wide,
    )!;
    expect(across.opening.likely).toBe(0);
    expect(across.squeeze.likely).toBe(0);
    expect(along.opening.most).toBe(0);
    expect(mismatch).toBeUndefined();
    // Rings may still lie differently: 100 mm, 0.00353 against 0.00165, 4 % damper.
    expect(across.opening.most).toBeCloseTo(100 * (0.00353 - 0.00165) * 4, 9);
  });

  it('is the difference of the two coefficients across the grain, and nothing along it', () => {
    // Table 13-5: sugar maple 0.00353, black cherry 0.00248 tangential. Dry: the maple plug comes short.
    const { across, along, worst } = jointMovement(piece('cherry-black'), piece('maple-sugar'), year, wide)!;
    expect(across.opening.likely).toBeCloseTo(100 * (0.00353 - 0.00248) * 2, 9);
    expect(across.squeeze.likely).toBeCloseTo(100 * (0.00353 - 0.00248) * 4, 9);
    expect(along.opening.likely).toBeCloseTo(0, 12);
    expect(worst.angle).toBeCloseTo(Math.PI / 2, 9);
  });

  it('crossed grain moves in both directions and is named', () => {
    const board = piece('cherry-black');
    const { along, across, mismatch } = jointMovement(board, piece('cherry-black', 'face', 90), year, wide)!;
    expect(along.opening.likely).toBeCloseTo(100 * 0.00248 * 2, 9); // the plug shrinks where the board does not
    expect(across.opening.likely).toBeCloseTo(100 * 0.00248 * 4, 9); // the board swells where the plug does not
    expect(mismatch).toContain('cross at 90 degrees');
  });

  it('an end-grain board is named against a face-grain plug', () => {
    const { mismatch } = jointMovement(piece('walnut-black', 'end'), piece('maple-sugar'), year, wide)!;
    expect(mismatch).toContain('end-grain board');
  });

  it('uses Eq. 13-3 beyond 6 to 14 %, and has no figure where no shrinkage is printed', () => {
    const damp: Year = { made: 8, least: 5, most: 16 };
    const joint = jointMovement(piece('cherry-black'), piece('maple-sugar'), damp, wide)!;
    expect(joint.rules.map((r) => r.rule)).toEqual(['Eq. 13-3', 'Eq. 13-3']);
    expect(jointMovement(piece('cherry-black'), piece('bubinga'), year, wide)).toBeUndefined();
    expect(jointMovement(piece('cherry-black'), piece('iroko'), damp, wide)).toBeUndefined();
  });

  it('turning everything together changes nothing but the direction', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 180, noNaN: true }),
        fc.double({ min: 0, max: 180, noNaN: true }),
        (a, b) => {
          const at = (turn: number) =>
            jointMovement(
              piece('cherry-black', 'face', a + turn),
              piece('maple-sugar', 'face', b + turn),
              year,
              wide,
            )!;
          expect(at(37).across.opening.likely).toBeCloseTo(at(0).across.opening.likely, 9);
          expect(at(37).worst.opening.likely).toBeCloseTo(at(0).worst.opening.likely, 4);
        },
      ),
      { seed: 11, numRuns: 40 },
    );
  });

  it('stress when held: strain times stiffness across the grain', () => {
    const joint = jointMovement(piece('cherry-black'), piece('maple-sugar'), year, wide)!;
    const strain = (0.00353 - 0.00248) * 4;
    expect(joint.held!).toBeCloseTo(strain * speciesOf('maple-sugar')!.stiffness!.value * 0.065, 6);
  });
});
