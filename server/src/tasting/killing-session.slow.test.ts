import { join } from 'node:path';
import { checkKind, type HostView } from '@pourline/core';
import { makeTasting } from '@pourline/core/testing/sessions';
import { openStore } from '@pourline/store';
import { makeCampaign, makeRevision, temporaryFolders } from '@pourline/store/testing';
import fc from 'fast-check';
import { v7 as uuid7 } from 'uuid';
import { describe, expect, it } from 'vitest';
import { actAsHost, askOwner, killVictim, Outbox, startVictim } from '../../test/killed-session.ts';
import { bundleVictim } from '../../test/killing.ts';

const folder = temporaryFolders();
const PHONES = 8;
const KILLS = 6;

describe.runIf(process.env.POURLINE_SLOW === '1')(
  'a server killed again and again in the middle of a session',
  () => {
    it('loses no answer that it took, and takes every one that waited', { timeout: 240_000 }, async () => {
      const place = await folder();
      const file = join(place, 'a.sqlite');
      const program = await bundleVictim(place, './tasting-victim.ts');
      const store = await openStore({ file });
      const campaign = makeCampaign();
      await store.appendRevision(makeRevision(campaign));
      const words = Array.from({ length: 6 }, (_, i) => ({ id: `w${i}`, word: `word ${i}` }));
      const samples = ['a', 'b', 'c'].map((id) => ({ id, name: `Sample ${id}` }));
      const tasting = {
        ...makeTasting({
          method: { test: 'check_all', words },
          samples,
          seats: PHONES,
          spare_seats: 0,
          repeats: 4,
        }),
        campaign_id: campaign.id,
      };
      await store.appendRevision(makeRevision(tasting));
      await store.close();

      let victim = await startVictim(program, file);
      const opening = { request_id: uuid7(), document_id: tasting.id };
      const { session_id, join: code } = await askOwner<HostView>(victim, '/api/tastings', opening);
      const phones = Array.from({ length: PHONES }, () => new Outbox());
      for (const [i, phone] of phones.entries()) await phone.join(victim, code!.code, `Taster ${i}`, tasting);
      await actAsHost(victim, session_id, { do: 'start' });
      for (let flight = 1; flight <= 4; flight++) await actAsHost(victim, session_id, { do: 'pour', flight });
      const all = phones.reduce((sum, phone) => sum + phone.left, 0);
      const stops = fc.sample(fc.integer({ min: 5, max: Math.floor(all / (KILLS + 2)) }), {
        numRuns: KILLS,
        seed: 4_871,
      });
      for (const stop of stops) {
        let taken = 0;
        let enough: () => void = () => {};
        const reached = new Promise<void>((resolve) => {
          enough = resolve;
        });
        const sending = phones.map((phone) => phone.drain(victim, () => ++taken >= stop && enough()));
        await Promise.race([reached, Promise.all(sending)]);
        await killVictim(victim);
        await Promise.all(sending);
        victim = await startVictim(program, file);
        expect(victim.faults).toEqual([]);
      }
      await Promise.all(phones.map((phone) => phone.drain(victim, () => {})));
      const view = await actAsHost(victim, session_id, { do: 'close' });
      const wanted = phones.flatMap((phone) => phone.acknowledged).sort();
      expect(wanted.length).toBe(all);
      expect(view.answers.map((a) => a.answer_id).sort()).toEqual(wanted);
      await killVictim(victim);

      const after = await openStore({ file });
      const checked = checkKind('tasting', (await after.document(tasting.id))?.body);
      await after.close();
      const kept = checked.ok ? (checked.value.run?.answers ?? []) : [];
      expect(kept.map((a) => a.answer_id).sort()).toEqual(wanted);
      expect(kept.every((a) => a.counts)).toBe(true);
      const resent = phones.reduce((sum, phone) => sum + phone.resent, 0);
      console.log(
        `${KILLS} kills, ${all} answers of ${PHONES} phones, none lost; ${resent} had been saved without a reply`,
      );
    });
  },
);
