import type { Grinder } from '@pourline/core';
import { Slider, SliderThumb, SliderTrack } from 'react-aria-components/Slider';
import { type Draft, newLocalId } from '../../../replica/index.ts';
import { Button, IconButton, NumberAt, NumberInput, problemAt, useForm } from '../../../ui/index.ts';
import { fieldLabel, t } from '../../../words/index.ts';
import { SteadySelect } from '../../water/parts/steady-select.tsx';
import { LineKey } from '../chart/mark.tsx';
import { letterOf } from '../chart/series.ts';
import { type BlendPart, withShare } from './mix-kernels.ts';

interface PartRowsProps {
  draft: Draft<'blend'>;
  grinders: readonly Grinder[];
  onMoving: (moving: boolean) => void;
}

/** The parts of a mix, each with its share on a slider: what one gains the others give. */
export function PartRows({ draft, grinders, onMoving }: PartRowsProps) {
  const { problems } = useForm();
  const { body } = draft;
  const set = (parts: BlendPart[], settled = true): void => draft.change({ ...body, parts }, { settled });
  const add = (): void => {
    const grinder = grinders.find(({ id }) => id === body.parts.at(-1)?.grinder_id) ?? grinders[0]!;
    const free = grinder.settings.find((s) => !body.parts.some((part) => part.setting_id === s.id));
    const part: BlendPart = {
      id: newLocalId('part', body.parts),
      grinder_id: grinder.id,
      setting_id: (free ?? grinder.settings[0]!).id,
      share: 0,
      above_um: null,
      below_um: null,
      retention_g: null,
      loss_pct: 0,
    };
    set(withShare([...body.parts, part], body.parts.length, 0.2));
  };
  const remove = (i: number): void => set(withShare(body.parts, i, 0).filter((_, k) => k !== i));
  const whole = problemAt(problems, ['parts']);
  return (
    <div className="grind-stack">
      {body.parts.map((part, i) => (
        <fieldset key={part.id} className="mix-part">
          <legend>
            <LineKey index={i + 1} letter={letterOf(i + 1)} />
            <span className="visually-hidden">{t('grind.mix.part', { number: i + 1 })}</span>
          </legend>
          <div className="mix-part-setting">
            <SettingChoice
              part={part}
              grinders={grinders}
              problem={problemAt(problems, ['parts', i, 'setting_id'])}
              onChange={(next) => set(body.parts.map((old, k) => (k === i ? { ...old, ...next } : old)))}
            />
            <ShareField
              index={i}
              parts={body.parts}
              set={set}
              problem={problemAt(problems, ['parts', i, 'share'])}
            />
            {body.parts.length > 1 && (
              <IconButton
                icon="remove"
                label={t('grind.mix.remove', { number: i + 1 })}
                onPress={() => remove(i)}
              />
            )}
          </div>
          {(body.parts.length > 2 || (body.parts.length === 2 && i === 0)) && (
            <ShareSlider index={i} parts={body.parts} set={set} onMoving={onMoving} />
          )}
          <details className="grind-more" open={part.above_um !== null || part.below_um !== null}>
            <summary>{t('grind.mix.sieved')}</summary>
            <div className="fields">
              <NumberAt path={['parts', i, 'above_um']} step={10} nullable hint={t('grind.mix.above_hint')} />
              <NumberAt path={['parts', i, 'below_um']} step={10} nullable hint={t('grind.mix.below_hint')} />
              <NumberAt
                path={['parts', i, 'retention_g']}
                step={0.1}
                nullable
                hint={t('grind.mix.retention_hint')}
              />
              <NumberAt path={['parts', i, 'loss_pct']} step={0.5} />
            </div>
          </details>
        </fieldset>
      ))}
      {whole && <p className="plain-problem">{whole}</p>}
      <div className="fields">
        <NumberAt path={['blur_pct']} step={1} hint={t('grind.mix.blur_hint')} />
        <NumberAt path={['fines_limit_um']} step={10} />
      </div>
      <div>
        <Button look="quiet" icon="add" onPress={add} isDisabled={body.parts.length >= 6}>
          {t('grind.mix.add')}
        </Button>
      </div>
    </div>
  );
}

interface SettingChoiceProps {
  part: BlendPart;
  grinders: readonly Grinder[];
  problem: string | undefined;
  onChange: (next: Pick<BlendPart, 'grinder_id' | 'setting_id'>) => void;
}

/** A setting of any grinder; with several grinders each says which it belongs to. */
function SettingChoice({ part, grinders, problem, onChange }: SettingChoiceProps) {
  const key = (grinder_id: string, setting_id: string): string => `${grinder_id} ${setting_id}`;
  return (
    <SteadySelect
      label={fieldLabel(['setting_id'])}
      value={key(part.grinder_id, part.setting_id)}
      problem={problem}
      options={grinders.flatMap((grinder) =>
        grinder.settings.map((setting) => ({
          value: key(grinder.id, setting.id),
          label: setting.mark,
          ...(grinders.length > 1 ? { detail: grinder.name } : {}),
        })),
      )}
      onChange={(value) => {
        const [grinder_id = '', ...rest] = value.split(' ');
        onChange({ grinder_id, setting_id: rest.join(' ') });
      }}
    />
  );
}

interface ShareProps {
  index: number;
  parts: BlendPart[];
  set: (parts: BlendPart[], settled?: boolean) => void;
}

function ShareField({ index, parts, set, problem }: ShareProps & { problem: string | undefined }) {
  const share: unknown = parts[index]!.share;
  return (
    <NumberInput
      label={t('grind.mix.share')}
      unit="%"
      step={5}
      value={typeof share === 'number' ? Number((share * 100).toPrecision(10)) : share}
      problem={problem}
      onChange={(value) => {
        const fits = typeof value === 'number' && value >= 0 && value <= 100;
        // With two parts the other one follows; what makes no share stays as it was typed.
        if (fits && parts.length === 2) return set(withShare(parts, index, value / 100));
        const typed = (typeof value === 'number' ? value / 100 : (value ?? '')) as number;
        set(parts.map((part, i) => (i === index ? { ...part, share: typed } : part)));
      }}
    />
  );
}

function ShareSlider({ index, parts, set, onMoving }: ShareProps & { onMoving: (moving: boolean) => void }) {
  const share = typeof parts[index]!.share === 'number' ? parts[index]!.share : 0;
  return (
    <Slider
      className="mix-slider"
      aria-label={t('grind.mix.slider', { number: index + 1 })}
      minValue={0}
      maxValue={100}
      step={1}
      value={Math.round(Math.min(1, Math.max(0, share)) * 100)}
      onChange={(value) => {
        onMoving(true);
        set(withShare(parts, index, value / 100), false);
      }}
      onChangeEnd={(value) => {
        onMoving(false);
        set(withShare(parts, index, value / 100));
      }}
    >
      <SliderTrack className="grind-track">
        {({ state }) => (
          <>
            <div className="grind-track-fill" style={{ width: `${state.getThumbPercent(0) * 100}%` }} />
            <SliderThumb className="grind-thumb" />
          </>
        )}
      </SliderTrack>
    </Slider>
  );
}
