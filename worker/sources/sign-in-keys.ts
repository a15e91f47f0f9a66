/** Public keys of a provider of sign-ins, fetched now and then. */
import type { JSONWebKeySet } from 'jose';
import { SourceError, type SourceFault } from '../errors.ts';
import { readBody } from './http-body.ts';

export interface SignInKeys {
  /** @throws SourceError where they cannot be had: then nobody is let in. */
  keys(url: string, freshMs: number): Promise<JSONWebKeySet>;
}

export interface SignInKeysDeps {
  readonly fetch: (url: string, init: RequestInit) => Promise<Response>;
  readonly nowMs: () => number;
}

const TIMEOUT_MS = 5000;
const MOST_BYTES = 256 * 1024;

/** Keeps what it fetched, for all requests of an isolate: values, never a request's own promise. */
export function createSignInKeys(deps: SignInKeysDeps): SignInKeys {
  const kept = new Map<string, { readonly set: JSONWebKeySet; readonly fetchedMs: number }>();
  return {
    async keys(url, freshMs) {
      const last = kept.get(url);
      if (last !== undefined && deps.nowMs() - last.fetchedMs < freshMs) return last.set;
      const set = await fetchKeys(deps, url);
      kept.set(url, { set, fetchedMs: deps.nowMs() });
      return set;
    },
  };
}

async function fetchKeys({ fetch }: SignInKeysDeps, url: string): Promise<JSONWebKeySet> {
  const { host } = new URL(url);
  const signal = AbortSignal.timeout(TIMEOUT_MS);
  const response = await fetch(url, { redirect: 'manual', signal }).catch((cause: unknown) => {
    throw failed(host, signal.aborted ? 'timeout' : 'unreachable', { found: 'no answer', cause });
  });
  if (response.status !== 200) throw failed(host, 'status', { found: `status ${response.status}` });
  const bytes = await readBody(response, { host, mostBytes: MOST_BYTES, exactBytes: undefined });
  const set = jsonOf(new TextDecoder().decode(bytes));
  if (isKeySet(set)) return set;
  throw failed(host, 'status', { found: 'something else' });
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function isKeySet(value: unknown): value is JSONWebKeySet {
  if (typeof value !== 'object' || value === null || !('keys' in value)) return false;
  return Array.isArray(value.keys) && value.keys.every((key) => typeof key === 'object' && key !== null);
}

function failed(
  host: string,
  fault: SourceFault,
  { found, cause }: { readonly found: string; readonly cause?: unknown },
): SourceError {
  const fields = { host, fault, what: 'keys of sign-ins', found, expected: 'a set of keys', retryable: true };
  return new SourceError(fields, { cause });
}
