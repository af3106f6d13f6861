import type { IncomingHttpHeaders } from 'node:http';
import { type ProblemDetails, problemDetails } from './problem.ts';

const READING = new Set(['GET', 'HEAD', 'OPTIONS']);

/**
 * Refuses a request that was not meant for this server: one whose Host is another name (a page elsewhere whose name
 * was made to point here), and a write that another site's page makes.
 * @param allowedHosts names, without port, by which the server may be called besides loopback ones
 * @returns the problem, or undefined when the request may pass
 */
export function guard(
  method: string,
  headers: IncomingHttpHeaders,
  allowedHosts: ReadonlySet<string>,
): ProblemDetails | undefined {
  const host = headers.host ?? '';
  const name = hostName(host);
  if (name === undefined || !(isLoopbackName(name) || allowedHosts.has(name)))
    return problemDetails(
      421,
      'wrong-host',
      'Wrong host',
      `This server does not answer for the host "${shorten(host)}". Open it as localhost, or allow that name when starting it.`,
    );
  if (READING.has(method)) return undefined;
  if (isForeign(headers, host))
    return problemDetails(
      403,
      'foreign-origin',
      'Foreign origin',
      `A page of "${shorten(headers.origin ?? 'another site')}" may not save anything here. Open the app at this server's own address.`,
    );
  return undefined;
}

/** Host name of a Host header in lower case, without port and closing dot; undefined when it is malformed. */
export function hostName(header: string): string | undefined {
  const match = /^(\[[0-9a-f:.]+\]|[a-z0-9._-]+)(?::\d{1,5})?$/i.exec(header);
  return match?.[1]?.toLowerCase().replace(/\.$/, '');
}

/** Whether a name always means this machine. */
export const isLoopbackName = (name: string): boolean =>
  name === 'localhost' ||
  name === '[::1]' ||
  (/^127(?:\.\d{1,3}){3}$/.test(name) && name.split('.').every((part) => Number(part) <= 255));

/** A write comes from elsewhere when the browser says so: by its origin, or by what it knows of the site. */
function isForeign(headers: IncomingHttpHeaders, host: string): boolean {
  const site = headers['sec-fetch-site'];
  if (site === 'cross-site' || site === 'same-site') return true;
  if (headers.origin === undefined) return false;
  const origin = /^https?:\/\/([^/]+)$/i.exec(headers.origin);
  return origin?.[1]?.toLowerCase() !== host.toLowerCase();
}

const shorten = (text: string): string => (text.length > 60 ? `${text.slice(0, 59)}…` : text);
