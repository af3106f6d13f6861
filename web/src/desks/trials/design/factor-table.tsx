import { Button, CheckInput, IconButton, NumberInput, TextInput } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import type { FactorRow } from './levers.ts';

interface FactorTableProps {
  rows: readonly FactorRow[];
  change: (rows: FactorRow[]) => void;
}

/** What is varied, between which limits, in which steps. */
export function FactorTable({ rows, change }: FactorTableProps) {
  const set = (i: number, part: Partial<FactorRow>): void =>
    change(rows.map((row, k) => (k === i ? { ...row, ...part } : row)));
  const own: FactorRow = { lever: null, name: '', unit: '', low: null, high: null, step: null, on: true };
  return (
    <div className="factor-table">
      {rows.map((row, i) => {
        const bad =
          row.on && typeof row.low === 'number' && typeof row.high === 'number' && row.low >= row.high;
        return (
          <fieldset
            key={row.lever ?? `own ${rows.slice(0, i).filter((one) => one.lever === null).length}`}
            className="factor-row"
            data-off={row.on ? undefined : ''}
          >
            <legend className="visually-hidden">{row.name || t('trials.design.own')}</legend>
            {row.lever === null ? (
              <TextInput
                label={t('trials.design.own_name')}
                value={row.name}
                onChange={(name) => set(i, { name })}
              />
            ) : (
              <CheckInput label={row.name} value={row.on} onChange={(on) => set(i, { on })} />
            )}
            {(row.on || row.lever === null) && (
              <>
                {row.lever === null && (
                  <TextInput
                    label={t('trials.design.unit')}
                    value={row.unit}
                    onChange={(unit) => set(i, { unit })}
                  />
                )}
                <NumberInput
                  label={t('trials.design.low')}
                  value={row.low}
                  unit={row.unit || undefined}
                  problem={bad ? t('trials.design.low_high') : undefined}
                  onChange={(low) => set(i, { low })}
                />
                <NumberInput
                  label={t('trials.design.high')}
                  value={row.high}
                  unit={row.unit || undefined}
                  onChange={(high) => set(i, { high })}
                />
                <NumberInput
                  label={t('trials.design.step')}
                  value={row.step}
                  unit={row.unit || undefined}
                  placeholder={t('trials.design.any_step')}
                  onChange={(step) => set(i, { step })}
                />
                {row.lever === null && (
                  <IconButton
                    icon="close"
                    label={t('trials.design.remove', { name: row.name || t('trials.design.own') })}
                    onPress={() => change(rows.filter((_, k) => k !== i))}
                  />
                )}
              </>
            )}
          </fieldset>
        );
      })}
      <div className="buttons">
        <Button look="quiet" icon="add" onPress={() => change([...rows, own])}>
          {t('trials.design.add_own')}
        </Button>
      </div>
      <p className="quiet-text">{t('trials.design.own_hint')}</p>
    </div>
  );
}
