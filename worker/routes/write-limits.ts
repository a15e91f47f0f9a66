/** How much one sender may write. Counted on D1, so that all isolates count together. */
import type { Settings } from '../env.ts';
import { TooManyError } from '../errors.ts';
import type { Limit } from '../schema/call.ts';
import { sha256Hex } from '../sources/sha256-hex.ts';
import type { WriteCounts } from '../sources/shared-briefs.ts';
import type { Principal } from './principal.ts';
import { senderBlock } from './sender-address.ts';

const WINDOW_MS = 10 * 60_000;
const DAY_MS = 86_400_000;

/** Within ten minutes (judgement: a ramp office shares an address, and an operator loads files by the thousand). */
const MOST = {
  writing: { address: 60, key: 600, operator: 6000 },
  storing: { address: 60, key: 600, operator: 600 },
} as const;
/** Stored in a day by one address without a key: 200 briefs are some 75 MB (judgement). */
const MOST_STORED_A_DAY = 200;

/** Counts older than this count for nothing. */
export const WRITE_COUNTS_KEPT_MS = DAY_MS;

export interface Sender {
  readonly kind: keyof (typeof MOST)['writing'];
  readonly name: string;
}

/** @throws TooManyError once the sender has written more than it may. */
export async function countWrite(
  counts: WriteCounts,
  sender: Sender,
  limit: Limit,
  nowMs: number,
): Promise<void> {
  const name = `${limit} ${sender.kind} ${sender.name}`;
  await countWithin(counts, name, { windowMs: WINDOW_MS, most: MOST[limit][sender.kind], nowMs });
  if (limit !== 'storing' || sender.kind !== 'address') return;
  await countWithin(counts, `a day ${name}`, { windowMs: DAY_MS, most: MOST_STORED_A_DAY, nowMs });
}

async function countWithin(
  counts: WriteCounts,
  name: string,
  { windowMs, most, nowMs }: { readonly windowMs: number; readonly most: number; readonly nowMs: number },
): Promise<void> {
  const startMs = Math.floor(nowMs / windowMs) * windowMs;
  const found = await counts.count(name, startMs);
  if (found <= most) return;
  const retryAfterS = Math.ceil((startMs + windowMs - nowMs) / 1000);
  throw new TooManyError({ found, expected: most, retryAfterS });
}

/** Whoever has a key is counted by it, whoever has none by the address. */
export async function senderOf(
  principal: Principal,
  request: Request,
  { settings, nowMs }: { readonly settings: Settings; readonly nowMs: number },
): Promise<Sender> {
  switch (principal.kind) {
    case 'operator':
      return { kind: 'operator', name: principal.operator };
    case 'board-key':
      return { kind: 'key', name: principal.keyId };
    case 'sign-in':
      return { kind: 'key', name: await digestOf(`sign-in ${principal.subject}`, settings, nowMs) };
    case 'nobody': {
      const address = request.headers.get('cf-connecting-ip') ?? 'unknown';
      return { kind: 'address', name: await digestOf(senderBlock(address), settings, nowMs) };
    }
  }
}

/**
 * A name that nobody is found by. There are few enough addresses to try them all: what is mixed in is a setting that the database does
 * not hold, the digests of the operators' keys, and the day, so that no digest tells of a sender who comes again another day.
 */
async function digestOf(name: string, { keyHashes }: Settings, nowMs: number): Promise<string> {
  const secret = keyHashes.size === 0 ? secretOfIsolate() : [...keyHashes.values()].sort().join(' ');
  const day = Math.floor(nowMs / DAY_MS);
  return (await sha256Hex(`sender ${secret} ${day} ${name}`)).slice(0, 20);
}

let isolateSecret: string | undefined;

/** Without any operator's key nothing is secret here: each isolate counts for itself then. The platform gives no randomness any earlier. */
function secretOfIsolate(): string {
  isolateSecret ??= crypto.randomUUID();
  return isolateSecret;
}
