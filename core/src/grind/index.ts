export * from './classes.ts';
