/** Which checks to leave out. Unknown ids are refused: a mistyped id must not quietly ask less. */
export interface Choice {
  readonly only?: readonly string[] | undefined;
  readonly skip?: readonly string[] | undefined;
}
