import type { Pour } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import {
  ACTION_ROOM,
  gramsAfterDrag,
  gramsAtTop,
  hitPour,
  LABEL_ROOM,
  labelRows,
  pourBlocks,
} from './hands-layout.ts';
import { planKey } from './keys.ts';
import { LANES, laneAt, layoutStrip } from './lane-layout.ts';
import { makeAxis } from './time-axis.ts';

const pour = (start_s: number, water_g: number, duration_s: number): Pour => ({
  id: String(start_s),
  start_s,
  water_g,
  rate: { by: 'duration', duration_s },
  water_id: '0190a000-0000-7000-8000-000000000001',
  kettle_id: null,
  kettle_temperature_C: 93,
  height_cm: 10,
});

describe('the lanes', () => {
  it.each([320, 390, 820, 1_440])('lie under one another without overlap at %d px', (width) => {
    const { lanes, height } = layoutStrip(width);
    expect(lanes.map((lane) => lane.key)).toEqual([...LANES]);
    lanes.forEach((lane, i) => {
      const next = lanes[i + 1];
      expect(lane.plot.top + lane.plot.height).toBeLessThanOrEqual(lane.top + lane.height);
      expect(lane.plot.left + lane.plot.width).toBeLessThanOrEqual(width);
      if (next) expect(lane.top + lane.height).toBeLessThan(next.top);
    });
    expect(height).toBeGreaterThan(lanes[lanes.length - 1]!.top);
  });

  it('put their headings above the plot on a phone and beside it on a desk', () => {
    expect(layoutStrip(390).plot_left).toBeLessThan(20);
    expect(layoutStrip(1_200).plot_left).toBeGreaterThan(100);
  });

  it('are found by height', () => {
    const layout = layoutStrip(1_000);
    expect(laneAt(layout, layout.lanes[2]!.top + 3)?.key).toBe('heat');
    expect(laneAt(layout, 2)).toBeNull();
  });
});

describe('pours in the hands lane', () => {
  const axis = makeAxis(0, 100, 1_000);
  const blocks = pourBlocks([pour(0, 25, 10), pour(30, 50, 5)], axis, 140, 50);

  it('are as wide as they last and as high as they weigh', () => {
    expect(blocks[0]).toMatchObject({ left: 0, width: 100 });
    expect(blocks[0]!.height / blocks[1]!.height).toBeCloseTo(0.5, 9);
    expect(blocks[0]!.top + blocks[0]!.height).toBe(blocks[1]!.top + blocks[1]!.height);
  });

  it('are held by their body, their end or their top', () => {
    const b = blocks[1]!;
    expect(hitPour(blocks, b.left + 10, b.top + b.height - 2, 8)).toEqual({ index: 1, part: 'body' });
    expect(hitPour(blocks, b.left + b.width - 1, b.top + 20, 8)).toEqual({ index: 1, part: 'end' });
    expect(hitPour(blocks, b.left + 10, b.top + 1, 8)).toEqual({ index: 1, part: 'top' });
    expect(hitPour(blocks, 200, b.top, 8)).toBeNull();
  });

  it('keep a body to hold even when they are narrower than a finger', () => {
    const thin = pourBlocks([pour(10, 50, 1)], axis, 140, 50);
    expect(hitPour(thin, thin[0]!.left + 2, thin[0]!.top + 20, 22)?.part).toBe('body');
    expect(hitPour(thin, thin[0]!.left + 25, thin[0]!.top + 20, 22)?.part).toBe('end');
  });

  it('are moved as a whole where edges are not offered', () => {
    const b = blocks[1]!;
    expect(hitPour(blocks, b.left + b.width, b.top, 22, (i) => i !== 1)?.part).toBe('body');
  });

  it('go to the nearer of two within reach', () => {
    const close = pourBlocks([pour(0, 50, 2), pour(4, 50, 2)], axis, 140, 50);
    expect(hitPour(close, 33, 80, 22)?.index).toBe(1);
    expect(hitPour(close, 26, 80, 22)?.index).toBe(0);
  });

  it('change by the height a top is dragged', () => {
    const full = gramsAfterDrag(0, -(140 - LABEL_ROOM - ACTION_ROOM), 140, 50);
    expect(full).toBeCloseTo(50, 9);
    expect(gramsAtTop([pour(0, 50, 10)])).toBe(60);
  });

  it('label each other without overlap, dropping what finds no row', () => {
    const span = (left: number) => ({ left, width: 30 });
    expect(labelRows([span(0), span(10), span(20), span(40)])).toEqual([0, 1, -1, 0]);
  });
});

describe('keys on a pour', () => {
  const press = (key: string, shift = false, alt = false, command = false) =>
    planKey({ key, shift, alt, command });
  it('move by a second and with shift by five', () => {
    expect(press('ArrowRight')).toEqual({ do: 'move', by_s: 1 });
    expect(press('ArrowLeft', true)).toEqual({ do: 'move', by_s: -5 });
  });
  it('change grams upwards and downwards, length with alt', () => {
    expect(press('ArrowUp')).toEqual({ do: 'grams', by_g: 1 });
    expect(press('ArrowDown', true)).toEqual({ do: 'grams', by_g: -5 });
    expect(press('ArrowRight', false, true)).toEqual({ do: 'resize', by_s: 1 });
  });
  it('delete, and leave commands and other keys to the app', () => {
    expect(press('Delete')).toEqual({ do: 'remove' });
    expect(press('z', false, false, true)).toBeNull();
    expect(press('Tab')).toBeNull();
  });
});
