import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const css = readFileSync(new URL('./tokens.css', import.meta.url), 'utf8');
const block = (selector: string): Record<string, string> => {
  const from = css.indexOf(`${selector} {`);
  const text = css.slice(from, css.indexOf('\n  }', from));
  return Object.fromEntries([...text.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6});/g)].map((m) => [m[1]!, m[2]!]));
};
const themes = { light: block(':root'), dark: block(":root[data-theme='dark']") };

/** Relative luminance of a colour, WCAG 2.2 definition. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}

/** Contrast ratio of two colours, WCAG 2.2 definition. */
function contrast(a: string, b: string): number {
  const [hi, lo] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (hi! + 0.05) / (lo! + 0.05);
}

const HUES = ['water', 'heat', 'flow', 'solutes', 'voice'];
const GROUNDS = ['paper', 'paper-raised', 'paper-sunken'];

describe.each(Object.entries(themes))('the %s page', (_, colours) => {
  it('knows the contrast of black on white', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  });

  it.each(['ink', 'ink-2', 'ink-3', 'alert', ...HUES.map((hue) => `${hue}-ink`)])(
    'reads %s as text on every ground (WCAG 1.4.3, 4.5 to 1)',
    (name) => {
      for (const ground of GROUNDS)
        expect(contrast(colours[name]!, colours[ground]!), ground).toBeGreaterThanOrEqual(4.5);
    },
  );

  it.each([...HUES, 'line-strong', 'alert'])(
    'sees %s as a mark on every ground (WCAG 1.4.11, 3 to 1)',
    (name) => {
      for (const ground of GROUNDS)
        expect(contrast(colours[name]!, colours[ground]!), ground).toBeGreaterThanOrEqual(3);
    },
  );

  it.each(HUES)('reads ink and its own dark tone on a soft %s (4.5 to 1)', (hue) => {
    expect(contrast(colours.ink!, colours[`${hue}-soft`]!)).toBeGreaterThanOrEqual(4.5);
    expect(contrast(colours[`${hue}-ink`]!, colours[`${hue}-soft`]!)).toBeGreaterThanOrEqual(4.5);
  });

  it('reads a problem on its own ground', () => {
    expect(contrast(colours.ink!, colours['alert-soft']!)).toBeGreaterThanOrEqual(4.5);
    expect(contrast(colours['ink-3']!, colours['alert-soft']!)).toBeGreaterThanOrEqual(4.5);
  });
});
