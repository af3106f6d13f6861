import {
  type AssumedEffect,
  criticalDifference,
  criticalSimilarity,
  type Finding,
  fewestAnswers,
  PROTOCOL_NAMES,
  PROTOCOLS,
  type Protocol,
  type SampleSize,
  type Sides,
  sampleSize,
  sayPlan,
  type TestPlan,
  testPower,
} from '@pourline/core';

/** A test that is planned, and how many answers it will have. */
export interface PowerQuestion {
  aim: 'difference' | 'similarity';
  protocol: Protocol;
  alpha: number;
  sides: Sides;
  /** Share of tasters who may tell the cups apart and still count as alike. */
  limit: number;
  tasters: number;
  repeats: number;
  effect: AssumedEffect;
}

/** Power of one protocol over numbers of answers. */
export interface PowerLine {
  protocol: Protocol;
  /** Power at 1, 2, 3 … answers. */
  power: number[];
}

/** The same question asked of one protocol. */
export interface ProtocolRow {
  protocol: Protocol;
  /** Cups that each answer takes. */
  served: number;
  /** Answers of which even all right ones show nothing below this number; null for likeness. */
  fewest: number | null;
  /** Count that decides at the planned number; null when it cannot be reached. */
  critical: number | null;
  power: number;
  size: SampleSize | null;
}

/** What the planned number can show, and other protocols beside it. */
export interface PowerAnswer {
  question: PowerQuestion;
  findings: Finding[];
  lines: PowerLine[];
  rows: ProtocolRow[];
}

/** Chance that is called enough; common practice. */
export const WANTED = 0.8;
const MOST_DRAWN = 120;

const planOf = (q: PowerQuestion, protocol: Protocol): TestPlan =>
  q.aim === 'similarity'
    ? { aim: 'similarity', protocol, alpha: q.alpha, limit: q.limit }
    : { aim: 'difference', protocol, alpha: q.alpha, sides: protocol === 'paired' ? q.sides : 'one' };

/** Numbers of answers that the chart goes up to: twice the planned number, at least 30. */
export const drawnTo = (answers: number): number => Math.min(MOST_DRAWN, Math.max(30, answers * 2));

/** Works out what a planned number of answers can show, for every protocol. */
export function powerAnswer(question: PowerQuestion): PowerAnswer {
  const answers = question.tasters * question.repeats;
  const last = drawnTo(answers);
  const findings = sayPlan(planOf(question, question.protocol), answers, question.effect);
  const lines = PROTOCOL_NAMES.map((protocol) => ({
    protocol,
    power: Array.from({ length: last }, (_, i) =>
      testPower(planOf(question, protocol), i + 1, question.effect),
    ),
  }));
  const rows = PROTOCOL_NAMES.map((protocol): ProtocolRow => {
    const plan = planOf(question, protocol);
    const critical =
      plan.aim === 'similarity'
        ? criticalSimilarity(protocol, answers, plan.limit, plan.alpha)
        : criticalDifference(protocol, answers, plan.alpha, plan.sides);
    return {
      protocol,
      served: PROTOCOLS[protocol].served,
      fewest: plan.aim === 'similarity' ? null : fewestAnswers(protocol, plan.alpha, plan.sides),
      critical,
      power: testPower(plan, answers, question.effect),
      size: sampleSize(plan, question.effect, WANTED),
    };
  });
  return { question, findings, lines, rows };
}
