/** Web Push (RFC 8030): one message to one browser, encrypted for it (RFC 8291) and signed by this instance (RFC 8292). */
import { buildPushPayload } from '@block65/webcrypto-web-push';
import { AppBug } from '../errors.ts';
import type { PushMessage, PushOutcome, PushSender, PushSubscriber } from './boards.ts';
import { canEncryptFor, isPushEndpoint, type PushKeys, pushKeysFault } from './push-keys.ts';

export interface PushSenderDeps {
  readonly keys: PushKeys;
  /** See isPushHost. */
  readonly allowedHosts: readonly string[];
  readonly fetch: (url: string, init: RequestInit) => Promise<Response>;
  readonly sleep: (durationMs: number) => Promise<void>;
  /** Of one call; the platform's by default. */
  readonly deadline?: () => AbortSignal;
  /** Host and status of what failed. */
  readonly log?: (line: string) => void;
}

const ANSWER_WITHIN_MS = 10_000;
/** A push service keeps what a browser that is off did not get: what is older than this is read on the board. */
const KEPT_S = 2 * 3600;
const RETRY_AFTER_MS = 1_000;
const LONGEST_RETRY_AFTER_MS = 5_000;

/** @throws AppBug for keys that are none: the instance must not take subscriptions that it cannot serve. */
export function createPushSender(deps: PushSenderDeps): PushSender {
  const fault = pushKeysFault(deps.keys);
  if (fault !== undefined) throw new AppBug(`push ${fault}`);
  return {
    publicKey: deps.keys.publicKey,
    takes: (endpoint) => isPushEndpoint(endpoint, deps.allowedHosts),
    send: (subscriber, message) => send(deps, subscriber, message),
  };
}

async function send(
  deps: PushSenderDeps,
  subscriber: PushSubscriber,
  message: PushMessage,
): Promise<PushOutcome> {
  if (!isPushEndpoint(subscriber.endpoint, deps.allowedHosts)) return 'failed';
  // Nothing will ever reach it: as good as taken back.
  if (!(await canEncryptFor(subscriber.keys))) return 'gone';
  const first = await post(deps, subscriber, message);
  if (typeof first === 'string') return first;
  await deps.sleep(first.retryAfterMs);
  const second = await post(deps, subscriber, message);
  return typeof second === 'string' ? second : 'failed';
}

/** Encrypted anew for each try: a salt is used once. */
async function post(
  deps: PushSenderDeps,
  subscriber: PushSubscriber,
  message: PushMessage,
): Promise<PushOutcome | { readonly retryAfterMs: number }> {
  const host = new URL(subscriber.endpoint).hostname;
  try {
    const { headers, body } = await buildPushPayload(
      { data: { ...message }, options: { ttl: KEPT_S, urgency: 'high', topic: message.topic } },
      { endpoint: subscriber.endpoint, expirationTime: null, keys: subscriber.keys },
      deps.keys,
    );
    const { 'content-length': _, ...sent } = headers;
    const response = await deps.fetch(subscriber.endpoint, {
      method: 'POST',
      headers: sent,
      body,
      redirect: 'manual',
      signal: (deps.deadline ?? (() => AbortSignal.timeout(ANSWER_WITHIN_MS)))(),
    });
    // What it says beside its status is of no use here, and of any length; nothing waits for its end.
    response.body?.cancel().catch(() => {});
    return outcomeOf(response, (status) => deps.log?.(`push: ${host} answered ${status}`));
  } catch (error) {
    deps.log?.(`push: ${host} gave no answer: ${error instanceof Error ? error.name : 'unknown'}`);
    return { retryAfterMs: RETRY_AFTER_MS };
  }
}

function outcomeOf(response: Response, failed: (status: number) => void) {
  const { status, ok, headers } = response;
  if (ok) return 'sent';
  if (status === 404 || status === 410) return 'gone';
  failed(status);
  if (status !== 429 && status < 500) return 'failed';
  const asked = headers.get('retry-after');
  const retryAfterMs = asked === null ? RETRY_AFTER_MS : Number(asked) * 1000;
  // A date, or a long while: the next message is as good.
  return retryAfterMs <= LONGEST_RETRY_AFTER_MS ? { retryAfterMs } : 'failed';
}
