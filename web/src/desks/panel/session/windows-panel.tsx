import type { Tasting } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { Button, Fields, IconButton, NumberAt, Panel, TextAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { freeId, usualWindows } from './methods.ts';

/** At which temperatures of the cup it is tasted, and how the cup cools. */
export function WindowsPanel({ draft }: { draft: Draft<'tasting'> }) {
  const { windows } = draft.document;
  const put = (next: Tasting['windows']): void => draft.change({ ...draft.document, windows: next });
  return (
    <Panel
      title={t('panel.design.windows')}
      aside={
        windows.length === 0 ? (
          <Button look="quiet" onPress={() => put(usualWindows())}>
            {t('panel.design.usual_windows')}
          </Button>
        ) : (
          windows.length < 6 && (
            <Button
              look="quiet"
              icon="add"
              onPress={() =>
                put([
                  ...windows,
                  { id: freeId('w', windows), name: t('panel.design.window'), from_C: 50, to_C: 45 },
                ])
              }
            >
              {t('panel.design.add_window')}
            </Button>
          )
        )
      }
    >
      {windows.length === 0 && <p className="quiet-text">{t('panel.design.no_windows')}</p>}
      {windows.map((window, i) => (
        <div key={window.id} className="window-row">
          <TextAt path={['windows', i, 'name']} label={t('panel.design.window')} />
          <NumberAt path={['windows', i, 'from_C']} label={t('panel.design.from_C')} unit="°C" />
          <NumberAt path={['windows', i, 'to_C']} label={t('panel.design.to_C')} unit="°C" />
          <IconButton
            icon="close"
            label={t('panel.design.remove_window', { name: window.name })}
            onPress={() => put(windows.filter((_, k) => k !== i))}
          />
        </div>
      ))}
      {windows.length > 0 && (
        <details className="panel-more">
          <summary>{t('panel.design.cooling')}</summary>
          <Fields>
            <NumberAt path={['cooling', 'poured_C']} label={t('panel.design.poured')} unit="°C" />
            <NumberAt path={['cooling', 'beverage_g']} label={t('panel.design.in_cup')} />
            <NumberAt path={['cooling', 'air_C']} />
            <NumberAt path={['cooling', 'cup', 'mass_g']} label={t('panel.design.cup_mass')} />
            <NumberAt path={['cooling', 'cup', 'inner_diameter_mm']} label={t('panel.design.cup_width')} />
            <NumberAt
              path={['cooling', 'cup_C']}
              label={t('panel.design.cup_warm')}
              unit="°C"
              nullable
              placeholder={t('panel.design.as_air')}
            />
          </Fields>
        </details>
      )}
    </Panel>
  );
}
