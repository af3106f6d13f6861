import type { Instrument } from '@pourline/core';
import { archiveDocument, createDocument, useDocuments, useDraft } from '../../../replica/index.ts';
import { go, hrefOf } from '../../../shell/route.ts';
import {
  Button,
  DraftForm,
  Fields,
  IconButton,
  NumberAt,
  OptionAt,
  Panel,
  TextAt,
} from '../../../ui/index.ts';
import { problemSentence, t } from '../../../words/index.ts';

const WHAT = ['balance', 'refractometer', 'thermometer'] as const;
type What = (typeof WHAT)[number];

const FIELDS: Readonly<Record<What, readonly [string, string][]>> = {
  balance: [
    ['step_g', 'g'],
    ['limit_g', 'g'],
  ],
  refractometer: [
    ['step_pct', '%'],
    ['repeat_pct', '%'],
    ['limit_pct', '%'],
    ['corrects_from_C', '°C'],
    ['corrects_to_C', '°C'],
  ],
  thermometer: [
    ['step_C', '°C'],
    ['limit_C', '°C'],
  ],
};

/** What things are measured with, and how far each is to be trusted. */
export function InstrumentsPage({ campaignId, chosen }: { campaignId: string; chosen: string | undefined }) {
  const instruments = useDocuments('instrument');
  const make = async (what: What): Promise<void> => {
    const made = await createDocument(
      'instrument',
      { name: t(`trials.field.${what}_id`), notes: '', is: { what } as Instrument['is'] },
      campaignId,
    );
    if (!made.ok) throw new Error(made.problems.map(problemSentence).join(' '));
    go('trials', 'instruments', made.value.id);
  };
  const open = instruments.find(({ id }) => id === chosen) ?? instruments[0] ?? null;
  return (
    <div className="trials-stack">
      <p className="quiet-text">{t('trials.instruments.text')}</p>
      <fieldset className="buttons">
        <legend className="visually-hidden">{t('trials.instruments.new')}</legend>
        {WHAT.map((what) => (
          <Button key={what} icon="add" onPress={() => void make(what)}>
            {t(`trials.field.${what}_id`)}
          </Button>
        ))}
      </fieldset>
      <ul className="instrument-list">
        {instruments.map(({ id, name, is }) => (
          <li key={id}>
            <a href={hrefOf('trials', 'instruments', id)} aria-current={id === open?.id ? 'page' : undefined}>
              {name}
            </a>{' '}
            <span className="quiet-text">{t(`trials.field.${is.what}_id`)}</span>
          </li>
        ))}
      </ul>
      {open && <Editor key={open.id} id={open.id} />}
    </div>
  );
}

function Editor({ id }: { id: string }) {
  const draft = useDraft('instrument', id);
  if (!draft) return null;
  const { what } = draft.document.is;
  const pairs = draft.body.is.what === 'refractometer' ? draft.body.is.pairs : [];
  const setPairs = (next: typeof pairs): void => {
    if (draft.body.is.what === 'refractometer')
      draft.change({ ...draft.body, is: { ...draft.body.is, pairs: next } });
  };
  return (
    <Panel
      title={draft.document.name}
      aside={
        <IconButton
          icon="archive"
          label={t('common.archive')}
          onPress={() => void archiveDocument(id).then(() => go('trials', 'instruments'))}
        />
      }
    >
      <DraftForm draft={draft}>
        <Fields>
          <TextAt path={['name']} />
          {what === 'refractometer' && (
            <OptionAt
              path={['is', 'shows']}
              label={t('trials.readings.shows')}
              options={[
                { value: 'strength', label: t('trials.readings.shows_strength') },
                { value: 'brix', label: t('trials.readings.shows_brix') },
              ]}
            />
          )}
          {FIELDS[what].map(([field, unit]) => (
            <NumberAt
              key={field}
              path={['is', field]}
              label={t(`trials.instruments.${field.replace(/_(g|pct|C)$/, '') as 'step'}`)}
              unit={unit}
              step={0.01}
            />
          ))}
        </Fields>
        {what === 'refractometer' && (
          <section className="instrument-pairs">
            <h4>{t('trials.instruments.pairs')}</h4>
            <p className="quiet-text">{t('trials.instruments.pairs_text')}</p>
            {pairs.map((pair, i) => (
              <Fields key={`${pairs.indexOf(pair)}`}>
                <NumberAt path={['is', 'pairs', i, 'brix']} label={t('trials.instruments.brix')} unit="°Bx" />
                <NumberAt
                  path={['is', 'pairs', i, 'strength_pct']}
                  label={t('trials.instruments.strength')}
                  unit="%"
                />
                <IconButton
                  icon="close"
                  label={t('trials.instruments.remove_pair', { number: i + 1 })}
                  onPress={() => setPairs(pairs.filter((_, k) => k !== i))}
                />
              </Fields>
            ))}
            <div className="buttons">
              <Button
                icon="add"
                onPress={() =>
                  setPairs([...pairs, { brix: 1.6, strength_pct: 1.36, strength_doubt_pct: 0.02 }])
                }
              >
                {t('trials.instruments.add_pair')}
              </Button>
            </div>
          </section>
        )}
        <TextAt path={['notes']} long />
      </DraftForm>
    </Panel>
  );
}
