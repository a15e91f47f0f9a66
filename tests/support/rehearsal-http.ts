/** HTTP against the local bucket: real fetch and real time, but waits and limits of milliseconds. */

import { platformHttp } from '../../worker/sources/platform-http.ts';
import {
  createRangedHttp,
  type RangedHttp,
  type RangedHttpSettings,
} from '../../worker/sources/ranged-http.ts';

export function rehearsalHttp(
  baseUrl: string,
  changes: Partial<RangedHttpSettings> & { readonly nowMs?: () => number } = {},
): RangedHttp {
  const { nowMs = () => 0, ...settings } = changes;
  return createRangedHttp(
    { ...platformHttp(), random: () => 0.5, nowMs },
    {
      allowed: { hosts: [], rehearsalBaseUrl: baseUrl },
      retry: { attempts: 3, firstWaitMs: 2, greatestWaitMs: 10, greatestRetryAfterMs: 2000 },
      answerTimeoutMs: 5000,
      wholeTimeoutMs: 10_000,
      ...settings,
    },
  );
}
