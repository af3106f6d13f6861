import {
  type Checked,
  type Contest,
  momentsOf,
  type PricedChoice,
  priceChoices,
  type Talk,
} from '@pourline/core';
import { type Draft, newLocalId } from '../../../replica/index.ts';
import { Button, Fields, IconButton, NumberAt, OptionAt, Panel, TextAt } from '../../../ui/index.ts';
import { formatNumber, problemSentence, t } from '../../../words/index.ts';
import type { Run } from '../room/use-run.ts';

interface ChoicesPanelProps {
  draft: Draft<'talk'>;
  contest: Contest;
  run: Run;
}

/** What might be done otherwise, in points of the total with their spread. */
export function ChoicesPanel({ draft, contest, run }: ChoicesPanelProps) {
  const { body } = draft;
  const set = (choices: Talk['choices']): void => draft.change({ ...body, choices });
  const first = contest.categories[0];
  const priced = pricedOf(draft.document, contest, run);
  return (
    <Panel title={t('stage.choices.title')}>
      <p className="quiet-text">{t('stage.choices.text')}</p>
      {priced.ok ? (
        <PricedTable priced={priced.value} />
      ) : (
        <ul className="plain-list">
          {priced.problems.map((problem) => (
            <li key={problem.sentence}>{problemSentence(problem)}</li>
          ))}
        </ul>
      )}
      {body.choices.map((choice, c) => (
        <fieldset className="stage-part" key={choice.id}>
          <legend>{choice.name}</legend>
          <Fields>
            <TextAt path={['choices', c, 'name']} />
            <NumberAt path={['choices', c, 'longer_s']} label={t('stage.choices.longer')} />
          </Fields>
          {choice.marks
            .map((mark, m) => ({ ...mark, key: `${m} ${mark.category_id}` }))
            .map((mark, m) => (
              <div className="stage-row" key={mark.key}>
                <OptionAt
                  path={['choices', c, 'marks', m, 'category_id']}
                  label={t('stage.marks.name')}
                  options={contest.categories.map(({ id, name }) => ({ value: id, label: name }))}
                />
                <NumberAt path={['choices', c, 'marks', m, 'by']} label={t('stage.choices.by')} step={0.25} />
                <NumberAt path={['choices', c, 'marks', m, 'sd']} label={t('stage.choices.sd')} step={0.25} />
                <IconButton
                  icon="close"
                  label={t('stage.remove_named', { name: t('stage.choices.mark') })}
                  onPress={() =>
                    set(
                      body.choices.map((other, i) =>
                        i === c ? { ...other, marks: other.marks.filter((_, k) => k !== m) } : other,
                      ),
                    )
                  }
                />
              </div>
            ))}
          <div className="stage-part-end">
            <Button
              icon="add"
              isDisabled={!first}
              onPress={() =>
                first &&
                set(
                  body.choices.map((other, i) =>
                    i === c
                      ? {
                          ...other,
                          marks: [...other.marks, { category_id: first.id, by: 0.5, sd: 0.5, judges: null }],
                        }
                      : other,
                  ),
                )
              }
            >
              {t('stage.choices.add_mark')}
            </Button>
            <IconButton
              icon="close"
              label={t('stage.remove_named', { name: choice.name })}
              onPress={() => set(body.choices.filter(({ id }) => id !== choice.id))}
            />
          </div>
        </fieldset>
      ))}
      <div className="buttons">
        <Button
          icon="add"
          isDisabled={body.choices.length >= 60}
          onPress={() =>
            set([
              ...body.choices,
              {
                id: newLocalId('choice', body.choices),
                name: t('stage.choices.new_name', { number: body.choices.length + 1 }),
                marks: first ? [{ category_id: first.id, by: 0.5, sd: 0.5, judges: null }] : [],
                longer_s: 0,
              },
            ])
          }
        >
          {t('stage.choices.add')}
        </Button>
      </div>
    </Panel>
  );
}

function PricedTable({ priced }: { priced: readonly PricedChoice[] }) {
  if (priced.length === 0) return null;
  return (
    <div className="table-scroll">
      <table className="stage-table">
        <thead>
          <tr>
            <th scope="col">{t('stage.choices.name')}</th>
            <th scope="col">{t('stage.choices.points')}</th>
            <th scope="col">{t('stage.choices.from_marks')}</th>
            <th scope="col">{t('stage.choices.from_time')}</th>
            <th scope="col">{t('stage.choices.better')}</th>
          </tr>
        </thead>
        <tbody>
          {priced.map((choice) => (
            <tr key={choice.name}>
              <td>{choice.name}</td>
              <td>
                {t('stage.choices.spread', {
                  points: formatNumber(choice.points, 2),
                  sd: formatNumber(choice.sd, 2),
                })}
              </td>
              <td>{formatNumber(choice.from_marks, 2)}</td>
              <td>{formatNumber(choice.from_time, 2)}</td>
              <td>{t('stage.percent', { value: formatNumber(100 * choice.chance_better) })}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Choices that lengthen the run are priced against what the run takes now, as timed or else as planned. */
function pricedOf(talk: Talk, contest: Contest, { timed, placed, plan }: Run): Checked<PricedChoice[]> {
  const ends = timed.flatMap(({ ended_s }) => (ended_s === null ? [] : [ended_s]));
  const moments = ends.length > 0 ? momentsOf(ends) : null;
  const planned = Math.max(placed.output?.placed.ends_s ?? 0, plan.output?.schedule.ends_s ?? 0);
  const mean = moments?.mean ?? planned;
  const sd = moments?.sd ?? 0;
  return priceChoices(
    contest,
    talk.choices.map(({ name, marks, longer_s }) => ({
      name,
      marks: marks.map(({ category_id, by, sd: spread, judges }) => ({
        category_id,
        by,
        sd: spread,
        judges,
      })),
      run: longer_s === 0 ? null : { mean_s: Math.max(0, mean + longer_s), sd_s: sd },
    })),
  );
}
