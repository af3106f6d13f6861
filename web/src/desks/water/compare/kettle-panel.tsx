import { Choice, Fields, NumberInput, Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { KETTLE_LIMITS, type KettleFields, type KettleFigure, kettleFigure } from './heating.ts';

interface KettlePanelProps {
  of: KettleFields;
  onChange: (change: Partial<KettleFields>) => void;
}

const UNITS: Readonly<Record<KettleFigure, string>> = {
  to_C: '°C',
  share_pct: '%',
  measured: 'mg/L CaCO₃',
  steam_pct: '%',
  kettle_g: 'g',
  sample_C: '°C',
};

/** What is done with the water: how hot, how open, how far scale goes, and at what temperature it is measured. */
export function KettlePanel({ of, onChange }: KettlePanelProps) {
  const figure = (field: KettleFigure, step = 1) => {
    const [low, high] = KETTLE_LIMITS[field];
    const unit = UNITS[field];
    return (
      <NumberInput
        label={t(`water.kettle.${field}`)}
        unit={unit}
        step={step}
        value={of[field]}
        problem={
          kettleFigure(of, field) === null
            ? t('water.kettle.outside', {
                field: t(`water.kettle.${field}`),
                value: String(of[field] ?? ''),
                low,
                high,
                unit,
              })
            : undefined
        }
        onChange={(next) => onChange({ [field]: next })}
      />
    );
  };
  const measured = of.scale_by === 'measured';
  return (
    <Panel title={t('water.kettle.title')}>
      <Fields>
        {figure('sample_C')}
        {figure('to_C')}
        {figure('kettle_g', 50)}
        {figure('steam_pct')}
        {measured ? figure('measured') : figure('share_pct', 5)}
      </Fields>
      <div className="kettle-choices">
        <Choice
          label={t('water.kettle.co2')}
          value={of.co2 === 'kept' ? 'kept' : 'lost'}
          options={[
            { value: 'lost', label: t('water.kettle.co2_lost') },
            { value: 'kept', label: t('water.kettle.co2_kept') },
          ]}
          onChange={(co2) => onChange({ co2 })}
        />
        <Choice
          label={t('water.kettle.scale_by')}
          value={measured ? 'measured' : 'share'}
          options={[
            { value: 'share', label: t('water.kettle.by_share') },
            { value: 'measured', label: t('water.kettle.by_measured') },
          ]}
          onChange={(scale_by) => onChange({ scale_by })}
        />
      </div>
      <p className="quiet-text">{t('water.kettle.text')}</p>
    </Panel>
  );
}
