import { makeCampaign, makePlan, makeRevision, makeWater } from '@pourline/store/testing';
import fc from 'fast-check';

/** A request as somebody careless or hostile might send it. */
export interface HostileRequest {
  method: string;
  url: string;
  headers: Record<string, string>;
  body: Buffer | undefined;
}

const METHODS = [
  'GET',
  'HEAD',
  'POST',
  'PUT',
  'PATCH',
  'DELETE',
  'OPTIONS',
  'TRACE',
  'PROPFIND',
  'SEARCH',
  'QUERY',
];
const ID = '019b8000-0000-7001-8000-000000000001';

/** Text that has broken programs before. */
const nasty = fc.constantFrom(
  '',
  ' ',
  '.',
  '..',
  '%00',
  '%2e%2e%2f',
  '%E0%A4%A',
  '\\',
  '/',
  '//',
  '__proto__',
  'constructor',
  'toString',
  '0',
  '-1',
  '1e999',
  'NaN',
  'null',
  'undefined',
  'true',
  '9007199254740993',
  "'; drop table revisions; --",
  '濾杯',
  '\u202e',
  '\ud800',
  '\u0000',
  '%F0%9F%92%A9',
  'a'.repeat(3_000),
  '#{7*7}',
  '<script>',
  '*',
  '?',
  '#',
  '[]',
  '{}',
);
const text = fc.oneof(nasty, fc.string({ unit: 'binary', maxLength: 40 }), fc.string({ maxLength: 40 }));
const segment = fc.oneof(
  { weight: 2, arbitrary: fc.constant(ID) },
  { weight: 3, arbitrary: text.map(encodeURIComponentSafely) },
);

function encodeURIComponentSafely(raw: string): string {
  return encodeURIComponent(raw.toWellFormed());
}

/** Addresses: right ones, nearly right ones, and anything. The stream is left out: it has no end. */
const url = fc.oneof(
  fc.constantFrom(
    '/',
    '/api/about',
    '/api/health',
    '/api/documents',
    '/api/revisions',
    '/api/attachments',
    '/api/archives',
    '/api',
    '/brew',
    '/assets/x.js',
  ),
  segment.map((id) => `/api/documents/${id}/revisions`),
  segment.map((id) => `/api/attachments/${id}`),
  segment.map((id) => `/api/campaigns/${id}/archive`),
  fc
    .tuple(fc.constantFrom('since', 'name', 'as_new', '__proto__'), segment)
    .map(([k, v]) => `/api/documents?${k}=${v}&${k}=1`),
  segment.map((since) => `/api/documents?since=${since}`),
  segment.map((name) => `/api/attachments?name=${name}`),
  fc.constantFrom('/api/archives?as_new=true', '/api/archives?as_new=%FF'),
  fc.array(segment, { maxLength: 5 }).map((parts) => `/${parts.join('/')}`),
  fc.constantFrom(
    '/%',
    '/%zz',
    '/api/%E0%A4%A',
    '/../../etc/passwd',
    '/..%2f..%2fetc%2fpasswd',
    '/api/documents/%00/revisions',
    '//',
    '/.git/config',
  ),
);

const headerText = fc.oneof(
  fc.constantFrom('', 'x', '"', ';', ',', '*/*', 'a'.repeat(500)),
  fc.string({ maxLength: 30 }).map((s) => s.replace(/[^\x20-\x7e]/g, '')),
);
const contentType = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.constantFrom(
      'application/json',
      'application/json; charset=utf-8',
      'application/merge-patch+json',
    ),
  },
  {
    weight: 2,
    arbitrary: fc.constantFrom(
      'text/plain',
      'text/csv',
      'multipart/form-data; boundary=x',
      'application/x-www-form-urlencoded',
      'application',
      '/',
      ';',
      'a/b;c="',
    ),
  },
  { weight: 1, arbitrary: headerText },
);
const headers = fc
  .record(
    {
      'content-type': contentType,
      origin: fc.constantFrom('http://attacker.example', 'null', 'http://localhost:80', 'localhost', ''),
      host: fc.constantFrom(
        'localhost',
        '127.0.0.1:1',
        'attacker.example',
        '[::1]',
        'a b',
        '@',
        'localhost:99999999',
      ),
      'last-event-id': headerText,
      range: fc.constantFrom('bytes=0-', 'bytes=9-1', 'bytes=-1', 'x'),
      'if-none-match': headerText,
      'if-match': headerText,
      'if-modified-since': headerText,
      accept: headerText,
      'accept-encoding': headerText,
      'content-encoding': fc.constantFrom('gzip', 'br', 'x'),
      'sec-fetch-site': fc.constantFrom('cross-site', 'same-origin', 'none', 'x'),
      cookie: headerText,
      'x-http-method-override': fc.constantFrom('DELETE', 'x'),
      'x-forwarded-host': fc.constantFrom('attacker.example'),
      authorization: headerText,
    },
    { requiredKeys: [] },
  )
  .chain((all) => fc.subarray(Object.entries(all), { maxLength: Math.min(4, Object.keys(all).length) }))
  .map((some) =>
    Object.fromEntries(some.filter((entry): entry is [string, string] => entry[1] !== undefined)),
  );

