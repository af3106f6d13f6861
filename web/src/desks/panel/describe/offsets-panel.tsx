import {
  calibrate,
  type Description,
  isClosed,
  sameWord,
  scoresOverTime,
  type TastedSource,
} from '@pourline/core';
import { useMemo } from 'react';
import { type Draft, useDocuments } from '../../../replica/index.ts';
import { Button, Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { Sheet } from '../parts/sheet.tsx';

type Offset = Description['offsets'][number];

/** Offsets below this many steps are not worth a line; our choice. */
const WORTH = 0.25;

/** Offsets on the statements from all other closed tastings: what is weighed here must not calibrate itself. */
function offsetsFrom(
  tastings: readonly Parameters<typeof scoresOverTime>[0][number][],
  names: readonly string[],
): Offset[] {
  return scoresOverTime(tastings)
    .filter(({ name }) => names.some((n) => sameWord(n) === sameWord(name)))
    .flatMap(({ name, scores }) =>
      calibrate(scores)
        .filter(({ offset }) => Math.abs(offset) >= WORTH)
        .map(({ taster, offset }) => ({ taster, name, steps: Math.round(offset * 100) / 100 })),
    );
}

/** How far tasters are known to lie above the others. Used openly, as it stands here, or not at all. */
export function OffsetsPanel({
  draft,
  sources,
}: {
  draft: Draft<'description'>;
  sources: readonly TastedSource[];
}) {
  const { document } = draft;
  const tastings = useDocuments('tasting');
  const found = useMemo(() => {
    const used = new Set(sources.map(({ tasting }) => tasting.id));
    const others = tastings.filter(isClosed).filter(({ id }) => !used.has(id));
    return offsetsFrom(
      others,
      document.statements.map(({ name }) => name),
    );
  }, [tastings, sources, document.statements]);
  const put = (offsets: Offset[]): void => draft.change({ ...document, offsets });
  return (
    <Panel title={t('panel.describe.offsets')} fold={document.offsets.length > 0 ? 'open' : 'closed'}>
      <p className="quiet-text">{t('panel.describe.offsets_text')}</p>
      <Sheet
        label={t('panel.describe.offsets')}
        columns={[
          { key: 'taster', shape: { is: 'text' }, title: t('panel.describe.taster') },
          { key: 'name', shape: { is: 'text' }, title: t('panel.design.statement') },
          { key: 'steps', shape: { is: 'number', whole: false }, title: t('panel.describe.steps') },
        ]}
        rows={document.offsets}
        onChange={(rows) =>
          put(
            rows.map((row) => ({
              taster: String(row.taster ?? ''),
              name: String(row.name ?? document.statements[0]?.name ?? ''),
              steps: (row.steps ?? 0) as number,
            })),
          )
        }
      />
      {found.length > 0 && (
        <div className="buttons">
          <Button onPress={() => put(found)}>
            {t('panel.describe.take_offsets', {
              list: found
                .map(({ taster, steps }) => `${taster} ${steps > 0 ? '+' : ''}${formatNumber(steps, 2)}`)
                .join(', '),
            })}
          </Button>
          {document.offsets.length > 0 && (
            <Button look="quiet" onPress={() => put([])}>
              {t('panel.describe.no_offsets')}
            </Button>
          )}
        </div>
      )}
    </Panel>
  );
}
