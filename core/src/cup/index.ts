export * from './mass-balance.ts';
export * from './refractometer.ts';
export * from './uncertainty.ts';
