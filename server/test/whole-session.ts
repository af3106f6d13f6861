import type { TasterSheet, Tasting } from '@pourline/core';
import { rightLooking } from '@pourline/core/testing/sessions';
import { expect } from 'vitest';
import { openStream, type Stream } from './stream.ts';
import { CARE, type Hall, joining, Phone } from './tasting.ts';

/** Everything one taster's device got in a session, up to closing, and what it was told after. */
export interface Witness {
  /** Every answer of the server, as text: status, headers, body. */
  exchanges: string[];
  /** All of its event stream. */
  stream: string;
  /** After closing. */
  told: TasterSheet['told'];
  /** What must not have been seen. */
  secrets: string[];
  /** Answers that were taken before closing. */
  answered: number;
}

/** Ids by which nothing can come in by accident. */
const ID = '0190a5d2-7c3e-7b10-8f00-0000000000ff';

/** Addresses that are not a taster's, with the method that is used for them. */
export const NOT_FOR_TASTERS: readonly (readonly [method: string, path: string])[] = [
  ['GET', '/api/documents'],
  ['GET', '/api/documents?since=0'],
  ['GET', '/api/documents/{document}/revisions'],
  ['GET', '/api/events?since=0'],
  ['GET', '/api/campaigns/{campaign}/archive'],
  ['POST', '/api/archives'],
  ['POST', '/api/revisions'],
  ['GET', `/api/attachments/${'ab'.repeat(32)}`],
  ['POST', '/api/attachments?name=x'],
  ['GET', '/api/tastings'],
  ['POST', '/api/tastings'],
  ['GET', '/api/tastings/{session}'],
  ['GET', '/api/tastings/{session}/events'],
  ['GET', '/api/tastings/{session}/pour-sheet'],
  ['POST', '/api/tastings/{session}/actions'],
  ['GET', '/api/sharing'],
  ['POST', '/api/sharing'],
  ['GET', '/api/devices'],
  ['POST', '/api/devices/codes'],
  ['POST', `/api/devices/${ID}/revoke`],
  ['GET', '/api/about'],
  ['GET', '/api/health'],
  ['GET', '/api'],
  ['GET', '/api/nothing'],
];

/**
 * Plays a whole session of one kind with two tasters and a curious device: joins (with a wrong code too), answers before time, answers everything,
 * sends nonsense, tries every other address when it is `curious`, looks at the pages, leaves, and looks again after closing. The first taster is the witness.
 */
export async function playSession(hall: Hall, design: Tasting, curious = true): Promise<Witness> {
  const saved = await hall.save(design);
  const { session_id, join } = await hall.open(saved.id);
  const code = join!.code;
  const witness = new Phone(hall.port);
  const other = new Phone(hall.port);
  for (const path of [
    '/',
    '/taste',
    '/index.html',
    '/assets/app.js',
    '/api/taster/hello',
    '/api/taster/sheet',
  ])
    await witness.ask({ path });
  await witness.join(joining('WRONG2', 'Ines'));
  await witness.join(joining(code, 'Ines', { care: { ...CARE, adult: false } }));
  const joined = await witness.join(joining(code, 'Ines'));
  expect(joined.status, joined.body).toBe(201);
  await witness.join(joining(code, 'ines ', { join_id: ID }));
  const token = witness.token!;
  const stream = await openStream(hall.port, '/api/taster/events', {
    host: `127.0.0.1:${hall.port}`,
    authorization: `Bearer ${token}`,
  });
  await settled(witness, stream);
  expect((await other.join(joining(code, 'Kei'))).status).toBe(201);
  await answerAll(witness, design, [409]);
  await hall.act(session_id, { do: 'start' });
  await settled(witness, stream);
  await answerAll(witness, design, [409]);
  const flights = witness.sheet!.flights.length;
  for (let flight = 1; flight <= flights; flight++) {
    hall.clock.now += 60_000;
    await hall.act(session_id, { do: 'pour', flight, at: null });
    await settled(witness, stream);
    hall.clock.now += 240_000;
    await hall.act(session_id, { do: 'measure', flight, temperature_C: 57.5, at: null });
    await settled(witness, stream);
  }
  await answerAll(other, design, [201]);
  const answered = await answerAll(witness, design, [201]);
  await answerAll(witness, design, [200]);
  await settled(witness, stream);
  await sendNonsense(witness, design);
  if (curious)
    await tryEverything(witness, { document: saved.id, campaign: hall.campaign_id, session: session_id });
  await witness.ask({ method: 'POST', path: '/api/taster/leave', body: {} });
  await settled(witness, stream);
  const exchanges = witness.traffic.map(asText);
  const before = stream.text();
  await hall.act(session_id, { do: 'close' });
  const { told } = await witness.look();
  stream.stop();
  return { exchanges, stream: before, told, secrets: secretsOf(saved, hall), answered };
}

