/** Words used all over the app. */
export const common = {
  'common.cancel': 'Cancel',
  'common.close': 'Close',
  'common.done': 'Done',
  'common.save': 'Save',
  'common.remove': 'Remove',
  'common.undo': 'Undo',
  'common.redo': 'Redo',
  'common.duplicate': 'Duplicate',
  'common.archive': 'Archive',
  'common.restore': 'Bring back',
  'common.loading': 'Loading…',
  'common.choose': 'Choose…',
  'common.yes': 'Yes',
  'common.no': 'No',
  'common.not_a_number': '{field} is “{value}”; it must be a number.',
  'common.optional': 'optional',
  'common.copy_of': '{name} (copy)',
  'common.file.too_large':
    '{name} has {size} MB; files up to {limit} MB can be kept. Cut it, or thin it out.',
  'common.file.no_crypto':
    '{name} cannot be kept: over plain http from another machine, this browser does not allow it. Open the app on this machine or over https.',
} as const;
