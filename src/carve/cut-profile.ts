/** The side of a bit as formulas want it: slope t = tan(half angle), flat radius r, ball radius (0: none). */
export interface Profile {
  readonly t: number;
  readonly r: number;
  readonly ball: number;
}
