import { join } from 'node:path';
import { temporaryFolders } from '@pourline/store/testing';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bundleVictim, type Killing, Lane } from '../test/killing.ts';

const folder = temporaryFolders();

const LANES = 2;
const KILLS = 208;
const CLIENTS = 4;
const SEED = 7_041_215;

/** One kill in eight hits a server that is still starting: making its schema, or recovering from the kill before. */
const killing: fc.Arbitrary<Killing> = fc.oneof(
  {
    weight: 7,
    arbitrary: fc.record({
      after: fc.constant('answers' as const),
      answers: fc.nat(30),
      wait_ms: fc.nat(10),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      after: fc.constant('start' as const),
      wait_ms: fc.integer({ min: 20, max: 500 }),
    }),
  },
);

describe.runIf(process.env.POURLINE_SLOW === '1')(
  'a server killed at random moments under a stream of writes',
  () => {
    it(`loses no acknowledged write in ${KILLS} kills, and its database opens clean each time`, {
      timeout: 900_000,
    }, async () => {
      const place = await folder();
      const victim = await bundleVictim(place);
      const began = performance.now();
      const plan = fc.sample(killing, { numRuns: KILLS, seed: SEED });
      const tolls = await Promise.all(
        Array.from({ length: LANES }, async (_, n) => {
          const lane = new Lane(victim, join(place, `lane-${n}.sqlite`), CLIENTS);
          for (let i = n; i < KILLS; i += LANES) await lane.round(plan[i]!);
          return lane.reckon();
        }),
      );
      const sum = (of: (toll: (typeof tolls)[number]) => number) =>
        tolls.reduce((total, toll) => total + of(toll), 0);
      console.log(
        `${sum((t) => t.kills)} kills, ${sum((t) => t.acknowledged)} acknowledged, ${sum((t) => t.lost.length)} lost, ` +
          `${sum((t) => t.unanswered_but_saved)} saved without an answer, ${sum((t) => t.sent_again)} sent again, ` +
          `${Math.round((performance.now() - began) / 1000)} s`,
      );
      expect(tolls.flatMap((toll) => toll.lost)).toEqual([]);
      expect(tolls.flatMap((toll) => toll.faults)).toEqual([]);
      expect(sum((t) => t.kills)).toBe(KILLS);
      expect(sum((t) => t.acknowledged)).toBeGreaterThan(5 * KILLS);
    });
  },
);
