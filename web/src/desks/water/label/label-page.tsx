import {
  checkLabel,
  ION_UNITS,
  ionSum,
  type LabelProposal,
  readPlainWater,
  waterFigures,
} from '@pourline/core';
import { useState } from 'react';
import { createDocument } from '../../../replica/index.ts';
import { go } from '../../../shell/route.ts';
import { Button, Fields, Notice, NumberInput, Panel, problemAt, TextInput } from '../../../ui/index.ts';
import { formatNumber, problemSentence, t } from '../../../words/index.ts';
import { Outcome } from '../order/outcome.tsx';
import { plainText } from '../parts/figures.ts';
import { UNIT_TEXT, UNITS } from '../parts/hardness-unit.tsx';
import { IonChart } from '../parts/ion-chart.tsx';
import { ANIONS, CATIONS } from '../parts/ion-layout.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import { SteadySelect } from '../parts/steady-select.tsx';
import { useKept } from '../parts/use-kept.ts';
import { EMPTY_LABEL, ionUnitOf, type LabelFields, plainOf, readable, takeProposal } from './label-fields.ts';
import { UnitsPanel } from './units-panel.tsx';

const UNIT_OPTIONS = UNITS.map((value) => ({ value, label: UNIT_TEXT[value] }));

/** A bottle's label or a tap's analysis, held against itself; and the units that make people stumble. */
export function LabelPage({ campaignId }: { campaignId: string }) {
  const [fields, keep] = useKept('label', EMPTY_LABEL);
  const plain = plainOf(fields);
  const read = readPlainWater(plain);
  const problems = read.ok ? [] : read.problems;
  const rest = read.ok ? read : readPlainWater(readable(plain, problems));
  const checked = rest.ok ? checkLabel(rest.value) : null;
  const figure = (
    field: 'pH' | 'hardness' | 'alkalinity' | 'residue' | 'conductivity',
    path: string,
    unit?: string,
  ) => (
    <NumberInput
      label={t(`field.${field}`)}
      value={fields[field]}
      {...(unit === undefined ? {} : { unit })}
      placeholder={t('water.label.not_printed')}
      problem={problemAt(problems, [path])}
      onChange={(next) => keep({ [field]: next })}
    />
  );
  const ion = (field: (typeof CATIONS)[number] | (typeof ANIONS)[number]) => (
    <NumberInput
      key={field}
      label={t(`field.${field}`)}
      unit={t(`water.ion_unit.${ionUnitOf(fields.ion_unit)}`)}
      value={fields.ions[field] ?? null}
      placeholder={t('water.label.not_printed')}
      problem={problemAt(problems, [field])}
      onChange={(next) => keep({ ions: { ...fields.ions, [field]: next } })}
    />
  );
  return (
    <div className="label-page">
      <div className="label-typed">
        <Panel
          title={t('water.label.title')}
          aside={
            <Button look="quiet" onPress={() => keep(EMPTY_LABEL)}>
              {t('water.label.clear')}
            </Button>
          }
        >
          <p className="quiet-text">{t('water.label.text')}</p>
          <Fields>
            <TextInput
              label={t('field.name')}
              value={fields.name}
              problem={problemAt(problems, ['name'])}
              onChange={(name) => keep({ name })}
            />
            <SteadySelect
              label={t('water.label.ion_unit')}
              value={fields.ion_unit}
              options={ION_UNITS.map((value) => ({ value, label: t(`water.ion_unit.${value}`) }))}
              onChange={(ion_unit) => keep({ ion_unit })}
            />
          </Fields>
          <h4>{t('shelf.cations')}</h4>
          <Fields>{CATIONS.map(ion)}</Fields>
          <h4>{t('shelf.anions')}</h4>
          <Fields>{ANIONS.map(ion)}</Fields>
          <h4>{t('water.label.other')}</h4>
          <Fields>
            {figure('hardness', 'hardness_mg_L_CaCO3')}
            <SteadySelect
              label={t('water.label.hardness_unit')}
              value={fields.hardness_unit}
              options={UNIT_OPTIONS}
              onChange={(hardness_unit) => keep({ hardness_unit })}
            />
            {figure('alkalinity', 'alkalinity_mg_L_CaCO3')}
            <SteadySelect
              label={t('water.label.alkalinity_unit')}
              value={fields.alkalinity_unit}
              options={UNIT_OPTIONS}
              onChange={(alkalinity_unit) => keep({ alkalinity_unit })}
            />
            {figure('residue', 'residue_mg_per_L', 'mg/L')}
            {figure('conductivity', 'conductivity_uS_cm', 'µS/cm')}
            {figure('pH', 'pH')}
          </Fields>
        </Panel>
      </div>
      <div className="label-read">
        {!read.ok && <Notice tone="alert">{t('water.label.not_read')}</Notice>}
        {checked && ionSum(checked.ions) > 0 ? (
          <Reading fields={fields} checked={checked} whole={read.ok} keep={keep} campaignId={campaignId} />
        ) : (
          <p className="quiet-text water-empty">{t('water.label.nothing')}</p>
        )}
        <UnitsPanel />
      </div>
    </div>
  );
}

interface ReadingProps {
  fields: LabelFields;
  checked: ReturnType<typeof checkLabel>;
  /** Every figure could be read. */
  whole: boolean;
  keep: (change: Partial<LabelFields>) => void;
  campaignId: string;
}

/** What the label says when it is held against itself, and what may be wrong with it. */
function Reading({ fields, checked, whole, keep, campaignId }: ReadingProps) {
  const [problem, setProblem] = useState<string>();
  const { ions, composition, imbalance_pct, proposals, remarks } = checked;
  const name = fields.name.trim() || t('shelf.new.water');
  const save = async (): Promise<void> => {
    const made = await createDocument('water', { name, ...ions }, campaignId);
    if (made.ok) go('water', 'shelf', 'water', made.value.id);
    else setProblem(made.problems.map(problemSentence).join(' '));
  };
  const words = ({ by, fields: of, ions: as }: LabelProposal): string =>
    by === 'missing'
      ? t('water.label.add_ion', {
          ion: t(`field.${of[0]!}`),
          amount: plainText(as[of[0]!], 3),
        })
      : t('water.label.read_as', { ions: of.map((field) => t(`field.${field}`)).join(', ') });
  return (
    <Panel title={t('water.label.reading')}>
      <IonChart name={name} ions={ions} />
      <p>{t('water.label.imbalance', { percent: formatNumber(imbalance_pct, 1) })}</p>
      <RemarkList remarks={remarks} />
      {proposals.length > 0 && (
        <>
          <p>{t('water.label.proposals')}</p>
          <div className="buttons">
            {proposals.map((proposal) => (
              <Button
                key={`${proposal.by} ${proposal.fields.join(' ')}`}
                onPress={() => keep(takeProposal(fields, proposal.fields, proposal.ions))}
              >
                {words(proposal)}
              </Button>
            ))}
          </div>
        </>
      )}
      <Outcome figures={waterFigures(composition)} />
      <div className="buttons">
        <Button look="primary" onPress={() => void save()} isDisabled={!whole}>
          {t('water.label.save')}
        </Button>
      </div>
      {problem && <Notice tone="alert">{problem}</Notice>}
    </Panel>
  );
}
