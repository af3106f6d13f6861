import { checkKind, type TastingRun } from '@pourline/core';
import { makeTasting, rightLooking } from '@pourline/core/testing/sessions';
import { openStore } from '@pourline/store';
import fc from 'fast-check';
import { v7 as uuid7 } from 'uuid';
import { describe, expect, it, vi } from 'vitest';
import { CARE, exchange, type Hall, halls, joining, oneHall, Phone, problemIn } from '../../test/tasting.ts';
import { TASTING_LIMITS } from './limits.ts';

// Dozens of requests, each on disk before it is answered; generous, for a machine that is busy with other things.
vi.setConfig({ testTimeout: 120_000 });

const hall = oneHall();
const freshHall = halls();

/** A session with its first taster at the table. */
async function seated(change: Record<string, unknown> = {}, name = 'Ines', made?: Hall) {
  return seatedIn(made ?? (await hall()), change, name);
}

async function seatedIn(made: Hall, change: Record<string, unknown>, name: string) {
  const tasting = await made.save(makeTasting({ method: { test: 'triangle' }, repeats: 1, ...change }));
  const view = await made.open(tasting.id);
  const phone = new Phone(made.port);
  const code = view.join!.code;
  const got = await phone.join(joining(code, name));
  expect(got.status, got.body).toBe(201);
  return { hall: made, tasting, id: view.session_id, code, phone };
}

/** Begins and pours every flight. */
async function poured(made: Hall, id: string, flights = 1): Promise<void> {
  await made.act(id, { do: 'start' });
  for (let flight = 1; flight <= flights; flight++) await made.act(id, { do: 'pour', flight, at: null });
}

/** Answers to all that a phone's sheet asks. */
function answersOf(phone: Phone, tasting: ReturnType<typeof makeTasting>) {
  const { seat, sets } = phone.sheet!;
  return sets.flatMap(({ set, flight, window_id, codes }) => {
    const cups = codes.map((code) => ({ code, sample_id: '', known: false }));
    const asked = rightLooking(tasting, { seat, set, flight, window_id, cups, right: [] });
    return asked.map((request) => ({ ...request, answer_id: uuid7() }));
  });
}

async function runOf(made: Hall, document_id: string): Promise<TastingRun> {
  const checked = checkKind('tasting', (await made.store.document(document_id))?.body);
  if (!checked.ok || !checked.value.run) throw new Error('the session was not closed into its document');
  return checked.value.run;
}

const codesOf = (got: Awaited<ReturnType<Phone['ask']>>) => problemIn(got).problems?.map((p) => p.code);

