import type { Grinder } from '@pourline/core';
import { useMemo, useState } from 'react';
import { type Draft, useDocuments, useDraft } from '../../../replica/index.ts';
import { go, hrefOf } from '../../../shell/route.ts';
import {
  CheckInput,
  DraftForm,
  Fields,
  IconButton,
  Notice,
  NumberInput,
  Panel,
  SelectInput,
} from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import type { CurveAsk, CurveQuestion } from '../room/curve-question.ts';
import { theGrindRoom } from '../room/room.ts';
import { useAnalyses, useSizings } from '../room/use-analyses.ts';
import { useAnswer } from '../room/use-answer.ts';
import { AskDial } from './ask-dial.tsx';
import { DialChart } from './dial-chart.tsx';
import { pointsOf, touchNow } from './dial-kernels.ts';
import { Record } from './record.tsx';
import { Transfer } from './transfer.tsx';
import './grinder.css';

const curveOf = (question: CurveQuestion) => theGrindRoom().remote.curve(question);

/** A grinder as a curve from its dial to sizes, and what can be asked of it. */
export function GrinderPage({ chosen }: { chosen: string | undefined }) {
  const grinders = useDocuments('grinder');
  const open = grinders.find(({ id }) => id === chosen) ?? grinders[0] ?? null;
  const draft = useDraft('grinder', open?.id ?? null);
  if (!open || !draft) return <p className="quiet-text grind-bar">{t('grind.grinder.none')}</p>;
  return (
    <DraftForm draft={draft}>
      <div className="grind-editor">
        <header className="grind-head">
          <SelectInput
            label={t('kind.grinder')}
            value={open.id}
            options={grinders.map(({ id, name }) => ({ value: id, label: name }))}
            onChange={(id) => go('grind', 'grinder', id)}
          />
          <div className="buttons">
            <IconButton
              icon="undo"
              label={t('common.undo')}
              onPress={draft.undo}
              isDisabled={!draft.canUndo}
            />
            <IconButton
              icon="redo"
              label={t('common.redo')}
              onPress={draft.redo}
              isDisabled={!draft.canRedo}
            />
            <a className="source-link" href={hrefOf('shelf', 'grinder', open.id)}>
              {t('grind.grinder.to_shelf')}
            </a>
          </div>
        </header>
        {draft.problems.length > 0 && <Notice tone="alert">{t('grind.sizing.not_saved')}</Notice>}
        <OpenGrinder key={open.id} draft={draft} />
      </div>
    </DraftForm>
  );
}

function OpenGrinder({ draft }: { draft: Draft<'grinder'> }) {
  const grinder = draft.document;
  const sizings = useSizings();
  const own = useMemo(() => sizings.filter((one) => one.grinder_id === grinder.id), [sizings, grinder.id]);
  const known = useAnalyses(sizings);
  const [written, setWritten] = useState(false);
  const [beans, setBeans] = useState<unknown>(null);
  const [burrs, setBurrs] = useState<unknown>(null);
  const [ask, setAsk] = useState<CurveAsk | null>(null);
  const points = useMemo(() => pointsOf(grinder, own, known, written), [grinder, own, known, written]);
  const place = usePlace(grinder, beans, burrs);
  const question = useMemo(() => (points.length > 0 ? { points, place, ask } : null), [points, place, ask]);
  const { output: answer, failure } = useAnswer(curveOf, question);
  const reply = answer?.reply ?? null;
  const working = own.some((one) => !known.get(one.id));
  const figure = (value: unknown): number | null => (typeof value === 'number' ? value : null);
  return (
    <div className="grind-pair">
      <Panel title={t('grind.grinder.curve')}>
        {answer && points.length > 0 ? (
          <DialChart
            line={answer.line}
            points={points}
            touch={place.touch_dial ?? 0}
            measured={answer.measured}
            found={reply?.by === 'setting' ? reply.answer.dial : null}
          />
        ) : (
          <p className="quiet-text">
            {failure ?? t(working || question ? 'common.loading' : 'grind.grinder.no_points')}
          </p>
        )}
        <CheckInput label={t('grind.grinder.written')} value={written} onChange={setWritten} />
        <Fields>
          <NumberInput
            label={t('field.beans_C')}
            unit="°C"
            value={beans}
            placeholder="20"
            onChange={setBeans}
          />
          <NumberInput
            label={t('field.burrs_kg')}
            unit="kg"
            value={burrs}
            placeholder={t('grind.grinder.burrs_usual')}
            onChange={setBurrs}
          />
        </Fields>
        <p className="quiet-text">
          {t('grind.grinder.touch_now', {
            dial: formatNumber(place.touch_dial ?? 0, 1),
            count: points.length,
          })}
        </p>
        <RemarkList remarks={answer?.remarks ?? []} />
      </Panel>
      <div className="grind-column">
        <AskDial
          draft={draft}
          points={points}
          touch={place.touch_dial ?? 0}
          reply={reply}
          onAsk={setAsk}
          beans_C={figure(beans)}
        />
        <Panel title={t('grind.transfer.title')} fold="closed">
          <Transfer grinder={grinder} points={points} touch={place.touch_dial ?? 0} />
        </Panel>
        <Panel title={t('grind.record.title')} fold="closed">
          <Record draft={draft} />
        </Panel>
      </div>
    </div>
  );
}

/** Where the curve is asked: today's zero point, and beans and burrs as they are. */
function usePlace(grinder: Grinder, beans: unknown, burrs: unknown): CurveQuestion['place'] {
  const touch_dial = touchNow(grinder);
  const beans_C = typeof beans === 'number' ? beans : null;
  const burrs_kg = typeof burrs === 'number' ? burrs : null;
  return useMemo(() => ({ touch_dial, beans_C, burrs_kg }), [touch_dial, beans_C, burrs_kg]);
}
