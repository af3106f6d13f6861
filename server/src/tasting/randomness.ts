import { randomUUID } from 'node:crypto';
import type { Chance } from '@pourline/core';
import { secretChance } from './secrets.ts';

/** Where a session takes its chance from. Four sources, so that none can be worked out from another. */
export interface Randomness {
  /** Codes on cups. */
  codes: Chance;
  /** What stands where. */
  orders: Chance;
  /** Join codes. */
  secrets: Chance;
  uuid(): string;
}

/** Chance of the operating system for everything. */
export const secretRandomness: Randomness = {
  codes: secretChance,
  orders: secretChance,
  secrets: secretChance,
  uuid: () => randomUUID(),
};
