import {
  type BoundValue,
  type PlacedSegment,
  type SpokenText,
  type TalkPiece,
  titleOf,
} from '@pourline/core';
import { useRef } from 'react';
import type { Draft } from '../../../replica/index.ts';
import {
  Button,
  CheckAt,
  Choice,
  Fields,
  Icon,
  IconButton,
  NumberAt,
  OptionAt,
  problemAt,
  TextAt,
} from '../../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../../words/index.ts';
import { SpokenLine } from './spoken-line.tsx';
import { ValueMenu } from './value-menu.tsx';

interface SegmentEditorProps {
  draft: Draft<'talk'>;
  index: number;
  segment: TalkPiece;
  placed: PlacedSegment | null;
  spoken: SpokenText | null;
  values: readonly BoundValue[];
  open: boolean;
  onOpen: () => void;
  onMove: (by: -1 | 1) => void;
  onRemove: () => void;
}

/** One piece of talk: its text, its place on the clock, what stands behind its numbers, and how it is placed. */
export function SegmentEditor(props: SegmentEditorProps) {
  const { draft, index, segment, placed, spoken, values, open, onOpen, onMove, onRemove } = props;
  const area = useRef<HTMLTextAreaElement>(null);
  const set = (part: Partial<TalkPiece>): void =>
    draft.change({
      ...draft.body,
      segments: draft.body.segments.map((entry, i) => (i === index ? { ...entry, ...part } : entry)),
    });
  const insert = (reference: string): void => {
    const at = area.current?.selectionStart ?? segment.text.length;
    const to = area.current?.selectionEnd ?? at;
    set({ text: `${segment.text.slice(0, at)}${reference}${segment.text.slice(to)}` });
    area.current?.focus();
  };
  const title = titleOf(segment);
  const problem = problemAt(draft.problems, ['segments', index, 'text']);
  return (
    <li className="stage-piece" id={`piece-${segment.id}`} data-open={open || undefined}>
      <header className="stage-piece-head">
        <span className="stage-piece-time">
          {formatClock(placed?.start_s)}
          <span>{t('stage.seconds', { seconds: formatNumber(placed?.takes_s) })}</span>
        </span>
        <TextAt
          path={['segments', index, 'title']}
          label={t('stage.piece.title')}
          hideLabel
          placeholder={title}
        />
        <span className="stage-piece-tools">
          <IconButton
            icon="left"
            label={t('stage.piece.earlier', { name: title })}
            onPress={() => onMove(-1)}
            isDisabled={index === 0}
          />
          <IconButton
            icon="right"
            label={t('stage.piece.later', { name: title })}
            onPress={() => onMove(1)}
            isDisabled={index === draft.body.segments.length - 1}
          />
          <IconButton icon="close" label={t('stage.remove_named', { name: title })} onPress={onRemove} />
        </span>
      </header>
      <textarea
        ref={area}
        className="stage-piece-text"
        rows={Math.min(8, Math.max(2, Math.ceil(segment.text.length / 70)))}
        aria-label={t('stage.piece.text', { name: title })}
        aria-invalid={problem ? true : undefined}
        value={segment.text}
        onChange={(event) => set({ text: event.target.value })}
      />
      {problem && <p className="field-problem">{problem}</p>}
      {spoken && <SpokenLine spoken={spoken} />}
      <div className="stage-piece-foot">
        <ValueMenu values={values} onChoose={insert} />
        <span className="stage-piece-marks">
          {segment.pin && (
            <span className="stage-mark">
              <Icon name="down" /> {t('stage.piece.pinned')}
            </span>
          )}
          {segment.may_be_cut && <span className="stage-mark">{t('stage.piece.cuttable')}</span>}
        </span>
        <Button look="quiet" onPress={onOpen} aria-expanded={open}>
          {t(open ? 'stage.piece.less' : 'stage.piece.more')}
        </Button>
      </div>
      {open && <Placing index={index} segment={segment} set={set} />}
    </li>
  );
}

interface PlacingProps {
  index: number;
  segment: TalkPiece;
  set: (part: Partial<TalkPiece>) => void;
}

type PinBy = 'none' | 'time' | 'action';

/** How a piece is placed, and what leaving it out would cost. */
function Placing({ index, segment, set }: PlacingProps) {
  const at = (...rest: string[]) => ['segments', index, ...rest];
  const pinBy = (by: PinBy): void => {
    if (by === 'none') set({ pin: null });
    else if (by === 'time') set({ pin: { by, at_s: 0 } });
    else set({ pin: { by, brewer: 1, what: 'pour', pour: 1, after_s: 0 } });
  };
  return (
    <div className="stage-placing">
      <Choice<PinBy>
        label={t('stage.piece.pin')}
        value={segment.pin?.by ?? 'none'}
        options={(['none', 'time', 'action'] as const).map((value) => ({
          value,
          label: t(`stage.pin.${value}`),
        }))}
        onChange={pinBy}
      />
      <Fields>
        {segment.pin?.by === 'time' && <NumberAt path={at('pin', 'at_s')} label={t('stage.piece.at')} />}
        {segment.pin?.by === 'action' && (
          <>
            <NumberAt path={at('pin', 'brewer')} label={t('stage.actions.brewer')} />
            <OptionAt
              path={at('pin', 'what')}
              label={t('stage.actions.what')}
              options={(['pour', 'decant', 'serve'] as const).map((value) => ({
                value,
                label: t(`stage.what.${value}`),
              }))}
            />
            {segment.pin.what === 'pour' && (
              <NumberAt path={at('pin', 'pour')} label={t('stage.piece.pour')} />
            )}
            <NumberAt path={at('pin', 'after_s')} label={t('stage.piece.after')} />
          </>
        )}
        {segment.pin && <NumberAt path={at('give_s')} label={t('stage.piece.give')} />}
        <NumberAt
          path={at('takes_s')}
          label={t('stage.piece.takes')}
          nullable
          placeholder={t('stage.piece.by_text')}
        />
        <NumberAt path={at('pause_s')} label={t('stage.piece.pause')} />
        <NumberAt path={at('points')} label={t('stage.piece.points')} step={0.5} />
      </Fields>
      <CheckAt path={at('may_be_cut')} label={t('stage.piece.may_be_cut')} />
    </div>
  );
}
