export * from './brew/index.ts';
export * from './documents/index.ts';
export * from './grind/effect/index.ts';
export * from './grind/index.ts';
export * from './learn/index.ts';
export * from './panel/index.ts';
export * from './stage/index.ts';
export { CORE_VERSION } from './version.ts';
export * from './water/index.ts';
