import { fewestAnswers } from '../../panel/difference-test.ts';
import { chanceWords, type Finding, writtenP } from '../../panel/findings.ts';
import type { Judged } from './compare.ts';
import { shownTo } from './finding.ts';
import { MOST_REPEATS } from './repeat.ts';
import { differenceFinding as finding } from './sentences.ts';
import type { DifferenceQuestion } from './types.ts';

/** Measurement from this part of the variance on is what holds the answer back; our choice. */
const MOSTLY_MEASUREMENT = 0.6;

/** Everything that is to be said of a comparison: the verdict first, then what it rests on, then what to do. */
export function sayDifferenceOfBrews(of: Judged, question: DifferenceQuestion): Finding[] {
  return [
    sayVerdict(of, question),
    ...sayTests(of, question),
    ...sayScatter(of, question),
    ...sayCompanions(of, question),
    ...sayPanelOfBrews(of, question),
    ...sayRepeat(of, question),
  ];
}

function shared(of: Judged, { names, figure }: DifferenceQuestion) {
  const show = (v: number) => shownTo(v, figure.decimals);
  return {
    a: names[0],
    b: names[1],
    figure: figure.name,
    unit: figure.unit,
    size: show(Math.abs(of.difference)),
    side: of.difference >= 0 ? 'higher' : 'lower',
    mean_a: show(of.means[0]),
    mean_b: show(of.means[1]),
    low: Number.isFinite(of.low) ? show(of.low) : '−∞',
    high: Number.isFinite(of.high) ? show(of.high) : '∞',
    count_a: of.counts[0],
    count_b: of.counts[1],
    count: of.counts[0] + of.counts[1],
  };
}

function sayVerdict(of: Judged, question: DifferenceQuestion): Finding {
  const values = shared(of, question);
  if (of.verdict === 'same' && of.same) {
    const show = (v: number) => shownTo(v, question.figure.decimals);
    const { limit, p, low, high } = of.same;
    return finding('clear', 'brews_same', {
      ...values,
      limit: show(limit),
      p: writtenP(p),
      low: show(low),
      high: show(high),
    });
  }
  if (of.verdict === 'cannot')
    return finding('cannot', 'brews_cannot', {
      ...values,
      chance: chanceWords(of.exact.least),
      least: writtenP(of.exact.least),
    });
  const firmness = of.verdict === 'clear' ? 'clear' : of.verdict === 'maybe' ? 'maybe' : 'not_shown';
  return finding(firmness, `brews_${firmness}`, values);
}

function sayTests(of: Judged, question: DifferenceQuestion): Finding[] {
  const { figure, history, alpha } = question;
  const show = (v: number) => shownTo(v, figure.decimals);
  const values = { ...shared(of, question), alpha, sd: show(of.sd) };
  const said: Finding[] = [];
  const { alone, exact } = of;
  if (of.verdict === 'same' && exact.p <= alpha && exact.least <= alpha)
    said.push(finding('note', 'differ_but_same', { p: writtenP(exact.p) }));
  if (alone)
    said.push(
      finding('note', 'test_alone', { ...values, chance: chanceWords(alone.p), p: writtenP(alone.p) }),
    );
  if (of.verdict !== 'cannot') {
    const code =
      exact.from !== 'all' ? 'test_drawn' : exact.least > alpha ? 'test_exact_bounded' : 'test_exact';
    const draws = exact.from === 'all' ? {} : { draws: exact.from };
    said.push(
      finding(code === 'test_exact_bounded' ? 'cannot' : 'note', code, {
        ...values,
        ...draws,
        chance: chanceWords(exact.p),
        p: writtenP(exact.p),
        least: writtenP(exact.least),
      }),
    );
  }
  if (of.history && history) {
    const more = {
      ...values,
      sd: show(history.sd),
      limit: show(of.history.limit),
      p: writtenP(of.history.p),
    };
    const passes = of.history.p <= alpha;
    const just = passes && of.history.p > alpha / 5;
    const code = just ? 'history_just_passes' : passes ? 'history_passes' : 'history_fails';
    said.push(finding(just ? 'maybe' : passes ? 'clear' : 'not_shown', code, more));
    if (of.history_fits !== null && of.history_fits <= alpha)
      said.push(
        finding('caution', 'history_does_not_fit', {
          ...more,
          own: show(of.seen_sd),
          p: writtenP(of.history_fits),
        }),
      );
  }
  if (of.mixed && of.estimated.mixed)
    said.push(
      finding('note', 'test_mixed', {
        ...values,
        session_sd: show(of.mixed.session_sd),
        mixed_size: show(of.estimated.mixed.difference),
        p: writtenP(of.mixed.p),
      }),
    );
  return said;
}

