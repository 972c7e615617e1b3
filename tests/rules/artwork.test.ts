import { describe, expect, it } from 'vitest';
import { artworkClean } from '../../rules/artwork/clean.ts';
import { artworkClosed } from '../../rules/artwork/closed.ts';
import { artworkRead } from '../../rules/artwork/read.ts';
import { artworkSize } from '../../rules/artwork/size.ts';
import { ask, LEAF, mirrored } from '../pairs.ts';

const bad = (check: ReturnType<typeof ask>) => check.readings.filter((reading) => reading.outcome !== 'pass');

describe('artwork.read', () => {
  it('passes when all that is drawn is an outline', () => {
    expect(ask(artworkRead, { pocket: LEAF }).outcome).toBe('pass');
  });

  it.each([
    ['text left as text', '<text id="name" x="20" y="90">fern</text>', 'text'],
    ['a stroke without a fill', '<path id="vein" d="M20 60 L80 30" fill="none" stroke="black"/>', 'stroke'],
    ['a picture', '<image id="scan" href="data:image/png;base64,AAAA" width="10" height="10"/>', 'picture'],
    [
      'a path that breaks off',
      '<path id="torn" d="M5 5 L15 5 L15 15 L5 15 Z M 40 85 L 50 X 9"/>',
      'broken path',
    ],
    ['a use that leads nowhere', '<use id="gone" href="#nothing"/>', 'lost link'],
  ])('fails on %s and names the element', (_, extra, kind) => {
    const check = ask(artworkRead, { pocket: `${LEAF}\n${extra}`, plug: mirrored(LEAF) });
    expect(check.outcome).toBe('fail');
    const [reading] = bad(check);
    expect(reading?.label).toBe(`Left out, pocket: ${kind}`);
    expect(reading?.place.element).toBe(`#${/id="([^"]+)"/.exec(extra)?.[1]}`);
    expect(reading?.place.line).toBe(3);
    expect(reading?.place.part).toBe('pocket');
  });

  it('is close on a shape off the page, which is used all the same', () => {
    const off = `${LEAF}<rect x="92" y="80" width="20" height="10"/>`;
    const check = ask(artworkRead, { pocket: off });
    expect(check.outcome).toBe('close');
    expect(bad(check)[0]?.label).toContain('Off the page');
  });

  it('fails paper that is painted behind both drawings: what is inlaid would be the page without the leaf', () => {
    const check = ask(artworkRead, {
      pocket: `<rect id="paper" width="100" height="100" fill="white"/>${LEAF}`,
    });
    expect(check.outcome).toBe('fail');
    expect(bad(check).map(({ label, place }) => [label, place.element])).toEqual([
      ['Whole page, pocket', '#paper'],
      ['Whole page, plug', '#paper'],
    ]);
    expect(bad(check)[0]?.cure).toContain('delete it');
  });

  it('fails a drawing that holds nothing to cut', () => {
    const check = ask(artworkRead, { pocket: '<g/>', plug: LEAF });
    expect(check.outcome).toBe('fail');
    expect(bad(check)[0]?.says).toContain('no closed outline');
  });
});

describe('artwork.closed', () => {
  const open = (gap: number) => `<path d="M20 20 L80 20 L80 80 L20 80 L20 ${20 + gap}"/>`;
  it('holds, is exactly at the limit, breaks', () => {
    expect(ask(artworkClosed, { pocket: LEAF }).outcome).toBe('pass');
    expect(ask(artworkClosed, { pocket: open(0.01) }).outcome).toBe('pass');
    const check = ask(artworkClosed, { pocket: open(0.011) });
    expect(check.outcome).toBe('fail');
    expect(bad(check)[0]?.measured.value).toBeCloseTo(0.011, 9);
    expect(bad(check)[0]?.place.at?.[0]).toBeCloseTo(20, 6);
    expect(bad(check)[0]?.place.at?.[1]).toBeCloseTo(20, 1);
  });

  it('leaves crossings to artwork.clean, and that leaves open ends to it', () => {
    expect(ask(artworkClosed, { pocket: '<path d="M20 20 L60 60 L60 20 L20 60 Z"/>' }).outcome).toBe('pass');
    expect(ask(artworkClean, { pocket: open(0.5) }).outcome).toBe('pass');
  });

  it('takes a line that ends where it started for closed', () => {
    expect(ask(artworkClosed, { pocket: open(0) }).outcome).toBe('pass');
  });
});

