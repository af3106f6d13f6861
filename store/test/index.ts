export * from './contract.ts';
export * from './fixtures.ts';
