import {
  type Description,
  type DescriptionProposal,
  type TastedSource,
  valuesOfDescription,
} from '@pourline/core';
import { useMemo, useState } from 'react';
import { saveDocument, useDocuments } from '../../../replica/index.ts';
import { Button, Panel, SelectInput } from '../../../ui/index.ts';
import { formatNumber, listed, t } from '../../../words/index.ts';

interface IntoTalkProps {
  description: Description;
  proposal: DescriptionProposal;
  sources: readonly TastedSource[];
}

/** The panel's figures as values that a talk follows: `{panel:hot_citrus_found}`. */
export function IntoTalk({ description, proposal, sources }: IntoTalkProps) {
  const talks = useDocuments('talk');
  const [chosen, choose] = useState<string | null>(null);
  const [done, setDone] = useState<string | null>(null);
  const from =
    sources.length > 0 ? listed([...new Set(sources.map(({ tasting }) => tasting.name))]) : description.name;
  const values = useMemo(() => valuesOfDescription(proposal, from), [proposal, from]);
  const talk = talks.find(({ id }) => id === chosen) ?? talks[0];
  const put = async (): Promise<void> => {
    if (!talk) return;
    const names = new Set(values.map(({ name }) => name));
    const kept = talk.values.filter(({ name }) => !names.has(name));
    const own = values.map(({ name, value, unit, spread }) => ({
      id: `panel_${name}`.slice(0, 60),
      name,
      source: 'panel' as const,
      value,
      unit,
      spread,
      from: from.slice(0, 200),
      of_brew: null,
    }));
    await saveDocument({ ...talk, values: [...kept, ...own].slice(-100) });
    setDone(talk.name);
  };
  if (values.length === 0) return null;
  return (
    <Panel title={t('panel.talk.title')} fold="closed">
      <p className="quiet-text">{t('panel.talk.text')}</p>
      <table className="panel-table">
        <tbody>
          {values.map(({ name, value, unit }) => (
            <tr key={name}>
              <th scope="row">
                <code>{`{panel:${name}}`}</code>
              </th>
              <td>
                {formatNumber(value, Number.isInteger(value) ? 0 : 2)} {unit}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {talk ? (
        <div className="session-bar">
          <SelectInput
            label={t('panel.talk.which')}
            value={talk.id}
            options={talks.map(({ id, name }) => ({ value: id, label: name }))}
            onChange={choose}
          />
          <div className="buttons">
            <Button onPress={() => void put()}>{t('panel.talk.put')}</Button>
            {done !== null && <span role="status">{t('panel.talk.done', { name: done })}</span>}
          </div>
        </div>
      ) : (
        <p className="quiet-text">{t('panel.talk.none')}</p>
      )}
    </Panel>
  );
}
