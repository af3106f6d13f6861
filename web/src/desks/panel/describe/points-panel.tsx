import type { Contest, Description } from '@pourline/core';
import { type Draft, useDocuments } from '../../../replica/index.ts';
import { Fields, NumberAt, Panel, SelectInput } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';

const BREADTHS = ['precise', 'group', 'broad'] as const;
const OUTCOMES = ['found', 'near', 'missed'] as const;

interface PointsPanelProps {
  draft: Draft<'description'>;
  contest: Contest | null;
  price: number | null;
}

/** What a judge gives for a word, by how wide it is, and what a mark is worth in the contest's total. */
export function PointsPanel({ draft, contest, price }: PointsPanelProps) {
  const { document } = draft;
  const contests = useDocuments('contest');
  const put = (part: Partial<Description>): void => draft.change({ ...document, ...part });
  return (
    <Panel title={t('panel.describe.points')} fold="open">
      <p className="quiet-text">{t('panel.describe.points_text')}</p>
      <div className="table-scroll">
        <table className="panel-table points-table">
          <thead>
            <tr>
              <th scope="col">{t('panel.describe.breadth')}</th>
              {OUTCOMES.map((outcome) => (
                <th key={outcome} scope="col">
                  {t(`panel.describe.outcome.${outcome}`)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {BREADTHS.map((breadth) => (
              <tr key={breadth}>
                <th scope="row">{t(`panel.describe.breadth.${breadth}`)}</th>
                {OUTCOMES.map((outcome) => (
                  <td key={outcome}>
                    <NumberAt
                      path={['points', breadth, outcome]}
                      hideLabel
                      label={`${t(`panel.describe.breadth.${breadth}`)}, ${t(`panel.describe.outcome.${outcome}`)}`}
                      step={0.5}
                    />
                  </td>
                ))}
              </tr>
            ))}
            {document.statements.map((statement, i) => (
              <tr key={statement.id}>
                <th scope="row">{statement.name}</th>
                {(['exact', 'one_step', 'further'] as const).map((step) => (
                  <td key={step}>
                    <NumberAt
                      path={['statements', i, 'points', step]}
                      label={t(`panel.describe.step.${step}`)}
                      step={0.5}
                    />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <Fields>
        <SelectInput
          label={t('panel.describe.contest')}
          value={document.contest_id ?? ''}
          options={[
            { value: '', label: t('panel.describe.no_contest') },
            ...contests.map(({ id, name, round }) => ({ value: id, label: name, detail: round })),
          ]}
          onChange={(id) =>
            put({
              contest_id: id === '' ? null : id,
              category_id: id === '' ? null : (contests.find((c) => c.id === id)?.categories[0]?.id ?? null),
            })
          }
        />
        {contest ? (
          <SelectInput
            label={t('panel.describe.category')}
            value={document.category_id}
            options={contest.categories.map(({ id, name }) => ({ value: id, label: name }))}
            onChange={(category_id) => put({ category_id })}
          />
        ) : (
          <NumberAt path={['judges']} label={t('panel.describe.judges')} />
        )}
      </Fields>
      {contest && (
        <p className="quiet-text">
          {price === null
            ? t('panel.describe.no_price')
            : t('panel.describe.price', { price: formatNumber(price, 2), judges: contest.judges ?? 1 })}
        </p>
      )}
    </Panel>
  );
}
