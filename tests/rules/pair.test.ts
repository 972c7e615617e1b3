import { describe, expect, it } from 'vitest';
import { pairMatch } from '../../rules/pair/match.ts';
import { pairMirror } from '../../rules/pair/mirror.ts';
import { ask, LEAF, mirrored } from '../pairs.ts';

const HEART =
  '<path d="M50 30 C40 15 18 20 18 42 C18 60 38 72 50 84 C62 72 82 60 82 42 C82 20 60 15 50 30 Z"/>';
const twoPieces = `${LEAF}<circle cx="30" cy="85" r="8"/>`;
const bad = (check: ReturnType<typeof ask>) => check.readings.filter((reading) => reading.outcome !== 'pass');

describe('pair.mirror', () => {
  it('passes the mirror image, however it is turned and moved', () => {
    expect(ask(pairMirror, { pocket: LEAF }).outcome).toBe('pass');
    const turned = `<g transform="translate(3 -5) rotate(37 50 50)">${mirrored(LEAF)}</g>`;
    expect(ask(pairMirror, { pocket: LEAF, plug: turned }).outcome).toBe('pass');
    expect(
      ask(pairMirror, { pocket: LEAF, plug: `<g transform="translate(0 100) scale(1 -1)">${LEAF}</g>` })
        .outcome,
    ).toBe('pass');
  });

  it('fails a copy and a turned copy, and says which it is', () => {
    const copy = ask(pairMirror, { pocket: LEAF, plug: LEAF });
    expect(copy.outcome).toBe('fail');
    expect(copy.readings[0]?.says).toContain('copy of the pocket');
    const turned = ask(pairMirror, { pocket: LEAF, plug: `<g transform="rotate(30 50 50)">${LEAF}</g>` });
    expect(turned.outcome).toBe('fail');
    expect(turned.readings[0]?.says).toContain('30.0 degrees');
  });

  it('takes a copy of a design that is its own mirror image for what it is worth', () => {
    const check = ask(pairMirror, { pocket: HEART, plug: HEART });
    expect(check.outcome).toBe('pass');
    expect(check.readings[0]?.says).toContain('its own mirror image');
  });

  it('catches the copy of a design that is nearly its own mirror image', () => {
    // One shoulder of the heart 0.3 mm higher than the other.
    const nearly = HEART.replace('82 42 C82 20', '82 42 C82 19.5');
    expect(ask(pairMirror, { pocket: nearly }).outcome).toBe('pass');
    expect(ask(pairMirror, { pocket: nearly, plug: nearly }).outcome).toBe('fail');
  });

  it('fails an inside-out drawing and another drawing', () => {
    const frame = `<path fill-rule="evenodd" d="M2 2 H98 V98 H2 Z ${/ d="([^"]+)"/.exec(LEAF)?.[1]}"/>`;
    const inside = ask(pairMirror, { pocket: LEAF, plug: mirrored(frame) });
    expect(inside.outcome).toBe('fail');
    expect(inside.readings[0]?.says).toContain('inside out');
    const other = ask(pairMirror, { pocket: LEAF, plug: '<path d="M10 10 H60 V30 H40 V90 H10 Z"/>' });
    expect(other.outcome).toBe('fail');
    expect(other.readings[0]?.says).toContain('another drawing');
  });

  it('does not take a grown plug for a missing mirror either', () => {
    const ell = (by: number) =>
      `<path d="M${20 - by} ${20 - by} H${80 + by} V${40 + by} H${50 + by} V${80 + by} H${20 - by} Z"/>`;
    const grown = ask(pairMirror, { pocket: ell(0), plug: mirrored(ell(0.4)) });
    expect(grown.readings[0]?.label).toBe('Mirrors it, size put right');
    expect(grown.outcome).toBe('pass');
  });

  it('does not take a wrong scale for a missing mirror', () => {
    const scaled = `<g transform="translate(100 0) scale(-1.02 1.02)">${LEAF}</g>`;
    expect(ask(pairMirror, { pocket: LEAF, plug: scaled }).outcome).toBe('pass');
  });

  it('leaves the mirror to the toolpath when the job says so, at best with care', () => {
    const job = { 'plug.mirror': 'toolpath' };
    const left = ask(pairMirror, { pocket: LEAF, plug: LEAF, job });
    expect(left.outcome).toBe('close');
    expect(left.readings[0]?.cure).toContain('look at the plug');
    const twice = ask(pairMirror, { pocket: LEAF, job });
    expect(twice.outcome).toBe('fail');
    expect(twice.readings[0]?.says).toContain('mirrored already');
    expect(
      ask(pairMirror, { pocket: LEAF, plug: `<g transform="scale(1.01)">${LEAF}</g>`, job }).outcome,
    ).toBe('fail');
    expect(ask(pairMirror, { pocket: HEART, plug: HEART, job }).outcome).toBe('close');
  });

  it('cannot tell without an outline', () => {
    expect(ask(pairMirror, { pocket: LEAF, plug: '<g/>' }).outcome).toBe('untold');
  });
});

