import { describe, expect, it } from 'vitest';
import { latestWins } from './latest-wins.ts';

/** A job that finishes when told. */
function desk() {
  const started: number[] = [];
  const answers: string[] = [];
  const open: (() => void)[] = [];
  const queue = latestWins<number, string>(
    (input) =>
      new Promise((resolve, reject) => {
        started.push(input);
        open.push(() => (input < 0 ? reject(new Error('no')) : resolve(`r${input}`)));
      }),
    (output) => answers.push(output),
    (_, input) => answers.push(`failed ${input}`),
  );
  const finish = async () => {
    open.shift()?.();
    await new Promise((done) => setImmediate(done));
  };
  return { queue, started, answers, finish };
}

describe('the queue of one', () => {
  it('starts at once when idle', () => {
    const { queue, started } = desk();
    queue.ask(1);
    expect(started).toEqual([1]);
    expect(queue.running).toBe(true);
  });

  it('keeps only the newest of what waits', async () => {
    const { queue, started, answers, finish } = desk();
    for (const input of [1, 2, 3, 4]) queue.ask(input);
    expect(queue.waiting).toBe(true);
    await finish();
    await finish();
    expect(started).toEqual([1, 4]);
    expect(answers).toEqual(['r1', 'r4']);
    expect(queue.running).toBe(false);
  });

  it('goes on after a failure', async () => {
    const { queue, answers, finish } = desk();
    queue.ask(-1);
    queue.ask(2);
    await finish();
    await finish();
    expect(answers).toEqual(['failed -1', 'r2']);
  });

  it('starts nothing that was cleared', async () => {
    const { queue, started, finish } = desk();
    queue.ask(1);
    queue.ask(2);
    queue.clear();
    await finish();
    expect(started).toEqual([1]);
  });
});
