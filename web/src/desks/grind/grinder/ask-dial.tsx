import { type DialPoint, tableOf } from '@pourline/core';
import { useEffect, useState } from 'react';
import { type Draft, newLocalId } from '../../../replica/index.ts';
import { Button, Choice, Fields, Notice, NumberInput, Panel, SelectInput } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import type { CurveAnswer, CurveAsk } from '../room/curve-question.ts';
import { useAnalyses, useSizings } from '../room/use-analyses.ts';
import { AskDrawdown } from './ask-drawdown.tsx';
import { DialFound } from './dial-found.tsx';

const ASKS = ['size', 'like', 'drawdown', 'zero'] as const;
type Asked = (typeof ASKS)[number];

interface AskDialProps {
  draft: Draft<'grinder'>;
  points: readonly DialPoint[];
  touch: number;
  beans_C: number | null;
  reply: CurveAnswer['reply'];
  onAsk: (ask: CurveAsk | null) => void;
}

/** What to set the dial to: for a size, for sizes like others, for a drawdown; and where zero is after cleaning. */
export function AskDial({ draft, points, touch, reply, onAsk }: AskDialProps) {
  const [asked, setAsked] = useState<Asked>('size');
  return (
    <Panel title={t('grind.ask.title')}>
      <Choice
        label={t('grind.ask.for')}
        value={asked}
        options={ASKS.map((value) => ({ value, label: t(`grind.ask.${value}`) }))}
        onChange={(next) => {
          onAsk(null);
          setAsked(next);
        }}
      />
      {asked === 'size' && <AskSize reply={reply} onAsk={onAsk} />}
      {asked === 'like' && <AskLike reply={reply} onAsk={onAsk} />}
      {asked === 'drawdown' && <AskDrawdown points={points} touch={touch} />}
      {asked === 'zero' && <AskZero draft={draft} touch={touch} reply={reply} onAsk={onAsk} />}
    </Panel>
  );
}

type AskProps = Pick<AskDialProps, 'reply' | 'onAsk'>;

function Found({ reply }: Pick<AskDialProps, 'reply'>) {
  if (reply?.by !== 'setting') return null;
  const { dial, on_scale, estimate, remarks } = reply.answer;
  return (
    <>
      <DialFound dial={dial} onScale={on_scale} />
      <p className="quiet-text">
        {t('grind.ask.gives', {
          size: formatNumber(estimate.d50_um.mid),
          low: formatNumber(estimate.next_d50_um.low),
          high: formatNumber(estimate.next_d50_um.high),
          fines: formatNumber(estimate.fines_pct, 1),
        })}
      </p>
      <RemarkList remarks={remarks} />
    </>
  );
}

function AskSize({ reply, onAsk }: AskProps) {
  const [size, setSize] = useState<unknown>(null);
  const wrong = size !== null && !(typeof size === 'number' && size >= 10 && size <= 5_000);
  return (
    <div className="grind-stack">
      <Fields>
        <NumberInput
          label={t('grind.ask.d50')}
          unit="µm"
          step={10}
          value={size}
          problem={wrong ? t('grind.ask.d50_wrong', { value: String(size) }) : undefined}
          onChange={(value) => {
            setSize(value);
            const fits = typeof value === 'number' && value >= 10 && value <= 5_000;
            onAsk(fits ? { by: 'setting', target: { by: 'd50', d50_um: value } } : null);
          }}
        />
      </Fields>
      <Found reply={reply} />
    </div>
  );
}

/** Sizes as another measurement has them: of this grinder before, or of any other. */
function AskLike({ reply, onAsk }: AskProps) {
  const sizings = useSizings();
  const known = useAnalyses(sizings);
  const [id, choose] = useState<string | null>(null);
  return (
    <div className="grind-stack">
      <SelectInput
        label={t('grind.ask.like_which')}
        value={id}
        options={sizings.map((sizing) => ({ value: sizing.id, label: sizing.name }))}
        onChange={(next) => {
          choose(next);
          const analysis = known.get(next)?.analysis;
          const distribution = analysis?.fitted?.distribution ?? analysis?.measured.distribution;
          onAsk(
            distribution ? { by: 'setting', target: { by: 'table', table: tableOf(distribution) } } : null,
          );
        }}
      />
      <Found reply={reply} />
    </div>
  );
}

interface AskZeroProps extends AskProps {
  draft: Draft<'grinder'>;
  touch: number;
}

/** One check grind after cleaning says how far zero has moved on the dial. */
function AskZero({ draft, touch, reply, onAsk }: AskZeroProps) {
  const [dial, setDial] = useState<unknown>(null);
  const [size, setSize] = useState<unknown>(null);
  const [doubt, setDoubt] = useState<unknown>(2);
  const [noted, setNoted] = useState(false);
  useEffect(() => {
    setNoted(false);
    const fits =
      typeof dial === 'number' && typeof size === 'number' && size > 0 && typeof doubt === 'number';
    onAsk(fits ? { by: 'zero', dial, d50_um: size, doubt: Math.max(0, doubt) / 100 } : null);
  }, [dial, size, doubt, onAsk]);
  const shift = reply?.by === 'zero' ? reply.shift : null;
  const note = (): void => {
    if (!shift) return;
    const { zeros } = draft.body;
    const at = `${new Date().toISOString().slice(0, 19)}+00:00`;
    const touch_dial = Number((touch + shift.mid).toFixed(2));
    draft.change({ ...draft.body, zeros: [...zeros, { id: newLocalId('zero', zeros), at, touch_dial }] });
    setNoted(true);
  };
  return (
    <div className="grind-stack">
      <p className="quiet-text">{t('grind.ask.zero_text')}</p>
      <Fields>
        <NumberInput label={t('field.dial')} step={0.1} value={dial} onChange={setDial} />
        <NumberInput label={t('grind.ask.d50')} unit="µm" step={10} value={size} onChange={setSize} />
        <NumberInput label={t('grind.ask.doubt')} unit="%" step={0.5} value={doubt} onChange={setDoubt} />
      </Fields>
      {shift && (
        <>
          <p className="dial-answer" role="status">
            {t('grind.ask.zero_moved', {
              mid: formatNumber(shift.mid, 2),
              low: formatNumber(shift.low, 2),
              high: formatNumber(shift.high, 2),
            })}
          </p>
          <div>
            <Button onPress={note} isDisabled={noted}>
              {t('grind.ask.zero_note', { dial: formatNumber(touch + shift.mid, 2) })}
            </Button>
          </div>
        </>
      )}
      {noted && <Notice>{t('grind.ask.zero_noted')}</Notice>}
    </div>
  );
}
