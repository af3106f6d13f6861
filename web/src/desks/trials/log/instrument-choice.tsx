import type { Draft } from '../../../replica/index.ts';
import { useDocuments } from '../../../replica/index.ts';
import { hrefOf } from '../../../shell/route.ts';
import { SelectInput } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';

const FIELDS = ['balance_id', 'refractometer_id', 'thermometer_id'] as const;
const PLAIN = 'plain';

/** What it was measured with: how far each is trusted decides the spread. */
export function InstrumentChoice({ draft }: { draft: Draft<'trial'> }) {
  const instruments = useDocuments('instrument');
  return (
    <>
      {FIELDS.map((field) => {
        const what = field.replace('_id', '');
        return (
          <SelectInput
            key={field}
            label={t(`trials.field.${field}`)}
            value={draft.body[field] ?? PLAIN}
            options={[
              { value: PLAIN, label: t('trials.instrument.plain') },
              ...instruments
                .filter((one) => one.is.what === what)
                .map(({ id, name }) => ({ value: id, label: name })),
            ]}
            onChange={(id) => draft.change({ ...draft.body, [field]: id === PLAIN ? null : id })}
          />
        );
      })}
      <p className="quiet-text">
        <a href={hrefOf('trials', 'instruments')}>{t('trials.instrument.manage')}</a>
      </p>
    </>
  );
}
