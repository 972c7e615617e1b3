import { createRequire } from 'node:module';
import { CHORD_ERROR, Flattener } from '../../src/artwork/flatten.ts';
import { drawPath } from '../../src/artwork/path.ts';
import { unionRings } from '../../src/geometry/combine.ts';
import type { Motion, Region, Ring } from '../../src/geometry/shapes.ts';

/** Icons nobody here drew, 120 mm wide: @iconify-json/game-icons (CC-BY-3.0), every so manieth by name. */
export function icons(count: number): readonly { readonly name: string; readonly region: Region }[] {
  const load = createRequire(import.meta.url);
  const set = load('@iconify-json/game-icons/icons.json') as { icons: Record<string, { body: string }> };
  const names = Object.keys(set.icons).sort();
  const step = Math.max(1, Math.floor(names.length / count));
  return names
    .filter((_, k) => k % step === 0)
    .slice(0, count)
    .map((name) => ({ name, region: regionOfBody(set.icons[name].body) }))
    .filter(({ region }) => region.rings.length > 0);
}

function regionOfBody(body: string): Region {
  const scale = 120 / 512;
  const rings: Ring[] = [];
  for (const [, data] of body.matchAll(/ d="([^"]+)"/g)) {
    const pen = new Flattener([scale, 0, 0, scale, 0, 0], CHORD_ERROR, { left: 1e6 });
    drawPath(data, pen);
    for (const line of pen.finish()) if (line.points.length >= 6) rings.push(line.points);
  }
  return unionRings(rings, 'nonzero');
}

/** Any turn, any shift on the bench, turned over or not. */
export function anyMotion(random: () => number, reflect: boolean): Motion {
  return {
    reflect,
    angle: (2 * random() - 1) * Math.PI,
    dx: 600 * random() - 300,
    dy: 600 * random() - 300,
  };
}

/** Every coordinate off by at most `amount`. */
export function noisy(region: Region, random: () => number, amount: number): Region {
  return { rings: region.rings.map((ring) => ring.map((v) => v + (2 * random() - 1) * amount)) };
}

/**
 * Largest distance both ways between outlines laid on each other, by walking both in steps of `step` mm and asking
 * every segment of the other: slow, and shares nothing with the code under test.
 */
export function walkedDeviation(a: readonly Ring[], b: readonly Ring[], step: number): number {
  return Math.max(oneWay(a, b, step), oneWay(b, a, step));
}

function oneWay(from: readonly Ring[], to: readonly Ring[], step: number): number {
  let worst = 0;
  for (const ring of from) {
    for (let i = 0; i < ring.length; i += 2) {
      const j = (i + 2) % ring.length;
      const pieces = Math.ceil(Math.hypot(ring[j] - ring[i], ring[j + 1] - ring[i + 1]) / step);
      for (let k = 0; k < pieces; k++) {
        const x = ring[i] + (k / pieces) * (ring[j] - ring[i]);
        const y = ring[i + 1] + (k / pieces) * (ring[j + 1] - ring[i + 1]);
        worst = Math.max(worst, toOutline(to, x, y));
      }
    }
  }
  return worst;
}

function toOutline(rings: readonly Ring[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const j = (i + 2) % ring.length;
      const ex = ring[j] - ring[i];
      const ey = ring[j + 1] - ring[i + 1];
      const along = ((x - ring[i]) * ex + (y - ring[i + 1]) * ey) / (ex * ex + ey * ey);
      const t = Math.max(0, Math.min(1, along));
      least = Math.min(least, Math.hypot(x - ring[i] - t * ex, y - ring[i + 1] - t * ey));
    }
  }
  return least;
}
