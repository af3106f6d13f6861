export type * from './api.ts';
export * from './archive.ts';
export * from './attachments.ts';
export { bootReplica, personName, setPersonName } from './boot.ts';
export * from './hooks.ts';
export { newId, newLocalId } from './ids.ts';
export { type FieldDifference, ORDER, type Side } from './kernels/merge.ts';