/** Waits until the device was told of the version that its sheet has, so that two runs tell the same in the same order. */
async function settled(phone: Phone, stream: Stream): Promise<void> {
  const { version } = await phone.look();
  const told = () => stream.events.some((e) => (e.data as { version: number }).version === version);
  await expect.poll(told, { timeout: 30_000 }).toBe(true);
}

/** Sends an answer to everything the sheet asks; every one must be met with one of these statuses. */
async function answerAll(phone: Phone, design: Tasting, statuses: readonly number[]): Promise<number> {
  const { sets } = phone.sheet!;
  let sent = 0;
  for (const { set, flight, window_id, codes } of sets) {
    const cups = codes.map((code) => ({ code, sample_id: '', known: false }));
    const own = { seat: phone.sheet!.seat, set, flight, window_id, cups, right: [] };
    for (const request of rightLooking(design, own)) {
      const got = await phone.answer(request);
      expect(statuses, got.body).toContain(got.status);
      sent++;
    }
  }
  return sent;
}

/** Ballots that do not fit, about one's own cups and others'. */
async function sendNonsense(phone: Phone, design: Tasting): Promise<void> {
  const [first] = phone.sheet!.sets;
  const base = {
    answer_id: ID,
    set: 1,
    code: null,
    window_id: null,
    device_at: '2031-04-02T09:00:00.000Z',
    answer: { test: design.method.test },
  };
  const odd: unknown[] = [
    {},
    [],
    null,
    base,
    { ...base, set: 399 },
    { ...base, set: 'one' },
    { ...base, code: '000', answer: { test: 'triangle', code: '000' } },
    { ...base, code: first?.codes[0] ?? null, answer: { test: 'preference', code: '999' } },
    { ...base, window_id: 'lukewarm', answer: { test: 'a_not_a', same: true } },
    { ...base, answer: { test: 'tetrad', group: ['111', '222'] } },
    { ...base, sample_id: 'sample-quartz' },
    { ...base, answer: { test: 'ranking', order: [[first?.codes[0] ?? '123']] } },
  ];
  for (const body of odd) {
    const got = await phone.ask({ method: 'POST', path: '/api/taster/answers', body });
    expect(got.status, got.body).toBeGreaterThanOrEqual(400);
    expect(got.status, got.body).toBeLessThan(500);
  }
  await phone.ask({ method: 'POST', path: '/api/taster/answers', body: '{"answer_id":' });
}

/** Every other address, with the taster's token and without. */
async function tryEverything(
  phone: Phone,
  ids: Record<'document' | 'campaign' | 'session', string>,
): Promise<void> {
  for (const [method, template] of NOT_FOR_TASTERS) {
    const path = template.replaceAll(/\{(\w+)\}/g, (_, key: 'document' | 'campaign' | 'session') => ids[key]);
    for (const headers of [{}, { authorization: '' }]) {
      const got = await phone.ask({ method, path, headers, ...(method === 'POST' ? { body: {} } : {}) });
      expect(got.status, `${method} ${path}`).toBe(403);
    }
  }
}

/** An answer as bytes on the wire would tell it. What a request asked for is not the server's telling. */
const asText = ({ status, headers, body }: { status: number; headers: object; body: string }): string =>
  `${status} ${JSON.stringify(headers)}\n${body}`;

/** Everything about samples, plans and documents that stands in the tasting. */
function secretsOf(tasting: Tasting, hall: Hall): string[] {
  const samples = tasting.samples.flatMap((s) => [s.id, s.name, s.plan_id, s.trial_id]);
  const known = [tasting.id, tasting.name, tasting.notes, hall.campaign_id, 'Lantern round', ...samples];
  return known.filter((text): text is string => typeof text === 'string' && text.length > 0);
}

/** What may differ between two runs that should look alike: random tokens, dates of answers. */
export const withoutChance = (text: string): string =>
  text.replaceAll(/"token":"[A-Za-z0-9_-]{43}"/g, '"token":"…"').replaceAll(/"date":"[^"]*"/g, '"date":"…"');
