export type * from './api.ts';
export { bootReplica, personName, setPersonName } from './boot.ts';
export * from './hooks.ts';
export { newId, newLocalId } from './ids.ts';
