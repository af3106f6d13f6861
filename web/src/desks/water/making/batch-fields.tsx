import type { Batch } from '@pourline/core';
import {
  Button,
  DateAt,
  Fields,
  NumberAt,
  NumberInput,
  problemAt,
  SelectInput,
  useForm,
} from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { gramsOf, litresOf } from './kernels.ts';

interface BatchFieldsProps {
  batches: readonly Batch[];
  chosen: Batch;
  choose: (id: string) => void;
  startNew: () => void;
}

/** How much is made, when, until when it keeps, and the batches before. */
export function BatchFields({ batches, chosen, choose, startNew }: BatchFieldsProps) {
  return (
    <div className="making-batch">
      <Fields>
        {batches.length > 1 && (
          <SelectInput
            label={t('making.batch')}
            value={chosen.id}
            options={batches.map((batch, i) => ({
              value: batch.id,
              label: batch.name,
              detail: t('making.batch_number', { number: batches.length - i }),
            }))}
            onChange={choose}
          />
        )}
        <Litres />
        <DateAt path={['made_on']} label={t('making.made_on')} />
        <DateAt path={['use_by']} label={t('making.use_by')} />
        <NumberAt path={['bottles']} label={t('making.bottles')} />
      </Fields>
      <div className="buttons">
        <Button icon="add" onPress={startNew}>
          {t('making.another')}
        </Button>
      </div>
    </div>
  );
}

/** The mass of the batch, asked for in litres. */
function Litres() {
  const { body, problems, set } = useForm();
  const grams = (body as Batch).batch_g as unknown;
  return (
    <NumberInput
      label={t('making.litres')}
      unit="L"
      step={0.5}
      value={typeof grams === 'number' ? litresOf(grams) : grams}
      onChange={(litres) => set(['batch_g'], typeof litres === 'number' ? gramsOf(litres) : (litres ?? ''))}
      hint={t('making.litres_hint')}
      problem={problemAt(problems, ['batch_g'])}
    />
  );
}
