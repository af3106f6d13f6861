import {
  type ConcentrateDocument,
  checkConcentrate,
  concentrateFrom,
  DENSITY_25,
  KEEPS_DAYS,
  quantityOf,
  recipeOf,
  SALT_NAMES,
  SALTS,
  type SaltForm,
} from '@pourline/core';
import { useState } from 'react';
import type { Draft } from '../../../replica/index.ts';
import { Button, DateAt, Fields, IconButton, NumberAt, OptionAt, SelectInput } from '../../../ui/index.ts';
import { fieldLabel, formatNumber, t } from '../../../words/index.ts';
import { Part, ShelfForm } from '../../shelf/form.tsx';
import { dayAfter, daysAfter } from '../making/kernels.ts';
import { plainText } from '../parts/figures.ts';
import { printedForm } from '../parts/formula.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import { termName } from '../parts/terms.ts';
import { FormPicker } from './form-picker.tsx';

const GIVEN_BY = ['balance', 'syringe', 'drops'] as const;
/** Most salts that one bottle may hold; the schema's own limit. */
const MOST_PARTS = 8;

/** Editor of a bottle of concentrate: what was weighed into it, what a dose of it brings, and whether it stays clear. */
export function ConcentrateEditor({ id }: { id: string }) {
  return (
    <ShelfForm kind="concentrate" id={id}>
      {(draft) => (
        <>
          <Parts draft={draft} />
          <Part title={t('water.stock.bottle')}>
            <Fields>
              <NumberAt path={['water_g']} step={10} />
              <OptionAt
                path={['given_by']}
                options={GIVEN_BY.map((value) => ({ value, label: t(`water.given_by.${value}`) }))}
              />
              <DateAt path={['made_on']} />
              <NumberAt path={['left_g']} nullable step={10} placeholder={t('water.stock.unknown')} />
            </Fields>
          </Part>
          <Part title={t('water.stock.what_it_is')}>
            <Keeps madeOn={draft.document.made_on} />
            <Strength of={draft.document} />
            <RemarkList remarks={checkConcentrate(recipeOf(draft.document))} />
          </Part>
        </>
      )}
    </ShelfForm>
  );
}

function Parts({ draft }: { draft: Draft<'concentrate'> }) {
  const [picking, setPicking] = useState(false);
  const { body } = draft;
  const set = (parts: ConcentrateDocument['parts']): void => draft.change({ ...body, parts });
  const add = (form: SaltForm): void => {
    setPicking(false);
    set([...body.parts, { ...form, salt_g: 10 }]);
  };
  return (
    <Part
      title={fieldLabel(['parts'])}
      aside={
        <Button
          look="quiet"
          icon="add"
          onPress={() => setPicking(true)}
          isDisabled={body.parts.length >= MOST_PARTS}
        >
          {t('water.stock.add_part')}
        </Button>
      }
    >
      {body.parts.map((part, i) => (
        <div key={keyOf(body.parts, i)} className="shelf-entry">
          <Fields>
            <SelectInput
              label={fieldLabel(['salt'])}
              value={`${part.salt} ${part.hydrate}`}
              options={formsWith(part).map((form) => ({
                value: `${form.salt} ${form.hydrate}`,
                label: printedForm(form),
                detail: termName(form.salt),
              }))}
              onChange={(key) => {
                const form = formsWith(part).find(({ salt, hydrate }) => `${salt} ${hydrate}` === key);
                if (form) set(body.parts.map((entry, j) => (j === i ? { ...entry, ...form } : entry)));
              }}
            />
            <NumberAt path={['parts', i, 'salt_g']} step={0.1} />
          </Fields>
          {body.parts.length > 1 && (
            <IconButton
              icon="remove"
              label={`${t('common.remove')}: ${printedForm(part)}`}
              onPress={() => set(body.parts.filter((_, j) => j !== i))}
            />
          )}
        </div>
      ))}
      <FormPicker
        open={picking}
        title={t('water.stock.add_part')}
        onClose={() => setPicking(false)}
        onChoose={add}
      />
    </Part>
  );
}

/** A part by its form, and by its turn where one form is there twice. */
function keyOf(parts: ConcentrateDocument['parts'], at: number): string {
  const same = (part: SaltForm): string => `${part.salt} ${part.hydrate}`;
  const mine = same(parts[at]!);
  const turn = parts.slice(0, at).filter((part) => same(part) === mine).length;
  return `${mine} ${turn}`;
}

/** Every form that is sold, and the one that is there already if it is not among them. */
function formsWith(own: SaltForm): SaltForm[] {
  const forms = SALT_NAMES.flatMap((salt) => SALTS[salt].hydrates.map((hydrate) => ({ salt, hydrate })));
  const there = forms.some(({ salt, hydrate }) => salt === own.salt && hydrate === own.hydrate);
  return there ? forms : [...forms, { salt: own.salt, hydrate: own.hydrate }];
}

/** Until when it keeps, once it is known when it was made; said plainly when that day has passed. */
function Keeps({ madeOn }: { madeOn: string | null }) {
  if (madeOn === null)
    return <p className="fact-caution">{t('water.stock.not_dated', { days: KEEPS_DAYS })}</p>;
  const until = daysAfter(madeOn, KEEPS_DAYS);
  const over = until < dayAfter(new Date(), 0);
  return over ? (
    <p className="fact-caution">{t('water.stock.over_age', { day: until })}</p>
  ) : (
    <p>{t('water.stock.keeps_until', { day: until })}</p>
  );
}

/** What a millilitre of it does to a litre of water. */
function Strength({ of }: { of: ConcentrateDocument }) {
  const bottle = concentrateFrom(recipeOf(of), { id: of.id, given_by: of.given_by, uncertainty_pct: 0 });
  // A millilitre weighs its density in grams; quantities of a composition are per litre of water at 25 °C.
  const perMl = bottle.density / DENSITY_25;
  const hardness = perMl * quantityOf('hardness', bottle.per_kg);
  const alkalinity = perMl * quantityOf('alkalinity', bottle.per_kg);
  return (
    <p>
      {t('water.stock.strength', {
        hardness: plainText(hardness),
        alkalinity: plainText(alkalinity),
        density: formatNumber(bottle.density, 3),
        grams: formatNumber(bottle.amount_g, 1),
      })}
    </p>
  );
}
