import type { Grinder, Plan } from '@pourline/core';
import { Slider, SliderThumb, SliderTrack } from 'react-aria-components/Slider';
import type { Draft } from '../../replica/index.ts';
import { Button, IconButton, NumberInput, problemAt, SelectInput, useForm } from '../../ui/index.ts';
import { fieldLabel, t } from '../../words/index.ts';
import { SizeDrawing } from './size-drawing.tsx';
import { sizesOf } from './sizes.ts';

type Part = Plan['grind'][number];

/** The mix of grind settings by mass, and the sizes that it makes. */
export function GrindPanel({ draft, grinders }: { draft: Draft<'plan'>; grinders: readonly Grinder[] }) {
  const { problems } = useForm();
  const { body, document } = draft;
  const grinder = (id: string): Grinder | undefined => grinders.find((entry) => entry.id === id);
  const set = (grind: Part[]): void => draft.change({ ...body, grind });
  const add = (): void => {
    const like = body.grind.at(-1);
    const first = grinder(like?.grinder_id ?? '') ?? grinders[0];
    const setting =
      first?.settings.find((s) => !body.grind.some((p) => p.setting_id === s.id)) ?? first?.settings[0];
    if (!first || !setting) return;
    const kept = body.grind.map((part) => ({ ...part, share: round(part.share * 0.75) }));
    const rest = round(1 - kept.reduce((sum, part) => sum + part.share, 0));
    set([...kept, { grinder_id: first.id, setting_id: setting.id, share: rest }]);
  };
  const remove = (index: number): void => {
    const kept = body.grind.filter((_, i) => i !== index);
    const sum = kept.reduce((total, part) => total + part.share, 0);
    set(kept.map((part) => ({ ...part, share: sum > 0 ? round(part.share / sum) : round(1 / kept.length) })));
  };
  const whole = problemAt(problems, ['grind']);
  return (
    <div className="stack">
      {body.grind.map((part, i) => (
        <Share
          // A share is known by its place: the same setting may stand in the mix twice.
          key={['grind', i].join('/')}
          index={i}
          part={part}
          grinders={grinders}
          alone={body.grind.length === 1}
          onChange={(next) => set(body.grind.map((old, k) => (k === i ? next : old)))}
          onRemove={() => remove(i)}
        />
      ))}
      {body.grind.length === 2 ? <TwoShares grind={body.grind} onChange={set} draft={draft} /> : null}
      {whole ? <p className="plain-problem">{whole}</p> : null}
      <div>
        <Button
          look="quiet"
          icon="add"
          onPress={add}
          isDisabled={body.grind.length >= 6 || grinders.length === 0}
        >
          {t('brew.add_grind')}
        </Button>
      </div>
      <SizeDrawing sizes={sizesOf(document.grind, grinder)} />
    </div>
  );
}

interface ShareProps {
  index: number;
  part: Part;
  grinders: readonly Grinder[];
  alone: boolean;
  onChange: (part: Part) => void;
  onRemove: () => void;
}

function Share({ index, part, grinders, alone, onChange, onRemove }: ShareProps) {
  const { problems } = useForm();
  const grinder = grinders.find((entry) => entry.id === part.grinder_id);
  const share: unknown = part.share;
  return (
    <div className="share-row">
      <SelectInput
        label={fieldLabel(['grinder_id'])}
        hideLabel={index > 0}
        value={part.grinder_id}
        options={grinders.map((entry) => ({ value: entry.id, label: entry.name }))}
        problem={problemAt(problems, ['grind', index, 'grinder_id'])}
        onChange={(id) => {
          const next = grinders.find((entry) => entry.id === id);
          if (next) onChange({ ...part, grinder_id: id, setting_id: next.settings[0]!.id });
        }}
      />
      <SelectInput
        label={fieldLabel(['setting_id'])}
        hideLabel={index > 0}
        value={part.setting_id}
        options={(grinder?.settings ?? []).map((entry) => ({ value: entry.id, label: entry.mark }))}
        problem={problemAt(problems, ['grind', index, 'setting_id'])}
        onChange={(id) => onChange({ ...part, setting_id: id })}
      />
      <NumberInput
        label={t('brew.share')}
        hideLabel={index > 0}
        unit="%"
        step={5}
        value={typeof share === 'number' ? Number((share * 100).toPrecision(10)) : share}
        problem={problemAt(problems, ['grind', index, 'share'])}
        onChange={(value) =>
          onChange({ ...part, share: (typeof value === 'number' ? value / 100 : (value ?? '')) as number })
        }
      />
      {alone ? null : (
        <IconButton
          icon="remove"
          label={`${t('common.remove')}${t('field.row', { row: index + 1 })}`}
          onPress={onRemove}
        />
      )}
    </div>
  );
}

/** One slider for two shares: what one gains the other gives. */
function TwoShares({
  grind,
  onChange,
  draft,
}: {
  grind: Part[];
  onChange: (grind: Part[]) => void;
  draft: Draft<'plan'>;
}) {
  const first = typeof grind[0]!.share === 'number' ? Math.min(1, Math.max(0, grind[0]!.share)) : 0.5;
  const shares = (percent: number): Part[] => [
    { ...grind[0]!, share: round(percent / 100) },
    { ...grind[1]!, share: round(1 - percent / 100) },
  ];
  return (
    <Slider
      className="mix-slider"
      aria-label={t('brew.mix_slider')}
      minValue={0}
      maxValue={100}
      step={1}
      value={Math.round(first * 100)}
      onChange={(value) => draft.change({ ...draft.body, grind: shares(value) }, { settled: false })}
      onChangeEnd={(value) => onChange(shares(value))}
    >
      <SliderTrack className="mix-track">
        {({ state }) => (
          <>
            <div className="mix-fill" style={{ width: `${state.getThumbPercent(0) * 100}%` }} />
            <SliderThumb className="mix-thumb" />
          </>
        )}
      </SliderTrack>
    </Slider>
  );
}

const round = (x: number): number => Math.round(x * 1e4) / 1e4;
