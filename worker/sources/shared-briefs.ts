/** Briefs that somebody shared: bytes that never change, and what they were made with. */

import type { GoneError } from '../errors.ts';

/** Whose key a brief was shared with: an operator's own, or one of a board of that operator. */
export interface Maker {
  readonly operator: string;
  readonly boardKeyId?: string | undefined;
}

/** Everything of a shared brief but its bytes. */
export interface SharedBrief {
  /** 22 characters of base64url: 128 random bits. */
  readonly id: string;
  readonly createdMs: number;
  readonly expiresMs: number;
  /** undefined while nobody took it back. */
  readonly revokedMs: number | undefined;
  /** Of the bytes, lower-case hex. */
  readonly sha256: string;
  /** Of the key that takes it back, lower-case hex. */
  readonly keySha256: string;
  /** Version of the method that made it. */
  readonly method: string;
  /** Whose data it was made from. */
  readonly operators: readonly string[];
  /** What was asked, as JSON. */
  readonly request: string;
  /** "KBTV to KBGR, file 11,000 ft", for previews of its link. */
  readonly title: string;
  readonly sentence: string;
  /** Of the inputs as they are kept, lower-case hex; undefined where none are. */
  readonly inputsSha256: string | undefined;
  /** undefined where nobody's key came with it. */
  readonly maker: Maker | undefined;
}

export interface SharedBytes {
  /** The brief as its JSON was answered. */
  readonly brief: Uint8Array;
  /** PNG for previews of its link. */
  readonly picture: Uint8Array;
  /** What it was made from: see recorded-inputs.ts; undefined where that is too much. */
  readonly inputs?: Uint8Array | undefined;
}

export interface SharedBriefRepository {
  /** Bytes, picture and inputs first: a row always has them. */
  put(brief: SharedBrief, made: SharedBytes): Promise<void>;
  find(id: string): Promise<SharedBrief | undefined>;
  bytesOf(id: string): Promise<ArrayBuffer | undefined>;
  pictureOf(id: string): Promise<ArrayBuffer | undefined>;
  inputsOf(id: string): Promise<ArrayBuffer | undefined>;
  /** Bytes, picture, inputs and what was asked are gone for good; the row stays to say so. */
  revoke(id: string, nowMs: number): Promise<void>;
  /** Deletes the bytes of what expired before an instant, and rows whose end is long past; gives how many bytes went. */
  forgetExpired(nowMs: number): Promise<number>;
  /** Deletes objects that no row stands for, so many a round; gives how many. */
  sweepOrphans(nowMs: number): Promise<number>;
}

/** Why a link opens nothing; undefined while it stands. */
export function endOf(brief: SharedBrief | undefined, nowMs: number): GoneError['reason'] | undefined {
  if (brief === undefined) return 'unknown';
  if (brief.revokedMs !== undefined) return 'revoked';
  return brief.expiresMs <= nowMs ? 'expired' : undefined;
}

export interface WriteCounts {
  /** Counts one write of a sender; gives how many there were in its window of time, this one included. */
  count(sender: string, windowStartMs: number): Promise<number>;
  forgetBefore(windowMs: number): Promise<void>;
}

const ID = /^[A-Za-z0-9_-]{22}$/;

export function isSharedBriefId(text: string): boolean {
  return ID.test(text);
}

/** @returns so many random bytes as base64url. */
export function randomName(bytes: number): string {
  const values = crypto.getRandomValues(new Uint8Array(bytes));
  return btoa(String.fromCharCode(...values))
    .replaceAll('+', '-')
    .replaceAll('/', '_')
    .replaceAll('=', '');
}
