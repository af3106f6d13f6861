import { Fields, NumberAt } from '../../ui/index.ts';
import { t } from '../../words/index.ts';
import { ShelfForm } from './form.tsx';

/** Editor of a place where a brew is made. */
export function VenuePanel({ id }: { id: string }) {
  return (
    <ShelfForm kind="venue" id={id}>
      {() => (
        <Fields>
          <NumberAt path={['altitude_m']} step={10} />
          <NumberAt path={['pressure_hPa']} nullable placeholder={t('shelf.from_altitude')} />
          <NumberAt path={['air_C']} step={0.5} />
          <NumberAt path={['humidity_pct']} />
          <NumberAt path={['mains_V']} unit="V" nullable />
        </Fields>
      )}
    </ShelfForm>
  );
}
