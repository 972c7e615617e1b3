import { matrixOf } from './motion.ts';
import type { Outline } from './register-outline.ts';
import { emptyMeeting, type Meeting, meetFromPlug, meetFromPocket } from './register-settle.ts';
import type { Motion } from './shapes.ts';

/** How much larger the plug is all round. */
export interface Growth {
  /** mm, positive when the plug's outline lies outside the pocket's: the median over places on straight walls. */
  readonly by: number;
  /** What 19 of 20 such places stay within after taking it off, mm. Corners are left out: they may be round or sharp. */
  readonly residual: number;
}

export function growthOf(pocket: Outline, plug: Outline, motion: Motion): Growth {
  const t = matrixOf(motion);
  const meeting = emptyMeeting();
  const outward: number[] = [];
  const note = (m: Meeting, side: number): void => {
    if (!m.corner) outward.push(-side * (m.nx * m.rx + m.ny * m.ry));
  };
  for (let k = 0; k < plug.x.length; k++) {
    meetFromPlug(pocket, plug.x[k], plug.y[k], t, meeting);
    note(meeting, 1);
  }
  meeting.segment = 0;
  for (let k = 0; k < pocket.x.length; k++) {
    meetFromPocket(plug, pocket.x[k], pocket.y[k], t, meeting);
    // Turned over, the plug's own wood lies on the other side of its edges.
    note(meeting, motion.reflect ? -1 : 1);
  }
  if (outward.length === 0) return { by: 0, residual: Number.POSITIVE_INFINITY };
  const by = ranked(outward, 0.5);
  const off = outward.map((v) => Math.abs(v - by));
  return { by, residual: ranked(off, 0.95) };
}

function ranked(values: readonly number[], part: number): number {
  const sorted = Float64Array.from(values).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))];
}
