import { describe, expect, it } from 'vitest';
import { type BrewBundle, checkBundle, checkKind, pourEnd } from '../../documents/index.ts';
import { shareBelow } from '../../grind/index.ts';
import { grindTable } from '../compile.ts';
import { demoBundle } from '../testing/demo-bundle.ts';
import { bundleOf, handsOf, type Knob, knobsOf } from './knobs.ts';
import { medianSize } from './regrind.ts';
import { stepPhrase } from './words.ts';

const PLANS = [
  'Four pours, cool then hot',
  'Five pours in the cone',
  'Closed for two minutes and a half',
  'Three pours and a little water after',
];
const knob = (bundle: BrewBundle, id: string): Knob => knobsOf(bundle).find((k) => k.id === id)!;
const turned = (bundle: BrewBundle, id: string, value: number): BrewBundle => {
  const hands = handsOf(bundle);
  knob(bundle, id).turn(hands, value);
  return bundleOf(bundle, hands);
};

describe.each(PLANS)('the knobs of "%s"', (name) => {
  const bundle = demoBundle(name);
  const knobs = knobsOf(bundle);
  it('have names of their own and room around what is planned', () => {
    expect(new Set(knobs.map((k) => k.id)).size).toBe(knobs.length);
    for (const { low, value, high, step } of knobs) {
      expect(low).toBeLessThanOrEqual(value);
      expect(value).toBeLessThanOrEqual(high);
      expect(step).toBeGreaterThan(0);
    }
  });
  it('change nothing when each stands where it is planned', () => {
    const hands = handsOf(bundle);
    for (const k of knobs) if (!['grind', 'fines', 'age'].includes(k.name)) k.turn(hands, k.value);
    expect(bundleOf(bundle, hands).plan.pours).toEqual(bundle.plan.pours);
  });
  it.each([0, 1])(
    'turned all to one end (%i) leave a plan that its schema accepts and that can be brewed',
    (end) => {
      const hands = handsOf(bundle);
      for (const k of knobs) k.turn(hands, end === 0 ? k.low : k.high);
      const after = bundleOf(bundle, hands);
      expect(checkKind('plan', after.plan)).toMatchObject({ ok: true });
      expect(checkBundle(after).filter((p) => p.level === 'problem')).toEqual([]);
    },
  );
  it('never write to the bundle they were made from', () => {
    const fresh = demoBundle(name);
    const hands = handsOf(bundle);
    for (const k of knobs) k.turn(hands, k.high);
    bundleOf(bundle, hands);
    expect(bundle).toEqual(fresh);
  });
});

describe('single knobs', () => {
  const bundle = demoBundle();
  it('make the grind coarser by what they say, fines apart', () => {
    const before = grindTable(bundle);
    const median = medianSize(before);
    const after = grindTable(turned(bundle, 'grind', median * 1e6 + 100));
    expect((medianSize(after) - median) * 1e6).toBeCloseTo(100, 6);
    expect(shareBelow(after, 100e-6)).toBeCloseTo(shareBelow(before, 100e-6), 9);
  });
  it('set the share of the fines', () => {
    const after = grindTable(turned(bundle, 'fines', 9));
    expect(shareBelow(after, 100e-6)).toBeCloseTo(0.09, 9);
    expect(after.share.reduce((sum, x) => sum + x, 0)).toBeCloseTo(1, 12);
  });
  it('keep pours from overlapping and the lift behind them', () => {
    const tight = demoBundle();
    tight.plan.pours[1]!.start_s = pourEnd(tight.plan.pours[0]!) + 1;
    const { plan } = turned(tight, 'pour_start.2', knob(tight, 'pour_start.2').low);
    expect(plan.pours[1]!.start_s).toBeGreaterThanOrEqual(pourEnd(plan.pours[0]!));
    const late = demoBundle();
    late.plan.lift_s = pourEnd(late.plan.pours[3]!) + 1;
    const slow = turned(late, 'pour_start.4', knob(late, 'pour_start.4').high).plan;
    expect(slow.lift_s!).toBeGreaterThan(pourEnd(slow.pours[3]!));
  });
  it('never ask a kettle for more than water boils at the venue', () => {
    const hall = demoBundle('Four pours, at the hall');
    const hottest = Math.max(
      ...knobsOf(hall)
        .filter((k) => k.name === 'pour_kettle')
        .map((k) => k.high),
    );
    expect(hottest).toBeLessThan(95);
  });
  it('take many pours together, the first apart', () => {
    const many = demoBundle();
    const [, second] = many.plan.pours;
    many.plan.lift_s = null;
    many.plan.pours = Array.from({ length: 12 }, (_, i) => ({
      ...second!,
      id: `p${i}`,
      start_s: i * 15,
      water_g: 20,
    }));
    const ids = knobsOf(many).map((k) => k.id);
    expect(ids).toContain('pour_kettle.1');
    expect(ids).toContain('pour_kettle.2-12');
    expect(ids.filter((id) => id.startsWith('pour_'))).toHaveLength(5);
    const after = turned(many, 'pour_water.2-12', 22).plan;
    expect(after.pours.map((p) => p.water_g)).toEqual([20, ...Array(11).fill(22)]);
  });
  it('say their step in plain words', () => {
    expect(stepPhrase(knob(bundle, 'grind'))).toBe('100 µm coarser');
    expect(stepPhrase(knob(bundle, 'pour_kettle.1'))).toBe('pour 1: kettle 2 °C hotter');
    expect(stepPhrase(knob(bundle, 'paper'))).toBe('a paper 25 % tighter');
  });
});
