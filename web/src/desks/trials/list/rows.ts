import type { Lookup, Trial } from '@pourline/core';
import { useMemo, useRef } from 'react';
import { useDocuments, useLookup } from '../../../replica/index.ts';
import { formatMoment } from '../../../words/index.ts';
import { figuresOf, instrumentOf } from '../parts/balance.ts';

/** One trial as the list shows, finds and sorts it. */
export interface TrialRow {
  readonly id: string;
  readonly trial: Trial;
  readonly name: string;
  /** Moment of brewing [ms since 1970], and its calendar day here. */
  readonly at: number;
  readonly day: string;
  readonly when: string;
  readonly plan_id: string;
  readonly coffee_id: string;
  readonly setup_id: string;
  readonly plan: string;
  readonly coffee: string;
  readonly setup: string;
  readonly dose_g: number;
  readonly water_g: number | null;
  readonly beverage_g: number | null;
  readonly strength_pct: number | null;
  readonly yield_pct: number | null;
  readonly drawdown_s: number | null;
  readonly cups: number;
  readonly traces: number;
  readonly photographs: number;
  /** Everything that can be searched, in small letters. */
  readonly text: string;
}

/** Rows with everything beside the trial that went into them. */
const kept = new WeakMap<Trial, { from: readonly unknown[]; row: TrialRow }>();

const two = (value: number): string => String(value).padStart(2, '0');

/** The calendar day of a moment where the person is. */
export function dayOf(at: Date): string {
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

/** The row of a trial; the same object as long as nothing in it changed. */
export function rowOf(trial: Trial, lookup: Lookup, cups: ReadonlyMap<string, number>): TrialRow {
  const plan = lookup(trial.plan_id);
  const now = plan?.kind === 'plan' ? plan : null;
  const of = trial.plan_then ?? now;
  const coffee_id = trial.coffee_id ?? of?.coffee_id ?? '';
  const coffee = lookup(coffee_id);
  const setup = of ? lookup(of.setup_id) : undefined;
  const refractometer = instrumentOf(trial.refractometer_id, lookup);
  const beside = trial.event ? (cups.get(trial.event.id) ?? 1) : 1;
  const from = [plan, coffee, setup, refractometer, beside];
  const known = kept.get(trial);
  if (known?.from.every((part, i) => part === from[i])) return known.row;
  const at = new Date(trial.brewed_at);
  const figures = figuresOf(trial, of, lookup);
  const names = { plan: now?.name ?? of?.name ?? '', coffee: coffee?.name ?? '', setup: setup?.name ?? '' };
  const row: TrialRow = {
    id: trial.id,
    trial,
    name: trial.name,
    at: at.getTime(),
    day: dayOf(at),
    when: formatMoment(trial.brewed_at),
    plan_id: trial.plan_id,
    coffee_id,
    setup_id: of?.setup_id ?? '',
    ...names,
    ...figures,
    cups: beside,
    text: [trial.name, names.plan, names.coffee, names.setup, trial.notes].join('\n').toLowerCase(),
  };
  kept.set(trial, { from, row });
  return row;
}

/** Rows of all trials of the campaign; the same array as long as no row changed. */
export function useTrialRows(): readonly TrialRow[] {
  const trials = useDocuments('trial');
  const lookup = useLookup();
  const last = useRef<readonly TrialRow[]>([]);
  return useMemo(() => {
    const cups = new Map<string, number>();
    for (const { event } of trials) if (event) cups.set(event.id, (cups.get(event.id) ?? 0) + 1);
    const rows = trials.map((trial) => rowOf(trial, lookup, cups));
    const same = rows.length === last.current.length && rows.every((row, i) => row === last.current[i]);
    if (!same) last.current = rows;
    return last.current;
  }, [trials, lookup]);
}
