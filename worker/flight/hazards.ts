/**
 * What was reported or warned of on a leg. It raises a verdict, whatever a model says; nothing here ever lowers one: a
 * report that no ice was met makes no hazard.
 */
import type { IcingColumns, WeatherColumns } from '../science/columns.ts';
import { mFromFt, mFromNm } from '../science/units.ts';
import { type CellFacts, FACT } from './cell-facts.ts';
import { distanceToAreaM, type HazardArea } from './hazard-areas.ts';
import { type HazardLevel, levelSpanM } from './hazard-levels.ts';
import type { RoutePoints } from './types.ts';

export type HazardKind = 'warning' | 'surface-report' | 'surface-forecast' | 'pilot-report';
/** large-drops: freezing rain, freezing drizzle, ice pellets. */
export type HazardSeverity = 'unstated' | 'moderate' | 'severe' | 'large-drops';

/** What is reported or warned of, and from when to when. */
interface ReportedDanger {
  /** Stable: the same report over the same stretch of a leg has the same. */
  readonly id: string;
  readonly kind: HazardKind;
  readonly severity: HazardSeverity;
  /** Fewer than 14 words. */
  readonly sentence: string;
  readonly validFromMs: number;
  readonly validToMs: number;
  readonly issuedMs: number;
}

/** Something reported or warned of on the leg: it raises a verdict, whatever the model says, and never lowers one. */
export interface Hazard extends ReportedDanger {
  /** Route points where it holds, first and last inclusive; one hazard a contiguous stretch. */
  readonly firstPoint: number;
  readonly lastPoint: number;
  /** Pressure altitudes it spans, m; -Infinity and Infinity where not stated. */
  readonly lowerM: number;
  readonly upperM: number;
}

/** One thing that one report says, wherever it is: what hazards are made of. */
export interface HazardFact extends ReportedDanger {
  /** It holds in each of them. */
  readonly areas: readonly HazardArea[];
  readonly lower: HazardLevel;
  readonly upper: HazardLevel;
}

/** The leg as hazards are laid over it. */
export interface HazardLeg {
  readonly route: RoutePoints;
  /** When the aeroplane is over each point, epoch ms. */
  readonly etaMs: Float64Array;
  readonly corridorHalfWidthM: number;
  readonly indicatedMinusPressureM: number;
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
}

interface Reach {
  readonly beyondCorridorM: number;
  readonly leastM: number;
  readonly toleranceMs: number;
}

const MS_PER_MIN = 60_000;
/** A stretch of the route reaches half way to the next point, of which the furthest is 5 NM off. */
const HALF_SPACING_M = mFromNm(2.5);

/**
 * How far beside an area, and how long before and after its period, it still counts. All are judgements. Places: the
 * corridor for a warning; 10 NM more for an aerodrome, whose weather is that of its surroundings; at least 30 NM for a
 * pilot's report, which is placed by hand. Times: half an hour for a flight that is early or late; an hour for a
 * forecast, whose changes come early or late themselves.
 */
const REACH: Readonly<Record<HazardKind, Reach>> = {
  warning: { beyondCorridorM: 0, leastM: 0, toleranceMs: 30 * MS_PER_MIN },
  'surface-report': { beyondCorridorM: mFromNm(10), leastM: 0, toleranceMs: 30 * MS_PER_MIN },
  'surface-forecast': { beyondCorridorM: mFromNm(10), leastM: 0, toleranceMs: 60 * MS_PER_MIN },
  'pilot-report': { beyondCorridorM: 0, leastM: mFromNm(30), toleranceMs: 30 * MS_PER_MIN },
};
/** The longest that anything is looked for before and after its time. */
export const LONGEST_TOLERANCE_MS = 60 * MS_PER_MIN;

/** The furthest from the route that anything still counts, m. */
export function widestReachM(corridorHalfWidthM: number): number {
  return Math.max(...Object.values(REACH).map((reach) => reachM(reach, corridorHalfWidthM)));
}

function reachM({ beyondCorridorM, leastM }: Reach, corridorHalfWidthM: number): number {
  return HALF_SPACING_M + Math.max(corridorHalfWidthM + beyondCorridorM, leastM);
}

/**
 * The hazards of a leg: each fact laid over the points that it reaches, in space and in time, one hazard a contiguous
 * stretch. Where its height follows from the air and the air is not known somewhere on the stretch, it has no end there.
 *
 * @returns  in the order of the facts, along the route.
 * @checked  tests/flight/hazards.test.ts
 */
export function hazardsOnLeg(facts: readonly HazardFact[], leg: HazardLeg): Hazard[] {
  return facts.flatMap((fact) =>
    reachedStretches(fact, leg).map(([firstPoint, lastPoint], number) => {
      const { id, kind, severity, sentence, validFromMs, validToMs, issuedMs } = fact;
      return {
        id: number === 0 ? id : `${id}-${number + 1}`,
        kind,
        severity,
        sentence,
        validFromMs,
        validToMs,
        issuedMs,
        firstPoint,
        lastPoint,
        ...spanOver(fact, leg, firstPoint, lastPoint),
      };
    }),
  );
}

