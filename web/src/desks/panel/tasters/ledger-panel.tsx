import {
  CAFFEINE_LIMITS,
  type ClosedTasting,
  caffeineLedger,
  intakesOf,
  sipOf,
  type TasterIntakes,
  type Tasting,
} from '@pourline/core';
import { useMemo, useState } from 'react';
import { Panel, SelectInput } from '../../../ui/index.ts';
import { formatMoment, formatNumber, t } from '../../../words/index.ts';
import { FindingList } from '../parts/finding-list.tsx';

interface LedgerPanelProps {
  closed: readonly ClosedTasting[];
  tastings: readonly Tasting[];
}

const HOUR_MS = 3_600_000;

/** Most that was taken within so many hours, at its upper end. */
function heaviest(intakes: TasterIntakes['intakes'], hours: number): { mg: number; at_h: number } {
  let most = { mg: 0, at_h: 0 };
  for (const { at_h } of intakes) {
    const mg = intakes
      .filter((i) => i.at_h <= at_h && i.at_h > at_h - hours)
      .reduce((sum, i) => sum + i.mg.high, 0);
    if (mg > most.mg) most = { mg, at_h };
  }
  return most;
}

/** Caffeine of every taster from the sessions that are kept: a caution, never advice. */
export function LedgerPanel({ closed, tastings }: LedgerPanelProps) {
  const ledgers = useMemo(() => intakesOf(closed), [closed]);
  const planned = tastings.filter(({ run }) => run === null);
  const [next, setNext] = useState<string | null>(null);
  const design = planned.find(({ id }) => id === next) ?? planned[0] ?? tastings[0];
  const now_h = Date.now() / HOUR_MS;
  return (
    <Panel title={t('panel.ledger.title')}>
      <p className="quiet-text">
        {t('panel.ledger.limits', {
          occasion: CAFFEINE_LIMITS.occasion_mg,
          hours: CAFFEINE_LIMITS.occasion_h,
          day: CAFFEINE_LIMITS.day_mg,
          pregnant: CAFFEINE_LIMITS.day_pregnant_or_lactating_mg,
        })}
      </p>
      {ledgers.length === 0 && <p>{t('panel.ledger.none')}</p>}
      {design && planned.length > 0 && (
        <SelectInput
          label={t('panel.ledger.next')}
          value={design.id}
          options={planned.map(({ id, name }) => ({ value: id, label: name }))}
          onChange={setNext}
        />
      )}
      {ledgers.map(({ taster, intakes }) => {
        const [occasion, day] = [heaviest(intakes, CAFFEINE_LIMITS.occasion_h), heaviest(intakes, 24)];
        const last = intakes.at(-1);
        const ledger = design
          ? caffeineLedger(
              // Whoever joined said so; the answer itself is not kept.
              { name: taster, age: CAFFEINE_LIMITS.adult_age, pregnant_or_lactating: false },
              intakes,
              now_h,
              sipOf(design),
            )
          : null;
        return (
          <section key={taster} className="ledger">
            <h4>{taster}</h4>
            <p>
              {t('panel.ledger.most', {
                occasion: formatNumber(occasion.mg),
                hours: CAFFEINE_LIMITS.occasion_h,
                day: formatNumber(day.mg),
              })}
              {last &&
                ` ${t('panel.ledger.last', { session: last.session, at: formatMoment(new Date(last.at_h * HOUR_MS).toISOString()) })}`}
            </p>
            <Bars occasion={occasion.mg} day={day.mg} />
            {ledger && <FindingList findings={ledger.findings} />}
          </section>
        );
      })}
      <p className="quiet-text">{t('panel.ledger.text')}</p>
    </Panel>
  );
}

/** Both sums against their limits. */
function Bars({ occasion, day }: { occasion: number; day: number }) {
  const rows = [
    { key: 'occasion' as const, mg: occasion, limit: CAFFEINE_LIMITS.occasion_mg },
    { key: 'day' as const, mg: day, limit: CAFFEINE_LIMITS.day_mg },
  ];
  return (
    <ul className="bars">
      {rows.map(({ key, mg, limit }) => (
        <li key={key}>
          <span className="bars-name">{t(`panel.ledger.${key}`)}</span>
          <svg
            className="bar"
            viewBox="0 0 100 10"
            preserveAspectRatio="none"
            aria-hidden="true"
            focusable="false"
          >
            <rect className="bar-ground" x="0" y="2" width="100" height="6" />
            <rect className="bar-share" x="0" y="2" width={Math.min(100, (100 * mg) / limit)} height="6" />
          </svg>
          <span className="bars-count">{t('panel.ledger.of', { mg: formatNumber(mg), limit })}</span>
        </li>
      ))}
    </ul>
  );
}
