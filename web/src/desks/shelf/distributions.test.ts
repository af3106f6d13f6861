import { checkKind } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { classesOf, modesOf, seedModes } from './distributions.ts';

const grinderWith = (distribution: unknown) => ({
  kind: 'grinder',
  version: 1,
  id: '018f0000-0000-7000-8000-000000000003',
  campaign_id: '018f0000-0000-7000-8000-000000000001',
  name: 'Grinder',
  settings: [{ id: 's', mark: '1', distribution }],
});

describe('changing how sizes are written down', () => {
  it.each([
    ['the start', seedModes()],
    ['one narrow mode', { by: 'modes' as const, modes: [{ share: 1, median_um: 700, gsd: 1.05 }] }],
    [
      'a mode at each end',
      {
        by: 'modes' as const,
        modes: [
          { share: 0.3, median_um: 2, gsd: 3 },
          { share: 0.7, median_um: 4_800, gsd: 1.4 },
        ],
      },
    ],
  ])('gives classes that pass the schema: %s', (_, modes) => {
    const classes = classesOf(modes);
    expect(checkKind('grinder', grinderWith(classes))).toMatchObject({ ok: true });
    expect(checkKind('grinder', grinderWith(modesOf(classes)))).toMatchObject({ ok: true });
  });

  it('keeps median and spread of one mode to a few per cent, there and back', () => {
    const [mode] = modesOf(classesOf({ by: 'modes', modes: [{ share: 1, median_um: 800, gsd: 1.5 }] })).modes;
    expect(mode!.median_um).toBeGreaterThan(800 * 0.97);
    expect(mode!.median_um).toBeLessThan(800 * 1.03);
    expect(mode!.gsd).toBeGreaterThan(1.35);
    expect(mode!.gsd).toBeLessThan(1.55);
  });

  it('leaves sizes alone that are written that way already', () => {
    const modes = seedModes();
    expect(modesOf(modes)).toBe(modes);
  });
});
