/** Which addresses may be fetched at all: https on listed hosts, and one rehearsal address where a setting names it. */
import { SourceError } from '../errors.ts';

export interface AllowedUrls {
  /** Host names in lower case, without a port. */
  readonly hosts: readonly string[];
  /** An address under which everything may be fetched, with its scheme and port: a mirror or a rehearsal. Ends with a slash. */
  readonly rehearsalBaseUrl?: string | undefined;
}

const LONGEST_SHOWN = 80;

/**
 * The address as it is to be fetched.
 *
 * @param text  Must be written plainly: as an address is after everything odd in it (escapes in the host, dots in the path,
 *              other digits) has been resolved.
 * @throws SourceError `outside` for any other host, port, scheme, or an address with a user or password.
 */
export function allowedUrl(text: string, allowed: AllowedUrls): URL {
  const url = URL.canParse(text) ? new URL(text) : undefined;
  if (url !== undefined && url.href === text && isAllowed(url, allowed)) return url;
  throw outside(url, text, allowed);
}

/** Where a redirect leads, under the same rule but for how it is written. */
export function redirectedUrl(location: string, from: URL, allowed: AllowedUrls): URL {
  const url = URL.canParse(location, from.href) ? new URL(location, from.href) : undefined;
  if (url !== undefined && isAllowed(url, allowed)) return url;
  throw outside(url, location, allowed);
}

function isAllowed(url: URL, { hosts, rehearsalBaseUrl }: AllowedUrls): boolean {
  if (url.username !== '' || url.password !== '' || url.hash !== '') return false;
  if (rehearsalBaseUrl !== undefined && isUnder(url, rehearsalBaseUrl)) return true;
  return url.protocol === 'https:' && url.port === '' && hosts.includes(url.hostname);
}

function isUnder(url: URL, baseUrl: string): boolean {
  if (!URL.canParse(baseUrl)) return false;
  const base = new URL(baseUrl);
  return base.pathname.endsWith('/') && url.origin === base.origin && url.pathname.startsWith(base.pathname);
}

/** Tells scheme and host; never a user, a password or a query. */
function outside(url: URL | undefined, text: string, { hosts, rehearsalBaseUrl }: AllowedUrls): SourceError {
  const plain = url === undefined ? 'no address' : `${url.protocol}//${url.host}${url.pathname}`;
  const isMarked = url !== undefined && (url.username !== '' || url.password !== '');
  const isOdd = url !== undefined && !isMarked && url.hash === '' && url.href !== text;
  const notes = [isMarked ? 'with a user' : '', isOdd ? 'written otherwise' : ''].filter(
    (note) => note !== '',
  );
  return new SourceError({
    host: url?.host ?? '',
    fault: 'outside',
    what: 'address',
    found: [plain.slice(0, LONGEST_SHOWN), ...notes].join(' '),
    expected: `https on ${[...hosts, ...(rehearsalBaseUrl === undefined ? [] : [rehearsalBaseUrl])].join(', ')}`,
  });
}
