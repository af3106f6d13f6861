import { type FileRefused, MAX_FILE_BYTES } from '../replica/index.ts';
import { formatNumber, t } from '../words/index.ts';

const MEGABYTE = 1024 * 1024;

/** Why a file cannot be kept, and what to do. */
export function refusedFile(name: string, refused: FileRefused): string {
  if (refused.refused === 'no_crypto') return t('common.file.no_crypto', { name });
  return t('common.file.too_large', {
    name,
    size: formatNumber(refused.bytes / MEGABYTE, 0),
    limit: formatNumber(MAX_FILE_BYTES / MEGABYTE, 0),
  });
}
