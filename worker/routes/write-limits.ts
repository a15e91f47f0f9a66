/** How much one sender may write. Counted on D1, so that all isolates count together. */
import { TooManyError } from '../errors.ts';
import { sha256Hex } from '../sources/sha256-hex.ts';
import type { WriteCounts } from '../sources/shared-briefs.ts';

const WINDOW_MS = 10 * 60_000;
/** Of one address without a key, and of one operator, within the window (judgement: a ramp office shares an address). */
const MOST = { address: 60, operator: 600 } as const;

export interface Sender {
  readonly kind: keyof typeof MOST;
  readonly name: string;
}

/** @throws TooManyError once the sender has written more than that within the window. */
export async function countWrite(counts: WriteCounts, sender: Sender, nowMs: number): Promise<void> {
  const windowMs = Math.floor(nowMs / WINDOW_MS) * WINDOW_MS;
  const found = await counts.count(`${sender.kind} ${sender.name}`, windowMs);
  const expected = MOST[sender.kind];
  if (found <= expected) return;
  throw new TooManyError({ found, expected, retryAfterS: Math.ceil((windowMs + WINDOW_MS - nowMs) / 1000) });
}

/** An address is kept for ten minutes, and as a digest alone. */
export async function senderOf(request: Request, operator: string | undefined): Promise<Sender> {
  if (operator !== undefined) return { kind: 'operator', name: operator };
  const address = request.headers.get('cf-connecting-ip') ?? 'unknown';
  return { kind: 'address', name: (await sha256Hex(address)).slice(0, 20) };
}

export const WRITE_WINDOW_MS = WINDOW_MS;
