import type { Distribution, SizeAnalysis, Sizing } from '@pourline/core';
import { useState } from 'react';
import { newLocalId, useDraft } from '../../../replica/index.ts';
import { Button, Choice, Notice, TextInput } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';

/** Puts what was measured into the grinder as a setting that plans can use. */
export function IntoGrinder({ sizing, analysis }: { sizing: Sizing; analysis: SizeAnalysis }) {
  const grinder = useDraft('grinder', sizing.grinder_id);
  const [from, setFrom] = useState<'fitted' | 'measured'>('fitted');
  const [mark, setMark] = useState<string | null>(null);
  const [done, setDone] = useState<string | null>(null);
  if (!grinder) return <p className="quiet-text">{t('grind.into.no_grinder')}</p>;
  const distribution: Distribution =
    from === 'fitted' && analysis.fitted ? analysis.fitted.distribution : analysis.measured.distribution;
  const shown =
    mark ??
    t('grind.into.mark', { dial: sizing.dial === null ? sizing.name : formatNumber(sizing.dial, 1) }).slice(
      0,
      60,
    );
  const { settings } = grinder.body;
  const same = settings.find((setting) => setting.mark === shown.trim());
  const take = (): void => {
    const next = same
      ? settings.map((setting) => (setting === same ? { ...setting, distribution } : setting))
      : [
          ...settings,
          {
            id: newLocalId('setting', settings),
            mark: shown.trim(),
            distribution,
            retention_g: settings[0]?.retention_g ?? 0,
          },
        ];
    grinder.change({ ...grinder.body, settings: next });
    setDone(
      t(same ? 'grind.into.replaced' : 'grind.into.added', { mark: shown, grinder: grinder.document.name }),
    );
  };
  return (
    <div className="grind-stack">
      <p className="quiet-text">{t('grind.into.text', { grinder: grinder.document.name })}</p>
      <Choice
        label={t('grind.into.which')}
        value={from}
        options={[
          { value: 'fitted', label: t('grind.into.fitted') },
          { value: 'measured', label: t('grind.into.measured') },
        ]}
        onChange={setFrom}
      />
      <TextInput label={t('field.mark')} value={shown} onChange={setMark} />
      <Button onPress={take} isDisabled={shown.trim() === ''}>
        {t(same ? 'grind.into.replace' : 'grind.into.add')}
      </Button>
      {done && <Notice>{done}</Notice>}
    </div>
  );
}