function sayScatter(of: Judged, { figure }: DifferenceQuestion): Finding[] {
  if (!(of.doubt > 0) || of.estimated.df <= 0) return [];
  const show = (v: number) => shownTo(v, figure.decimals);
  const values = { own: show(of.seen_sd), doubt: show(of.doubt), sd: show(of.sd), unit: figure.unit };
  if (of.seen_sd < of.doubt) return [finding('note', 'below_measurement', values)];
  if ((of.doubt / of.sd) ** 2 > MOSTLY_MEASUREMENT) return [finding('note', 'measurement_rules', values)];
  return [];
}

function sayCompanions(of: Judged, question: DifferenceQuestion): Finding[] {
  const { figure, drift, brews } = question;
  const values = shared(of, question);
  const said: Finding[] = [];
  if (of.confounded.includes('age'))
    said.push(
      finding('caution', 'age_confounded', {
        ...values,
        days: Number(Math.abs(of.estimated.older_d ?? 0).toFixed(1)),
        older: (of.estimated.older_d ?? 0) >= 0 ? 'older' : 'younger',
        drift: shownTo(of.drift_needed_per_d ?? 0, figure.decimals),
      }),
    );
  if (of.confounded.includes('session')) said.push(finding('caution', 'session_confounded', values));
  if (of.estimated.age_fitted) said.push(finding('note', 'age_taken_out', values));
  if (drift && brews.every(({ age_d }) => age_d !== null))
    said.push(
      finding('note', 'drift_taken_out', {
        ...values,
        drift: shownTo(drift.per_d, figure.decimals + 1),
        drift_sd: shownTo(drift.sd, figure.decimals + 1),
      }),
    );
  if (brews.some(({ age_d }) => age_d === null)) said.push(finding('note', 'age_unknown', values));
  return said;
}

function sayPanelOfBrews(of: Judged, { panel, alpha }: DifferenceQuestion): Finding[] {
  if (!of.panel || !panel) return [];
  const { p, correct, answers } = of.panel;
  const values = { correct, answers, chance: chanceWords(p), p: writtenP(p), alpha };
  if (p <= alpha) return [finding('clear', 'panel_different', values)];
  if (answers < fewestAnswers(panel.protocol, alpha)) return [finding('cannot', 'panel_cannot', values)];
  return [finding('not_shown', 'panel_not_shown', values)];
}

function sayRepeat(of: Judged, question: DifferenceQuestion): Finding[] {
  const { names, figure } = question;
  const settled = (of.verdict === 'clear' || of.verdict === 'same') && of.confounded.length === 0;
  if (settled) return [];
  if (!of.repeat) return [finding('note', 'repeat_too_many', { most: MOST_REPEATS })];
  const { each, order, grams, limit_alone, least_p } = of.repeat;
  return [
    finding('note', 'repeat', {
      each,
      order: order.map((plan) => (plan === 'a' ? names[0] : names[1])).join(', '),
      cost: costWords(grams),
      limit: shownTo(limit_alone, figure.decimals),
      unit: figure.unit,
      least: writtenP(least_p),
    }),
  ];
}

/** " (66 g of coffee)", or nothing when the dose is not known. */
export const costWords = (grams: number | null): string =>
  grams === null ? '' : ` (${Number(grams.toFixed(1))} g of coffee)`;
