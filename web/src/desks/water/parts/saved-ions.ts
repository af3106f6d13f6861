import { type Composition, ION_FIELDS, type Ions, ionsOf } from '@pourline/core';

/** The ions of a composition as a water document holds them [mg/L], to a thousandth: less than anybody can weigh. */
export function savedIons(c: Composition): Ions {
  const ions = ionsOf(c);
  return Object.fromEntries(
    ION_FIELDS.map((field) => [field, Math.max(0, Math.round(ions[field] * 1000) / 1000)]),
  ) as unknown as Ions;
}
