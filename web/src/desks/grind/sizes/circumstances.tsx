import type { Draft } from '../../../replica/index.ts';
import { useDocuments } from '../../../replica/index.ts';
import { DateInput, Fields, NumberAt, problemAt, SelectInput, useForm } from '../../../ui/index.ts';
import { fieldLabel, t } from '../../../words/index.ts';
import { dayOf, onDay } from './moments.ts';

const NONE = 'none';

/** What was ground, on which grinder, at which setting, how warm and how worn. */
export function Circumstances({ draft }: { draft: Draft<'sizing'> }) {
  const { problems } = useForm();
  const { body } = draft;
  return (
    <Fields>
      <DocumentChoice draft={draft} kind="grinder" field="grinder_id" />
      <NumberAt path={['dial']} step={0.1} nullable hint={t('grind.sizing.dial_hint')} />
      <NumberAt path={['touch_dial']} step={0.1} nullable hint={t('grind.sizing.touch_hint')} />
      <DocumentChoice draft={draft} kind="coffee" field="coffee_id" />
      <DateInput
        label={fieldLabel(['measured_at'])}
        value={dayOf(body.measured_at)}
        problem={problemAt(problems, ['measured_at'])}
        onChange={(day) => draft.change({ ...body, measured_at: onDay(body.measured_at, day) })}
      />
      <NumberAt path={['beans_C']} step={1} nullable />
      <NumberAt path={['burrs_kg']} step={1} nullable />
    </Fields>
  );
}

interface ChoiceProps {
  draft: Draft<'sizing'>;
  kind: 'grinder' | 'coffee';
  field: 'grinder_id' | 'coffee_id';
}

function DocumentChoice({ draft, kind, field }: ChoiceProps) {
  const documents = useDocuments(kind);
  const { problems } = useForm();
  return (
    <SelectInput
      label={fieldLabel([field])}
      value={draft.body[field] ?? NONE}
      problem={problemAt(problems, [field])}
      options={[
        { value: NONE, label: t('grind.sizing.unsaid') },
        ...documents.map(({ id, name }) => ({ value: id, label: name })),
      ]}
      onChange={(id) => draft.change({ ...draft.body, [field]: id === NONE ? null : id })}
    />
  );
}
