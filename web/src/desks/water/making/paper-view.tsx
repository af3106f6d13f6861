import type { Batch, Mix, WaterOrder } from '@pourline/core';
import { useMemo } from 'react';
import { createPortal } from 'react-dom';
import { useWaters } from '../../../engine/use-waters.ts';
import { useDocuments } from '../../../replica/index.ts';
import { Button, CheckInput, Choice } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { useKept } from '../parts/use-kept.ts';
import { useGathered } from '../parts/use-order-choice.ts';
import { BottleLabels, WaterLabels } from './labels.tsx';
import { newestBatches, type PrintedWater, printedWaters } from './printed.ts';
import { WeighPage } from './weigh-page.tsx';
import './paper.css';

/** Sizes of paper that there is a page rule for. */
export const PAPERS = ['a4', 'a5', 'letter'] as const;
export type Paper = (typeof PAPERS)[number];

interface Wanted {
  paper: Paper;
  sheets: boolean;
  waters: boolean;
  bottles: boolean;
}

interface PaperProps {
  mix: Mix;
  /** The batch at the table as it stands on screen: what was typed a moment ago is printed, not what is saved by now. */
  edited: Batch | null;
  onBack: () => void;
}

/** What will be printed, as it will look, with its size of paper. The same pages stand once more in the body for the printer. */
export function PaperView({ mix, edited, onBack }: PaperProps) {
  const [wanted, want] = useKept<Wanted>('making.paper', {
    paper: 'a4',
    sheets: true,
    waters: true,
    bottles: true,
  });
  const batches = useDocuments('batch');
  const { order } = useGathered(mix);
  const newest = useMemo(
    () =>
      newestBatches(
        batches.map((batch) => (batch.id === edited?.id ? edited : batch)),
        mix.id,
      ),
    [batches, edited, mix.id],
  );
  const scaled = useMemo(() => (order ? scaledToBatches(order, newest) : null), [order, newest]);
  const { output, input } = useWaters(scaled);
  const waters = useMemo(
    () => (output && input ? printedWaters(input, output.solved, output.mistakes, newest) : []),
    [output, input, newest],
  );
  const pages = input && <Pages mix={mix} order={input} waters={waters} wanted={wanted} />;
  return (
    <div className="making">
      <header className="making-head">
        <h2>{t('making.paper_title')}</h2>
        <Button icon="left" onPress={onBack}>
          {t('making.back')}
        </Button>
      </header>
      <div className="making-paper-tools">
        <Choice
          label={t('making.paper_size')}
          value={wanted.paper}
          options={PAPERS.map((value) => ({ value, label: t(`making.paper.${value}`) }))}
          onChange={(paper) => want({ paper })}
        />
        <CheckInput
          label={t('making.print_sheets')}
          value={wanted.sheets}
          onChange={(sheets) => want({ sheets })}
        />
        <CheckInput
          label={t('making.print_waters')}
          value={wanted.waters}
          onChange={(of) => want({ waters: of })}
        />
        <CheckInput
          label={t('making.print_bottles')}
          value={wanted.bottles}
          onChange={(bottles) => want({ bottles })}
        />
        <Button look="primary" icon="export" onPress={() => print()} isDisabled={!pages}>
          {t('making.print')}
        </Button>
      </div>
      <section className="paper-preview" aria-label={t('making.preview')}>
        {pages}
      </section>
      {pages && createPortal(<div className="paper-root">{pages}</div>, document.body)}
    </div>
  );
}

/** An order with each water in the mass of its newest batch. */
function scaledToBatches(order: WaterOrder, newest: ReadonlyMap<string, Batch>): WaterOrder {
  return {
    ...order,
    waters: order.waters.map((water) => ({
      ...water,
      batch_g: newest.get(water.id)?.batch_g ?? water.batch_g,
    })),
  };
}

interface PagesProps {
  mix: Mix;
  order: WaterOrder;
  waters: readonly PrintedWater[];
  wanted: Wanted;
}

function Pages({ mix, order, waters, wanted }: PagesProps) {
  const salts = useDocuments('salt');
  const concentrates = useDocuments('concentrate');
  const used = order.concentrates.flatMap(({ id }) => concentrates.filter((document) => document.id === id));
  const labels = (wanted.waters && waters.length > 0) || (wanted.bottles && used.length > 0);
  return (
    <div className={`paper paper-${wanted.paper}`}>
      {wanted.sheets &&
        waters.map((water) => (
          <WeighPage key={water.sheet.water_id} mix={mix} order={order} water={water} salts={salts} />
        ))}
      {labels && (
        <section className="paper-page paper-labels">
          {wanted.waters &&
            waters.map((water) => <WaterLabels key={water.sheet.water_id} order={order} water={water} />)}
          {wanted.bottles &&
            used.map((document) => (
              <BottleLabels key={document.id} document={document} order={order} waters={waters} />
            ))}
        </section>
      )}
    </div>
  );
}
