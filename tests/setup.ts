import { loadClipper } from '../src/geometry/combine.ts';

// The polygon engine is loaded once, before any test asks for it.
await loadClipper();
