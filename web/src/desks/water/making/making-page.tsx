import type { Batch, Mix } from '@pourline/core';
import { useState } from 'react';
import { createDocument, useDocument, useDraft } from '../../../replica/index.ts';
import { Button, Choice, DraftForm, Notice } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { useKept } from '../parts/use-kept.ts';
import { BatchFields } from './batch-fields.tsx';
import { dayAfter, litresOf, WATER_KEEPS_DAYS } from './kernels.ts';
import { MadePanel } from './made-panel.tsx';
import { MeterPanel } from './meter-panel.tsx';
import { PaperView } from './paper-view.tsx';
import { StepList } from './step-list.tsx';
import { type Making, useBatches, useMaking } from './use-making.ts';
import './making.css';

/** Making the waters of an order at the table: one step after another, what was really weighed, the meter, and paper. */
export function MakingPage({ orderId }: { orderId: string }) {
  const mix = useDocument('mix', orderId);
  const [kept, keep] = useKept(`making.${orderId}`, { waterId: '', batchId: '' });
  const [paper, setPaper] = useState(false);
  const water = mix?.waters.find(({ id }) => id === kept.waterId) ?? mix?.waters[0] ?? null;
  const batches = useBatches(orderId, water?.id ?? null);
  const chosen = batches.find(({ id }) => id === kept.batchId) ?? batches[0] ?? null;
  const draft = useDraft('batch', chosen?.id ?? null);
  const batch = draft?.document ?? chosen;
  const { making, stale, gone } = useMaking(orderId, water?.id ?? null, batch);
  if (!mix || !water) return <p className="quiet-text">{t('making.no_order')}</p>;
  if (paper && making) return <PaperView mix={mix} edited={batch} onBack={() => setPaper(false)} />;
  const start = async (): Promise<void> => {
    const made = await createDocument('batch', newBatch(mix, water, batch), mix.campaign_id);
    if (made.ok) keep({ batchId: made.value.id });
  };
  return (
    <div className="making">
      <header className="making-head">
        <h2>{t('making.title')}</h2>
        {mix.waters.length > 1 && (
          <Choice
            label={t('making.which')}
            hideLabel
            value={water.id}
            options={mix.waters.map(({ id, name }) => ({ value: id, label: name }))}
            onChange={(waterId) => keep({ waterId, batchId: '' })}
          />
        )}
        <Button icon="export" onPress={() => setPaper(true)} isDisabled={!making}>
          {t('making.paper')}
        </Button>
      </header>
      <Notice tone="alert">{t('making.caution')}</Notice>
      {gone && <Notice tone="alert">{t('making.gone')}</Notice>}
      {!draft && (
        <section className="making-start">
          <p>{t('making.start_text')}</p>
          <Button look="primary" icon="add" onPress={() => void start()} isDisabled={!making}>
            {t('making.start', { name: water.name })}
          </Button>
        </section>
      )}
      {draft && (
        <DraftForm draft={draft}>
          <BatchFields
            batches={batches}
            chosen={draft.document}
            choose={(batchId) => keep({ batchId })}
            startNew={() => void start()}
          />
          {making && <Table making={making} batch={draft.document} stale={stale} />}
        </DraftForm>
      )}
    </div>
  );
}

/** What a batch starts with: the mass of the one before, or of the order; today, and the days that a water keeps. */
function newBatch(mix: Mix, water: Mix['waters'][number], before: Batch | null) {
  const now = new Date();
  const batch_g = before?.batch_g ?? water.batch_g;
  const day = dayAfter(now, 0);
  return {
    name: t('making.batch_name', { name: water.name, day }).slice(0, 120),
    mix_id: mix.id,
    water_id: water.id,
    batch_g,
    made_on: day,
    use_by: dayAfter(now, WATER_KEEPS_DAYS),
    bottles: Math.max(1, Math.min(12, Math.round(litresOf(batch_g) / 2))),
  };
}

function Table({ making, batch, stale }: { making: Making; batch: Batch; stale: boolean }) {
  return (
    <div className="making-table" data-stale={stale || undefined}>
      <section aria-labelledby="making-steps" className="making-steps">
        <h3 id="making-steps">
          {t('making.steps', {
            litres: formatNumber(litresOf(making.sheet.batch_g), 2),
            grams: formatNumber(making.sheet.batch_g, 0),
          })}
        </h3>
        <StepList making={making} batch={batch} />
      </section>
      <div className="making-side">
        <MeterPanel making={making} batch={batch} />
        <MadePanel making={making} />
      </div>
    </div>
  );
}
