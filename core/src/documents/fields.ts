import { z } from 'zod';

/** A document's own identifier: any UUID; new ones are made as version 7 so that they sort by time. */
export const id = z.uuid();
/** An identifier local to one document: a pour, a grinder setting, a kettle. */
export const localId = z.string().min(1).max(60);
export const name = z.string().trim().min(1).max(120);
export const notes = z.string().max(20_000).default('');
/** Calendar date, ISO 8601. */
export const date = z.iso.date();
/** Moment in time with offset, ISO 8601. */
export const moment = z.iso.datetime({ offset: true });
/** Content hash of an attachment: SHA-256 in lower-case hex. */
export const hash = z.string().regex(/^[0-9a-f]{64}$/);

export const number = (min: number, max: number) => z.number().min(min).max(max);
/** More than zero, up to `max`. */
export const above0 = (max: number) => z.number().gt(0).max(max);

/** Fields every document has. */
export const common = {
  id,
  /** Campaign the document belongs to. A campaign belongs to itself. */
  campaign_id: id,
  name,
  notes,
  /** Deleting is archiving: the document stays, out of sight. */
  archived: z.boolean().default(false),
};

export const MATERIALS = [
  'polypropylene',
  'polycarbonate',
  'acrylic',
  'porcelain',
  'soda_lime_glass',
  'borosilicate_glass',
  'stainless_steel',
  'copper',
] as const;

/** What a dripper or a server is made of; properties stand in `core/units/materials`. */
export const material = z.enum(MATERIALS);
export type Material = z.infer<typeof material>;

/** Adds a custom issue that {@link problemsFromZod} turns into a problem with this code. */
export function refuse(
  ctx: Pick<z.core.ParsePayload, 'issues'>,
  path: (string | number)[],
  code: string,
  input: unknown,
  values: Record<string, string | number> = {},
): void {
  ctx.issues.push({ code: 'custom', path, input, params: { code, values } });
}

/** Reports every entry whose `id` was already used by an earlier one. */
export function refuseDuplicateIds(
  ctx: Pick<z.core.ParsePayload, 'issues'>,
  path: string,
  entries: readonly { id: string }[],
): void {
  const seen = new Set<string>();
  entries.forEach((entry, i) => {
    if (seen.has(entry.id)) refuse(ctx, [path, i, 'id'], 'duplicate_id', entry.id);
    seen.add(entry.id);
  });
}

/** Reports shares that do not make 1 together. Says nothing of an empty list or of a share that is bad by itself. */
export function refuseSharesNotOne(
  ctx: Pick<z.core.ParsePayload, 'issues'>,
  path: string,
  entries: readonly { share: number }[],
): void {
  if (entries.length === 0 || entries.some(({ share }) => !(share >= 0 && share <= 1))) return;
  const sum = entries.reduce((total, { share }) => total + share, 0);
  if (Math.abs(sum - 1) > 1e-3)
    refuse(ctx, [path], 'shares_not_one', sum, { value: Math.round(sum * 1e4) / 1e4 });
}
