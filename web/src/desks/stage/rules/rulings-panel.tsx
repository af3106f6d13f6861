import { type Contest, RULED, type Ruled, type Ruling } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { CheckInput, Panel, SelectInput, TextInput } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';

const RULINGS: readonly Ruling[] = ['unknown', 'allowed', 'not_allowed'];

/** Things that may be touched after set-up or not. */
export const FREEZABLE = ['grind', 'dose', 'water', 'kettle_fill', 'kettle_switch', 'cups', 'table'] as const;

/** What is allowed, what is not, and what has to be asked; what is frozen after set-up. */
export function RulingsPanel({ draft }: { draft: Draft<'contest'> }) {
  const { body } = draft;
  const set = (of: Ruled, part: Partial<Contest['rules'][number]>): void => {
    const rest = body.rules.filter((rule) => rule.of !== of);
    const now = body.rules.find((rule) => rule.of === of) ?? { of, ruling: 'unknown' as const, note: '' };
    const next = { ...now, ...part };
    // A rule that says nothing is no rule.
    const said = next.ruling !== 'unknown' || next.note !== '';
    draft.change({ ...body, rules: said ? [...rest, next] : rest });
  };
  const open = RULED.filter(
    (of) => (body.rules.find((rule) => rule.of === of)?.ruling ?? 'unknown') === 'unknown',
  );
  return (
    <Panel
      title={t('stage.rulings.title')}
      fold="open"
      aside={<span className="quiet-text">{t('stage.rulings.open', { number: open.length })}</span>}
    >
      <ul className="stage-rulings">
        {RULED.map((of) => {
          const rule = body.rules.find((entry) => entry.of === of);
          const name = t(`stage.ruled.${of}`);
          return (
            <li key={of}>
              <SelectInput
                label={name}
                value={rule?.ruling ?? 'unknown'}
                options={RULINGS.map((value) => ({ value, label: t(`stage.ruling.${value}`) }))}
                onChange={(value) =>
                  set(of, { ruling: RULINGS.find((known) => known === value) ?? 'unknown' })
                }
              />
              <TextInput
                label={t('stage.rulings.note', { name })}
                hideLabel
                placeholder={t('stage.rulings.note_short')}
                value={rule?.note ?? ''}
                onChange={(note) => set(of, { note })}
              />
            </li>
          );
        })}
      </ul>
      <h4>{t('stage.frozen.title')}</h4>
      <p className="quiet-text">{t('stage.frozen.text')}</p>
      <div className="stage-checks">
        {FREEZABLE.map((what) => (
          <CheckInput
            key={what}
            label={t(`stage.frozen.${what}`)}
            value={body.frozen_after_setup.includes(what)}
            onChange={(on) =>
              draft.change({
                ...body,
                frozen_after_setup: on
                  ? [...body.frozen_after_setup, what]
                  : body.frozen_after_setup.filter((entry) => entry !== what),
              })
            }
          />
        ))}
      </div>
    </Panel>
  );
}
