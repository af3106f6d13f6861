import type { PhotoScale } from '@pourline/core';
import { Choice, Fields, NumberInput, SelectInput } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';

/** Where the scale comes from, as it is being entered: a field holds whatever was typed. */
export interface ScaleDraft {
  by: PhotoScale['by'];
  um_per_px: unknown;
  from: { x_px: number; y_px: number } | null;
  to: { x_px: number; y_px: number } | null;
  length_mm: unknown;
  diameter_mm: unknown;
  near: { x_px: number; y_px: number } | null;
  pitch_mm: number;
  check_line_mm: unknown;
}

export const FIRST_SCALE: ScaleDraft = {
  by: 'card',
  um_per_px: null,
  from: null,
  to: null,
  length_mm: 50,
  diameter_mm: null,
  near: null,
  pitch_mm: 60,
  check_line_mm: null,
};

const isNumber = (value: unknown): value is number => typeof value === 'number';

/** The scale as the measurement takes it; null while it is not all there. */
export function scaleOf(draft: ScaleDraft): PhotoScale | null {
  const { by, um_per_px, from, to, length_mm, diameter_mm, near, pitch_mm, check_line_mm } = draft;
  if (by === 'pixel') return isNumber(um_per_px) ? { by, um_per_px } : null;
  if (by === 'ruler') return from && to && isNumber(length_mm) ? { by, from, to, length_mm } : null;
  if (by === 'coin') return isNumber(diameter_mm) ? { by, diameter_mm, ...(near ? { near } : {}) } : null;
  return { by, pitch_mm, ...(isNumber(check_line_mm) ? { check_line_mm } : {}) };
}

/** Millimetres as they stand on the printed cards. */
const PITCHES = [30, 60, 120];

interface ScaleFormProps {
  draft: ScaleDraft;
  change: (part: Partial<ScaleDraft>) => void;
}

/** How large a pixel is: from the printed card, a ruler, a coin, or known. */
export function ScaleForm({ draft, change }: ScaleFormProps) {
  const figure = (field: 'um_per_px' | 'length_mm' | 'diameter_mm' | 'check_line_mm', unit: string) => (
    <NumberInput
      label={t(`grind.scale.${field}`)}
      unit={unit}
      value={draft[field]}
      step={0.1}
      problem={
        typeof draft[field] === 'string' && draft[field] !== ''
          ? t('common.not_a_number', { field: t(`grind.scale.${field}`), value: String(draft[field]) })
          : undefined
      }
      onChange={(value) => change({ [field]: value })}
    />
  );
  return (
    <div className="grind-stack">
      <Choice
        label={t('grind.scale.title')}
        value={draft.by}
        options={(['card', 'ruler', 'coin', 'pixel'] as const).map((value) => ({
          value,
          label: t(value === 'pixel' ? 'grind.scale.pixel_size' : `grind.scale.${value}`),
        }))}
        onChange={(by) => change({ by })}
      />
      <p className="quiet-text">{t(`grind.scale.hint.${draft.by}`)}</p>
      <Fields>
        {draft.by === 'card' && (
          <>
            <SelectInput
              label={t('grind.scale.pitch')}
              value={String(draft.pitch_mm)}
              options={PITCHES.map((mm) => ({ value: String(mm), label: `${mm} mm` }))}
              onChange={(value) => change({ pitch_mm: Number(value) })}
            />
            {figure('check_line_mm', 'mm')}
          </>
        )}
        {draft.by === 'ruler' && (
          <>
            {figure('length_mm', 'mm')}
            {(['from', 'to'] as const).flatMap((end) =>
              (['x_px', 'y_px'] as const).map((axis) => (
                <NumberInput
                  key={end + axis}
                  label={t(`grind.scale.${end}_${axis}`)}
                  unit="px"
                  value={draft[end]?.[axis] ?? null}
                  onChange={(value) =>
                    change({
                      [end]: { x_px: 0, y_px: 0, ...draft[end], [axis]: isNumber(value) ? value : 0 },
                    })
                  }
                />
              )),
            )}
          </>
        )}
        {draft.by === 'coin' && figure('diameter_mm', 'mm')}
        {draft.by === 'pixel' && figure('um_per_px', 'µm')}
      </Fields>
      {draft.by === 'ruler' && draft.from && draft.to && (
        <p className="quiet-text">
          {t('grind.scale.apart', {
            pixels: formatNumber(
              Math.hypot(draft.to.x_px - draft.from.x_px, draft.to.y_px - draft.from.y_px),
            ),
          })}
        </p>
      )}
    </div>
  );
}
