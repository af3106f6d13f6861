import type { TableThing } from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';
import { type Paper, PRINTED_MM } from './paper.ts';
import { paperClock, SheetPage, type SheetsOf } from './sheet-page.tsx';

const TEXT = 3.4;

/** What a thing on the table is called. */
export const thingName = ({ what, name, brewer }: TableThing): string => {
  const word = name || t(`stage.thing.${what}`);
  return brewer === null ? word : t('stage.thing.of', { thing: word, brewer });
};

/** The table from above, every thing numbered by its turn, and the turns in words. */
export function TableMap({ of, paper }: { of: SheetsOf; paper: Paper }) {
  const { width_cm, depth_cm, things } = of.talk.table;
  const width = PRINTED_MM[paper];
  const scale = width / width_cm;
  const height = Math.min(depth_cm * scale, 170);
  const deep = height / depth_cm;
  return (
    <SheetPage
      name="table"
      of={of}
      title={t('stage.sheet.table')}
      note={t('stage.sheet.table_size', { width: formatNumber(width_cm), depth: formatNumber(depth_cm) })}
    >
      {things.length === 0 ? (
        <p>{t('stage.sheet.no_table')}</p>
      ) : (
        <>
          <svg
            className="sheet-map"
            viewBox={`0 0 ${width} ${height}`}
            style={{ width: `${width}mm` }}
            role="img"
            aria-label={t('stage.sheet.table')}
          >
            <rect x={0.3} y={0.3} width={width - 0.6} height={height - 0.6} className="sheet-edge" />
            {of.reach.map(({ thing, turn }, i) => {
              const w = Math.max(5, thing.width_cm * scale);
              const d = Math.max(5, thing.depth_cm * deep);
              const x = Math.min(width - w - 0.6, Math.max(0.6, thing.x_cm * scale - w / 2));
              // The brewer's edge is at the bottom of the page.
              const y = Math.min(height - d - 0.6, Math.max(0.6, height - thing.y_cm * deep - d / 2));
              return (
                <g key={thing.id}>
                  <rect x={x} y={y} width={w} height={d} rx={1} className="sheet-thing" />
                  <text x={x + w / 2} y={y + d / 2 + 1.2} fontSize={TEXT} textAnchor="middle">
                    {turn ?? letter(i)}
                  </text>
                </g>
              );
            })}
          </svg>
          <p className="sheet-note">{t('stage.sheet.your_edge')}</p>
          <ol className="sheet-turns">
            {of.reach.map(({ thing, turn, at_s }, i) => (
              <li key={thing.id}>
                <b>{turn ?? letter(i)}</b>
                <span>{thingName(thing)}</span>
                <span>{at_s === null ? '' : paperClock(at_s)}</span>
              </li>
            ))}
          </ol>
        </>
      )}
    </SheetPage>
  );
}

/** A mark for what has no turn. */
const letter = (index: number): string => String.fromCharCode(97 + (index % 26));
