import {
  type AnyDocument,
  balanceOfTrial,
  compileLinePattern,
  coursesOf,
  feedLines,
  findDrawdown,
  findPours,
  flushLines,
  type Instrument,
  likedCups,
  lookAtTrace,
  type MassEvent,
  matchPours,
  type Plan,
  planAsPoured,
  pouredOf,
  preferredRegion,
  type Recording,
  readPlainBalance,
  readTrace,
  startLines,
  type TraceMapping,
  type Trial,
} from '@pourline/core';
import { pick, readArchive } from '../archive.ts';
import { EXIT, Stop } from '../exit.ts';
import { readJson, readText, stopWithProblems, toJson } from '../io.ts';

const write = (value: unknown): void => {
  process.stdout.write(toJson(value));
};
const to = (x: number, decimals = 2): number => Math.round(x * 10 ** decimals) / 10 ** decimals;

export interface TraceOptions {
  mapping?: string;
  look?: boolean;
  campaign?: string;
  plan?: string;
}

/** A recording in; what it is, its pours, its drawdown, and the plan as it was poured out. */
export function runTrace(file: string, options: TraceOptions): void {
  const text = readText(file);
  const look = lookAtTrace(text);
  const mapping = options.mapping === undefined ? look.mapping : (readJson(options.mapping) as TraceMapping);
  const blocked = look.remarks.filter(({ level }) => level === 'problem');
  if (options.look || (blocked.length > 0 && options.mapping === undefined)) {
    write(look);
    if (blocked.length > 0) throw new Stop(EXIT.problems, ...blocked.map((r) => r.sentence));
    return;
  }
  const recording = readTrace(text, mapping);
  const mass = recording.channels.find(({ use }) => use === 'poured');
  const found = mass ? findPours(recording.time_s, mass.value) : null;
  const beverage = recording.channels.find(({ use }) => use === 'beverage');
  const last = found?.pours.at(-1)?.end_s ?? null;
  write({
    mapping,
    columns: look.columns,
    recording: summary(recording),
    pours: found?.pours.map(({ shape, ...pour }) => ({
      start_s: to(pour.start_s),
      end_s: to(pour.end_s),
      water_g: to(pour.water_g),
      water_doubt_g: to(pour.water_doubt_g),
      disturbed: pour.disturbed,
      mean_g_s: to(shape.mean_g_s),
      peak_g_s: to(shape.peak_g_s),
      front_share: to(shape.front_share, 3),
      unsteadiness: to(shape.unsteadiness, 3),
      breaks: shape.breaks,
    })),
    total_g: found ? to(found.total_g) : null,
    half_in: found && found.pours.length > 0 ? to(found.half_in, 3) : null,
    events: found?.clean.events.map(eventShown),
    drawdown: beverage ? findDrawdown(recording.time_s, beverage.value, last) : null,
    remarks: [...look.remarks, ...recording.remarks, ...(found?.remarks ?? [])],
    ...asPoured(recording, found, options),
  });
  const problems = recording.remarks.filter(({ level }) => level === 'problem');
  if (problems.length > 0) throw new Stop(EXIT.problems, ...problems.map((r) => r.sentence));
}

const eventShown = ({ what, start_s, end_s, jump_g }: MassEvent) => ({
  what,
  start_s: to(start_s),
  end_s: to(end_s),
  jump_g: to(jump_g),
});

const summary = ({ time_s, channels, began, rows }: Recording) => ({
  rows,
  began,
  length_s: to(time_s.at(-1) ?? 0),
  channels: channels.map(({ use, place, name, value }) => {
    const good = value.filter((v) => !Number.isNaN(v));
    return {
      use,
      place,
      name,
      from: good.length > 0 ? to(good.reduce((a, b) => Math.min(a, b))) : null,
      to: good.length > 0 ? to(good.reduce((a, b) => Math.max(a, b))) : null,
    };
  }),
});

/** With an archive: the pours as those of a plan, and what a trial would keep of them. */
function asPoured(recording: Recording, found: ReturnType<typeof findPours> | null, options: TraceOptions) {
  if (options.campaign === undefined || !found) return {};
  const plans = readArchive(options.campaign, true).documents.filter((d): d is Plan => d.kind === 'plan');
  const plan = pick('plan', plans, options.plan);
  const matched = matchPours(plan, found.pours);
  const poured = pouredOf(matched);
  const done = planAsPoured(plan, poured);
  if (!done.ok) stopWithProblems(done.problems, true);
  return {
    zero_s: to(matched.zero_s),
    missing: matched.missing,
    trial: { poured, courses: coursesOf(recording, matched.zero_s) },
    as_poured: done.value,
  };
}

const byId = (documents: readonly AnyDocument[]) => {
  const map = new Map(documents.map((d) => [d.id, d]));
  return (id: string | null) => (id === null ? undefined : map.get(id));
};

const instrument = (found: AnyDocument | undefined): Instrument | undefined =>
  found?.kind === 'instrument' ? found : undefined;

function balanceIn(trial: Trial, documents: readonly AnyDocument[]) {
  const lookup = byId(documents);
  const plan = lookup(trial.plan_id);
  return balanceOfTrial(trial, plan?.kind === 'plan' ? plan : undefined, {
    balance: instrument(lookup(trial.balance_id)),
    refractometer: instrument(lookup(trial.refractometer_id)),
  });
}

const isArchive = (input: unknown): boolean =>
  typeof input === 'object' && input !== null && 'format' in input;

/** A brew written by hand, or a trial of an archive, in; strength, yield and held liquid with their doubts out. */
export function runBalance(file: string, options: { trial?: string }): void {
  const input = readJson(file);
  if (!isArchive(input)) {
    const balance = readPlainBalance(input);
    if (!balance.ok) stopWithProblems(balance.problems, true);
    write(balance.value);
    return;
  }
  const { documents } = readArchive(file, true);
  const trials = documents.filter((d): d is Trial => d.kind === 'trial' && !d.archived);
  write(balanceIn(pick('trial', trials, options.trial), documents));
}

/** All marked trials of a campaign in; where cups are liked best out. */
export function runLiking(
  file: string,
  options: { by?: string; when?: 'hot' | 'warm' | 'cold'; seed?: number },
): void {
  const { documents } = readArchive(file, true);
  const measured = documents
    .filter((d): d is Trial => d.kind === 'trial')
    .map((trial) => {
      const { strength_pct, yield_pct } = balanceIn(trial, documents);
      return { trial, strength_pct: strength_pct?.value ?? null, yield_pct: yield_pct?.value ?? null };
    });
  const cups = likedCups(measured, { by: options.by ?? null, when: options.when ?? null });
  write({ marks: cups, ...preferredRegion(cups, options.seed) });
}

/** What an instrument printed, as it was caught, in; its readings out. */
export function runLines(file: string, options: { pattern?: string; unit?: string }): void {
  const pattern = compileLinePattern(options.pattern ?? '');
  if (!pattern.ok) stopWithProblems(pattern.problems, true);
  const fed = feedLines(startLines(pattern.value, options.unit ?? 'g'), readText(file), 0);
  const rest = flushLines(fed.state, 0);
  const { read, missed, last_missed } = rest.state;
  const readings = [...fed.readings, ...rest.readings].map(({ at_s: _, ...reading }) => reading);
  write({ read, missed, last_missed, readings });
  if (read === 0)
    throw new Stop(
      EXIT.problems,
      'No line fits the pattern. Leave it out to take the first number of each line.',
    );
}
