import type { DialPoint, Grinder } from '@pourline/core';
import { useMemo, useState } from 'react';
import { useDocuments } from '../../../replica/index.ts';
import { Button, Choice, Fields, IconButton, NumberInput, SelectInput } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import { useAnalyses, useSizings } from '../room/use-analyses.ts';
import { type BrewRow, brewOrder, emptyBrew } from './brew-rows.ts';
import { DialFound } from './dial-found.tsx';
import { pointsOf } from './dial-kernels.ts';
import { useDialQuestion } from './use-dial-question.ts';

interface TransferProps {
  grinder: Grinder;
  points: readonly DialPoint[];
  touch: number;
}

/** This grinder set to what another one gives: by measured sizes, or by a few brews on both. */
export function Transfer(props: TransferProps) {
  const [by, setBy] = useState<'sizes' | 'brews'>('sizes');
  return (
    <div className="grind-stack">
      <p className="quiet-text">{t('grind.transfer.text', { grinder: props.grinder.name })}</p>
      <Choice
        label={t('grind.transfer.by')}
        value={by}
        options={[
          { value: 'sizes', label: t('grind.transfer.sizes') },
          { value: 'brews', label: t('grind.transfer.brews') },
        ]}
        onChange={setBy}
      />
      {by === 'sizes' ? <BySizes {...props} /> : <ByBrews {...props} />}
    </div>
  );
}

function BySizes({ grinder, points, touch }: TransferProps) {
  const grinders = useDocuments('grinder').filter(({ id }) => id !== grinder.id);
  const sizings = useSizings();
  const known = useAnalyses(sizings);
  const [chosen, choose] = useState<string | null>(null);
  const [dial, setDial] = useState<unknown>(null);
  const { answer, ask, failure } = useDialQuestion();
  const other = grinders.find(({ id }) => id === chosen) ?? grinders[0] ?? null;
  const from = useMemo(() => {
    if (!other) return [];
    const measured = pointsOf(other, sizings, known, false);
    return measured.length > 0 ? measured : pointsOf(other, sizings, known, true);
  }, [other, sizings, known]);
  if (!other) return <p className="quiet-text">{t('grind.transfer.no_other')}</p>;
  const ready = typeof dial === 'number' && from.length > 0 && points.length > 0;
  return (
    <div className="grind-stack">
      <Fields>
        <SelectInput
          label={t('grind.transfer.other')}
          value={other.id}
          options={grinders.map(({ id, name }) => ({ value: id, label: name }))}
          onChange={choose}
        />
        <NumberInput label={t('grind.transfer.other_dial')} step={0.1} value={dial} onChange={setDial} />
      </Fields>
      {from.length === 0 && <p className="quiet-text">{t('grind.transfer.other_unmeasured')}</p>}
      <div>
        <Button
          isDisabled={!ready}
          onPress={() => ready && ask({ by: 'sizes', from, dial, to: points, touch_dial: touch })}
        >
          {t('grind.ask.work_out')}
        </Button>
      </div>
      {failure && <p className="plain-problem">{failure}</p>}
      {answer?.by === 'sizes' && (
        <>
          <DialFound dial={answer.answer.dial} onScale={answer.answer.on_scale} />
          <RemarkList remarks={answer.answer.remarks} />
        </>
      )}
    </div>
  );
}

interface Kept {
  wanted: BrewRow;
  count: unknown;
  rows: BrewRow[];
}

function ByBrews({ touch }: TransferProps) {
  const [{ wanted, count, rows }, keep] = useKept<Kept>('grind-transfer', {
    wanted: emptyBrew,
    count: 1,
    rows: [emptyBrew, emptyBrew],
  });
  const { answer, ask, failure } = useDialQuestion();
  const order = brewOrder(wanted, count, rows, touch);
  const set = (i: number, part: Partial<BrewRow>): void =>
    keep({ rows: rows.map((row, k) => (k === i ? { ...row, ...part } : row)) });
  return (
    <div className="grind-stack">
      <h4>{t('grind.transfer.wanted')}</h4>
      <Fields>
        <NumberInput
          label={t('brew.figure.drawdown')}
          unit="s"
          value={wanted.drawdown_s}
          onChange={(drawdown_s) => keep({ wanted: { ...wanted, drawdown_s } })}
        />
        <NumberInput
          label={t('brew.figure.yield')}
          unit="%"
          step={0.1}
          value={wanted.yield_pct}
          onChange={(yield_pct) => keep({ wanted: { ...wanted, yield_pct } })}
        />
        <NumberInput
          label={t('grind.transfer.count')}
          value={count}
          onChange={(next) => keep({ count: next })}
        />
      </Fields>
      <h4>{t('grind.transfer.here')}</h4>
      {rows.map((row, i) => (
        // Brews are known by their place.
        <div key={['brew', i].join('/')} className="brew-row">
          <NumberInput
            label={t('field.dial')}
            hideLabel={i > 0}
            step={0.1}
            value={row.dial}
            onChange={(dial) => set(i, { dial })}
          />
          <NumberInput
            label={t('brew.figure.drawdown')}
            hideLabel={i > 0}
            unit="s"
            value={row.drawdown_s}
            onChange={(drawdown_s) => set(i, { drawdown_s })}
          />
          <NumberInput
            label={t('brew.figure.yield')}
            hideLabel={i > 0}
            unit="%"
            step={0.1}
            value={row.yield_pct}
            onChange={(yield_pct) => set(i, { yield_pct })}
          />
          <IconButton
            icon="remove"
            label={`${t('common.remove')}${t('field.row', { row: i + 1 })}`}
            isDisabled={rows.length === 1}
            onPress={() => keep({ rows: rows.filter((_, k) => k !== i) })}
          />
        </div>
      ))}
      <div className="buttons">
        <Button
          look="quiet"
          icon="add"
          isDisabled={rows.length >= 8}
          onPress={() => keep({ rows: [...rows, emptyBrew] })}
        >
          {t('grind.transfer.add')}
        </Button>
        <Button isDisabled={!order} onPress={() => order && ask({ by: 'brews', order })}>
          {t('grind.ask.work_out')}
        </Button>
      </div>
      {!order && <p className="quiet-text">{t('grind.transfer.needs')}</p>}
      {failure && <p className="plain-problem">{failure}</p>}
      {answer?.by === 'brews' && (
        <>
          <DialFound dial={answer.answer.dial} />
          <dl className="grind-pairs">
            {(['by_drawdown', 'by_yield'] as const).map((which) => {
              const band = answer.answer[which];
              return (
                band && (
                  <div key={which}>
                    <dt>{t(`grind.transfer.${which}`)}</dt>
                    <dd>
                      {formatNumber(band.mid, 1)}{' '}
                      <span className="quiet-text">
                        {t('grind.spread', {
                          low: formatNumber(band.low, 1),
                          high: formatNumber(band.high, 1),
                        })}
                      </span>
                    </dd>
                  </div>
                )
              );
            })}
          </dl>
          <RemarkList remarks={answer.answer.remarks} />
        </>
      )}
    </div>
  );
}
