/** What would be said now of the leg whose shared brief is shown. */
import { signal } from '@preact/signals';
import type { AboutBrief } from '../../../worker/schema/shared-brief.ts';
import type { Answer } from '../client/answer.ts';
import type { Brief } from '../contract.ts';

export interface BriefedNow {
  /** Beside which it stands. */
  readonly shared: AboutBrief;
  readonly answer: Answer<Brief>;
  readonly askedMs: number;
}

/** Beside the shared brief and never in its place; undefined until it is there. */
export const briefedNow = signal<BriefedNow | undefined>(undefined);

/** It is asked for again after so long, and says nothing any more until it is there. */
export const NOW_HOLDS_MS = 5 * 60_000;
