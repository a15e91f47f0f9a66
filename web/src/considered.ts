/** What is considered: one altitude, or the stepped profile. Everything on the page that is about an altitude is about this. */
import { bestAltitudeFt } from './best-altitude.ts';
import type { BriefMember, Candidate, RoutePoint, WayOut } from './contract.ts';
import { feetText } from './numbers.ts';

export type Choosable = Pick<BriefMember, 'file' | 'alternatives' | 'stepped' | 'recommended'>;

export interface Considered {
  /** Of a stepped profile its highest level. */
  readonly altitudeFt: number;
  readonly isStepped: boolean;
}

/** The stepped profile's name in the address. */
const STEPPED_WORD = 'stepped';

/** The altitude to file or the least bad one; the profile where that is what is recommended. */
export function bestOf(brief: Choosable): Considered | undefined {
  const { recommended } = brief;
  if (recommended !== null && recommended.profile.length > 1) {
    return { altitudeFt: recommended.altitudeFt, isStepped: true };
  }
  const altitudeFt = bestAltitudeFt(brief);
  return altitudeFt === undefined ? undefined : { altitudeFt, isStepped: false };
}

/** What is filed, or the least bad where there is nothing to file. */
export function bestCandidateOf(brief: Choosable): Candidate | undefined {
  const best = bestOf(brief);
  return best && candidateOf(brief, best);
}

export function steppedOf({ stepped, recommended }: Choosable): Candidate | undefined {
  if (stepped !== null) return stepped;
  return recommended !== null && recommended.profile.length > 1 ? recommended : undefined;
}

export function candidateOf(brief: Choosable, { altitudeFt, isStepped }: Considered): Candidate | undefined {
  if (isStepped) return steppedOf(brief);
  return brief.alternatives.find((candidate) => candidate.altitudeFt === altitudeFt);
}

/** What the address says was given; undefined for anything that this brief has no figures of. */
export function givenFromText(text: string | undefined, brief: Choosable): Considered | undefined {
  if (text === undefined) return undefined;
  if (text === STEPPED_WORD) {
    const stepped = steppedOf(brief);
    return stepped && { altitudeFt: stepped.altitudeFt, isStepped: true };
  }
  const given = { altitudeFt: Number(text), isStepped: false };
  return candidateOf(brief, given) === undefined ? undefined : given;
}

/** undefined while the best is considered: nothing else was given. */
export function givenText(considered: Considered, brief: Choosable): string | undefined {
  if (isBest(considered, brief)) return undefined;
  return considered.isStepped ? STEPPED_WORD : String(considered.altitudeFt);
}

export function isBest(considered: Considered, brief: Choosable): boolean {
  const best = bestOf(brief);
  return (
    best !== undefined && best.isStepped === considered.isStepped && best.altitudeFt === considered.altitudeFt
  );
}

/** "11,000", or "9,000 then 11,000" of a stepped profile. */
export function levelsText({ profile, altitudeFt }: Pick<Candidate, 'profile' | 'altitudeFt'>): string {
  if (profile.length < 2) return feetText(altitudeFt);
  return profile.map((level) => feetText(level.altitudeFt)).join(' then ');
}

/** The level that is flown, or left for, over a place. */
export function levelAtFt(
  { profile, altitudeFt }: Pick<Candidate, 'profile' | 'altitudeFt'>,
  distanceNm: number,
): number {
  let levelFt = profile[0]?.altitudeFt ?? altitudeFt;
  for (const level of profile) if (level.fromNm <= distanceNm) levelFt = level.altitudeFt;
  return levelFt;
}

/** Ways out of a candidate over the points of the route; empty where none were worked out. */
export function waysOf(candidate: Candidate | undefined, points: readonly RoutePoint[]): WayOut[] {
  const ways = candidate?.ways ?? null;
  if (ways === null) return [];
  return points.map(({ distanceNm }, index) => ({
    distanceNm,
    way: ways.way[index] ?? 'unknown',
    toAltitudeFt: ways.toAltitudeFt[index] ?? null,
    minutes: ways.minutes[index] ?? null,
    builtMm: ways.builtMm[index] ?? null,
    aerodrome: ways.aerodrome[index] ?? null,
  }));
}
