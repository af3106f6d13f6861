import type { BrewBundle, WhatMatters } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { makeMatters } from './matters.ts';

const bundle = (dose_g: number) => ({ plan: { dose_g } }) as BrewBundle;
const found = (trajectories: number) => ({ trajectories }) as WhatMatters;
const settled = () => new Promise((done) => setImmediate(done));

/** Studies that go on when told. */
function bench() {
  const jobs: {
    dose: number;
    report: (done: number, soFar: WhatMatters) => void;
    finish: (result: WhatMatters | null) => void;
    fail: (reason: Error) => void;
    ended: boolean;
  }[] = [];
  const store = makeMatters((asked, report) => {
    const job = { dose: asked.plan.dose_g, report, ended: false } as (typeof jobs)[number];
    const answer = new Promise<WhatMatters | null>((resolve, reject) => {
      job.finish = resolve;
      job.fail = reject;
    });
    jobs.push(job);
    return {
      answer,
      end: () => {
        job.ended = true;
      },
    };
  });
  return { store, jobs };
}

describe('a study on demand', () => {
  it('computes nothing until asked, and shows what is known while it goes on', async () => {
    const { store, jobs } = bench();
    expect(jobs).toHaveLength(0);
    store.start(bundle(14));
    expect(store.get()).toMatchObject({ done: 0, result: null });
    jobs[0]!.report(0.25, found(2));
    expect(store.get()).toMatchObject({
      done: 0.25,
      result: { trajectories: 2 },
      bundle: { plan: { dose_g: 14 } },
    });
    jobs[0]!.finish(found(8));
    await settled();
    expect(store.get()).toMatchObject({ done: null, result: { trajectories: 8 } });
  });
  it('keeps what it had when stopped, and hears nothing after', async () => {
    const { store, jobs } = bench();
    store.start(bundle(14));
    jobs[0]!.report(0.5, found(4));
    store.stop();
    expect(jobs[0]!.ended).toBe(true);
    jobs[0]!.report(0.75, found(6));
    jobs[0]!.finish(found(8));
    await settled();
    expect(store.get()).toMatchObject({ done: null, result: { trajectories: 4 } });
  });
  it('ends the old one when a new one starts, and still shows the old result until the new one has some', () => {
    const { store, jobs } = bench();
    store.start(bundle(14));
    jobs[0]!.report(0.5, found(4));
    store.start(bundle(15));
    expect(jobs[0]!.ended).toBe(true);
    expect(store.get()).toMatchObject({ done: 0, bundle: { plan: { dose_g: 14 } } });
    jobs[1]!.report(0.1, found(1));
    expect(store.get()).toMatchObject({ bundle: { plan: { dose_g: 15 } }, result: { trajectories: 1 } });
  });
  it('says why it failed', async () => {
    const { store, jobs } = bench();
    store.start(bundle(14));
    jobs[0]!.fail(new Error('no memory'));
    await settled();
    expect(store.get()).toMatchObject({ done: null, failure: 'no memory' });
  });
});
