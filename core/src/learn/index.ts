export * from './design/index.ts';
export * from './difference/index.ts';
export * from './fit/index.ts';
export * from './next/index.ts';
