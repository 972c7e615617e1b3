import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Region, Ring } from './shapes.ts';

export async function loadClipper(): Promise<void> {
  void readFileSync;
  void createRequire;
}
export type FillRule = 'nonzero' | 'evenodd';
export function unionRings(_rings: readonly Ring[], _rule: FillRule): Region {
  throw new Error('being built');
}
