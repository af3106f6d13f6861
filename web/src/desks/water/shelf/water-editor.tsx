import { checkLabel, compositionOf, waterFigures } from '@pourline/core';
import { useDraft } from '../../../replica/index.ts';
import { t } from '../../../words/index.ts';
import { WaterPanel } from '../../shelf/index.ts';
import { Outcome } from '../order/outcome.tsx';
import { IonChart } from '../parts/ion-chart.tsx';
import { RemarkList } from '../parts/remark-list.tsx';

/** Editor of a water by its ions, with what they say together: chart, figures, and what does not balance. */
export function WaterEditor({ id }: { id: string }) {
  const draft = useDraft('water', id);
  if (!draft) return <p className="quiet-text">{t('shelf.gone')}</p>;
  const water = draft.document;
  const checked = checkLabel({ name: water.name, ions: water });
  return (
    <>
      <IonChart name={water.name} ions={water} />
      <RemarkList remarks={checked.remarks} />
      <Outcome figures={waterFigures(compositionOf(water))} />
      <WaterPanel id={id} />
    </>
  );
}
