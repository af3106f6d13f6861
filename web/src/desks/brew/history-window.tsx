import { checkKind } from '@pourline/core';
import { useState } from 'react';
import { type RevisionInfo, restoreRevision, useHistory } from '../../replica/index.ts';
import { Button, Dialog } from '../../ui/index.ts';
import { formatMoment, formatNumber, t } from '../../words/index.ts';

interface HistoryWindowProps {
  planId: string;
  open: boolean;
  onClose: () => void;
  /** Looks at an earlier state as a ghost behind the present plan. */
  onLook: (revision: RevisionInfo) => void;
}

/** Saved states of the plan; each can be looked at, or brought back as a new state. */
export function HistoryWindow({ planId, open, onClose, onLook }: HistoryWindowProps) {
  const { revisions, complete } = useHistory('plan', open ? planId : null);
  const [problem, setProblem] = useState<string | null>(null);
  const restore = async (revision: RevisionInfo): Promise<void> => {
    const done = await restoreRevision(revision);
    if (done.ok) onClose();
    else setProblem(done.problems.map((entry) => entry.sentence).join(' '));
  };
  return (
    <Dialog open={open} onClose={onClose} title={t('brew.history')}>
      {problem ? <p className="plain-problem">{problem}</p> : null}
      {complete ? null : <p className="quiet-text">{t('brew.history_partial')}</p>}
      <ol className="history">
        {revisions.map((revision, i) => (
          <li key={revision.revision_id} className="history-row">
            <div className="history-main">
              <b>{formatMoment(revision.at)}</b>
              <span>{summary(revision)}</span>
              <span className="quiet-text">
                {[revision.author, revision.device].filter(Boolean).join(', ')}
              </span>
            </div>
            {i === 0 ? (
              <span className="quiet-text">{t('brew.history_now')}</span>
            ) : (
              <div className="buttons">
                <Button
                  look="quiet"
                  onPress={() => {
                    onLook(revision);
                    onClose();
                  }}
                >
                  {t('brew.history_look')}
                </Button>
                <Button onPress={() => void restore(revision)}>{t('brew.history_restore')}</Button>
              </div>
            )}
          </li>
        ))}
      </ol>
    </Dialog>
  );
}

/** A saved state in one line. */
function summary(revision: RevisionInfo): string {
  const checked = checkKind('plan', revision.body);
  if (!checked.ok) return '';
  const { pours, dose_g } = checked.value;
  const water = pours.reduce((sum, pour) => sum + pour.water_g, 0);
  return t('brew.history_summary', {
    pours: pours.length,
    water: formatNumber(water),
    dose: formatNumber(dose_g, dose_g % 1 ? 1 : 0),
  });
}
