import type { BoundValue } from '../stage/talk/bound-values.ts';
import type { DescriptionProposal } from './proposal.ts';

/** A name that a talk can refer to: letters, digits and underscores, beginning with a letter. */
export function valueName(...parts: readonly string[]): string {
  const plain = parts
    .join('_')
    .normalize('NFD')
    .replaceAll(/[^A-Za-z0-9]+/g, '_')
    .replaceAll(/^_+|_+$/g, '');
  return (/^[A-Za-z]/.test(plain) ? plain : `v_${plain}`).slice(0, 60).replace(/_+$/, '');
}

/**
 * What a talk may say of a description: how many tasters found each word (`hot_citrus_found`, unit "of 5"), how many gave each statement's best
 * answer, and the points to be expected. The spread of a count is half of its exact 90 % interval.
 * @param from which tastings, in words
 */
export function valuesOfDescription(proposal: DescriptionProposal, from: string): BoundValue[] {
  const of = (name: string, value: number, unit: string, spread: number | null): BoundValue => ({
    name,
    source: 'panel',
    value,
    unit,
    spread,
    from,
    current: true,
  });
  const words = proposal.words.flatMap(({ said, instead }) => {
    const told = instead === null || instead === said ? [said] : [said, instead];
    return told.map(({ window, word, found, tasters, share_low, share_high }) =>
      of(
        valueName(window, word, 'found'),
        found,
        `of ${tasters}`,
        Math.round(((share_high - share_low) / 2) * tasters * 100) / 100,
      ),
    );
  });
  const statements = proposal.statements.map(({ name, best, options, tasters }) =>
    of(
      valueName(name, best, 'agree'),
      options.find(({ option }) => option === best)?.agree ?? 0,
      `of ${tasters}`,
      null,
    ),
  );
  const points = proposal.words.length + proposal.statements.length > 0;
  const value = (name: string, { expected, doubt }: { expected: number; doubt: number }): BoundValue =>
    of(name, Math.round(expected * 100) / 100, 'points', Math.round(doubt * 100) / 100);
  return [
    ...words,
    ...statements,
    ...(points
      ? [
          value('description_now', proposal.now),
          value('description_proposed', proposal.proposed),
          of('description_better_pct', Math.round(proposal.better * 100), '%', null),
        ]
      : []),
  ];
}
