import { makeTasting, rightLooking } from '@pourline/core/testing/sessions';
import { v7 as uuid7 } from 'uuid';
import { describe, expect, it, vi } from 'vitest';
import { openStream } from '../../test/stream.ts';
import { halls, joining, Phone, portOf } from '../../test/tasting.ts';

// Dozens of requests, each on disk before it is answered; generous, for a machine that is busy with other things.
vi.setConfig({ testTimeout: 120_000 });

const hall = halls();
const PHONES = 8;

describe('eight phones at one table', () => {
  it('answer at once, and the host sees every answer within moments', async () => {
    const made = await hall();
    await made.app.listen({ host: '127.0.0.1', port: 0 });
    const tasting = await made.save(
      makeTasting({ method: { test: 'triangle' }, seats: PHONES, repeats: 1, windows: [] }),
    );
    const { session_id, join } = await made.open(tasting.id);
    const host = await openStream(portOf(made.app), `/api/tastings/${session_id}/events`);
    expect((await host.wait(1))[0]?.event).toBe('changed');
    const phones = Array.from({ length: PHONES }, () => new Phone(made.port));
    for (const [i, phone] of phones.entries())
      expect((await phone.join(joining(join!.code, `Taster ${i}`))).status).toBe(201);
    const seen = new Map<string, number>();
    const streams = await Promise.all(
      phones.map((phone) =>
        openStream(made.port, '/api/taster/events', {
          host: `127.0.0.1:${made.port}`,
          authorization: `Bearer ${phone.token}`,
        }),
      ),
    );
    await expect
      .poll(async () => (await made.view(session_id)).seats.filter((s) => s.here).length, { timeout: 30_000 })
      .toBe(PHONES);
    await made.act(session_id, { do: 'start' });
    await made.act(session_id, { do: 'pour', flight: 1, at: null });
    const sent = new Map<string, number>();
    await Promise.all(
      phones.map(async (phone) => {
        const { seat, sets } = await phone.look();
        const { set, flight, window_id, codes } = sets[0]!;
        const cups = codes.map((code) => ({ code, sample_id: '', known: false }));
        const [request] = rightLooking(tasting, { seat, set, flight, window_id, cups, right: [] });
        const answer_id = uuid7();
        sent.set(answer_id, performance.now());
        expect((await phone.answer({ ...request!, answer_id })).status).toBe(201);
      }),
    );
    await expect
      .poll(
        () => {
          const now = performance.now();
          for (const { event, data } of host.events)
            if (event === 'answer') {
              const { answer_id } = data as { answer_id: string };
              if (!seen.has(answer_id)) seen.set(answer_id, now);
            }
          return seen.size;
        },
        { interval: 2, timeout: 30_000 },
      )
      .toBe(PHONES);
    const took = [...sent].map(([id, at]) => seen.get(id)! - at).sort((a, b) => a - b);
    console.log(
      `answer to host, ${PHONES} phones at once: median ${took[PHONES / 2]!.toFixed(0)} ms, worst ${took.at(-1)!.toFixed(0)} ms`,
    );
    if (process.env.POURLINE_TIMED === '1') expect(took.at(-1)).toBeLessThan(300);
    // A taster hears that things moved, and nothing of anybody's answer.
    for (const stream of streams) {
      expect(stream.text()).not.toMatch(/answer|code/);
      stream.stop();
    }
    host.stop();
  });

  it('a host that comes back is told to look at once, and what another process wrote is told too', async () => {
    const made = await hall();
    await made.app.listen({ host: '127.0.0.1', port: 0 });
    const tasting = await made.save(makeTasting({ method: { test: 'triangle' } }));
    const { session_id } = await made.open(tasting.id);
    const path = `/api/tastings/${session_id}/events`;
    const host = await openStream(portOf(made.app), path, { 'last-event-id': '1' });
    expect((await host.wait(1)).map((e) => e.event)).toEqual(['changed']);
    await made.store.tastings.change(session_id, () => ({
      change: { events: [{ event: { type: 'started' }, event_id: null }] },
      answer: null,
    }));
    await host.wait(2);
    expect((await made.view(session_id)).state).toBe('tasting');
    host.stop();
    expect((await openStream(portOf(made.app), `/api/tastings/${uuid7()}/events`)).status).toBe(404);
  });
});
