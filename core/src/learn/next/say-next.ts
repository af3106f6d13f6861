import type { Finding } from '../../panel/findings.ts';
import { listed, shownTo } from '../difference/finding.ts';
import { nextFinding as finding } from './sentences.ts';
import type { NextBrew, NextQuestion, SuggestedBrew } from './types.ts';

/** Decimals that a step needs. */
export const decimalsOf = (step: number | null): number =>
  step === null ? 2 : Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));

/** A level with its unit. */
export const levelWords = (
  { name, unit, step }: { name: string; unit: string; step: number | null },
  level: number,
): string => `${name} ${shownTo(level, decimalsOf(step))}${unit ? ` ${unit}` : ''}`;

/** What is changed against the champion: "grind 21 marks (from 20)". */
function changeWords({ changes, levels }: SuggestedBrew, { factors }: NextQuestion): string {
  if (changes.length === 0) return listed(factors.map((factor, i) => levelWords(factor, levels[i]!)));
  return listed(
    changes.map(({ factor, from, to }) => {
      const of = factors[factor]!;
      return `${levelWords(of, to)} (from ${shownTo(from, decimalsOf(of.step))})`;
    }),
  );
}

/** What is to be said of the next brew. */
export function sayNext(of: Omit<NextBrew, 'findings'>, question: NextQuestion): Finding[] {
  const { figure, tried, budget, factors } = question;
  const show = (v: number) => shownTo(v, figure.decimals);
  const unit = figure.unit;
  const said: Finding[] = [];
  const champion = of.champion;
  if (champion) {
    const name = tried[champion.tried]!.name;
    said.push(
      finding('note', 'champion', {
        name,
        figure: figure.name,
        mean: show(champion.mean),
        sd: show(champion.sd),
        unit,
      }),
    );
    const lucky = luckiest(question);
    if (lucky !== null && tried[lucky]!.levels.join() !== tried[champion.tried]!.levels.join())
      said.push(
        finding('note', 'champion_lucky', {
          name: tried[lucky]!.name,
          value: show(tried[lucky]!.value!),
          unit,
        }),
      );
  }
  if (of.brews_left === 0)
    return [
      ...said,
      finding('cannot', 'no_brews_left', {
        grams: budget.grams,
        minutes: budget.minutes === null ? 'no limit of time' : `${budget.minutes} minutes`,
        dose: budget.dose_g,
      }),
    ];
  if (of.stop && champion)
    said.push(
      finding('clear', 'next_stop', {
        gain: show(of.suggestions[0]?.expected_gain ?? 0),
        repeat: show(of.learned.repeat_sd),
        name: tried[champion.tried]!.name,
        unit,
      }),
    );
  for (const one of of.suggestions) said.push(sayOne(one, of, question));
  said.push(finding('note', 'brews_left', { brews: of.brews_left, bound: boundBy(question) }));
  if (tried.length > 0 && tried.length < 2 * factors.length + 1)
    said.push(finding('caution', 'few_brews', { count: tried.length, factors: factors.length }));
  return said;
}

function sayOne(one: SuggestedBrew, of: Omit<NextBrew, 'findings'>, question: NextQuestion): Finding {
  const { figure } = question;
  const show = (v: number) => shownTo(v, figure.decimals);
  const values = {
    changes: changeWords(one, question),
    levels: changeWords({ ...one, changes: [] }, question),
    mean: show(one.mean),
    sd: show(one.sd),
    gain: show(one.expected_gain),
    chance: Math.round(100 * one.chance_better),
    unit: figure.unit,
  };
  if (!of.champion) return finding('note', 'next_first', values);
  return finding(
    'note',
    one.why === 'gain' ? 'next_gain' : one.why === 'learn' ? 'next_learn' : 'next_repeat',
    values,
  );
}

/** The brew with the best single value; null for none. */
function luckiest({ tried, aim }: NextQuestion): number | null {
  const worth = (value: number) =>
    aim.by === 'most' ? value : aim.by === 'least' ? -value : -Math.abs(value - aim.target);
  return tried.reduce<number | null>(
    (best, { value }, i) =>
      value !== null && (best === null || worth(value) > worth(tried[best]!.value!)) ? i : best,
    null,
  );
}

function boundBy({ budget }: NextQuestion): string {
  const byTime = budget.minutes === null ? Number.POSITIVE_INFINITY : budget.minutes / budget.brew_min;
  return byTime < budget.grams / budget.dose_g ? `${budget.minutes} minutes` : `${budget.grams} g`;
}
