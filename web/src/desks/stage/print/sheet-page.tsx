import type { Cue, PlannedRun, Reached, RunTalk, StageJars, Talk } from '@pourline/core';
import type { ReactNode } from 'react';
import { formatClock, t } from '../../../words/index.ts';

/** What the sheets are drawn from. */
export interface SheetsOf {
  talk: Talk;
  plan: PlannedRun;
  placed: RunTalk;
  planName: string;
  coffeeName: string;
  cues: readonly Cue[];
  jars: StageJars;
  reach: readonly Reached[];
}

interface PageProps {
  name: string;
  of: SheetsOf;
  title: string;
  /** Under the title. */
  note?: string;
  children: ReactNode;
}

/** A page with its head: what it is, of which run. */
export function SheetPage({ name, of, title, note, children }: PageProps) {
  return (
    <section className={`sheet-page sheet-of-${name}`}>
      <header className="sheet-head">
        <h2>{title}</h2>
        <p>
          {of.talk.name}
          {note && ` · ${note}`}
        </p>
      </header>
      {children}
    </section>
  );
}

/** A clock time on paper; tenths only where they count. */
export const paperClock = (seconds: number | null): string =>
  formatClock(seconds === null ? null : Math.round(seconds));

export const brewerName = (brewer: number | null): string =>
  brewer === null ? t('stage.sheet.all') : t('stage.brewer', { number: brewer });
