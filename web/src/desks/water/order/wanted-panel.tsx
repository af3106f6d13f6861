import { ionsOf, type Mix, type Water, type WeighSheet } from '@pourline/core';
import { useState } from 'react';
import type { Draft } from '../../../replica/index.ts';
import { Button, Fields, IconButton, NumberAt, TextAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { IonChart } from '../parts/ion-chart.tsx';
import { IonTable } from '../parts/ion-table.tsx';
import { RemarkList } from '../parts/remark-list.tsx';
import { placeRemarks } from '../parts/remark-places.ts';
import { Outcome } from './outcome.tsx';
import { Recipe } from './recipe.tsx';
import { SaveWindow } from './save-window.tsx';
import { TargetRows } from './target-rows.tsx';

interface WantedPanelProps {
  draft: Draft<'mix'>;
  index: number;
  water: Mix['waters'][number];
  /** How it is made; absent while that is not known. */
  sheet: WeighSheet | undefined;
  /** Remarks of the whole order; those about this water are picked out. */
  remarks: WeighSheet['remarks'];
  stale: boolean;
  /** Length of the ion charts of all waters of the order [meq/L]. */
  scale: number | undefined;
  waters: readonly Water[];
  campaignId: string;
  onRemove: (() => void) | null;
}

/** One water: what is asked of it, and beside that how it is made and what it will be. */
export function WantedPanel(props: WantedPanelProps) {
  const { draft, index, water, sheet, remarks, stale, scale, waters, campaignId, onRemove } = props;
  const [saving, setSaving] = useState(false);
  const asked = water.targets.map(({ of }) => of);
  const placed = placeRemarks([...remarks, ...(sheet?.remarks ?? [])], water.id, asked);
  return (
    <section className="wanted panel" aria-label={water.name}>
      <div className="wanted-asked">
        <header className="wanted-head">
          <h2>{water.name || t('water.unnamed')}</h2>
          {onRemove && (
            <IconButton icon="remove" label={`${t('common.remove')}: ${water.name}`} onPress={onRemove} />
          )}
        </header>
        <Fields>
          <TextAt path={['waters', index, 'name']} />
          <NumberAt path={['waters', index, 'batch_g']} step={100} />
          <NumberAt
            path={['waters', index, 'poured_g']}
            step={10}
            nullable
            placeholder={t('water.poured_none')}
          />
        </Fields>
        <TargetRows draft={draft} index={index} water={water} sheet={sheet} remarks={placed.byQuantity} />
      </div>
      <div className="wanted-made" data-stale={stale || undefined}>
        {sheet ? (
          <>
            <Recipe sheet={sheet} />
            <RemarkList remarks={placed.rest} />
            <Outcome figures={sheet.figures} reading={sheet.reading} />
            <IonChart name={water.name} ions={ionsOf(sheet.composition)} scale={scale} />
            <details className="wanted-more">
              <summary>{t('water.all_ions')}</summary>
              <IonTable ions={ionsOf(sheet.composition)} figures={sheet.figures} />
            </details>
            <div className="buttons">
              <Button onPress={() => setSaving(true)} isDisabled={stale}>
                {t('water.save.button')}
              </Button>
            </div>
            <SaveWindow
              open={saving}
              onClose={() => setSaving(false)}
              sheet={sheet}
              orderName={draft.document.name}
              baseIds={draft.document.bases.map(({ water_id }) => water_id)}
              waters={waters}
              campaignId={campaignId}
            />
          </>
        ) : (
          <p className="quiet-text">{t('water.not_made')}</p>
        )}
      </div>
    </section>
  );
}
