/** GET /api/briefs/{id}/about: when a shared brief was made, and what was asked. */
import { utc } from '../brief/utc.ts';
import { briefRequestSchema } from '../schema/request.ts';
import type { AboutBrief } from '../schema/shared-brief.ts';
import type { SharedBrief } from '../sources/shared-briefs.ts';

/** Whatever the contract takes today, the brief stands: a request that it does not take any more is told as it was stored. */
export function aboutAnswer(shared: SharedBrief): AboutBrief {
  const stored: unknown = JSON.parse(shared.request);
  const request = briefRequestSchema.safeParse(stored).data;
  return {
    id: shared.id,
    createdUtc: utc(shared.createdMs),
    expiresUtc: utc(shared.expiresMs),
    sha256: shared.sha256,
    methodVersion: shared.method,
    inputsSha256: shared.inputsSha256 ?? null,
    ...(request === undefined ? { request: null, storedRequest: stored } : { request }),
  };
}
