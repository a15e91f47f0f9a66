/** What the page knows of a shared brief that it shows: when it was made, and what would be said now. */
import { signal } from '@preact/signals';
import type { AboutBrief } from '../../../worker/schema/shared-brief.ts';
import type { Answer } from '../api.ts';
import type { Brief } from '../contract.ts';

/** undefined while no shared brief is shown. */
export const sharedAbout = signal<AboutBrief | undefined>(undefined);
/** The same leg briefed now, beside the shared one and never in its place; undefined until it is there. */
export const briefedNow = signal<Answer<Brief> | undefined>(undefined);
