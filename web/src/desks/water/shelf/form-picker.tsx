import { formMass, hydrateFactor, SALT_NAMES, SALTS, type SaltForm, type SaltName } from '@pourline/core';
import { useState } from 'react';
import { Button, Dialog } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { printed, printedForm } from '../parts/formula.ts';
import { termName } from '../parts/terms.ts';

interface FormPickerProps {
  open: boolean;
  title: string;
  onClose: () => void;
  onChoose: (form: SaltForm) => void;
}

/** First which salt, then which form of it: the packet says how much water its crystals hold, and no form is taken for granted. */
export function FormPicker({ open, title, onClose, onChoose }: FormPickerProps) {
  return (
    <Dialog open={open} onClose={onClose} title={title}>
      {open && <Steps onChoose={onChoose} />}
    </Dialog>
  );
}

function Steps({ onChoose }: { onChoose: (form: SaltForm) => void }) {
  const [salt, setSalt] = useState<SaltName | null>(null);
  if (salt === null)
    return (
      <>
        <p className="quiet-text">{t('water.stock.which_salt')}</p>
        <ul className="form-list">
          {SALT_NAMES.map((name) => (
            <li key={name}>
              <button type="button" className="form-choice" onClick={() => setSalt(name)}>
                <span>{termName(name)}</span>
                <span className="quiet-text">{printed(SALTS[name].formula)}</span>
              </button>
            </li>
          ))}
        </ul>
      </>
    );
  return (
    <>
      <p>{t('water.stock.which_form', { salt: termName(salt) })}</p>
      <ul className="form-list">
        {SALTS[salt].hydrates.map((hydrate) => (
          <li key={hydrate}>
            <FormChoice form={{ salt, hydrate }} onChoose={onChoose} />
          </li>
        ))}
      </ul>
      <div className="buttons">
        <Button icon="left" look="quiet" onPress={() => setSalt(null)}>
          {t('water.stock.other_salt')}
        </Button>
      </div>
    </>
  );
}

function FormChoice({ form, onChoose }: { form: SaltForm; onChoose: (form: SaltForm) => void }) {
  const usual = { ...form, hydrate: SALTS[form.salt].hydrates[0]! };
  const times = hydrateFactor(usual, form);
  return (
    <button type="button" className="form-choice" onClick={() => onChoose(form)}>
      <span>{printedForm(form)}</span>
      <span className="quiet-text">
        {formatNumber(formMass(form), 2)} g/mol
        {Math.abs(times - 1) > 0.02 &&
          ` · ${t('water.stock.times', { times: formatNumber(times, 2), usual: printedForm(usual) })}`}
      </span>
    </button>
  );
}