describe('artwork.clean', () => {
  const square = (x: number, y: number, size: number, more = '') =>
    `<rect x="${x}" y="${y}" width="${size}" height="${size}" ${more}/>`;

  it.each([
    ['a crossing', '<path d="M20 20 L60 60 L60 20 L20 60 Z"/>', 'crosses itself', [40, 40]],
    ['an outline drawn twice', square(20, 20, 30) + square(20, 20, 30), 'drawn twice', undefined],
    ['overlapping shapes', square(20, 20, 30) + square(40, 40, 30), 'overlap', undefined],
    ['a hole that cannot be seen', square(20, 20, 40) + square(30, 30, 10), 'cannot be seen', undefined],
    ['a speck', square(20, 20, 40) + square(80, 80, 0.2), 'Speck', undefined],
    ['edges that nearly touch', square(20, 20, 20) + square(40.02, 20, 20), 'nearly touch', undefined],
    ['a spike', '<path d="M20 20 L60 20 L60 60 L60 90 L60 60 L20 60 Z"/>', 'Spike', undefined],
  ])('fails on %s', (_, pocket, label, at) => {
    const check = ask(artworkClean, { pocket });
    expect(check.outcome).toBe('fail');
    const found = bad(check).find(
      (reading) => reading.label?.includes(label) && reading.place.part === 'pocket',
    );
    expect(found, JSON.stringify(bad(check).map((reading) => reading.label))).toBeDefined();
    if (at !== undefined) {
      expect(found?.place.at?.[0]).toBeCloseTo(at[0] as number, 3);
      expect(found?.place.at?.[1]).toBeCloseTo(at[1] as number, 3);
    }
  });

  it('passes clean shapes, and a white hole that is seen', () => {
    expect(ask(artworkClean, { pocket: LEAF }).outcome).toBe('pass');
    const seen = square(20, 20, 40, 'fill="#000"') + square(30, 30, 10, 'fill="#fff"');
    expect(ask(artworkClean, { pocket: seen }).outcome).toBe('pass');
  });

  it('is exact at the limit of near touches and specks', () => {
    expect(ask(artworkClean, { pocket: square(20, 20, 20) + square(40.05, 20, 20) }).outcome).toBe('pass');
    expect(ask(artworkClean, { pocket: square(20, 20, 20) + square(40.049, 20, 20) }).outcome).toBe('fail');
  });
});

describe('artwork.size', () => {
  it('passes real units', () => {
    expect(ask(artworkSize, { pocket: LEAF }).outcome).toBe('pass');
  });

  it('is close on bare pixels', () => {
    const frame = 'width="100" height="100" viewBox="0 0 100 100"';
    const check = ask(artworkSize, { pocket: LEAF, pocketFrame: frame, plugFrame: frame });
    expect(check.outcome).toBe('close');
    expect(bad(check)[0]?.says).toContain('96 to the inch');
  });

  it('fails when no size is stated', () => {
    const frame = 'viewBox="0 0 100 100"';
    expect(ask(artworkSize, { pocket: LEAF, pocketFrame: frame, plugFrame: frame }).outcome).toBe('fail');
  });

  it('fails a plug drawn at another scale', () => {
    const check = ask(artworkSize, {
      pocket: LEAF,
      plugFrame: 'width="101mm" height="101mm" viewBox="0 0 100 100"',
    });
    expect(check.outcome).toBe('fail');
    expect(bad(check)[0]?.measured.value).toBeCloseTo(1, 2);
  });

  it('compares no sizes where there is nothing to compare', () => {
    const labels = (plug: string) =>
      ask(artworkSize, { pocket: LEAF, plug }).readings.map(({ label }) => label);
    expect(labels(mirrored(LEAF))).toContain('Plug drawn as large as pocket');
    for (const plug of ['<g/>', '<path d="M10 10 H60 V30 H40 V90 H10 Z"/>'])
      expect(labels(plug)).toEqual(['Size stated, pocket', 'Size stated, plug']);
  });

  it('fails a frame that stretches one way', () => {
    const frame = 'width="100mm" height="102mm" viewBox="0 0 100 100" preserveAspectRatio="none"';
    const check = ask(artworkSize, { pocket: LEAF, pocketFrame: frame, plugFrame: frame });
    expect(check.outcome).toBe('fail');
    expect(bad(check)[0]?.label).toContain('Stretched');
  });
});