describe('opening', () => {
  it('is harmless twice, and impossible for what is no tasting or was run', async () => {
    const { hall: made, tasting, id } = await seated();
    expect((await made.open(tasting.id)).session_id).toBe(id);
    const open = (document_id: string) =>
      made.app.inject({
        method: 'POST',
        url: '/api/tastings',
        payload: { request_id: uuid7(), document_id },
      });
    expect((await open(uuid7())).statusCode).toBe(404);
    expect((await open(made.campaign_id)).statusCode).toBe(422);
    await made.act(id, { do: 'close' });
    const again = await open(tasting.id);
    expect([again.statusCode, again.json().detail]).toEqual([
      409,
      'This tasting was run already. Make a copy of it to run it again.',
    ]);
  });
  it('refuses a design that cannot be run, with sentences', async () => {
    const made = await hall();
    const tasting = await made.save(
      makeTasting({ method: { test: 'triangle' }, title: 'Plain grind or not' }),
    );
    const answer = await made.app.inject({
      method: 'POST',
      url: '/api/tastings',
      payload: { request_id: uuid7(), document_id: tasting.id },
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().detail).toBe(
      'Title holds "Plain grind", the name of a sample, and tasters read it. Say it without.',
    );
  });
});

describe('joining', () => {
  it('needs the code, however it is typed, and gives a seat and a token that is kept as a hash only', async () => {
    const { hall: made, id, code, phone } = await seated();
    const other = new Phone(made.port);
    expect((await other.join(joining('222222', 'Kei'))).status).toBe(403);
    expect(
      (await other.join(joining(`${code.slice(0, 3)}-${code.slice(3).toLowerCase()}`, 'Kei'))).status,
    ).toBe(201);
    expect([phone.sheet?.seat, other.sheet?.seat]).toEqual([1, 2]);
    expect(other.token).toMatch(/^[A-Za-z0-9_-]{43}$/);
    const kept = JSON.stringify(await made.store.tastings.now(id));
    expect(kept).not.toContain(other.token);
    expect(other.token).not.toBe(phone.token);
  });
  it('a code is over after its time, or when a new one is made; both sound alike', async () => {
    const { hall: made, id, code } = await seated();
    const fresh = (await made.act(id, { do: 'new_code' })).join!.code;
    const refusals = [await new Phone(made.port).join(joining(code, 'Kei'))];
    made.clock.now += TASTING_LIMITS.join_ms + 1;
    refusals.push(await new Phone(made.port).join(joining(fresh, 'Kei')));
    refusals.push(await new Phone(made.port).join(joining('WRONG2', 'Kei')));
    expect(new Set(refusals.map((r) => `${r.status} ${r.body}`)).size).toBe(1);
    expect(refusals[0]?.status).toBe(403);
    expect((await made.view(id)).join).toBeNull();
  });
  it('wrong codes are counted by address, over restarts too, and end for that address for a while', async () => {
    const { hall: made, code, id } = await seated({}, 'Ines', await freshHall());
    for (let i = 0; i < TASTING_LIMITS.refused_by_address; i++)
      expect((await new Phone(made.port).join(joining('WRONG2', 'Kei'))).status).toBe(403);
    const late = await new Phone(made.port).join(joining(code, 'Kei'));
    expect([late.status, late.headers['retry-after']]).toEqual([429, '600']);
    expect((await made.view(id)).refused_joins).toBe(TASTING_LIMITS.refused_by_address);
    const reopened = await openStore({ file: made.store.location });
    const refused = await reopened.tastings.refusedJoins('127.0.0.1', 0);
    await reopened.close();
    expect(refused.address).toBe(TASTING_LIMITS.refused_by_address);
    made.clock.now += TASTING_LIMITS.refused_ms + 1;
    expect((await new Phone(made.port).join(joining(code, 'Kei'))).status).toBe(201);
  });
  it('a retry gets the same seat with a new token, and the old one is over', async () => {
    const { hall: made, code } = await seated();
    const request = joining(code, 'Kei');
    const [first, second] = [new Phone(made.port), new Phone(made.port)];
    await first.join(request);
    await second.join(request);
    expect(second.sheet?.seat).toBe(first.sheet?.seat);
    expect((await first.ask({ path: '/api/taster/sheet' })).status).toBe(401);
    expect((await second.ask({ path: '/api/taster/sheet' })).status).toBe(200);
  });
  it('two tasters of one name are asked to tell themselves apart', async () => {
    const { hall: made, code } = await seated({}, 'Zoë');
    const got = await new Phone(made.port).join(joining(code, ' zoe '));
    expect([got.status, codesOf(got)]).toEqual([409, ['name_taken']]);
  });
  it('minors and whoever keeps away from something served are refused, and nothing of them is kept', async () => {
    const samples = [
      { id: 'a', name: 'Stepped grind', may_carry: ['nuts'] },
      { id: 'b', name: 'Plain grind' },
    ];
    const { hall: made, code, id } = await seated({ samples });
    const minor = await new Phone(made.port).join(joining(code, 'Kei', { care: { ...CARE, adult: false } }));
    expect([minor.status, codesOf(minor)]).toEqual([403, ['minor']]);
    const allergic = await new Phone(made.port).join(
      joining(code, 'Lena', { care: { ...CARE, allergens: ['Nuts', 'celery'] } }),
    );
    expect([allergic.status, codesOf(allergic)]).toEqual([403, ['allergen_here']]);
    expect(allergic.body).toContain('may carry nuts');
    expect(allergic.body).not.toMatch(/grind/);
    const kept = JSON.stringify(await made.store.tastings.now(id));
    expect(kept).not.toMatch(/Kei|Lena|celery/);
  });
  it('latecomers sit on spare seats while there are any', async () => {
    const { hall: made, id, code } = await seated({ seats: 1, spare_seats: 1 });
    await poured(made, id);
    const late = new Phone(made.port);
    await late.join(joining(code, 'Kei'));
    expect([late.sheet?.seat, late.sheet?.state]).toEqual([2, 'tasting']);
    expect(late.sheet?.flights[0]?.poured_at).toBe(made.clock.now);
    const full = await new Phone(made.port).join(joining(code, 'Lena'));
    expect([full.status, codesOf(full)]).toEqual([409, ['table_full']]);
    await made.act(id, { do: 'stop_joining' });
    expect((await new Phone(made.port).join(joining(code, 'Milo'))).status).toBe(403);
  });
  it('a seat moves to a new device by a code of its own, once', async () => {
    const { hall: made, id, phone } = await seated();
    const view = await made.act(id, { do: 'seat_code', seat: 1 });
    const code = view.seats[0]!.seat_code!.code;
    const fresh = new Phone(made.port);
    expect((await fresh.join(joining(code, 'whoever'))).status).toBe(201);
    expect([fresh.sheet?.seat, fresh.sheet?.name]).toEqual([1, 'Ines']);
    expect((await phone.ask({ path: '/api/taster/sheet' })).status).toBe(401);
    expect((await new Phone(made.port).join(joining(code, 'Kei'))).status).toBe(403);
  });
});

describe('answers', () => {
  it('wait until tasting has begun and the cups are poured, and are then taken once', async () => {
    const { hall: made, tasting, id, phone } = await seated();
    const [request] = answersOf(phone, tasting);
    const early = await phone.answer(request!);
    expect([early.status, codesOf(early)]).toEqual([409, ['not_started']]);
    await made.act(id, { do: 'start' });
    const dry = await phone.answer(request!);
    expect([dry.status, codesOf(dry)]).toEqual([409, ['not_poured']]);
    await made.act(id, { do: 'pour', flight: 1, at: null });
    expect((await phone.answer(request!)).status).toBe(201);
    expect((await phone.answer(request!)).status).toBe(200);
    const changed = { ...request!, temperature_C: 50 };
    const reused = await phone.answer(changed);
    expect([reused.status, codesOf(reused)]).toEqual([422, ['id_reused']]);
    expect((await made.view(id)).answers.length).toBe(1);
  });
  it('can be put right until closing; the last one counts, both are kept', async () => {
    const { hall: made, tasting, id, phone } = await seated();
    await poured(made, id);
    const [request] = answersOf(phone, tasting);
    const codes = phone.sheet!.sets[0]!.codes;
    await phone.answer(request!);
    await phone.answer({ ...request!, answer_id: uuid7(), answer: { test: 'triangle', code: codes[2]! } });
    expect((await phone.look()).answers.map((a) => a.counts)).toEqual([false, true]);
    await made.act(id, { do: 'close' });
    const run = await runOf(made, tasting.id);
    expect(run.answers.map((a) => [a.counts, 'code' in a.answer && a.answer.code])).toEqual([
      [false, codes[0]],
      [true, codes[2]],
    ]);
  });
  it('that come after closing are kept beside the results and do not count', async () => {
    const { hall: made, tasting, id, phone } = await seated();
    await poured(made, id);
    const [one, two] = answersOf(phone, tasting);
    await phone.answer(one!);
    await made.act(id, { do: 'close' });
    const late = await phone.answer(two!);
    expect([late.status, JSON.parse(late.body)]).toMatchObject([202, { counted: false }]);
    expect((await phone.answer(two!)).status).toBe(200);
    expect((await runOf(made, tasting.id)).answers.map((a) => a.counts)).toEqual([true, false]);
  });
  it('carry the moment they were given, whatever the clock of the device', async () => {
    const { hall: made, tasting, id, phone } = await seated();
    await poured(made, id);
    const began = made.clock.now;
    made.clock.now += 600_000;
    const [one, two, three] = [...answersOf(phone, tasting), ...answersOf(phone, tasting)].map((request) => ({
      ...request,
      answer_id: uuid7(),
    }));
    const at = (ms: number) => new Date(ms).toISOString();
    // Twenty minutes behind and knows it; a day ahead and does not; given before it was poured, says a clock that lies.
    await phone.answer({ ...one!, device_at: at(began - 1_200_000 + 300_000), offset_ms: 1_200_000 });
    await phone.answer({ ...two!, device_at: at(began + 86_400_000), offset_ms: 0 });
    await phone.answer({ ...three!, device_at: at(0), offset_ms: 0 });
    const given = (await made.view(id)).answers.map((a) => a.at - began);
    expect(given).toEqual([300_000, 600_000, 0]);
    expect((await made.view(id)).seats[0]?.offset_ms).toBe(0);
  });
  it('outside of their window are taken and marked', async () => {
    const { hall: made, tasting, id, phone } = await seated();
    await poured(made, id);
    const [hot] = (await phone.look()).flights[0]!.windows;
    const answers = answersOf(phone, tasting);
    await phone.answer(answers[0]!);
    made.clock.now = hot!.opens_at! + 1_000;
    await phone.answer({ ...answers[0]!, answer_id: uuid7() });
    expect((await made.view(id)).answers.map((a) => a.outside)).toEqual([true, false]);
  });
  it('of any shape are met with a sentence, never with a failure', async () => {
    const { hall: made, tasting, id, phone } = await seated();
    await poured(made, id);
    const [good] = answersOf(phone, tasting);
    const odd = fc.record(
      {
        answer_id: fc.oneof(fc.constant(good!.answer_id), fc.uuid(), fc.string()),
        set: fc.oneof(fc.integer({ min: -2, max: 500 }), fc.string()),
        code: fc.oneof(fc.constant(null), fc.string({ maxLength: 4 }), fc.integer()),
        window_id: fc.oneof(fc.constant(null), fc.constantFrom('hot', 'warm', '__proto__')),
        device_at: fc.oneof(fc.constant(good!.device_at), fc.string()),
        answer: fc.oneof(fc.constant(good!.answer), fc.anything(), fc.record({ test: fc.string() })),
      },
      { requiredKeys: [] },
    );
    await fc.assert(
      fc.asyncProperty(fc.oneof(odd, fc.jsonValue()), async (body) => {
        const payload = JSON.stringify(body) ?? '';
        const got = await made.app.inject({
          method: 'POST',
          url: '/api/taster/answers',
          headers: { authorization: `Bearer ${phone.token}`, 'content-type': 'application/json' },
          payload,
        });
        expect(got.statusCode, payload).toBeLessThan(500);
        if (got.statusCode >= 400) expect(got.json().detail, payload).toMatch(/^\S.*[.?!]$/s);
      }),
      { numRuns: 80, seed: 4_870 },
    );
  });
});

describe('what is nearly right', () => {
  it('for joining, opening and a host’s wish is met with a sentence, never with a failure', async () => {
    const { hall: made, id, code } = await seated();
    const strange = fc.oneof(fc.jsonValue(), fc.constantFrom('', 'start', 1e12, -1, '__proto__'));
    const request = fc.oneof(
      fc.record({ url: fc.constant('/api/taster/join'), body: nearly({ ...joining(code, 'Kei') }, strange) }),
      fc.record({
        url: fc.constant(`/api/tastings/${id}/actions`),
        body: nearly({ action_id: uuid7(), act: { do: 'measure', flight: 1, temperature_C: 50 } }, strange),
      }),
      fc.record({
        url: fc.constant('/api/tastings'),
        body: nearly({ request_id: uuid7(), document_id: uuid7() }, strange),
      }),
      fc.record({
        url: fc.constant('/api/devices/codes'),
        body: nearly({ role: 'coach' }, strange),
      }),
    );
    await fc.assert(
      fc.asyncProperty(request, async ({ url, body }) => {
        const payload = JSON.stringify(body) ?? '';
        const headers = { 'content-type': 'application/json' };
        const got = await made.app.inject({ method: 'POST', url, headers, payload });
        expect(got.statusCode, `${url} ${payload}`).toBeLessThan(500);
        if (got.statusCode >= 400) expect(got.json().detail, payload).toMatch(/^\S.*[.?!]$/s);
      }),
      { numRuns: 80, seed: 4_872 },
    );
  });
});

/** A body with one field replaced or taken away. */
const nearly = (body: Record<string, unknown>, strange: fc.Arbitrary<unknown>): fc.Arbitrary<unknown> =>
  fc.oneof(
    strange,
    fc
      .tuple(fc.constantFrom(...Object.keys(body)), strange)
      .map(([key, value]) => ({ ...body, [key]: value })),
    fc.constantFrom(...Object.keys(body)).map((key) => ({ ...body, [key]: undefined })),
  );

describe('leaving and coming back', () => {
  it('who gets up keeps the seat and comes back with the next answer', async () => {
    const { hall: made, tasting, id, phone } = await seated();
    await poured(made, id);
    await phone.ask({ method: 'POST', path: '/api/taster/leave', body: {} });
    expect((await made.view(id)).seats[0]).toMatchObject({ name: 'Ines', left_at: made.clock.now });
    expect((await phone.look()).left).toBe(true);
    await phone.answer(answersOf(phone, tasting)[0]!);
    expect((await phone.look()).left).toBe(false);
  });
  it('who is removed is cut off, and the answers stay', async () => {
    const { hall: made, tasting, id, phone } = await seated();
    await poured(made, id);
    await phone.answer(answersOf(phone, tasting)[0]!);
    await made.act(id, { do: 'remove', seat: 1 });
    expect((await phone.ask({ path: '/api/taster/sheet' })).status).toBe(401);
    await made.act(id, { do: 'close' });
    const run = await runOf(made, tasting.id);
    expect([run.answers.length, run.tasters[0]?.left_at]).toEqual([
      1,
      new Date(made.clock.now).toISOString(),
    ]);
  });
});

describe('the host', () => {
  it('finds everything again after a reload, and never what is in a cup', async () => {
    const { hall: made, tasting, id, phone } = await seated();
    await poured(made, id);
    await phone.answer(answersOf(phone, tasting)[0]!);
    const [one, two] = [await made.view(id), await made.view(id)];
    expect(two).toEqual(one);
    expect(one.answers.length).toBe(1);
    const { design: _, ...rest } = one;
    const plan = await made.plan(id);
    expect(JSON.stringify(rest)).not.toContain('sample_id');
    expect(plan.sets[0]?.right.length).toBe(1);
    expect(Object.keys(one.sets[0]!).sort()).toEqual([
      'codes',
      'flight',
      'known_code',
      'rest',
      'seat',
      'set',
      'window_id',
    ]);
  });
  it('sends a wish twice and it is done once', async () => {
    const { hall: made, id } = await seated();
    await made.act(id, { do: 'start' });
    const payload = { action_id: uuid7(), act: { do: 'pour', flight: 1 } };
    const pour = () => made.app.inject({ method: 'POST', url: `/api/tastings/${id}/actions`, payload });
    const [one, two] = await Promise.all([pour(), pour()]);
    expect([one.statusCode, two.statusCode]).toEqual([200, 200]);
    const log = (await made.store.tastings.now(id))!.log;
    expect(log.filter((e) => e.type === 'poured').length).toBe(1);
  });
  it.each([
    [{ do: 'pour', flight: 1 }, 409, 'not_tasting'],
    [{ do: 'seat_code', seat: 9 }, 422, 'no_such_seat'],
  ])('is told why not: %j', async (act, status, code) => {
    const { hall: made, id } = await seated();
    const payload = { action_id: uuid7(), act };
    const answer = await made.app.inject({ method: 'POST', url: `/api/tastings/${id}/actions`, payload });
    expect([answer.statusCode, answer.json().problems[0].code]).toEqual([status, code]);
  });
  it('is told why not once tasting has begun', async () => {
    const { hall: made, id } = await seated();
    await made.act(id, { do: 'start' });
    const wish = async (act: object) => {
      const payload = { action_id: uuid7(), act };
      const answer = await made.app.inject({ method: 'POST', url: `/api/tastings/${id}/actions`, payload });
      return [answer.statusCode, answer.json().problems[0].code];
    };
    expect(await wish({ do: 'pour', flight: 7 })).toEqual([422, 'no_such_flight']);
    expect(await wish({ do: 'measure', flight: 1, temperature_C: 50 })).toEqual([409, 'flight_not_poured']);
    expect(await wish({ do: 'pour', flight: 1, at: made.clock.now + 3_600_000 })).toEqual([
      422,
      'in_the_future',
    ]);
  });
  it('looks at the pour sheet, and that is written down', async () => {
    const { hall: made, tasting, id } = await seated();
    const sheet = await made.app.inject(`/api/tastings/${id}/pour-sheet`);
    const plan = await made.plan(id);
    const cups = sheet.json<{ lines: { cups: object[] }[] }>().lines.flatMap((l) => l.cups);
    expect(cups.length).toBe(plan.sets.flatMap((s) => s.cups).length);
    expect((await made.view(id)).sheet_seen).toEqual([{ at: made.clock.now, by: 'this machine' }]);
    await made.act(id, { do: 'close' });
    expect((await runOf(made, tasting.id)).sheet_seen.length).toBe(1);
  });
});

describe('closing', () => {
  it('writes what came of it into the document, which exports and backups then hold, and not before', async () => {
    const { hall: made, tasting, id, phone } = await seated();
    await poured(made, id);
    for (const request of answersOf(phone, tasting)) await phone.answer(request);
    const exported = async () => (await made.app.inject(`/api/campaigns/${made.campaign_id}/archive`)).body;
    const code = phone.sheet!.sets[0]!.codes[0]!;
    expect(await exported()).not.toContain(`"${code}"`);
    await made.act(id, { do: 'close' });
    expect(await exported()).toContain(`"code": "${code}"`);
    const run = await runOf(made, tasting.id);
    const plan = await made.plan(id);
    expect(run.sets).toEqual(plan.sets.filter((s) => s.seat === 1));
    expect(run.answers.length).toBe(2);
    const file = `${made.store.location}.backup`;
    await made.store.backup(file);
    const copy = await openStore({ file });
    expect((await copy.tastings.now(id))?.log.filter((e) => e.type === 'answered').length).toBe(2);
    expect(checkKind('tasting', (await copy.document(tasting.id))?.body)).toMatchObject({
      ok: true,
      value: { run },
    });
    await copy.close();
  });
  it('tells tasters what they had, unless the host keeps it', async () => {
    for (const tell_tasters of [true, false]) {
      const { hall: made, id, phone } = await seated({ tell_tasters });
      await made.act(id, { do: 'close' });
      const { told, state } = await phone.look();
      expect([state, told !== null]).toEqual(['closed', tell_tasters]);
      if (told) expect(told.samples.map((s) => s.name)).toEqual(expect.arrayContaining(['Stepped grind']));
    }
  });
  it('keeps a name and notes that were changed meanwhile', async () => {
    const { hall: made, tasting, id } = await seated();
    const standing = (await made.store.document(tasting.id))!;
    await made.store.appendRevision({
      revision_id: uuid7(),
      base_revision_id: standing.revision_id,
      author: '',
      device: '',
      at: '2031-04-02T09:00:00Z',
      body: { ...tasting, notes: 'Rain outside.', repeats: 4 },
    });
    await made.act(id, { do: 'close' });
    const body = (await made.store.document(tasting.id))!.body;
    expect(body).toMatchObject({ notes: 'Rain outside.', repeats: 1, run: { tasters: [{ name: 'Ines' }] } });
  });
});

it('a taster sees only what is theirs', async () => {
  const { hall: made, tasting, id, code, phone } = await seated();
  const other = new Phone(made.port);
  await other.join(joining(code, 'Kei', { care: { ...CARE, flags: ['reflux'] } }));
  await poured(made, id);
  await other.answer(answersOf(other, tasting)[0]!);
  await phone.look();
  const text = phone.traffic.map((t) => t.body).join('\n');
  expect(text).not.toMatch(/Kei|reflux/);
  for (const { codes } of other.sheet!.sets) for (const one of codes) expect(text).not.toContain(`"${one}"`);
  const stranger = await exchange(made.port, { path: '/api/taster/sheet', token: 'x'.repeat(43) });
  expect(stranger.status).toBe(401);
});
