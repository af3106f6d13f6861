export * from './atoms.ts';
export * from './basics.ts';
export * from './hardness-units.ts';
