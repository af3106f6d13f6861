import { DateAt, Fields } from '../../ui/index.ts';
import { ShelfForm } from './form.tsx';

/** Editor of the campaign itself. */
export function CampaignPanel({ id }: { id: string }) {
  return (
    <ShelfForm kind="campaign" id={id}>
      {() => (
        <Fields>
          <DateAt path={['contest_date']} />
        </Fields>
      )}
    </ShelfForm>
  );
}
