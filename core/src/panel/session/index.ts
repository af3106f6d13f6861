export * from './api.ts';
export type * from './plan-types.ts';
