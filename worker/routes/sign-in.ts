/** Who signed in with a provider of OpenID Connect: a token that it signed, held against its keys and the list of members. */
import { createLocalJWKSet, errors, type JWTPayload, type JWTVerifyGetKey, jwtVerify } from 'jose';
import { AccessError, SourceError } from '../errors.ts';
import type { Dependencies } from '../sources/ports.ts';
import type { SignInSettings } from '../sources/sign-in-settings.ts';
import type { SignedIn } from './principal.ts';

/** Signatures with a public key alone: a secret shared with the provider would be one more to lose. */
const ALGORITHMS = ['RS256', 'ES256', 'EdDSA'];
const CLOCK_TOLERANCE_S = 30;
const KEYS_KEPT_MS = 10 * 60_000;
/** A token of a key that is not known yet has the keys fetched again, once in this time. */
const UNKNOWN_KEY_MS = 60_000;
const LONGEST_TOKEN = 8192;
const LONGEST_NAME = 200;

type SignInDeps = Pick<Dependencies, 'signInKeys' | 'nowMs'>;

/** @returns undefined where the request carries none. */
export function signInTokenOf(
  { headers }: Request,
  settings: SignInSettings | undefined,
): string | undefined {
  if (settings === undefined) return undefined;
  const value = headers.get(settings.header);
  if (value === null) return undefined;
  if (settings.header !== 'authorization') return value;
  return /^Bearer (eyJ[\w-]*\.[\w-]*\.[\w-]*)$/.exec(value)?.[1];
}

/** @throws AccessError whatever is wrong with the token, SourceError where the provider's keys cannot be had. */
export async function signedIn(token: string, settings: SignInSettings, deps: SignInDeps): Promise<SignedIn> {
  if (token.length > LONGEST_TOKEN) throw new AccessError('wrong');
  const payload = await verified(token, settings, deps);
  const subject = payload[settings.claim];
  const member = typeof subject === 'string' ? settings.members.get(subject) : undefined;
  // Some providers let people write any address into their account.
  const isUnverified = settings.claim === 'email' && payload.email_verified === false;
  if (typeof subject !== 'string' || member === undefined || isUnverified) throw new AccessError('wrong');
  return { kind: 'sign-in', ...member, subject: subject.slice(0, LONGEST_NAME) };
}

async function verified(token: string, settings: SignInSettings, deps: SignInDeps): Promise<JWTPayload> {
  try {
    return await verifiedWith(KEYS_KEPT_MS, token, settings, deps);
  } catch (error) {
    if (!(error instanceof errors.JWKSNoMatchingKey)) throw refusal(error);
  }
  try {
    return await verifiedWith(UNKNOWN_KEY_MS, token, settings, deps);
  } catch (error) {
    throw refusal(error);
  }
}

/** Keys that cannot be had are told as such; all else is a wrong token. */
function refusal(cause: unknown): Error {
  return cause instanceof SourceError ? cause : new AccessError('wrong', { cause });
}

/** @param freshMs  How old the keys may be. */
async function verifiedWith(
  freshMs: number,
  token: string,
  { issuer, audience, jwksUrl }: SignInSettings,
  { signInKeys, nowMs }: SignInDeps,
): Promise<JWTPayload> {
  const keyOf: JWTVerifyGetKey = async (header, signature) =>
    createLocalJWKSet(await signInKeys.keys(jwksUrl, freshMs))(header, signature);
  const { payload } = await jwtVerify(token, keyOf, {
    issuer,
    audience,
    algorithms: ALGORITHMS,
    clockTolerance: CLOCK_TOLERANCE_S,
    requiredClaims: ['exp', 'iss', 'aud'],
    currentDate: new Date(nowMs()),
  });
  return payload;
}
