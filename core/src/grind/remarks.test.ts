import { describe, expect, it } from 'vitest';
import { figureOf, grindRemark, grindSentences, grindTerms } from './remarks.ts';

describe('what the grind room says', () => {
  it('starts with a capital, ends with a stop and leaves nothing unfilled', () => {
    for (const [code, template] of Object.entries(grindSentences)) {
      const names = [...template.matchAll(/\{(\w+)\}/g)].map(([, name]) => name!);
      const given = Object.fromEntries(names.map((name) => [name, `some ${name}`]));
      const { sentence } = grindRemark('note', code, given);
      expect(sentence).toMatch(/^[A-Z].*\.$/);
      expect(sentence).not.toMatch(/[{}]/);
    }
  });
  it('keeps words as terms, so that another language has its own', () => {
    const remark = grindRemark('note', 'model_not_settled', {}, { model: 'two_modes' });
    expect(remark.terms).toEqual({ model: 'two_modes' });
    expect(remark.sentence).toContain(grindTerms.two_modes);
  });
  it('throws for a code that nobody wrote down', () => {
    expect(() => grindRemark('note', 'unheard_of')).toThrow('no sentence');
  });
  it.each([
    [0.123456, 3, '0.123'],
    [1234.5, 3, '1230'],
    [12_345_678, 3, '12300000'],
    [1e-9, 3, '0'],
    [Number.NaN, 3, '–'],
    [100, 2, '100'],
  ])('writes %f with %i digits as %s', (x, digits, text) => {
    expect(figureOf(x, digits)).toBe(text);
  });
});
