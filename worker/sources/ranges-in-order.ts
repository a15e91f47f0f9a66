/** The bytes of a plan's ranges, one after the other, a few of them fetched ahead. */
import type { FileVersion } from './range-answer.ts';
import type { PlannedRange, RangePlan } from './range-plan.ts';
import type { RangedHttp } from './ranged-http.ts';

export interface FetchedRange {
  readonly range: PlannedRange;
  readonly bytes: Uint8Array;
}

type Answer = Awaited<ReturnType<RangedHttp['range']>>;

/**
 * @param rangesAhead  Requests under way at once; so many ranges are held in memory beside the one in use.
 * @throws SourceError of the first range in order that cannot be had; the requests after it are cancelled, and so are all when
 *   the caller stops.
 */
export async function* rangesInOrder(
  http: RangedHttp,
  url: string,
  plan: RangePlan,
  rangesAhead: number,
): AsyncGenerator<FetchedRange> {
  const stop = new AbortController();
  let version: FileVersion | undefined;
  const ahead: Promise<Answer>[] = [];
  const start = (range: PlannedRange) => {
    const answer = http.range(url, range, { version, signal: stop.signal });
    // Where nobody waits for it any more, its failure is nobody's.
    answer.catch(() => undefined);
    ahead.push(answer);
  };
  let next = 0;
  try {
    for (const [at, range] of plan.ranges.entries()) {
      // The first answer alone says which version of the file the others must be of.
      const until = at === 0 ? 1 : at + rangesAhead;
      for (; next < Math.min(until, plan.ranges.length); next += 1) start(plan.ranges[next]!);
      const answer = await ahead.shift()!;
      version ??= answer.version;
      yield { range, bytes: answer.bytes };
    }
  } finally {
    stop.abort();
  }
}
