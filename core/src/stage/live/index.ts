export * from './count-in.ts';
export * from './letters.ts';
export * from './live-run.ts';
export * from './look.ts';
export * from './run-clock.ts';
export * from './run-of-plan.ts';
export * from './run-state.ts';
export * from './when-late.ts';