const campaign = makeCampaign();
const water = makeWater(campaign.id);
const valid: unknown[] = [
  { ...makeRevision(campaign) },
  { ...makeRevision(water) },
  { ...makeRevision(makePlan(campaign.id, water.id, campaign.id)) },
  { format: 'pourline-archive', version: 1, documents: [campaign, water], attachments: [] },
];

const strange = fc.oneof(
  fc.constantFrom<unknown>(null, true, false, 0, -0, -1, 1e308, 5e-324, 2 ** 53, '', [], {}, [[]], {
    a: { b: {} },
  }),
  fc.constantFrom<unknown>(new Array(500).fill(0), { toString: 1, valueOf: 2 }, '0', '2031-02-30', ID),
  text,
  fc.double(),
  fc.jsonValue({ maxDepth: 3 }),
);

/** A valid body with one or more places changed, removed or added. */
const mutated = fc
  .tuple(
    fc.constantFrom(...valid),
    fc.array(
      fc.record({
        at: fc.nat(400),
        how: fc.constantFrom('replace', 'remove', 'add', 'repeat'),
        with: strange,
        key: text,
      }),
      { maxLength: 4 },
    ),
  )
  .map(([body, changes]) =>
    changes.reduce<unknown>((now, change) => mutate(now, change), structuredClone(body)),
  );

function mutate(root: unknown, change: { at: number; how: string; with: unknown; key: string }): unknown {
  const places: [holder: Record<string, unknown>, key: string][] = [];
  const walk = (value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    for (const [key, entry] of Object.entries(value)) {
      places.push([value as Record<string, unknown>, key]);
      walk(entry);
    }
  };
  walk(root);
  const place = places[change.at % Math.max(places.length, 1)];
  if (!place) return change.with;
  const [holder, key] = place;
  if (change.how === 'replace') holder[key] = change.with;
  else if (change.how === 'remove') delete holder[key];
  else if (change.how === 'add')
    Object.defineProperty(holder, change.key, {
      value: change.with,
      enumerable: true,
      configurable: true,
      writable: true,
    });
  else if (Array.isArray(holder)) holder.push(structuredClone(holder[Number(key)]));
  return root;
}

const json = fc
  .oneof({ weight: 5, arbitrary: mutated }, { weight: 1, arbitrary: strange })
  .map((value) => JSON.stringify(value) ?? '');
const body = fc.oneof(
  { weight: 6, arbitrary: json.map((s) => Buffer.from(s)) },
  { weight: 1, arbitrary: fc.tuple(json, fc.nat(2_000)).map(([s, n]) => Buffer.from(s).subarray(0, n)) },
  { weight: 1, arbitrary: fc.uint8Array({ maxLength: 200 }).map((bytes) => Buffer.from(bytes)) },
  {
    weight: 1,
    arbitrary: fc
      .constantFrom(
        '[1e999]',
        '{"a":1,"a":2}',
        '\ufeff{}',
        '{"__proto__":null}',
        '"\\ud800"',
        `${'['.repeat(50_000)}${']'.repeat(50_000)}`,
        `{"body":${'{"a":'.repeat(5_000)}1${'}'.repeat(5_000)}}`,
      )
      .map((s) => Buffer.from(s)),
  },
);

/** Anything at all: any method to any address with any head and body. */
export const anyRequest: fc.Arbitrary<HostileRequest> = fc.record({
  method: fc.constantFrom(...METHODS),
  url,
  headers,
  body: fc.option(body, { nil: undefined }),
});

/** Well-addressed requests with bodies that are nearly right. */
export const nearlyRight: fc.Arbitrary<HostileRequest> = fc.record({
  method: fc.constant('POST'),
  url: fc.constantFrom(
    '/api/revisions',
    '/api/revisions',
    '/api/archives',
    '/api/archives?as_new=true',
    '/api/attachments?name=x',
  ),
  headers: fc.constant({ 'content-type': 'application/json' }),
  body,
});
