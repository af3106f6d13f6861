import {
  checkDesign,
  type Finding,
  findingsBefore,
  flightWindows,
  type OpenWindow,
  type Problem,
  type SessionDesign,
} from '@pourline/core';

/** What is known of a session before anything is poured. */
export interface BeforeAnswer {
  problems: Problem[];
  findings: Finding[];
  /** Opening and closing of the windows after pouring [ms]. */
  windows: OpenWindow[];
}

/** What a session can and cannot show, what keeps it from being run, and when its windows will open. */
export function beforeAnswer(design: SessionDesign): BeforeAnswer {
  const problems = checkDesign(design);
  return {
    problems,
    findings: findingsBefore(design),
    windows: flightWindows(design, 1, 0, []).windows,
  };
}
