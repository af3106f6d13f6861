import { DateAt, Fields, NumberAt, TextAt, WordAt } from '../../ui/index.ts';
import { t } from '../../words/index.ts';
import { ShelfForm } from './form.tsx';

/** Editor of a coffee. */
export function CoffeePanel({ id }: { id: string }) {
  return (
    <ShelfForm kind="coffee" id={id}>
      {() => (
        <Fields>
          <TextAt path={['process']} />
          <WordAt path={['roast']} words="roast" choices={['light', 'medium', 'dark']} />
          <DateAt path={['roasted_on']} />
          <DateAt path={['frozen_on']} />
          <DateAt path={['thawed_on']} />
          <NumberAt path={['stock_g']} nullable />
          <NumberAt path={['moisture_pct']} step={0.1} />
          <NumberAt path={['extractable_pct']} nullable placeholder={t('shelf.engine_default')} />
          <NumberAt
            path={['co2_at_roast_mg_g']}
            step={0.1}
            nullable
            placeholder={t('shelf.engine_default')}
          />
        </Fields>
      )}
    </ShelfForm>
  );
}
