export * from './contract.ts';
export * from './fixtures.ts';
export * from './folder.ts';
