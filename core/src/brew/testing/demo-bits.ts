/**
 * Bits of the demo's four-pour plan at standard resolution, see result-bits.ts. Whoever changes what the engine computes, or
 * that plan, writes the new ones here; a change that was meant to alter nothing must leave them alone.
 */
export const DEMO_BITS = '932ac4512b2da382';
