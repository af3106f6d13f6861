import { describe, expect, it } from 'vitest';
import { makeLatest } from './latest.ts';

/** A computation that answers only when told to. */
function far() {
  const waiting: (() => void)[] = [];
  const asked: { n: number }[] = [];
  const store = makeLatest(
    (input: { n: number }) =>
      new Promise<number>((answer, refuse) => {
        asked.push(input);
        waiting.push(() => (input.n < 0 ? refuse(new Error('negative')) : answer(10 * input.n)));
      }),
  );
  const finish = async () => {
    waiting.shift()?.();
    await new Promise((done) => setTimeout(done));
  };
  return { store, asked, finish };
}

describe('the newest answer', () => {
  it('stands beside its question, and the same question is not computed twice', async () => {
    const { store, asked, finish } = far();
    store.ask({ n: 1 });
    store.ask({ n: 1 });
    await finish();
    expect(asked).toHaveLength(1);
    expect(store.get()).toEqual({ output: 10, input: { n: 1 }, stale: false, failure: null });
  });

  it('skips what was overtaken while something ran', async () => {
    const { store, asked, finish } = far();
    for (const n of [1, 2, 3]) store.ask({ n });
    await finish();
    await finish();
    expect(asked.map(({ n }) => n)).toEqual([1, 3]);
    expect(store.get().output).toBe(30);
  });

  it('keeps what is there and says it is stale when nothing can be asked, or a computation failed', async () => {
    const { store, finish } = far();
    store.ask({ n: 1 });
    await finish();
    store.ask(null);
    expect(store.get()).toMatchObject({ output: 10, stale: true, failure: null });
    store.ask({ n: -1 });
    await finish();
    expect(store.get()).toMatchObject({ output: 10, stale: true, failure: 'negative' });
    store.ask({ n: 2 });
    await finish();
    expect(store.get()).toMatchObject({ output: 20, stale: false, failure: null });
  });
});
