import type { Problem } from '@pourline/core';
import { useState } from 'react';
import { type Clash, clashView, type FieldDifference, type Side, settleClash } from '../replica/index.ts';
import { Button, Dialog } from '../ui/index.ts';
import { formatMoment, problemSentence, t } from '../words/index.ts';
import { differenceLabel, valueText } from './clash-words.ts';

/** What the document is called in the version that was set aside. */
export function nameOf(clash: Clash): string {
  const body = clash.mine.body;
  const name = typeof body === 'object' && body !== null && 'name' in body ? body.name : undefined;
  return typeof name === 'string' ? name : t(`kind.${clash.kind}`);
}

/** Two versions side by side, field by field, and the ways to settle. Closing it settles nothing. */
export function ClashWindow({ clash, onClose }: { clash: Clash; onClose: () => void }) {
  const view = clashView(clash);
  const [sides, setSides] = useState<Readonly<Record<string, Side>>>({});
  const [problems, setProblems] = useState<readonly Problem[]>(clash.problems);
  const settle = async (body?: unknown): Promise<void> => {
    const checked = await settleClash(clash, body);
    if (checked && !checked.ok) setProblems(checked.problems);
    else onClose();
  };
  const sideOf = (difference: FieldDifference): Side =>
    sides[view.keyOf(difference)] ?? view.defaultOf(difference);
  const name = nameOf(clash);
  return (
    <Dialog
      open
      wide
      onClose={onClose}
      title={clash.reason === 'refused' ? t('clash.refused_title', { name }) : t('clash.title', { name })}
      actions={
        <>
          <Button onPress={() => void settle()}>{t('clash.keep_theirs')}</Button>
          <Button onPress={() => void settle(clash.mine.body)}>{t('clash.keep_mine')}</Button>
          {view.differences.length > 1 && (
            <Button look="primary" onPress={() => void settle(view.merge(sideOf))}>
              {t('clash.merge')}
            </Button>
          )}
        </>
      }
    >
      <p className="quiet-text">
        {view.differences.length === 0 ? t('clash.same') : `${t('clash.text')} ${t('clash.merge_hint')}`}
      </p>
      {problems.length > 0 && (
        <ul role="alert" className="problems">
          {problems.map((problem) => (
            <li key={`${problem.path.join('/')} ${problem.code}`}>{problemSentence(problem)}</li>
          ))}
        </ul>
      )}
      <table className="clash">
        <thead>
          <tr>
            <th scope="col">{t('clash.field')}</th>
            <th scope="col">{t('clash.mine_by', { when: formatMoment(clash.mine.at) })}</th>
            <th scope="col">
              {view.theirs
                ? t('clash.theirs_by', {
                    who: `${view.theirs.author} (${view.theirs.device})`,
                    when: formatMoment(view.theirs.at),
                  })
                : t('clash.theirs')}
            </th>
          </tr>
        </thead>
        <tbody>
          {view.differences.map((difference) => {
            const key = view.keyOf(difference);
            return (
              <FieldRow
                key={key}
                difference={difference}
                label={differenceLabel(difference.path, clash.mine.body, view.theirs?.body)}
                side={sideOf(difference)}
                onChoose={(side) => setSides({ ...sides, [key]: side })}
              />
            );
          })}
        </tbody>
      </table>
    </Dialog>
  );
}

interface FieldRowProps {
  difference: FieldDifference;
  label: string;
  side: Side;
  onChoose: (side: Side) => void;
}

function FieldRow({ difference, label, side, onChoose }: FieldRowProps) {
  const group = JSON.stringify(difference.path);
  return (
    <tr>
      <th scope="row">{label}</th>
      {(['mine', 'theirs'] as const).map((key) => (
        <td key={key}>
          <label className="clash-side">
            <input
              type="radio"
              name={group}
              checked={side === key}
              onChange={() => onChoose(key)}
              aria-label={`${label}: ${t(`clash.${key}`)}: ${valueText(difference[key], difference.path)}`}
            />
            <span>{valueText(difference[key], difference.path)}</span>
          </label>
        </td>
      ))}
    </tr>
  );
}
