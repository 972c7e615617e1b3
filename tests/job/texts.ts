import { InputFaults } from '../../src/fault.ts';

/** A job with every key that exists, in our own scenario. */
export const WHOLE_JOB = `title: Tea tray, kingfisher
units: mm
pocket:
  outline: drawings/kingfisher.svg#bird
  start-depth: 0
  flat-depth: 7.6
  stock: { wood: cherry-black, grain: face, grain-angle: 90, thickness: 19, moisture: 8 % }
plug:
  outline: kingfisher-plug.svg
  mirror: drawn
  start-depth: 5
  flat-depth: 2.6
  stock: { wood: Sugar maple, grain: face, grain-angle: 0 deg, thickness: 15, width: 220, length: 160, left: -10, top: 0 }
bit: { angle: 30 deg, tip-flat: 0.1, cutting-length: 20, cutting-diameter: 1/4 in, shank: 6.35, stick-out: 30, toolpath-angle: 30, toolpath-tip-flat: 0 }
plug-bit: { angle: 0.5236 rad, tip-radius: 0.05 }
clearing-bit: { diameter: 3.175, cutting-length: 12, stick-out: 25 }
nut: { diameter: 35 }
saw: { kerf: 0.9 }
keep-out:
  - { part: plug, name: left clamp, box: { left: -30, top: 20, width: 25, length: 40 }, height: 22 }
  - { part: pocket, disc: { x: 0, y: 0, diameter: 12 } }
  - { part: plug, outline: kingfisher-plug.svg#clamps }
feeds:
  v-bit: { feed: 1200 mm/min, step-down: 3, step-over: 0.2 }
  clearing: { feed: 50 in/min }
climate:
  workshop: { moisture: 8 % }
  driest: { temperature: 21 C, humidity: 30 % }
  dampest: { temperature: 70 F, humidity: 65 }
spread: { tip-wear: 0.05, angle: 0.5 deg, scale: 0.01 %, runout: 0, draws: 2000, seed: 7 }
limits:
  rim-gap-most: 0.004 in
  side-load: 12 N
`;

/** The least that is a job. */
export const SHORT_JOB = `units: mm
pocket:
  outline: fern.svg
  flat-depth: 7.6
plug:
  outline: fern-plug.svg
  start-depth: 5
  flat-depth: 2.6
bit:
  angle: 30
`;

/** Each fault as "line:column sentence"; anything else that is thrown is thrown on. */
export function faultsOf(act: () => unknown): string[] {
  try {
    act();
    return [];
  } catch (error) {
    if (!(error instanceof InputFaults)) throw error;
    return error.faults.map(({ place, message }) => `${place.line ?? '-'}:${place.column ?? '-'} ${message}`);
  }
}
