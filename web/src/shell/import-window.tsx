import { type ChangeEvent, useRef, useState } from 'react';
import {
  type ImportPlan,
  importArchive,
  planImport,
  type Reading,
  readArchive,
  useCampaign,
} from '../replica/index.ts';
import { Button, Choice, Dialog } from '../ui/index.ts';
import { problemSentence, t } from '../words/index.ts';

/** Sentences shown of a broken file; the rest is counted. */
const SHOWN = 12;

type Step =
  | { step: 'choose' }
  | { step: 'read'; file: string; reading: Reading }
  | { step: 'done'; count: number };

/** Reads a file, says what is in it or wrong with it, and asks before anything changes. */
export function ImportWindow({ open, onClose }: { open: boolean; onClose: () => void }) {
  const [step, setStep] = useState<Step>({ step: 'choose' });
  const close = (): void => {
    setStep({ step: 'choose' });
    onClose();
  };
  const pick = async (file: File): Promise<void> => {
    setStep({ step: 'read', file: file.name, reading: readArchive(await file.text()) });
  };
  return (
    <Dialog open={open} onClose={close} title={t('import.title')}>
      <p className="quiet-text">{t('import.text')}</p>
      <FilePicker onPick={(file) => void pick(file)} />
      {step.step === 'read' && (
        <Outcome
          file={step.file}
          reading={step.reading}
          onDone={(count) => setStep({ step: 'done', count })}
        />
      )}
      {step.step === 'done' && <p role="status">{t('import.done', { count: step.count })}</p>}
    </Dialog>
  );
}

function FilePicker({ onPick }: { onPick: (file: File) => void }) {
  const input = useRef<HTMLInputElement>(null);
  const change = (event: ChangeEvent<HTMLInputElement>): void => {
    const file = event.target.files?.[0];
    if (file) onPick(file);
    event.target.value = '';
  };
  return (
    <div>
      <input
        ref={input}
        type="file"
        accept=".json,application/json"
        className="visually-hidden"
        tabIndex={-1}
        aria-hidden="true"
        onChange={change}
      />
      <Button icon="import" onPress={() => input.current?.click()}>
        {t('import.choose')}
      </Button>
    </div>
  );
}

interface OutcomeProps {
  file: string;
  reading: Reading;
  onDone: (count: number) => void;
}

function Outcome({ file, reading, onDone }: OutcomeProps) {
  if (reading.read === 'not_json')
    return <p role="alert">{t('import.unreadable', { detail: reading.detail })}</p>;
  if (reading.read === 'problems')
    return (
      <div role="alert" className="problems">
        <p>{t('import.problems', { count: reading.problems.length, file })}</p>
        <ul>
          {reading.problems.slice(0, SHOWN).map((problem) => (
            <li key={`${problem.path.join('/')} ${problem.code}`}>{problemSentence(problem)}</li>
          ))}
        </ul>
        {reading.problems.length > SHOWN && (
          <p>{t('import.more_problems', { count: reading.problems.length - SHOWN })}</p>
        )}
      </div>
    );
  return <Decide file={file} plan={planImport(reading.archive)} onDone={onDone} />;
}

function Decide({ file, plan, onDone }: { file: string; plan: ImportPlan; onDone: (count: number) => void }) {
  const { select } = useCampaign();
  const [way, setWay] = useState<'copy' | 'revisions'>(plan.changed > 0 ? 'copy' : 'revisions');
  const count = plan.archive.documents.length;
  const bringIn = async (): Promise<void> => {
    const campaign = await importArchive(plan.archive, way);
    if (campaign) select(campaign);
    onDone(count);
  };
  return (
    <>
      <p role="status">
        {t('import.found', { file, count, fresh: plan.fresh, same: plan.same, changed: plan.changed })}
      </p>
      {plan.fresh < count && (
        <>
          <Choice
            label={t('import.title')}
            hideLabel
            value={way}
            onChange={setWay}
            options={[
              { value: 'copy', label: t('import.as_copy') },
              { value: 'revisions', label: t('import.as_revisions') },
            ]}
          />
          <p className="quiet-text">
            {way === 'copy'
              ? t('import.as_copy_hint')
              : t('import.as_revisions_hint', { changed: plan.changed })}
          </p>
        </>
      )}
      <div>
        <Button look="primary" onPress={() => void bringIn()}>
          {t('import.bring_in')}
        </Button>
      </div>
    </>
  );
}
