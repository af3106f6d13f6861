/** Brews at the edge of what documents allow: they finish, conserve, stay finite, and say what a brewer should know. */
import { describe, expect, it } from 'vitest';
import {
  type BrewBundle,
  checkBundle,
  checkKind,
  hottestKettle_C,
  type Problem,
} from '../documents/index.ts';
import { simulate } from './simulate.ts';
import { demoBundle } from './testing/demo-bundle.ts';
import { EXTREMES } from './testing/extreme-bundles.ts';
import { unsound } from './testing/unsound.ts';

/** What every schema and the meeting of the documents say against a bundle. */
const refusals = (bundle: BrewBundle): Problem[] => [
  ...[bundle.plan, bundle.coffee, bundle.setup, bundle.venue, ...Object.values(bundle.grinders)].flatMap(
    (document) => {
      const checked = checkKind(document.kind, document);
      return checked.ok ? [] : checked.problems;
    },
  ),
  ...checkBundle(bundle).filter(({ level }) => level === 'problem'),
];

describe.each(EXTREMES)('$name', ({ bundle: make, says }) => {
  const bundle = make();

  it('is a brew that the documents allow', () => {
    expect(refusals(bundle)).toEqual([]);
  });

  it('finishes, conserves, stays finite and says what matters', () => {
    const result = simulate(bundle, { resolution: 'draft' });
    expect(unsound(result)).toEqual([]);
    expect(result.remarks.map((remark) => remark.code)).toEqual(expect.arrayContaining([...says]));
  });
});

describe('what no brew can be', () => {
  const sentences = (change: (bundle: BrewBundle) => void): string[] => {
    const bundle = demoBundle();
    change(bundle);
    return refusals(bundle).map((p) => p.sentence);
  };

  it('is told from a plan that can', () => {
    expect(sentences(() => {})).toEqual([]);
  });

  it('a kettle hotter than water boils at the venue', () => {
    const said = sentences((b) => {
      b.venue.altitude_m = 3_000;
      b.venue.pressure_hPa = null;
      for (const pour of b.plan.pours) pour.kettle_temperature_C = 80;
      b.plan.pours[1]!.kettle_temperature_C = 95;
      if (b.plan.rinse) b.plan.rinse.temperature_C = 80;
      expect(hottestKettle_C(b.venue)).toBeCloseTo(89.9, 0);
    });
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(
      /^Pours, row 2: kettle temperature is 95 °C; at this venue water boils at (89|90)/,
    );
  });

  it.each<[string, (bundle: BrewBundle) => void, RegExp]>([
    [
      'grinds whose shares do not make 1',
      (b) => {
        b.plan.grind = b.plan.grind.map((part) => ({ ...part, share: 0.4 / b.plan.grind.length }));
      },
      /^The shares in grind add up to 0\.4/,
    ],
    [
      'sizes whose shares do not make 1',
      (b) => {
        const [grinder] = Object.values(b.grinders);
        grinder!.settings[0]!.distribution = {
          by: 'modes',
          modes: [{ share: 0.7, median_um: 800, gsd: 1.4 }],
        };
      },
      /add up to 0\.7; together they must make 1/,
    ],
    [
      'water that is ice',
      (b) => {
        b.plan.pours[0]!.kettle_temperature_C = -4;
      },
      /kettle temperature is -4 °C; it must be at least 0/,
    ],
    [
      'water that is no number',
      (b) => {
        b.plan.pours[0]!.water_g = Number.NaN;
      },
      /Pours, row 1: water is/,
    ],
    [
      'coffee that is mostly water',
      (b) => {
        b.coffee.moisture_pct = 60;
      },
      /^Moisture is 60 %; it must be at most 15/,
    ],
    [
      'coffee that is all soluble',
      (b) => {
        b.coffee.extractable_pct = 100;
      },
      /^Extractable is 100 %; it must be at most 45/,
    ],
    [
      'air damper than it can be',
      (b) => {
        b.venue.humidity_pct = 140;
      },
      /^Humidity is 140 %; it must be at most 100/,
    ],
    [
      'a dripper that is wider below than above',
      (b) => {
        b.setup.dripper.rim_diameter_mm = b.setup.dripper.bottom_diameter_mm - 1;
      },
      /rim diameter is .*; it must be at least/,
    ],
    [
      'a paper that lets nothing through',
      (b) => {
        b.setup.paper.resistance_per_m = -1;
      },
      /resistance is .*; it must be more than 0/,
    ],
    [
      'more coffee than the dripper holds',
      (b) => {
        b.plan.dose_g = 200;
      },
      /^Dose is 200 g; that much ground coffee takes up about/,
    ],
    [
      'pours that run into each other',
      (b) => {
        b.plan.pours[1]!.start_s = b.plan.pours[0]!.start_s;
      },
      /the pour before it runs until/,
    ],
  ])('%s', (_, change, sentence) => {
    expect(sentences(change)).toEqual(expect.arrayContaining([expect.stringMatching(sentence)]));
  });
});
