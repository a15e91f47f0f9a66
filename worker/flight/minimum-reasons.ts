/** What is to be said of the minimum altitudes: where they are unknown, what they rest on, and entered ones that do not hold. */
import { nmFromM } from '../science/units.ts';
import { OROGRAPHY_ALLOWANCE_M } from './known-ground.ts';
import { rounded } from './rounding.ts';
import {
  type ChooseInput,
  type FlightReason,
  MINIMUM_SOURCES,
  type MinimumAltitudes,
  type MinimumSource,
  type RoutePoints,
} from './types.ts';
import { apiFeet, feet, reason } from './words.ts';

export function minimumReasons({ route, minimum }: Pick<ChooseInput, 'route' | 'minimum'>): FlightReason[] {
  return [
    ...stretchesOf(minimum.source, 'unknown').map((stretch) => unknownReason(route, stretch)),
    ...overruledReasons(minimum),
    ...orographyReasons(route, minimum),
    ...spotReasons(minimum),
    ...tileReasons(minimum),
  ];
}

interface PointStretch {
  readonly fromPoint: number;
  readonly toPoint: number;
}

function unknownReason(route: RoutePoints, stretch: PointStretch): FlightReason {
  const where = whereOf(route, stretch);
  const sentence = `The minimum altitude is unknown ${where.words}: enter it from the chart`;
  return reason('minimum-altitude-unknown', sentence, where.numbers);
}

/** More stretches than these are counted. */
const MOST_STRETCHES = 3;

function orographyReasons(route: RoutePoints, { source }: MinimumAltitudes): FlightReason[] {
  const stretches = stretchesOf(source, 'model-orography');
  if (stretches.length === 0) return [];
  const where =
    stretches.length > MOST_STRETCHES
      ? `on ${stretches.length} stretches`
      : stretches.map((stretch) => whereOf(route, stretch).words).join(' and ');
  const sentence = `The minimum altitude ${where} rests on a forecast model’s smoothed ground plus ${feet(OROGRAPHY_ALLOWANCE_M)} and 2,000 ft: it cuts off summits and is not safe alone, enter it from the chart`;
  return [
    reason('minimum-altitude-from-model-orography', sentence, {
      stretches: stretches.length,
      allowanceFt: apiFeet(OROGRAPHY_ALLOWANCE_M),
    }),
  ];
}

function spotReasons({ source }: MinimumAltitudes): FlightReason[] {
  const spots = stretchesOf(source, 'spot-heights');
  if (spots.length === 0) return [];
  const sentence =
    'Minimum altitudes from spot heights plus 2,000 ft: higher ground between spots is not known';
  return [reason('minimum-altitude-from-spot-heights', sentence, { stretches: spots.length })];
}

function tileReasons({ source, allowanceM }: MinimumAltitudes): FlightReason[] {
  const stretches = stretchesOf(source, 'terrain-tiles');
  if (stretches.length === 0) return [];
  const isFromTiles = (point: number) => source[point] === MINIMUM_SOURCES.indexOf('terrain-tiles');
  const greatestM = Math.max(...allowanceM.filter((_, point) => isFromTiles(point)));
  const sentence = `Minimum altitudes from elevation tiles plus up to ${feet(greatestM)} for summits and 1,000 ft, in mountains 2,000 ft: masts and other obstacles are not in them`;
  return [
    reason('minimum-altitude-from-terrain-tiles', sentence, {
      stretches: stretches.length,
      allowanceFt: apiFeet(greatestM),
    }),
  ];
}

/** The entered minimum that known ground rules out by most. */
function overruledReasons({ overruledM, overrulingGroundM }: MinimumAltitudes): FlightReason[] {
  let worst = -1;
  overruledM.forEach((enteredM, point) => {
    if (Number.isNaN(enteredM)) return;
    const marginM = enteredM - overrulingGroundM[point]!;
    if (worst < 0 || marginM < overruledM[worst]! - overrulingGroundM[worst]!) worst = point;
  });
  if (worst < 0) return [];
  const enteredM = overruledM[worst]!;
  const groundM = overrulingGroundM[worst]!;
  const sentence = `The entered minimum of ${feet(enteredM)} does not hold over ground of ${feet(groundM)}: check it`;
  return [
    reason('entered-minimum-overruled', sentence, {
      enteredFt: apiFeet(enteredM),
      groundFt: apiFeet(groundM),
    }),
  ];
}

function whereOf(
  { distanceM }: RoutePoints,
  { fromPoint, toPoint }: PointStretch,
): { readonly words: string; readonly numbers: Record<string, number> } {
  const fromNm = nmFromM(distanceM[fromPoint]!);
  const toNm = nmFromM(distanceM[toPoint]!);
  const [from, to] = [fromNm, toNm].map((nm) => rounded(nm, 'distanceNm', 'screen'));
  return {
    words: from === to ? `at ${from} NM` : `from ${from} to ${to} NM`,
    numbers: { fromNm: rounded(fromNm, 'distanceNm', 'api'), toNm: rounded(toNm, 'distanceNm', 'api') },
  };
}

/** Runs of points whose minimum comes from one source. */
function stretchesOf(source: Uint8Array, wanted: MinimumSource): PointStretch[] {
  const code = MINIMUM_SOURCES.indexOf(wanted);
  const found: { fromPoint: number; toPoint: number }[] = [];
  source.forEach((each, point) => {
    if (each !== code) return;
    const last = found.at(-1);
    if (last !== undefined && last.toPoint === point - 1) last.toPoint = point;
    else found.push({ fromPoint: point, toPoint: point });
  });
  return found;
}
