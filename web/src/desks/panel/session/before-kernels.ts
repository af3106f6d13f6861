import {
  checkDesign,
  type Finding,
  findingsBefore,
  flightWindows,
  type OpenWindow,
  type Problem,
  type SessionDesign,
  sipOf,
} from '@pourline/core';

/** What is known of a session before anything is poured. */
export interface BeforeAnswer {
  problems: Problem[];
  findings: Finding[];
  /** Opening and closing of the windows after pouring [ms]. */
  windows: OpenWindow[];
  /** Sips of one taster in the whole session, and their caffeine at its upper end [mg]. */
  sips: number;
  caffeine_mg: number;
}

/** What a session can and cannot show, what keeps it from being run, and when its windows will open. */
export function beforeAnswer(design: SessionDesign): BeforeAnswer {
  const problems = checkDesign(design);
  const findings = findingsBefore(design);
  // The last count of sips is that of the whole session; the one before is of a single set.
  const sips = Number(findings.findLast(({ code }) => code === 'sips')?.values.sips ?? 0);
  return {
    problems,
    findings,
    sips,
    caffeine_mg: sips * sipOf(design).high,
    windows: flightWindows(design, 1, 0, []).windows,
  };
}
