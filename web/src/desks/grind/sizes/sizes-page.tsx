import type { Sizing } from '@pourline/core';
import { lazy, Suspense, useMemo } from 'react';
import { useDocuments } from '../../../replica/index.ts';
import { go, hrefOf } from '../../../shell/route.ts';
import { Button, Panel } from '../../../ui/index.ts';
import { formatNumber, problemSentence, t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { LineKey } from '../chart/mark.tsx';
import { letterOf, lineOfAnalysis, pointsOf, type Series } from '../chart/series.ts';
import { SizeChart } from '../chart/size-chart.tsx';
import { figureOf } from '../parts/figures.ts';
import type { Known } from '../room/analyst.ts';
import { useAnalyses, useSizings } from '../room/use-analyses.ts';
import { emptyStack, keepSizing, likeLast } from './new-sizing.ts';
import { SizingEditor } from './sizing-editor.tsx';
import { TableImport } from './table-import.tsx';
import './sizes.css';

/** Fetched when the first photograph is wanted. */
const PicturePage = lazy(async () => ({
  default: (await import('../picture/picture-page.tsx')).PicturePage,
}));

/** Ways in that are no measurement yet. */
const WAYS = ['table', 'photo'] as const;
type Way = (typeof WAYS)[number];
const isWay = (value: string | undefined): value is Way => WAYS.some((way) => way === value);

interface SizesPageProps {
  campaignId: string;
  chosen: string | undefined;
}

/** All measurements over each other, and the one that is open. */
export function SizesPage({ campaignId, chosen }: SizesPageProps) {
  const sizings = useSizings();
  const grinders = useDocuments('grinder');
  const way = isWay(chosen) ? chosen : null;
  const open = way
    ? null
    : (sizings.find(({ id }) => id === chosen) ?? (chosen ? null : (sizings[0] ?? null)));
  const known = useAnalyses(sizings, open?.id ?? null);
  const [{ hidden }, keep] = useKept<{ hidden: string[] }>('grind-hidden', { hidden: [] });
  const series = useMemo(
    () => seriesOf(sizings, known, hidden, open?.id),
    [sizings, known, hidden, open?.id],
  );
  const like = likeLast(sizings, grinders);
  const newStack = async (): Promise<void> => {
    const last = sizings.filter((one) => one.data.by === 'sieves').at(-1) ?? null;
    const made = await keepSizing(t('grind.new.sieves'), emptyStack(last), like, campaignId);
    if (!made.ok) throw new Error(made.problems.map(problemSentence).join(' '));
    go('grind', 'sizes', made.value.id);
  };
  const toggle = (id: string): void =>
    keep({ hidden: hidden.includes(id) ? hidden.filter((one) => one !== id) : [...hidden, id] });
  return (
    <div className="grind-sizes">
      <div className="grind-top">
        <Panel title={t('grind.sizes.title')}>
          {series.length > 0 ? (
            <SizeChart series={series} fines_um={open?.fines_limit_um ?? 100} />
          ) : (
            <p className="quiet-text">
              {t(sizings.length > 0 ? 'grind.sizes.none_shown' : 'grind.sizes.none')}
            </p>
          )}
        </Panel>
        <div className="grind-list">
          <SizingList sizings={sizings} known={known} hidden={hidden} openId={open?.id} toggle={toggle} />
          <fieldset className="buttons">
            <legend className="visually-hidden">{t('grind.new.title')}</legend>
            <Button icon="add" onPress={() => void newStack()}>
              {t('grind.by.sieves')}
            </Button>
            <Button icon="add" onPress={() => go('grind', 'sizes', 'table')}>
              {t('grind.by.table')}
            </Button>
            <Button icon="add" onPress={() => go('grind', 'sizes', 'photo')}>
              {t('grind.by.photo')}
            </Button>
          </fieldset>
        </div>
      </div>
      {way === 'table' && (
        <Panel title={t('grind.import.title')}>
          <TableImport campaignId={campaignId} like={like} />
        </Panel>
      )}
      {way === 'photo' && (
        <Suspense fallback={<p className="quiet-text">{t('common.loading')}</p>}>
          <PicturePage campaignId={campaignId} like={like} />
        </Suspense>
      )}
      {open && <SizingEditor key={open.id} id={open.id} known={known.get(open.id)} />}
      {chosen !== undefined && !way && !open && <p className="quiet-text">{t('grind.sizing.gone')}</p>}
    </div>
  );
}

function seriesOf(
  sizings: readonly Sizing[],
  known: ReadonlyMap<string, Known>,
  hidden: readonly string[],
  openId: string | undefined,
): Series[] {
  return sizings.flatMap((sizing, i) => {
    const of = known.get(sizing.id);
    if (!of?.analysis || (hidden.includes(sizing.id) && sizing.id !== openId)) return [];
    return [
      {
        id: sizing.id,
        name: sizing.name,
        letter: letterOf(i),
        place: i,
        line: lineOfAnalysis(of.analysis, of.spread),
        points: pointsOf(of.analysis),
      },
    ];
  });
}

interface SizingListProps {
  sizings: readonly Sizing[];
  known: ReadonlyMap<string, Known>;
  hidden: readonly string[];
  openId: string | undefined;
  toggle: (id: string) => void;
}

/** Every measurement: its line on the chart, its name, its middle size, and whether it is drawn. */
function SizingList({ sizings, known, hidden, openId, toggle }: SizingListProps) {
  return (
    <ul className="sizing-list" aria-label={t('grind.sizes.list')}>
      {sizings.map((sizing, i) => {
        const analysis = known.get(sizing.id)?.analysis;
        const median = analysis ? figureOf(analysis, 'd50_um').value : null;
        const open = sizing.id === openId;
        return (
          <li key={sizing.id} className="sizing-row" data-open={open || undefined}>
            <label className="sizing-shown">
              <input
                type="checkbox"
                checked={open || !hidden.includes(sizing.id)}
                disabled={open}
                onChange={() => toggle(sizing.id)}
              />
              <LineKey index={i} letter={letterOf(i)} />
              <span className="visually-hidden">{t('grind.sizes.draw', { name: sizing.name })}</span>
            </label>
            <a
              className="sizing-link"
              href={hrefOf('grind', 'sizes', sizing.id)}
              aria-current={open ? 'page' : undefined}
            >
              <span>{sizing.name}</span>
              <span className="sizing-detail">
                {t(`grind.by.${sizing.data.by}`)}
                {median === null ? '' : ` · D50 ${formatNumber(median)} µm`}
              </span>
            </a>
          </li>
        );
      })}
    </ul>
  );
}
