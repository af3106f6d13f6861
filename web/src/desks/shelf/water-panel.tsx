import { Fields, NumberAt } from '../../ui/index.ts';
import { t } from '../../words/index.ts';
import { Part, ShelfForm } from './form.tsx';

const CATIONS = ['calcium_mg_L', 'magnesium_mg_L', 'sodium_mg_L', 'potassium_mg_L'] as const;
const ANIONS = ['bicarbonate_mg_L', 'chloride_mg_L', 'sulfate_mg_L', 'nitrate_mg_L'] as const;

/** Editor of a brewing water by its ions. */
export function WaterPanel({ id }: { id: string }) {
  return (
    <ShelfForm kind="water" id={id}>
      {() => (
        <>
          <Part title={t('shelf.cations')}>
            <Fields>
              {CATIONS.map((field) => (
                <NumberAt key={field} path={[field]} />
              ))}
            </Fields>
          </Part>
          <Part title={t('shelf.anions')}>
            <Fields>
              {ANIONS.map((field) => (
                <NumberAt key={field} path={[field]} />
              ))}
            </Fields>
          </Part>
        </>
      )}
    </ShelfForm>
  );
}
