export * from './air.ts';
export * from './convert.ts';
export * from './materials.ts';
export * from './mixing.ts';
export * from './power.ts';
export * from './saturation.ts';
export * from './transport.ts';
export * from './water.ts';
