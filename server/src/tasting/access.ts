import type { Role } from '@pourline/core';

/** Who may ask for what through the shared door: method, address, least role. What is not listed is open to nobody. */
const RULES: readonly (readonly [
  methods: string,
  address: RegExp,
  least: Exclude<Role, 'owner' | 'taster'>,
])[] = [
  ['GET HEAD', /^\/api\/taster\/hello$/, 'anyone'],
  ['POST', /^\/api\/taster\/join$/, 'anyone'],
  ['POST', /^\/api\/devices\/join$/, 'anyone'],
  ['GET HEAD', /^\/api\/(?:about|health|documents|events|tastings)$/, 'coach'],
  ['GET HEAD', /^\/api\/documents\/[^/]+\/revisions$/, 'coach'],
  ['GET HEAD', /^\/api\/attachments\/[^/]+$/, 'coach'],
  ['GET HEAD', /^\/api\/tastings\/[^/]+(?:\/events)?$/, 'coach'],
  ['POST', /^\/api\/(?:revisions|attachments|tastings)$/, 'host'],
  ['GET HEAD', /^\/api\/tastings\/[^/]+\/pour-sheet$/, 'host'],
  ['POST', /^\/api\/tastings\/[^/]+\/actions$/, 'host'],
];

/** What a taster may ask for, joining and greeting included. */
const TASTER = /^\/api\/taster(?:\/|$)/;

const RANK = { anyone: 0, coach: 1, host: 2 } as const;

/**
 * Whether someone may ask for an address of the interface (`/api/…`) through the shared door. The owner never comes through it.
 * @param path without query
 */
export function mayAsk(role: Exclude<Role, 'owner'>, method: string, path: string): boolean {
  if (role === 'taster') return TASTER.test(path);
  return RULES.some(
    ([methods, address, least]) =>
      RANK[role] >= RANK[least] && methods.split(' ').includes(method) && address.test(path),
  );
}

/** Whether an address is a taster's own: a taster's token is good for nothing else, whatever the door. */
export const isTasterAddress = (path: string): boolean => TASTER.test(path);
