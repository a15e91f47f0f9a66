/** Everything that stands on the plan view as a mark or a name, the most important first; one list for drawing and map. */
import { wayStretches } from '../answer/file-line.ts';
import { waysOf } from '../considered.ts';
import type { Brief, Candidate } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import type { Look } from '../look.ts';
import { feetText } from '../numbers.ts';
import { lineAlong, lineBeside, type Position, wholeCourseRad } from './along-leg.ts';
import { positionAt } from './cursor-position.ts';
import type { Level } from './plan-bands.ts';
import { noteMarks, reportMarks } from './report-marks.ts';
import { WORSE_WITHIN_FT, worseAir } from './worse-air.ts';

interface Placed {
  readonly id: string;
  readonly place: Position;
  /** The same in ever fewer words; empty for a mark that says all by itself. */
  readonly words: readonly string[];
}

export type PlanMark =
  | (Placed & { readonly kind: 'fix' | 'station' | 'aerodrome' })
  /** Beside a fix its letter stands aside. */
  | (Placed & { readonly kind: 'note'; readonly isAtFix: boolean })
  | (Placed & { readonly kind: 'report'; readonly letter: string; readonly isSerious: boolean })
  | (Placed & {
      readonly kind: 'way';
      readonly way: ReturnType<typeof wayStretches>[number]['way'];
      readonly line: readonly Position[];
    })
  | (Placed & {
      readonly kind: 'worse';
      readonly side: 'above' | 'below';
      readonly look: Look;
      readonly line: readonly Position[];
    });

/** Lines beside the corridor stand off its edge by this part of its half-width. */
const BESIDE = 1.18;

export function planMarks(
  brief: Brief,
  candidate: Candidate | undefined,
  levels: readonly Level[],
): PlanMark[] {
  const ways = wayMarks(brief, candidate);
  const reports = reportMarks(brief);
  const isBad = ({ way }: { readonly way: string }) => way === 'none' || way === 'unknown';
  return [
    ...fixMarks(brief),
    ...ways.filter(isBad),
    ...reports.map(({ id, lonDeg, latDeg, letter, isSerious }) => ({
      kind: 'report' as const,
      id,
      place: [lonDeg, latDeg] as const,
      words: [],
      letter,
      isSerious,
    })),
    ...worseMarks(brief, levels),
    ...ways.filter((one) => !isBad(one)),
    ...stationMarks(brief),
    ...noteMarks(brief, reports).map(({ id, lonDeg, latDeg }) => ({
      kind: 'note' as const,
      id,
      place: [lonDeg, latDeg] as const,
      words: [],
      isAtFix: brief.brief.leg.points.some(
        (point) =>
          point.fix !== null && Math.hypot(point.lonDeg - lonDeg, point.latDeg - latDeg) < SAME_PLACE_DEG,
      ),
    })),
  ];
}

const SAME_PLACE_DEG = 0.05;

function fixMarks({ brief }: Brief): (PlanMark & { kind: 'fix' })[] {
  return brief.leg.points.flatMap(({ fix, lonDeg, latDeg, distanceNm }) =>
    fix === null
      ? []
      : [{ kind: 'fix', id: `fix ${distanceNm}`, place: [lonDeg, latDeg] as const, words: [fix] }],
  );
}

/** Several ascents of one station have one name, at the first. */
function stationMarks(brief: Brief): (PlanMark & { kind: 'station' })[] {
  const named = new Set<string>();
  return featuresOf(brief, 'source').map(({ id, geometry, properties }) => {
    const isNamed = named.has(properties.name);
    named.add(properties.name);
    const place = geometry.coordinates as unknown as Position;
    return { kind: 'station', id, place, words: isNamed ? [] : [properties.name] };
  });
}

/** What is said of several stretches is said once, at the longest: the lines tell the others. */
function saidOnce<Mark extends PlanMark>(marks: readonly (Mark & { readonly lengthNm: number })[]): Mark[] {
  const longest = new Map<string, (typeof marks)[number]>();
  for (const mark of marks) {
    const key = mark.words.join();
    if ((longest.get(key)?.lengthNm ?? 0) < mark.lengthNm) longest.set(key, mark);
  }
  return marks.map((mark) => (longest.get(mark.words.join()) === mark ? mark : { ...mark, words: [] }));
}

/** Where no ice is near no way is needed, and none is marked. */
function wayMarks(brief: Brief, candidate: Candidate | undefined): (PlanMark & { kind: 'way' })[] {
  const { points } = brief.brief.leg;
  const marks = wayStretches(waysOf(candidate, points))
    .filter(({ way }) => way !== 'not-needed')
    .flatMap((stretch) => {
      const place = positionAt(points, (stretch.fromNm + stretch.toNm) / 2);
      if (place === undefined) return [];
      return {
        kind: 'way' as const,
        id: `way ${stretch.fromNm}`,
        place,
        way: stretch.way,
        line: lineAlong(points, stretch),
        words: wayMarkWords(stretch),
        lengthNm: stretch.toNm - stretch.fromNm,
      };
    });
  return saidOnce(marks);
}

/** No arrow back: on a map it would point somewhere. */
function wayMarkWords({
  way,
  toAltitudeFt,
  aerodrome,
}: Pick<ReturnType<typeof wayStretches>[number], 'way' | 'toAltitudeFt' | 'aerodrome'>): string[] {
  const target = toAltitudeFt === null ? '' : ` ${feetText(toAltitudeFt)}`;
  if (way === 'none') return ['no way out', 'none'];
  if (way === 'unknown') return ['way out unknown', 'unknown'];
  if (way === 'up') return [`way out ↑${target}`, `↑${target}`];
  if (way === 'down') return [`way out ↓${target}`, `↓${target}`];
  if (way === 'stay') return ['stay level', 'stay'];
  if (way === 'back') return ['way out back', 'back'];
  return aerodrome === null
    ? ['way out: land', 'land']
    : [`way out: land at ${aerodrome}`, `land ${aerodrome}`];
}

/** Beside the corridor, what lies above on the side that is up in a picture with north up. */
function worseMarks(brief: Brief, levels: readonly Level[]): (PlanMark & { kind: 'worse' })[] {
  const { leg, limits } = brief.brief;
  const isLeftUp = Math.sin(wholeCourseRad(leg.points)) >= 0;
  const marks = worseAir(featuresOf(brief, 'icing-band'), levels).flatMap((stretch) => {
    const isLeft = (stretch.side === 'above') === isLeftUp;
    const offsetNm = BESIDE * limits.corridorHalfWidthNm * (isLeft ? -1 : 1);
    const line = lineBeside(leg.points, stretch, offsetNm);
    const place = line[Math.floor(line.length / 2)];
    if (place === undefined) return [];
    return {
      kind: 'worse' as const,
      id: `worse ${stretch.side} ${stretch.fromNm}`,
      place,
      side: stretch.side,
      look: stretch.look,
      line,
      words: [
        `${stretch.inShort} within ${feetText(WORSE_WITHIN_FT)} ft ${stretch.side}`,
        `${stretch.side}: ${stretch.inShort}`,
      ],
      lengthNm: stretch.toNm - stretch.fromNm,
    };
  });
  return saidOnce(marks);
}

/** While the curtain stands it shows itself what lies above and below; what lies behind it would stand on it. */
export function marksBesideWall(marks: readonly PlanMark[]): PlanMark[] {
  return marks.filter((mark) => {
    if (mark.kind === 'way') return mark.way === 'none' || mark.way === 'unknown';
    return mark.kind === 'fix' || mark.kind === 'report' || mark.kind === 'note';
  });
}
