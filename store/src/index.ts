export { MAX_ATTACHMENT_BYTES } from './attachments.ts';
export { StoreError, type StoreErrorCode } from './errors.ts';
export { archiveText } from './export-archive.ts';
export { type OpenOptions, openStore } from './open-store.ts';
export { storeSentences } from './problems.ts';
export { type RestoreOptions, type RestoreResult, restore } from './restore.ts';
export type {
  NewSession,
  OpenedSession,
  SeatRecord,
  SessionChange,
  SessionNow,
  SessionRecord,
  StoredDevice,
  TastingStore,
} from './tasting-types.ts';
export type {
  AppendResult,
  Attachment,
  AttachmentInfo,
  AttachmentResult,
  BackupResult,
  ImportOptions,
  ImportResult,
  Latest,
  Revision,
  RevisionInput,
  Store,
} from './types.ts';
