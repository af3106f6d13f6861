export * from './result.ts';
export * from './simulate.ts';
