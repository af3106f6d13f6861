import { type RunOverrun, type Talk, titleOf } from '@pourline/core';
import { type Draft, newLocalId } from '../../../replica/index.ts';
import { Button, IconButton, NumberInput, Panel, problemAt } from '../../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../../words/index.ts';
import { type Run, useOverrun } from '../room/use-run.ts';

interface OverrunPageProps {
  draft: Draft<'talk'>;
  run: Run;
}

/** Whether it fits the time, from how it went before: chance, cost, and where it begins to slip. */
export function OverrunPage({ draft, run }: OverrunPageProps) {
  const found = useOverrun(run);
  const over = found.output;
  return (
    <div className="stage-pair" data-stale={found.stale || undefined}>
      <div className="stage-column">
        <Panel title={t('stage.overrun.title')}>
          {over ? <Chances over={over} /> : <p className="quiet-text">{t('common.loading')}</p>}
        </Panel>
        {over && <Slips talk={run.talk} over={over} />}
      </div>
      <div className="stage-column">
        <RunsPanel draft={draft} run={run} />
      </div>
    </div>
  );
}

const percent = (chance: number | null | undefined): string =>
  chance === null || chance === undefined
    ? '–'
    : t('stage.percent', { value: formatNumber(100 * chance, 1) });

function Chances({ over }: { over: RunOverrun }) {
  const { imagined, expected } = over;
  const perTick = over.ticks_per_s;
  const rows: [name: string, value: string, note: string][] = [
    [
      t('stage.overrun.mean'),
      over.mean_s === null ? '–' : formatClock(over.mean_s, 1),
      over.sd_s === null
        ? t('stage.overrun.too_few', { runs: over.runs })
        : t('stage.overrun.sd', { sd: formatNumber(over.sd_s, 1), runs: over.runs }),
    ],
    [
      t('stage.overrun.chance', { limit: formatClock(over.limit_s) }),
      percent(over.chance_over),
      t('stage.overrun.chance_why'),
    ],
    [
      t('stage.overrun.expected'),
      expected ? t('stage.points', { points: formatNumber(expected.points, 2) }) : '–',
      expected
        ? t('stage.overrun.stopped', { chance: formatNumber(100 * expected.chanceDisqualified, 2) })
        : t('stage.overrun.no_penalty'),
    ],
    [
      t('stage.overrun.imagined'),
      imagined ? percent(imagined.chanceOver) : '–',
      imagined
        ? t('stage.overrun.imagined_ends', {
            low: formatClock(imagined.ends.low / perTick),
            middle: formatClock(imagined.ends.middle / perTick),
            high: formatClock(imagined.ends.high / perTick),
          })
        : t('stage.overrun.imagined_none'),
    ],
    [
      t('stage.overrun.drift'),
      over.drift ? t('stage.overrun.per_run', { seconds: formatNumber(over.drift.perRun, 1) }) : '–',
      over.drift
        ? t(over.drift.p < 0.05 ? 'stage.overrun.drift_clear' : 'stage.overrun.drift_unclear', {
            p: formatNumber(over.drift.p, 2),
          })
        : t('stage.overrun.drift_none'),
    ],
  ];
  return (
    <dl className="stage-chances">
      {rows.map(([name, value, note]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>
            <strong>{value}</strong>
            <span>{note}</span>
          </dd>
        </div>
      ))}
    </dl>
  );
}

/** Where runs fall behind the plan. */
function Slips({ talk, over }: { talk: Talk; over: RunOverrun }) {
  const { rows, begins, worst } = over.slips;
  const name = (id: string): string => {
    const segment = talk.segments.find((entry) => entry.id === id);
    return segment ? titleOf(segment) : id;
  };
  return (
    <Panel title={t('stage.slips.title')}>
      {rows.length === 0 ? (
        <p className="quiet-text">{t('stage.slips.none')}</p>
      ) : (
        <>
          <p>
            {begins ? t('stage.slips.begins', { piece: name(begins) }) : t('stage.slips.on_time')}{' '}
            {worst && t('stage.slips.worst', { piece: name(worst) })}
          </p>
          <div className="table-scroll">
            <table className="stage-table">
              <thead>
                <tr>
                  <th scope="col">{t('stage.cuts.piece')}</th>
                  <th scope="col">{t('stage.slips.adds')}</th>
                  <th scope="col">{t('stage.slips.late')}</th>
                  <th scope="col">{t('stage.slips.spread')}</th>
                </tr>
              </thead>
              <tbody>
                {rows.map(({ id, adds_s, late_s }) => {
                  const forecast = over.forecast?.segments.find((segment) => segment.id === id);
                  return (
                    <tr key={id} data-needed={id === worst || undefined}>
                      <td>{name(id)}</td>
                      <td>{signed(adds_s)}</td>
                      <td>{signed(late_s)}</td>
                      <td>
                        {forecast ? t('stage.seconds', { seconds: formatNumber(forecast.shrunkSd, 1) }) : '–'}
                      </td>
                    </tr>
                  );
                })}
              </tbody>
            </table>
          </div>
        </>
      )}
    </Panel>
  );
}