/** What says where and when something holds, of a hazard or of a mere note. */
export type Placed = Pick<HazardFact, 'kind' | 'areas' | 'validFromMs' | 'validToMs'>;
export type ReachedLeg = Pick<HazardLeg, 'route' | 'etaMs' | 'corridorHalfWidthM'>;

/** First and last route point of each contiguous stretch that it reaches in space and in time, along the route. */
export function reachedStretches(fact: Placed, leg: ReachedLeg): [first: number, last: number][] {
  const stretches: [number, number][] = [];
  for (let point = 0; point < leg.route.pointCount; point += 1) {
    if (!isReached(fact, leg, point)) continue;
    const last = stretches.at(-1);
    if (last?.[1] === point - 1) last[1] = point;
    else stretches.push([point, point]);
  }
  return stretches;
}

function isReached(fact: Placed, { route, etaMs, corridorHalfWidthM }: ReachedLeg, point: number): boolean {
  const reach = REACH[fact.kind];
  // Written so that a time that is no number counts as within.
  const isTooEarly = etaMs[point]! < fact.validFromMs - reach.toleranceMs;
  const isTooLate = etaMs[point]! > fact.validToMs + reach.toleranceMs;
  if (isTooEarly || isTooLate) return false;
  const place = { latDeg: route.latDeg[point]!, lonDeg: route.lonDeg[point]! };
  return fact.areas.some((area) => !(distanceToAreaM(area, place) > reachM(reach, corridorHalfWidthM)));
}

function spanOver({ lower, upper }: HazardFact, leg: HazardLeg, firstPoint: number, lastPoint: number) {
  let lowerM = Infinity;
  let upperM = -Infinity;
  for (let point = firstPoint; point <= lastPoint; point += 1) {
    lowerM = Math.min(lowerM, levelSpanM(lower, leg, point).leastM);
    upperM = Math.max(upperM, levelSpanM(upper, leg, point).mostM);
  }
  return lowerM <= upperM ? { lowerM, upperM } : { lowerM: upperM, upperM: lowerM };
}

/** Some time over a route point at an altitude, as every step of a path is. */
interface Passage {
  readonly pointIndex: number;
  readonly pressureAltitudeM: number;
  readonly durationS: number;
}

/** Altimeters, and levels told in hundreds of feet: a judgement. */
const MARGIN_M = mFromFt(500);

/**
 * Time that a path spends in each hazard.
 *
 * @returns  in the order of the hazards, those that are met alone; metS in s, over 0. A hazard more never takes time
 *           from another.
 * @checked  tests/flight/hazards.test.ts
 */
export function hazardsMet(
  steps: readonly Passage[],
  hazards: readonly Hazard[],
): readonly { readonly hazard: Hazard; readonly metS: number }[] {
  return hazards
    .map((hazard) => ({
      hazard,
      metS: steps.reduce((sum, step) => sum + (isIn(step, hazard) ? step.durationS : 0), 0),
    }))
    .filter(({ metS }) => metS > 0);
}

/** What the hazards say that some steps lead through, each sentence once. */
export function reportedOn(steps: readonly Passage[], hazards: readonly Hazard[]): string[] {
  return [...new Set(hazardsMet(steps, hazards).map(({ hazard }) => hazard.sentence))];
}

/** Met on one part of a flight and on another: each hazard once, with its time together, in the order of the first. */
export function metTogether(parts: readonly ReturnType<typeof hazardsMet>[]): ReturnType<typeof hazardsMet> {
  const byId = new Map<string, { hazard: Hazard; metS: number }>();
  for (const { hazard, metS } of parts.flat()) {
    const key = `${hazard.severity} ${hazard.id}`;
    byId.set(key, { hazard, metS: metS + (byId.get(key)?.metS ?? 0) });
  }
  return [...byId.values()];
}

/** Marks the known cells that touch severe or large-drop hazards as dangers, so that no way leads through them. */
export function markDangers(facts: CellFacts, hazards: readonly Hazard[]): void {
  for (const hazard of hazards) {
    if (hazard.severity !== 'severe' && hazard.severity !== 'large-drops') continue;
    for (let pointIndex = hazard.firstPoint; pointIndex <= hazard.lastPoint; pointIndex += 1) {
      for (let cell = 0; cell < facts.cellCount; cell += 1) {
        const index = pointIndex * facts.cellCount + cell;
        const edgeM = facts.lowestM + cell * facts.cellDepthM;
        const isKnown = (facts.answers[index]! & FACT.known) !== 0;
        const isOutside =
          edgeM > hazard.upperM + MARGIN_M || edgeM + facts.cellDepthM < hazard.lowerM - MARGIN_M;
        if (!isKnown || isOutside) continue;
        facts.answers[index]! |= FACT.danger | FACT.hasIce | FACT.mayHaveIce;
      }
    }
  }
}

/** An altitude that is not known may lie in any of them. */
export function isIn({ pointIndex, pressureAltitudeM }: Passage, hazard: Hazard): boolean {
  const { firstPoint, lastPoint, lowerM, upperM } = hazard;
  return (
    pointIndex >= firstPoint &&
    pointIndex <= lastPoint &&
    !(pressureAltitudeM < lowerM - MARGIN_M) &&
    !(pressureAltitudeM > upperM + MARGIN_M)
  );
}
