import type { Mistake } from '@pourline/core';
import { memo } from 'react';
import { Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import { useFirstFold } from '../parts/use-first-fold.ts';

/**
 * The mistakes that the sheets invite: another hydrate in the packet, bottles exchanged, a dose left out. Those that no meter
 * would find stand open, the others fold away.
 */
export const MistakesPanel = memo(function MistakesPanel({
  mistakes,
}: {
  mistakes: readonly (readonly Mistake[])[];
}) {
  const fold = useFirstFold();
  const all = mistakes.flat();
  if (all.length === 0) return null;
  const unseen = all.filter(({ verdict }) => verdict === 'as expected');
  const seen = all.filter(({ verdict }) => verdict !== 'as expected');
  return (
    <Panel title={t('water.mistakes.title')} fold={fold}>
      <p className="quiet-text">{t('water.mistakes.text')}</p>
      {unseen.length > 0 ? (
        <>
          <h4>{t('water.mistakes.unseen')}</h4>
          <RemarkList remarks={unseen.map(({ remark }) => remark)} />
        </>
      ) : (
        <p>{t('water.mistakes.all_seen')}</p>
      )}
      {seen.length > 0 && (
        <details className="wanted-more">
          <summary>{t('water.mistakes.seen', { count: seen.length })}</summary>
          <RemarkList remarks={seen.map(({ remark }) => remark)} />
        </details>
      )}
    </Panel>
  );
});
