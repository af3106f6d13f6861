import type { RuleVerdict } from '@pourline/core';
import { Icon, Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { saidOnStage } from '../parts/remark-list.tsx';
import type { Run } from '../room/use-run.ts';

const ORDER = ['not_allowed', 'ask', 'allowed'] as const;
const MARK = { not_allowed: 'alert', ask: 'more', allowed: 'check' } as const;

/** The run held against the rules: what is not allowed, what is to be asked at the briefing, what is allowed. */
export function CheckPanel({ run }: { run: Run }) {
  const verdicts = run.plan.output?.verdicts ?? [];
  return (
    <Panel title={t('stage.check.title')}>
      {verdicts.length === 0 && <p className="quiet-text">{t('stage.check.none')}</p>}
      {ORDER.map((kind) => {
        const mine = verdicts.filter(({ verdict }) => verdict === kind);
        if (mine.length === 0) return null;
        return (
          <section key={kind} className={`stage-verdicts stage-verdicts-${kind}`}>
            <h4>
              <Icon name={MARK[kind]} /> {t(`stage.check.${kind}`, { number: mine.length })}
            </h4>
            <ul>
              {mine.map((verdict) => (
                <li key={verdict.of}>{sentence(verdict)}</li>
              ))}
            </ul>
          </section>
        );
      })}
    </Panel>
  );
}

/** The verdict with the name that the catalogue has for its thing. */
function sentence({ of, remark }: RuleVerdict): string {
  const key = of.replace('after_setup.', '').replace(/\.(max|min)$/, '');
  const name = of.startsWith('after_setup.') ? frozenName(key) : ruledName(key);
  return saidOnStage({ ...remark, values: { ...remark.values, ...(name && { thing: name }) } });
}

const ruledName = (key: string): string | null => {
  const label = t(`stage.ruled.${key as 'own_water'}`);
  return label.startsWith('stage.') ? null : label;
};
const frozenName = (key: string): string | null => {
  const label = t(`stage.frozen.${key as 'grind'}`);
  return label.startsWith('stage.') ? null : label;
};
