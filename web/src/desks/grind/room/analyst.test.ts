import type { Sizing } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { makeAnalyst } from './analyst.ts';

const sizing = (id: string, limit = 100): Sizing =>
  ({ id, data: { by: 'table', rows: [] }, model: 'best', fines_limit_um: limit }) as unknown as Sizing;

/** Waits until everything that was promised has been answered. */
const settle = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 5));

function recorder() {
  const asked: string[] = [];
  const analyst = makeAnalyst((one, draws) => {
    asked.push(`${one.id} ${one.fines_limit_um} ${draws}`);
    const analysis = one.id === 'bad' ? null : ({} as never);
    return Promise.resolve({ analysis, remarks: [] });
  });
  return { asked, analyst };
}

describe('an analyst', () => {
  it('gives every measurement without its spread first, the most wanted before the others', async () => {
    const { asked, analyst } = recorder();
    analyst.want([sizing('b'), sizing('a')]);
    await settle();
    expect(asked).toEqual(['b 100 0', 'a 100 0', 'b 100 200', 'a 100 200']);
    expect(analyst.get().get('a')).toMatchObject({ spread: true, stale: false });
  });

  it('asks again only for what has changed, and shows the old answer as stale until then', async () => {
    const { asked, analyst } = recorder();
    const kept = sizing('a');
    analyst.want([kept, sizing('b')]);
    await settle();
    asked.length = 0;
    analyst.want([kept, sizing('b', 80)]);
    expect(analyst.get().get('b')).toMatchObject({ stale: true });
    expect(analyst.get().get('a')).toMatchObject({ stale: false });
    await settle();
    expect(asked).toEqual(['b 80 0', 'b 80 200']);
    expect(analyst.get().get('b')).toMatchObject({ stale: false, spread: true });
  });

  it('does not ask twice for what cannot be analysed, and says why when it failed', async () => {
    const { asked, analyst } = recorder();
    analyst.want([sizing('bad')]);
    await settle();
    expect(asked).toEqual(['bad 100 0']);
    const broken = makeAnalyst(() => Promise.reject(new Error('gone')));
    broken.want([sizing('a')]);
    await settle();
    expect(broken.get().get('a')?.remarks[0]?.sentence).toBe('gone');
  });
});
