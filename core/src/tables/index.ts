export * from './numbers.ts';
