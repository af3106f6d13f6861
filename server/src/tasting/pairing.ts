import { makeJoinCode, type PairCode, type PairedDevice, type PairRequest, tidyCode } from '@pourline/core';
import type { Store } from '@pourline/store';
import { TASTING_LIMITS } from './limits.ts';
import type { Randomness } from './randomness.ts';
import { hashOf, makeToken, sameSecret } from './secrets.ts';
import type { Tastings } from './tastings.ts';

/** Pairs devices of hosts and coaches. Codes are kept in memory: they are over in minutes, and a restart ends them. */
export class Pairing {
  #codes: { code: string; role: 'host' | 'coach'; until: number }[] = [];
  readonly #store: Store;
  readonly #tastings: Tastings;
  readonly #chance: Randomness;
  readonly #now: () => number;

  constructor(store: Store, tastings: Tastings, chance: Randomness, now: () => number) {
    this.#store = store;
    this.#tastings = tastings;
    this.#chance = chance;
    this.#now = now;
  }

  /** A code for one device. */
  makeCode(role: 'host' | 'coach'): Omit<PairCode, 'addresses'> {
    const made = {
      code: makeJoinCode(this.#chance.secrets),
      role,
      until: this.#now() + TASTING_LIMITS.short_code_ms,
    };
    this.#codes = [...this.#codes.filter((c) => c.until > this.#now()), made];
    return made;
  }

  /** Pairs the device that has a code; the code is used up. Gives its token, which is told only now. */
  async pair(
    { code, name }: PairRequest,
    address: string,
  ): Promise<{ role: 'host' | 'coach'; token: string }> {
    await this.#tastings.refuseTooMany(address);
    const wanted = tidyCode(code);
    const open = this.#codes.filter((c) => c.until > this.#now());
    const [found] = open.filter((c) => sameSecret(c.code, wanted));
    if (!found) return this.#tastings.refuseCode(address);
    this.#codes = open.filter((c) => c !== found);
    const token = makeToken();
    const at = this.#now();
    await this.#store.tastings.addDevice({
      device_id: this.#chance.uuid(),
      token_hash: hashOf(token),
      role: found.role,
      name,
      paired_at: at,
      seen_at: at,
    });
    return { role: found.role, token };
  }

  async devices(): Promise<PairedDevice[]> {
    const all = await this.#store.tastings.devices();
    return all.map(({ token_hash: _, ...device }) => device);
  }
}
