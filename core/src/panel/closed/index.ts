export * from './intakes.ts';
export * from './read-run.ts';
export * from './tables.ts';
export * from './tasted.ts';
