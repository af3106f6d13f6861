import { Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { ApertureTable } from './aperture-table.tsx';
import { CardPanel } from './card-panel.tsx';
import './guide.css';

/** Steps of each part of the guide, by their number in the catalogue. */
const PARTS = {
  sample: [1, 2, 3, 4],
  sieve: [1, 2, 3, 4, 5, 6],
  photo: [1, 2, 3, 4, 5],
  table: [1, 2, 3],
} as const;

/** How to measure a grind so that the figures mean something: sampling, sieving, photographing, and the card to print. */
export function GuidePage() {
  return (
    <div className="guide">
      <div className="grind-column">
        <Panel title={t('grind.guide.sample')}>
          <Steps part="sample" />
        </Panel>
        <Panel title={t('grind.guide.sieve')}>
          <Steps part="sieve" />
          <ApertureTable />
        </Panel>
        <Panel title={t('grind.guide.table')}>
          <Steps part="table" />
        </Panel>
        <Panel title={t('grind.guide.differ')}>
          <p>{t('grind.guide.differ_text')}</p>
        </Panel>
      </div>
      <div className="grind-column">
        <Panel title={t('grind.guide.photo')}>
          <Steps part="photo" />
        </Panel>
        <CardPanel />
      </div>
    </div>
  );
}

function Steps({ part }: { part: keyof typeof PARTS }) {
  return (
    <ol className="guide-steps">
      {PARTS[part].map((number) => (
        <li key={number}>{t(`grind.guide.${part}.${number}` as 'grind.guide.sample.1')}</li>
      ))}
    </ol>
  );
}
