import type { BoundValue, PlannedRun, RunTalk, Talk, TalkPiece } from '@pourline/core';
import { useState } from 'react';
import { type Draft, newLocalId } from '../../../replica/index.ts';
import { Button, Choice, Fields, IconButton, NumberAt, Panel, TextAt } from '../../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../../words/index.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import type { Run } from '../room/use-run.ts';
import { StageStrip } from '../strip/stage-strip.tsx';
import { CutList } from './cut-list.tsx';
import { SegmentEditor } from './segment-editor.tsx';
import { ValuesPanel } from './values-panel.tsx';

interface TalkPageProps {
  draft: Draft<'talk'>;
  run: Run;
  stale: boolean;
}

const NO_VALUES: readonly BoundValue[] = [];

/** What is said: in pieces, on the clock of the run while it is typed, every number with its source. */
export function TalkPage({ draft, run, stale }: TalkPageProps) {
  const [chosen, choose] = useState<string | null>(null);
  const { body } = draft;
  const placed = run.placed.output;
  const plan = run.plan.output;
  const set = (segments: TalkPiece[]): void => draft.change({ ...body, segments });
  const add = (): void => {
    const id = newLocalId('piece', body.segments);
    const at = body.segments.findIndex((segment) => segment.id === chosen);
    const next = [...body.segments];
    next.splice(at < 0 ? next.length : at + 1, 0, freshPiece(id));
    set(next);
    choose(id);
  };
  return (
    <>
      <StageStrip
        talk={run.talk}
        plan={plan}
        placed={placed}
        stale={stale}
        selected={chosen}
        onSelect={(id) => {
          choose(id);
          document.getElementById(`piece-${id}`)?.scrollIntoView({ block: 'nearest' });
        }}
      />
      {placed && plan && <TalkAnswer placed={placed} plan={plan} />}
      <div className="stage-pair stage-pair-wide" data-stale={stale || undefined}>
        <div className="stage-column">
          <Panel
            title={t('stage.talk.pieces')}
            aside={
              <Button icon="add" onPress={add} isDisabled={body.segments.length >= 200}>
                {t('stage.talk.add')}
              </Button>
            }
          >
            {body.segments.length === 0 && <p className="quiet-text">{t('stage.talk.empty')}</p>}
            <ol className="stage-pieces">
              {body.segments.map((segment, index) => (
                <SegmentEditor
                  key={segment.id}
                  draft={draft}
                  index={index}
                  segment={segment}
                  placed={placed?.placed.segments.find(({ id }) => id === segment.id) ?? null}
                  spoken={placed?.spoken[segment.id] ?? null}
                  values={plan?.values ?? NO_VALUES}
                  open={segment.id === chosen}
                  onOpen={() => choose(segment.id === chosen ? null : segment.id)}
                  onMove={(by) => set(moved(body.segments, index, by))}
                  onRemove={() => set(body.segments.filter(({ id }) => id !== segment.id))}
                />
              ))}
            </ol>
          </Panel>
        </div>
        <div className="stage-column">
          <RatePanel draft={draft} placed={placed} />
          <SilencePanel draft={draft} />
          {placed && <CutList talk={run.talk} placed={placed} />}
          <ValuesPanel draft={draft} plan={plan} />
        </div>
      </div>
    </>
  );
}

const freshPiece = (id: string): TalkPiece => ({
  id,
  title: '',
  text: '',
  takes_s: null,
  pause_s: 0,
  pin: null,
  give_s: 0,
  may_be_cut: false,
  points: 0,
});

/** The list with one entry moved up or down. */
export function moved<T>(list: readonly T[], index: number, by: -1 | 1): T[] {
  const next = [...list];
  const to = index + by;
  if (to < 0 || to >= list.length) return next;
  [next[index], next[to]] = [next[to]!, next[index]!];
  return next;
}