const signed = (seconds: number): string =>
  t('stage.seconds', { seconds: `${seconds > 0 ? '+' : ''}${formatNumber(seconds, 1)}` });

/** Runs that were timed by hand: the whole, and each piece where it was timed. */
function RunsPanel({ draft, run }: { draft: Draft<'talk'>; run: Run }) {
  const { body } = draft;
  const set = (runs: Talk['runs']): void => draft.change({ ...body, runs });
  const rehearsed = run.timed.length - run.talk.runs.length;
  const time = (r: number, id: string, took_s: number | string | null): void =>
    set(
      body.runs.map((entry, i) => {
        if (i !== r) return entry;
        const rest = entry.segments.filter(({ segment_id }) => segment_id !== id);
        return {
          ...entry,
          segments: took_s === null ? rest : [...rest, { segment_id: id, took_s: took_s as number }],
        };
      }),
    );
  return (
    <Panel title={t('stage.runs.title')}>
      <p className="quiet-text">
        {rehearsed > 0 ? t('stage.runs.rehearsed', { number: rehearsed }) : t('stage.runs.text')}
      </p>
      {body.runs.length > 0 && (
        <div className="table-scroll">
          <table className="stage-table stage-runs">
            <thead>
              <tr>
                <th scope="col">{t('stage.runs.piece')}</th>
                {body.runs.map(({ id }, r) => (
                  <th scope="col" key={id}>
                    {t('stage.runs.run', { number: r + 1 })}
                    <IconButton
                      icon="close"
                      label={t('stage.remove_named', { name: t('stage.runs.run', { number: r + 1 }) })}
                      onPress={() => set(body.runs.filter((entry) => entry.id !== id))}
                    />
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              <tr>
                <th scope="row">{t('stage.runs.whole')}</th>
                {body.runs.map((entry, r) => (
                  <td key={entry.id}>
                    <NumberInput
                      label={t('stage.runs.cell', { piece: t('stage.runs.whole'), number: r + 1 })}
                      hideLabel
                      value={entry.ended_s}
                      unit="s"
                      problem={problemAt(draft.problems, ['runs', r, 'ended_s'])}
                      onChange={(ended_s) =>
                        set(
                          body.runs.map((other, i) =>
                            i === r ? { ...other, ended_s: ended_s as number } : other,
                          ),
                        )
                      }
                    />
                  </td>
                ))}
              </tr>
              {body.segments.map((segment) => (
                <tr key={segment.id}>
                  <th scope="row">{titleOf(segment)}</th>
                  {body.runs.map((entry, r) => (
                    <td key={entry.id}>
                      <NumberInput
                        label={t('stage.runs.cell', { piece: titleOf(segment), number: r + 1 })}
                        hideLabel
                        value={
                          entry.segments.find(({ segment_id }) => segment_id === segment.id)?.took_s ?? null
                        }
                        unit="s"
                        onChange={(took) => time(r, segment.id, took)}
                      />
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <div className="buttons">
        <Button
          icon="add"
          isDisabled={body.runs.length >= 500}
          onPress={() => {
            const planned = Math.round(run.placed.output?.placed.ends_s ?? 600);
            set([
              ...body.runs,
              { id: newLocalId('run', body.runs), ended_s: Math.max(1, planned), segments: [] },
            ]);
          }}
        >
          {t('stage.runs.add')}
        </Button>
      </div>
    </Panel>
  );
}
