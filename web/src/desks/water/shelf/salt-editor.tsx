import {
  DENSITY_25,
  formMass,
  hydrateFactor,
  IONS,
  type IonField,
  ionsOf,
  ionWords,
  perGram,
  SALT_NAMES,
  SALTS,
  type SaltDocument,
  type SaltForm,
} from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { CheckAt, DateAt, Fields, NumberAt, NumberInput, problemAt, SelectInput } from '../../../ui/index.ts';
import { fieldLabel, formatNumber, t, tMaybe } from '../../../words/index.ts';
import { Part, ShelfForm } from '../../shelf/form.tsx';
import { plainText } from '../parts/figures.ts';
import { printed, printedForm } from '../parts/formula.ts';
import { termName } from '../parts/terms.ts';

/** Editor of a jar of salt: which form, what is left, what it costs, and what a gram of it brings. */
export function SaltEditor({ id }: { id: string }) {
  return (
    <ShelfForm kind="salt" id={id}>
      {(draft) => (
        <>
          <Part title={t('water.stock.form')}>
            <FormFields draft={draft} />
            <Facts of={draft.document} />
          </Part>
          <Part title={t('water.stock.stock')}>
            <Fields>
              <NumberAt path={['amount_g']} nullable step={10} placeholder={t('water.stock.unknown')} />
              <NumberAt path={['price_per_kg']} nullable />
              <DateAt path={['opened_on']} />
              <CheckAt path={['food_grade']} />
            </Fields>
          </Part>
          <Part title={t('water.stock.purity')}>
            <Fields>
              <NumberAt path={['assay_low_pct']} nullable placeholder={usual(draft.document, 0)} step={0.5} />
              <NumberAt
                path={['assay_high_pct']}
                nullable
                placeholder={usual(draft.document, 1)}
                step={0.5}
              />
            </Fields>
            <p className="field-hint">{t('water.stock.purity_hint')}</p>
          </Part>
        </>
      )}
    </ShelfForm>
  );
}

const usual = ({ salt }: SaltDocument, end: 0 | 1): string => String(SALTS[salt].assay_pct[end]);

const OTHER = 'other';

function FormFields({ draft }: { draft: Draft<'salt'> }) {
  const { body } = draft;
  const known: readonly number[] = SALTS[draft.document.salt].hydrates;
  const other = !known.includes(body.hydrate);
  return (
    <Fields>
      <SelectInput
        label={fieldLabel(['salt'])}
        value={body.salt}
        options={SALT_NAMES.map((name) => ({
          value: name,
          label: termName(name),
          detail: printed(SALTS[name].formula),
        }))}
        onChange={(value) => {
          const salt = SALT_NAMES.find((name) => name === value);
          // Another salt keeps its crystal water only where it is sold in that form.
          if (salt) {
            const forms: readonly number[] = SALTS[salt].hydrates;
            draft.change({ ...body, salt, hydrate: forms.includes(body.hydrate) ? body.hydrate : forms[0]! });
          }
        }}
      />
      <SelectInput
        label={t('water.stock.packet_says')}
        value={other ? OTHER : String(body.hydrate)}
        options={[
          ...known.map((hydrate) => ({
            value: String(hydrate),
            label: printedForm({ salt: draft.document.salt, hydrate }),
            detail: `${formatNumber(formMass({ salt: draft.document.salt, hydrate }), 1)} g/mol`,
          })),
          { value: OTHER, label: t('water.stock.other_form') },
        ]}
        onChange={(value) => draft.change({ ...body, hydrate: value === OTHER ? 3 : Number(value) })}
      />
      {other && (
        <NumberInput
          label={fieldLabel(['hydrate'])}
          unit="H₂O"
          step={0.5}
          value={body.hydrate}
          problem={problemAt(draft.problems, ['hydrate'])}
          onChange={(next) => draft.change({ ...body, hydrate: next as number })}
        />
      )}
    </Fields>
  );
}

/** What follows from the form: mass, ions of a gram, what it does in a jar, and how far another form would be off. */
function Facts({ of }: { of: SaltDocument }) {
  const form: SaltForm = { salt: of.salt, hydrate: of.hydrate };
  const salt = SALTS[of.salt];
  const ions = ionsOf(perGram(form));
  const perGramIons = (Object.keys(IONS) as IonField[]).filter((field) => ions[field] > 0);
  const others = salt.hydrates.filter(
    (hydrate) => Math.abs(hydrateFactor(form, { ...form, hydrate }) - 1) > 0.02,
  );
  return (
    <div className="facts">
      <p>
        {printedForm(form)} · {formatNumber(formMass(form), 2)} g/mol
        {salt.ins !== null && ` · INS ${salt.ins}`}
      </p>
      <p>
        {t('water.stock.gram_gives', {
          list: perGramIons
            .map(
              (field) =>
                `${tMaybe(`term.${ionWords(field)}`) ?? field} ${plainText((1000 * ions[field]) / DENSITY_25)}`,
            )
            .join(', '),
        })}
      </p>
      <p>{t(`water.keeps.${keepsKey(salt.keeps)}`)}</p>
      {others.map((hydrate) => (
        <p key={hydrate} className="fact-caution">
          {t('water.stock.trap', {
            packet: printedForm({ ...form, hydrate }),
            meant: printedForm(form),
            times: formatNumber(hydrateFactor(form, { ...form, hydrate }), 2),
          })}
        </p>
      ))}
      {salt.caustic && <p className="fact-caution">{t('water.stock.caustic')}</p>}
      {'needsCO2' in salt && salt.needsCO2 && <p className="fact-caution">{t('water.stock.needs_co2')}</p>}
      {!of.food_grade && <p className="fact-caution">{t('water.stock.not_food_grade')}</p>}
    </div>
  );
}

function keepsKey(keeps: (typeof SALTS)[keyof typeof SALTS]['keeps']) {
  switch (keeps) {
    case 'draws water':
      return 'draws_water';
    case 'dries out':
      return 'dries_out';
    case 'draws water and CO2':
      return 'draws_both';
    case 'loses CO2 in solution':
      return 'loses_co2';
    default:
      return 'stable';
  }
}
