import { describe, expect, it } from 'vitest';
import { loadClipper } from '../../src/geometry/combine.ts';
import { applyRegion, invert } from '../../src/geometry/motion.ts';
import { sameOutlines } from '../../src/geometry/register-exact.ts';
import { outlineOf } from '../../src/geometry/register-outline.ts';
import type { Region } from '../../src/geometry/shapes.ts';
import { anyMotion, icons, walkedDeviation } from './register-outlines.ts';
import { regionOf, seeded, square } from './shapes-for-tests.ts';

await loadClipper();

/** The same region with its rings in another order and each begun at another corner. */
function renumbered({ rings }: Region): Region {
  return {
    rings: [...rings].reverse().map((ring) => {
      const from = 2 * Math.floor(ring.length / 6);
      return Float64Array.from([...ring.slice(from), ...ring.slice(0, from)]);
    }),
  };
}

describe('outlines that are the same, corner for corner', () => {
  it.each([true, false])('are laid on each other whatever moved them (turned over: %s)', (reflect) => {
    const random = seeded(7);
    for (const { name, region } of icons(6)) {
      const plug = renumbered(applyRegion(invert(anyMotion(random, reflect)), region));
      const same = sameOutlines(outlineOf(region), outlineOf(plug), reflect);
      expect(same, name).toBeDefined();
      expect(same!.deviation, name).toBeLessThan(1e-8);
      const laid = applyRegion(same!.motion, plug);
      expect(walkedDeviation(laid.rings, region.rings, 1), name).toBeLessThan(1e-6);
    }
  });

  it('of a design with symmetries are laid with the smallest turn', () => {
    const pocket = regionOf(square(0, 0, 10));
    const plug = applyRegion({ reflect: true, angle: 0.1 + Math.PI / 2, dx: 5, dy: -3 }, pocket);
    const same = sameOutlines(outlineOf(pocket), outlineOf(plug), true);
    // Four mirror images fit, a quarter turn apart: the least turn is the one under an eighth.
    expect(Math.abs(same!.motion.angle)).toBeCloseTo(0.1, 9);
  });

  it('are not claimed where a corner lies elsewhere, is missing, or the other side is up', () => {
    for (const { region } of icons(3)) {
      const [first, ...rest] = region.rings;
      const moved = Float64Array.from(first!);
      moved[0] += 0.001;
      const fewer = first!.slice(2);
      for (const ring of [moved, fewer])
        expect(sameOutlines(outlineOf(region), outlineOf({ rings: [ring, ...rest] }), false)).toBeUndefined();
    }
    const hook = regionOf(Float64Array.of(0, 0, 30, 0, 30, 10, 10, 10, 10, 20, 0, 20));
    expect(sameOutlines(outlineOf(hook), outlineOf(hook), false)).toBeDefined();
    expect(sameOutlines(outlineOf(hook), outlineOf(hook), true)).toBeUndefined();
  });
});