function TalkAnswer({ placed, plan }: { placed: RunTalk; plan: PlannedRun }) {
  const words = placed.placed.segments.reduce((sum, segment) => sum + segment.words, 0);
  const characters = placed.placed.segments.reduce((sum, segment) => sum + segment.characters, 0);
  const figures: [string, string][] = [
    [t('stage.talk.ends'), formatClock(placed.placed.ends_s)],
    [t('stage.talk.limit'), formatClock(plan.limit_s)],
    [
      t('stage.talk.reserve'),
      placed.placed.reserve_s === null
        ? '–'
        : t('stage.seconds', { seconds: formatNumber(placed.placed.reserve_s) }),
    ],
    [t('stage.talk.speaking'), formatClock(placed.placed.speaking_s)],
    [t('stage.talk.words'), formatNumber(words)],
    ...(characters > 0 ? [[t('stage.talk.characters'), formatNumber(characters)] as [string, string]] : []),
  ];
  return (
    <section className="stage-answer" aria-label={t('stage.answer')}>
      <dl className="stage-figures">
        {figures.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>
              <strong>{value}</strong>
            </dd>
          </div>
        ))}
      </dl>
      <RemarkList remarks={[...placed.placed.remarks, ...placed.remarks]} />
    </section>
  );
}

/** Own speaking rate. */
function RatePanel({ draft, placed }: { draft: Draft<'talk'>; placed: RunTalk | null }) {
  const { rate } = draft.body;
  const set = (next: Talk['rate']): void => draft.change({ ...draft.body, rate: next });
  const shown = placed?.rate;
  return (
    <Panel title={t('stage.rate.title')}>
      {shown && (
        <p className="quiet-text">
          {t(`stage.rate.${placed.own_rate}`, {
            words: formatNumber(shown.words_per_min),
            characters: formatNumber(shown.characters_per_min),
          })}
        </p>
      )}
      {rate === null ? (
        <div className="buttons">
          <Button
            onPress={() =>
              set({
                words_per_min: Math.round(shown?.words_per_min ?? 140),
                characters_per_min: Math.round(shown?.characters_per_min ?? 200),
              })
            }
          >
            {t('stage.rate.type')}
          </Button>
        </div>
      ) : (
        <>
          <Fields>
            <NumberAt
              path={['rate', 'words_per_min']}
              label={t('stage.rate.words')}
              unit={t('stage.rate.words_unit')}
            />
            <NumberAt
              path={['rate', 'characters_per_min']}
              label={t('stage.rate.characters')}
              unit={t('stage.rate.characters_unit')}
            />
          </Fields>
          <div className="buttons">
            <Button onPress={() => set(null)}>{t('stage.rate.from_runs')}</Button>
          </div>
        </>
      )}
    </Panel>
  );
}

/** When nobody should speak. */
function SilencePanel({ draft }: { draft: Draft<'talk'> }) {
  const { silence } = draft.body;
  const set = (part: Partial<Talk['silence']>): void =>
    draft.change({ ...draft.body, silence: { ...silence, ...part } });
  return (
    <Panel title={t('stage.silence.title')}>
      <Choice
        label={t('stage.silence.pours')}
        value={silence.pours}
        options={(['none', 'first', 'all'] as const).map((value) => ({
          value,
          label: t(`stage.silence.${value}`),
        }))}
        onChange={(pours) => set({ pours })}
      />
      {silence.zones.map(({ id, label }, i) => (
        <div className="stage-row" key={id}>
          <TextAt path={['silence', 'zones', i, 'label']} label={t('stage.silence.label')} />
          <NumberAt path={['silence', 'zones', i, 'from_s']} label={t('stage.silence.from')} />
          <NumberAt path={['silence', 'zones', i, 'to_s']} label={t('stage.silence.to')} />
          <IconButton
            icon="close"
            label={t('stage.remove_named', { name: label || t('stage.silence.zone') })}
            onPress={() => set({ zones: silence.zones.filter((zone) => zone.id !== id) })}
          />
        </div>
      ))}
      <div className="buttons">
        <Button
          icon="add"
          isDisabled={silence.zones.length >= 60}
          onPress={() =>
            set({
              zones: [
                ...silence.zones,
                { id: newLocalId('zone', silence.zones), label: '', from_s: 60, to_s: 80 },
              ],
            })
          }
        >
          {t('stage.silence.add')}
        </Button>
      </div>
    </Panel>
  );
}
