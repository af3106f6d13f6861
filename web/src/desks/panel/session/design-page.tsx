import { CAFFEINE_LIMITS, type Tasting } from '@pourline/core';
import { useMemo } from 'react';
import type { Draft } from '../../../replica/index.ts';
import { Choice, DraftForm, Fields, Notice, NumberAt, Panel, TextAt } from '../../../ui/index.ts';
import { formatClock, formatNumber, problemSentence, t } from '../../../words/index.ts';
import { FindingList } from '../parts/finding-list.tsx';
import { numbered } from '../parts/numbered.ts';
import { useBefore } from '../room/use-panel.ts';
import { MethodPanel } from './method-panel.tsx';
import { isSingleCup } from './methods.ts';
import { SamplesPanel } from './samples-panel.tsx';
import { WindowsPanel } from './windows-panel.tsx';

/** Setting a session out: what is asked, of which cups, at which temperatures, by how many; and what that can show. */
export function DesignPage({ draft }: { draft: Draft<'tasting'> }) {
  const { document } = draft;
  return (
    <DraftForm draft={draft}>
      {document.run !== null && <Notice>{t('panel.design.was_run')}</Notice>}
      <div className="panel-two panel-two-even">
        <div className="panel-column">
          <Panel title={t('panel.design.basics')}>
            <TextAt path={['name']} />
            <MethodPanel draft={draft} />
          </Panel>
          <SamplesPanel draft={draft} />
          <WindowsPanel draft={draft} />
        </div>
        <div className="panel-column">
          <Before tasting={document} />
          <TastersPanel draft={draft} />
          <Panel title={t('panel.design.texts')} fold="closed">
            <TextAt path={['title']} label={t('panel.design.title')} hint={t('panel.design.title_hint')} />
            <TextAt path={['instructions']} label={t('panel.design.instructions')} long />
            <Fields>
              <NumberAt path={['sip_mL']} label={t('panel.design.sip')} />
            </Fields>
            <TellChoice draft={draft} />
          </Panel>
        </div>
      </div>
    </DraftForm>
  );
}

/** What this session can and cannot show, and when its windows open. */
function Before({ tasting }: { tasting: Tasting }) {
  const design = useMemo(() => {
    const { run: _, ...rest } = tasting;
    return rest;
  }, [tasting]);
  const { output, stale } = useBefore(design);
  return (
    <Panel title={t('panel.design.before')}>
      {output && (
        <div className="panel-column" data-stale={stale || undefined}>
          {output.problems.length > 0 && (
            <ul className="panel-problems">
              {numbered(output.problems).map(({ at, of }) => (
                <li key={at}>{problemSentence(of)}</li>
              ))}
            </ul>
          )}
          <FindingList findings={output.findings} live />
          <p className="quiet-text">
            {t('panel.design.caffeine', {
              mg: formatNumber(output.caffeine_mg),
              sips: output.sips,
              limit: CAFFEINE_LIMITS.occasion_mg,
            })}
          </p>
          {output.windows.length > 0 && (
            <table className="panel-table">
              <caption className="quiet-text">{t('panel.design.windows_predicted')}</caption>
              <thead>
                <tr>
                  <th scope="col">{t('panel.design.window')}</th>
                  <th scope="col">{t('panel.design.opens')}</th>
                  <th scope="col">{t('panel.design.closes')}</th>
                </tr>
              </thead>
              <tbody>
                {output.windows.map(({ window_id, opens_at, closes_at }) => (
                  <tr key={window_id}>
                    <th scope="row">{tasting.windows.find((w) => w.id === window_id)?.name ?? window_id}</th>
                    <td>{opens_at === null ? t('panel.design.never') : minutes(opens_at)}</td>
                    <td>{closes_at === null ? t('panel.design.later') : minutes(closes_at)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
        </div>
      )}
    </Panel>
  );
}

const minutes = (ms: number): string => t('panel.design.after', { clock: formatClock(ms / 1_000) });

function TastersPanel({ draft }: { draft: Draft<'tasting'> }) {
  const { method, samples, hidden_repeats } = draft.document;
  const single = isSingleCup(method.test);
  return (
    <Panel title={t('panel.design.tasters')}>
      <Fields>
        <NumberAt path={['seats']} label={t('panel.design.seats')} />
        <NumberAt path={['spare_seats']} label={t('panel.design.spare_seats')} />
        <NumberAt path={['repeats']} label={t('panel.design.repeats')} />
        {(single || method.test === 'ranking') && (
          <NumberAt
            path={['cups_each']}
            label={t('panel.design.cups_each')}
            nullable
            placeholder={t('panel.design.all_cups')}
          />
        )}
        <NumberAt path={['alpha']} label={t('panel.power.alpha')} step={0.01} />
        <NumberAt path={['wanted_d_prime']} label={t('panel.design.wanted')} step={0.1} />
      </Fields>
      {single && samples.length > 0 && (
        <fieldset className="line-set">
          <legend>{t('panel.design.hidden')}</legend>
          <div className="checks">
            {samples.map(({ id, name }) => (
              <label key={id} className="check">
                <input
                  type="checkbox"
                  checked={hidden_repeats.includes(id)}
                  onChange={(event) =>
                    draft.change({
                      ...draft.document,
                      hidden_repeats: event.target.checked
                        ? [...hidden_repeats, id]
                        : hidden_repeats.filter((h) => h !== id),
                    })
                  }
                />
                <span className="check-box">
                  <svg className="icon" viewBox="0 0 20 20" aria-hidden="true">
                    <path d="M4 10.5l4 4 8-9" />
                  </svg>
                </span>
                <span>{name}</span>
              </label>
            ))}
          </div>
        </fieldset>
      )}
      <Fields>
        <NumberAt path={['rest', 'rinse_s']} label={t('panel.design.rinse')} step={5} />
        <NumberAt path={['rest', 'break_s']} label={t('panel.design.break')} step={30} />
        <NumberAt path={['rest', 'cups_per_break']} label={t('panel.design.cups_per_break')} />
      </Fields>
    </Panel>
  );
}

function TellChoice({ draft }: { draft: Draft<'tasting'> }) {
  return (
    <Choice
      label={t('panel.design.tell')}
      value={draft.document.tell_tasters ? 'yes' : 'no'}
      options={[
        { value: 'yes', label: t('panel.design.tell_yes') },
        { value: 'no', label: t('panel.design.tell_no') },
      ]}
      onChange={(tell) => draft.change({ ...draft.body, tell_tasters: tell === 'yes' })}
    />
  );
}
