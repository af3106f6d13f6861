import { checkStageJars, cuesOfRun, reachOrder, retentionOf } from '@pourline/core';
import { useMemo } from 'react';
import { createPortal } from 'react-dom';
import type { Draft } from '../../../replica/index.ts';
import { Button, CheckInput, Choice, Notice } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import type { Run } from '../room/use-run.ts';
import { JarsPanel } from './jars-panel.tsx';
import { JudgesPanel } from './judges-panel.tsx';
import { PAPERS, type Paper, SHEETS, type Sheet } from './paper.ts';
import type { SheetsOf } from './sheet-page.tsx';
import { Sheets } from './sheets.tsx';
import { TablePanel } from './table-panel.tsx';
import './print.css';

interface PrintPageProps {
  draft: Draft<'talk'>;
  run: Run;
}

type Wanted = { paper: Paper } & Record<Sheet, boolean>;

/** For a stage without devices: cards and sheets as they will be printed, and what only they need. */
export function PrintPage({ draft, run }: PrintPageProps) {
  const [wanted, want] = useKept<Wanted>('stage-print', {
    paper: 'a4',
    card: true,
    run: true,
    table: true,
    jars: true,
    judges: true,
  });
  const of = useSheets(run);
  const sheets = SHEETS.filter((sheet) => wanted[sheet]);
  const stale = run.plan.stale || run.placed.stale || draft.problems.length > 0;
  const pages = of && <Sheets of={of} sheets={sheets} paper={wanted.paper} />;
  return (
    <div className="stage-print">
      <div className="stage-print-tools">
        <Choice
          label={t('stage.print.paper')}
          value={wanted.paper}
          options={PAPERS.map((value) => ({ value, label: t(`stage.paper.${value}`) }))}
          onChange={(paper) => want({ paper })}
        />
        <div className="stage-checks">
          {SHEETS.map((sheet) => (
            <CheckInput
              key={sheet}
              label={t(`stage.sheet.${sheet}`)}
              value={wanted[sheet]}
              onChange={(on) => want({ [sheet]: on })}
            />
          ))}
        </div>
        <Button
          look="primary"
          icon="export"
          onPress={() => print()}
          isDisabled={!pages || sheets.length === 0 || stale}
        >
          {t('stage.print.print')}
        </Button>
      </div>
      {stale && of && <Notice>{t('stage.print.stale')}</Notice>}
      <div className="stage-print-pair">
        <div className="stage-column">
          <JudgesPanel draft={draft} run={run} />
          <JarsPanel draft={draft} of={of} />
          <TablePanel draft={draft} of={of} />
        </div>
        <section
          className="sheet-preview"
          aria-label={t('stage.print.preview')}
          data-stale={stale || undefined}
        >
          {pages ?? <p className="quiet-text">{t('common.loading')}</p>}
        </section>
      </div>
      {pages && createPortal(<div className="sheet-root">{pages}</div>, document.body)}
    </div>
  );
}

/** Everything that stands on paper, from the talk as it is on screen. */
function useSheets({ talk, plan, placed }: Run): SheetsOf | null {
  const planned = plan.output;
  const bundle = plan.input?.bundle;
  const said = placed.output;
  return useMemo(() => {
    if (!planned || !said || !bundle) return null;
    return {
      talk,
      plan: planned,
      placed: said,
      planName: bundle.plan.name,
      coffeeName: bundle.coffee.name,
      cues: cuesOfRun(talk, planned, said),
      jars: checkStageJars(talk, bundle.plan.dose_g, retentionOf(bundle)),
      reach: reachOrder(talk.table.things, planned.schedule.actions),
    };
  }, [talk, planned, said, bundle]);
}
