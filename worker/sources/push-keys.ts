/** What Web Push is set up with (RFC 8292) and where it may go: the browsers' push services, nobody else. */

export interface PushKeys {
  /** P-256 point, uncompressed, base64url. */
  readonly publicKey: string;
  /** Its scalar, base64url. */
  readonly privateKey: string;
  /** Whom a push service writes to when something is wrong: mailto: or https:. */
  readonly subject: string;
}

/** The services that today's browsers subscribe at; "*." stands for any name under it. */
export const BROWSER_PUSH_HOSTS: readonly string[] = [
  'fcm.googleapis.com',
  '*.push.services.mozilla.com',
  '*.notify.windows.com',
  '*.push.apple.com',
];

const LONGEST_ENDPOINT = 1000;

/**
 * True for an https address on one of the hosts, on the usual port, without user or fragment. Whoever may look at a board names it,
 * so that nothing else may be fetched by it.
 */
export function isPushEndpoint(text: string, allowedHosts: readonly string[]): boolean {
  if (text.length > LONGEST_ENDPOINT || !URL.canParse(text)) return false;
  const url = new URL(text);
  const isBare = [url.username, url.password, url.port].every((part) => part === '') && !text.includes('#');
  return url.protocol === 'https:' && isBare && allowedHosts.some((rule) => isUnder(url.hostname, rule));
}

function isUnder(host: string, rule: string): boolean {
  return rule.startsWith('*.')
    ? host.endsWith(rule.slice(1)) && host.length > rule.length - 1
    : host === rule;
}

/** True for a host, or "*." and one, that isPushEndpoint can hold addresses against: at least two labels, none of them a number. */
export function isPushHost(text: string): boolean {
  return /^(\*\.)?([a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?\.)+[a-z][a-z0-9-]{0,61}[a-z0-9]$/.test(text);
}

/** What is wrong with the keys, without a word of them; undefined where nothing is. */
export function pushKeysFault({ publicKey, privateKey, subject }: PushKeys): string | undefined {
  const point = decoded(publicKey);
  if (point?.length !== 65 || point[0] !== 4) {
    return 'public key: expected an uncompressed P-256 point, 65 bytes as base64url';
  }
  if (decoded(privateKey)?.length !== 32) return 'private key: expected 32 bytes as base64url';
  if (/^mailto:[^@\s]+@[^@\s]+$/.test(subject)) return undefined;
  if (URL.canParse(subject) && new URL(subject).protocol === 'https:') return undefined;
  return 'subject: expected mailto: with an address, or an https address';
}

/** undefined for what is no base64url. */
function decoded(text: string): Uint8Array | undefined {
  if (!/^[A-Za-z0-9_-]+$/.test(text)) return undefined;
  try {
    return Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (char) =>
      char.charCodeAt(0),
    );
  } catch {
    return undefined;
  }
}

/** False where nothing can ever be encrypted for it: not on the curve, or of another length. */
export async function canEncryptFor(keys: {
  readonly p256dh: string;
  readonly auth: string;
}): Promise<boolean> {
  const point = decoded(keys.p256dh.replaceAll('=', ''));
  if (point?.length !== 65 || decoded(keys.auth.replaceAll('=', ''))?.length !== 16) return false;
  try {
    await crypto.subtle.importKey(
      'raw',
      point as BufferSource,
      { name: 'ECDH', namedCurve: 'P-256' },
      false,
      [],
    );
    return true;
  } catch {
    return false;
  }
}
