import {
  type ConcentrateDocument,
  compositionOf,
  type Mix,
  quantityOf,
  type SaltDocument,
  type Water,
} from '@pourline/core';
import { memo, type ReactNode } from 'react';
import { hrefOf } from '../../../shell/route.ts';
import { CheckInput, Fields, NumberAt, Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { printedForm } from '../parts/formula.ts';
import { useFirstFold } from '../parts/use-first-fold.ts';

type Sources = Pick<Mix, 'bases' | 'salt_ids' | 'concentrate_ids'>;

interface SourcePanelProps extends Sources {
  onChange: (change: Partial<Sources>) => void;
  waters: readonly Water[];
  salts: readonly SaltDocument[];
  concentrates: readonly ConcentrateDocument[];
}

/** What the waters may be made from: which of the shelf is taken, at what price, and how well it is known. */
export const SourcePanel = memo(function SourcePanel(props: SourcePanelProps) {
  const { bases, salt_ids, concentrate_ids, onChange, waters, salts, concentrates } = props;
  const fold = useFirstFold();
  const main = mainBase(bases, waters);
  const toggleBase = (id: string, on: boolean): void =>
    onChange({
      bases: on
        ? [...bases, { water_id: id, price_per_L: null, uncertainty_pct: 5 }]
        : bases.filter(({ water_id }) => water_id !== id),
    });
  const toggled = (ids: readonly string[], id: string, on: boolean): string[] =>
    on ? [...ids, id] : ids.filter((entry) => entry !== id);
  return (
    <Panel title={t('water.sources.title')} fold={fold}>
      <p className="quiet-text">{t('water.sources.text')}</p>
      <div className="sources">
        <Group title={t('water.sources.waters')} kind="water" empty={waters.length === 0}>
          {waters.map((water) => {
            const at = bases.findIndex(({ water_id }) => water_id === water.id);
            return (
              <li key={water.id} className="source">
                <CheckInput
                  label={nameOf(water)}
                  value={at >= 0}
                  onChange={(on) => toggleBase(water.id, on)}
                />
                <span className="source-detail">
                  {water.id === main
                    ? t('water.sources.main')
                    : t('water.sources.ions', {
                        sum: formatNumber(quantityOf('ion_sum', compositionOf(water))),
                      })}
                </span>
                {at >= 0 && (
                  <div className="source-more">
                    <Fields>
                      <NumberAt path={['bases', at, 'price_per_L']} nullable step={0.1} />
                      <NumberAt path={['bases', at, 'uncertainty_pct']} />
                    </Fields>
                  </div>
                )}
              </li>
            );
          })}
        </Group>
        <Group title={t('water.sources.salts')} kind="salt" empty={salts.length === 0}>
          {salts.map((salt) => (
            <li key={salt.id} className="source">
              <CheckInput
                label={nameOf(salt)}
                value={salt_ids.includes(salt.id)}
                onChange={(on) => onChange({ salt_ids: toggled(salt_ids, salt.id, on) })}
              />
              <span className="source-detail">
                {printedForm(salt)}
                {salt.amount_g !== null && ` · ${formatNumber(salt.amount_g)} g`}
              </span>
            </li>
          ))}
        </Group>
        <Group title={t('water.sources.concentrates')} kind="concentrate" empty={concentrates.length === 0}>
          {concentrates.map((bottle) => (
            <li key={bottle.id} className="source">
              <CheckInput
                label={nameOf(bottle)}
                value={concentrate_ids.includes(bottle.id)}
                onChange={(on) => onChange({ concentrate_ids: toggled(concentrate_ids, bottle.id, on) })}
              />
              <span className="source-detail">
                {bottle.parts.map(printedForm).join(' + ')}
                {bottle.left_g !== null && ` · ${formatNumber(bottle.left_g)} g`}
              </span>
            </li>
          ))}
        </Group>
      </div>
    </Panel>
  );
});

/** A name, and whether it was put away although this order uses it. */
const nameOf = ({ name, archived }: { name: string; archived: boolean }): string =>
  archived ? t('water.sources.archived', { name }) : name;

/** The water that fills up the batch: the purest of those taken. */
function mainBase(bases: Mix['bases'], waters: readonly Water[]): string | undefined {
  const taken = waters.filter(({ id }) => bases.some(({ water_id }) => water_id === id));
  const sum = (water: Water): number => quantityOf('ion_sum', compositionOf(water));
  return taken.reduce<Water | undefined>(
    (best, water) => (best === undefined || sum(water) < sum(best) ? water : best),
    undefined,
  )?.id;
}

interface GroupProps {
  title: string;
  kind: 'water' | 'salt' | 'concentrate';
  empty: boolean;
  children: ReactNode;
}

function Group({ title, kind, empty, children }: GroupProps) {
  return (
    <section className="source-group">
      <h4>{title}</h4>
      {empty ? <p className="quiet-text">{t('water.sources.none')}</p> : <ul>{children}</ul>}
      <a className="source-link" href={hrefOf('water', 'shelf', kind)}>
        {t('water.sources.to_shelf')}
      </a>
    </section>
  );
}