describe('pair.match', () => {
  it('passes the mirror image', () => {
    const check = ask(pairMatch, { pocket: twoPieces });
    expect(check.outcome).toBe('pass');
    expect(check.readings[0]?.measured.value).toBeLessThan(0.012);
  });

  it('fails half a percent of scale and names it', () => {
    const check = ask(pairMatch, {
      pocket: LEAF,
      plug: `<g transform="translate(100 0) scale(-1.005 1.005)">${LEAF}</g>`,
    });
    expect(check.outcome).toBe('fail');
    expect(check.readings[0]?.says).toMatch(/1\.00(49|50)\d? times as large/);
  });

  it('recognises millimetres read as inches', () => {
    const check = ask(pairMatch, {
      pocket: LEAF,
      plug: mirrored(LEAF),
      plugFrame: 'width="100in" height="100in" viewBox="0 0 100 100"',
    });
    expect(check.outcome).toBe('fail');
    expect(check.readings[0]?.says).toContain('millimetres read as inches');
  });

  it('recognises millimetres read as pixels, and gives the factor that mends it to the last figure', () => {
    // CSS Values 3, 5.2: 96 pixels are one inch, 25.4 mm.
    const check = ask(pairMatch, {
      pocket: LEAF,
      plug: mirrored(LEAF),
      plugFrame: 'width="100" height="100" viewBox="0 0 100 100"',
    });
    expect(check.outcome).toBe('fail');
    expect(check.readings[0]?.says).toContain('millimetres read as pixels');
    const factor = Number(/by ([\d.]+)\./.exec(check.readings[0]?.cure ?? '')?.[1]);
    expect(Math.abs(factor / (96 / 25.4) - 1)).toBeLessThan(2e-6);
  });

  // One unit of each in mm: 1 in = 25.4 mm; points, pixels and units of old drawing programs by the inch.
  const UNITS: readonly (readonly [name: RegExp, size: number])[] = [
    [/^inches/, 25.4],
    [/^millimetres/, 1],
    [/^centimetres/, 10],
    [/^pixels|^96/, 25.4 / 96],
    [/^points/, 25.4 / 72],
    [/^90/, 25.4 / 90],
  ];
  const sizeOf = (name: string): number => UNITS.find(([start]) => start.test(name))?.[1] ?? Number.NaN;
  it.each([
    25.4,
    1 / 25.4,
    96 / 72,
    72 / 96,
    96 / 25.4,
    25.4 / 96,
    72 / 25.4,
    25.4 / 72,
    10,
    1 / 10,
    96 / 90,
    90 / 96,
  ])('names the mix-up that makes the plug %d times as large', (times) => {
    // Straight edges: curves drawn a tenth as large are known to a part in a thousand only.
    const ell = '<path d="M20 20 H80 V40 H50 V80 H20 Z"/>';
    const plug = `<g transform="translate(100 0) scale(${-times} ${times})">${ell}</g>`;
    const says = ask(pairMatch, { pocket: ell, plug }).readings[0]?.says ?? '';
    const [, meant = '', read = ''] = /That is (.+) read as (.+)\.$/.exec(says) ?? [];
    expect(sizeOf(read) / sizeOf(meant), says).toBeCloseTo(times, 9);
  });

  it('is never off by more than half of what is wanted, and measures what the toolpath mirrors', () => {
    const give = (most: number) =>
      ask(pairMatch, { pocket: LEAF, job: { 'limits.rim-gap-most': most } }).readings[0]?.give ?? Number.NaN;
    expect(give(0.05)).toBeGreaterThan(0.005);
    expect(give(0.01)).toBeCloseTo(0.005, 12);
    const copy = { pocket: LEAF, plug: LEAF, job: { 'plug.mirror': 'toolpath' } };
    expect(ask(pairMatch, copy).outcome).toBe('pass');
  });

  it('names a stretch along one axis', () => {
    const check = ask(pairMatch, {
      pocket: LEAF,
      plug: `<g transform="translate(100 0) scale(-1.02 1)">${LEAF}</g>`,
    });
    expect(check.outcome).toBe('fail');
    expect(check.readings[0]?.says).toContain('stretched');
  });

  it('names a growth all round', () => {
    const ring = (r: number) =>
      `<path d="M${50 - r} 50 a${r} ${r} 0 1 0 ${2 * r} 0 a${r} ${r} 0 1 0 ${-2 * r} 0"/><rect x="${85 - (r - 20)}" y="${10 - (r - 20)}" width="${10 + 2 * (r - 20)}" height="${30 + 2 * (r - 20)}"/>`;
    const check = ask(pairMatch, { pocket: ring(20), plug: mirrored(ring(20.3)) });
    expect(check.outcome).toBe('fail');
    expect(check.readings[0]?.says).toMatch(/larger than the pocket by 0\.(29|30)\d? mm/);
  });

  it('tells a missing, an extra and a moved piece with their places', () => {
    const missing = ask(pairMatch, { pocket: twoPieces, plug: mirrored(LEAF) });
    expect(missing.outcome).toBe('fail');
    const lacking = bad(missing).find((reading) => reading.label?.includes('lacks'));
    expect(lacking?.place.at?.[0]).toBeCloseTo(30, 0);
    expect(lacking?.place.at?.[1]).toBeCloseTo(85, 0);
    const extra = ask(pairMatch, { pocket: LEAF, plug: mirrored(twoPieces) });
    const added = bad(extra).find((reading) => reading.label?.includes('only the plug has'));
    expect(added?.place.at?.[0]).toBeCloseTo(70, 0);
    expect(added?.place.at?.[1]).toBeCloseTo(85, 0);
    const moved = ask(pairMatch, {
      pocket: twoPieces,
      plug: mirrored(twoPieces.replace('cx="30"', 'cx="31"')),
    });
    const piece = bad(moved).find((reading) => reading.label?.includes('moved'));
    expect(piece?.measured.value).toBeCloseTo(1, 2);
    expect(piece?.place.at?.[0]).toBeCloseTo(69, 1);
  });

  it("gives places in the plug in the plug's own frame, resized or not", () => {
    // A flat-topped block with a bump of 1 mm at x = 30: the bump lies at 70 in the mirrored drawing.
    const block = (bump: string) => `<path d="M20 20 H29 ${bump} H31 H90 V60 L50 80 L20 60 Z"/>`;
    const bumped = block('V19 H31 V20');
    for (const scale of [1, 1.25]) {
      const plug = `<g transform="scale(${scale})">${mirrored(bumped)}</g>`;
      const check = ask(pairMatch, { pocket: block(''), plug });
      const edit = bad(check).find((reading) => reading.label?.includes('edited'));
      expect(edit?.place.part).toBe('plug');
      expect(Math.abs((edit?.place.at?.[0] ?? 0) / scale - 70)).toBeLessThan(1.5);
      expect(Math.abs((edit?.place.at?.[1] ?? 0) / scale - 19.5)).toBeLessThan(1);
    }
  });

  it('is exact at the limit for one edited node, give and all', () => {
    const spike = (by: number) => mirrored(`<path d="M20 20 H80 V60 L50 ${60 + by} L20 60 Z"/>`);
    const pocket = '<path d="M20 20 H80 V60 L50 60 L20 60 Z"/>';
    expect(ask(pairMatch, { pocket, plug: spike(0.03) }).outcome).toBe('pass');
    expect(ask(pairMatch, { pocket, plug: spike(0.3) }).outcome).toBe('fail');
    const edited = bad(ask(pairMatch, { pocket, plug: spike(0.3) })).find((reading) =>
      reading.label?.includes('edited'),
    );
    expect(edited?.place.at?.[1]).toBeCloseTo(60.3, 0);
  });

  it('has no business with a plug that is a copy', () => {
    expect(ask(pairMatch, { pocket: LEAF, plug: LEAF }).outcome).toBe('moot');
  });
});
