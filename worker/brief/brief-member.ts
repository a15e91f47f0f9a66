/** The brief's own member beside the features: answer, limits, data, method. */

import { magneticCourseDeg, makeMagneticModel } from '../flight/magnetic.ts';
import { overMinima } from '../flight/planned.ts';
import type {
  Aircraft,
  CandidateResult,
  Choice,
  MinimumAltitudes,
  MinimumCrossing,
  Planned,
  RoutePoints,
} from '../flight/types.ts';
import type { BriefMember, DataUsed } from '../schema/brief.ts';
import type { IcingColumns, WeatherColumns } from '../science/columns.ts';
import type { DrawnIcing } from '../science/drawn-icing.ts';
import { ftFromM, ktFromMps, nmFromM } from '../science/units.ts';
import { candidateAnswer, fileAnswer, fluidAnswer, waysOutAnswer } from './choice-answer.ts';
import { curtainAnswer } from './curtain-answer.ts';
import { dataReasons, incompleteCautions, lacksOf } from './data-reasons.ts';
import type { UsedSource } from './gather-weather.ts';
import { isInventedStation } from './invented.ts';
import { CAUTIONS, METHOD_VERSION, methodSettings } from './method.ts';
import type { ResolvedRoute } from './resolve-route.ts';
import { roundTo } from './round-to.ts';
import type { SettledOptions } from './settings.ts';
import { staleAtUtc } from './stale.ts';
import { utc } from './utc.ts';

export interface MemberParts {
  readonly route: RoutePoints;
  readonly resolved: ResolvedRoute;
  readonly etaMs: Float64Array;
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  readonly drawn: DrawnIcing;
  readonly minimum: MinimumAltitudes;
  /** Of who made the heights of the ground, where elevation tiles are used. */
  readonly groundAttribution: string | null;
  readonly used: readonly UsedSource[];
  /** Those, and those of the air to the alternate. */
  readonly usedByAir: readonly (readonly UsedSource[])[];
  readonly aircraft: Aircraft;
  readonly departureMs: number;
  readonly options: SettledOptions;
  readonly planned: Planned;
  readonly crossings: readonly MinimumCrossing[];
  /** Identifier, where one is asked for. */
  readonly alternate: string | undefined;
  readonly choice: Choice;
  readonly indicatedMinusPressureM: number;
  readonly departures: BriefMember['departures'];
  readonly ways: BriefMember['ways'];
  readonly ground: BriefMember['ground'];
}

export function briefMember(parts: MemberParts): BriefMember {
  const { choice, aircraft, options, route } = parts;
  const of = { aircraft, distanceM: route.distanceM };
  const candidateOrNull = (result: CandidateResult | undefined) =>
    result === undefined ? null : candidateAnswer(result, of);
  const used = parts.usedByAir.flat();
  return {
    leg: legAnswer(parts),
    verdict: {
      code: choice.verdict.code,
      sentence: choice.verdict.sentence,
      reasons: [...dataReasons(used), ...choice.verdict.reasons],
    },
    operational: [...choice.operational],
    file: fileAnswer(choice.file),
    recommended: candidateOrNull(choice.recommended),
    stepped: candidateOrNull(choice.stepped),
    changes: [...choice.changes],
    alternatives: choice.candidates.map((each) => candidateAnswer(each, of)),
    departures: parts.departures,
    ways: parts.ways,
    limits: limitsAnswer(parts),
    fluid: fluidAnswer(choice.considered?.fluid),
    waysOut: waysOutAnswer(choice.considered?.waysOut, route.distanceM),
    beforeTakeOff: [...choice.beforeTakeOff],
    cues: [...choice.cues],
    ground: parts.ground,
    ...(options.curtain ? { curtain: curtainAnswer(parts) } : {}),
    data: parts.used.map((source) => dataAnswer(source, route)),
    method: { version: METHOD_VERSION, settings: methodSettings(options) },
    staleAtUtc: staleAtUtc(parts.usedByAir),
    cautions: [...CAUTIONS, ...incompleteCautions(used)],
  };
}

function legAnswer(parts: MemberParts): BriefMember['leg'] {
  const { route, resolved } = parts;
  const from = route.fixes[0]!.name;
  const to = route.fixes.at(-1)!.name;
  return {
    routeText: resolved.text,
    from,
    to,
    fromName: resolved.placeNames.get(from) ?? null,
    toName: resolved.placeNames.get(to) ?? null,
    distanceNm: roundTo(nmFromM(route.distanceM[route.pointCount - 1]!), 0.01),
    departureUtc: new Date(parts.departureMs).toISOString(),
    magneticCourseDeg: departureCourseDeg(parts),
    points: Array.from({ length: route.pointCount }, (_, point) => ({
      distanceNm: roundTo(nmFromM(route.distanceM[point]!), 0.01),
      latDeg: roundTo(route.latDeg[point]!, 1e-5),
      lonDeg: roundTo(route.lonDeg[point]!, 1e-5),
      etaUtc: utc(parts.etaMs[point]!),
      fix: route.fixes[route.fixIndex[point]!]?.name ?? null,
      terrainFt: wholeFtOrNull(parts.minimum.terrainM[point]!),
      minimumAltitudeFt: wholeFtOrNull(parts.minimum.altitudeM[point]!),
    })),
  };
}

/** Magnetic course on leaving, whole degrees. */
function departureCourseDeg({ route, departureMs }: MemberParts): number {
  const start = { latDeg: route.latDeg[0]!, lonDeg: route.lonDeg[0]! };
  return Math.round(magneticCourseDeg(makeMagneticModel(departureMs), start, route.courseRad[0]!)) % 360;
}

function limitsAnswer(parts: MemberParts): BriefMember['limits'] {
  const { aircraft, options } = parts;
  return {
    aircraftId: aircraft.id,
    aircraftName: aircraft.name,
    ceilingFt: Math.round(ftFromM(aircraft.ceilingM)),
    certifiedForIcing: aircraft.certifiedForIcing,
    altimeterSettingHPa: options.altimeterSettingHPa,
    corridorHalfWidthNm: options.corridorHalfWidthNm,
    icedCeilingFt: Math.round(ftFromM(aircraft.icedCeilingM)),
    minimumIcingAirspeedKt: aircraft.minimumIcingAirspeedMps
      ? Math.round(ktFromMps(aircraft.minimumIcingAirspeedMps))
      : null,
    takeoffWeightKg: options.takeoffWeightKg ?? null,
    temperatureRecoveryRatio: roundTo(aircraft.temperatureRecoveryRatio, 0.01),
    directionRule: `${options.directionRule}, magnetic course; in controlled airspace the controller assigns`,
    oxygenRule: options.oxygenRule,
    planned: plannedAnswer(parts),
    crossings: parts.crossings.map(({ name, distanceM, altitudeM }) => ({
      name,
      distanceNm: roundTo(nmFromM(distanceM), 0.01),
      altitudeFt: Math.round(ftFromM(altitudeM)),
    })),
    minimumAltitudeSource: parts.minimum.legSource,
    groundAttribution: parts.groundAttribution,
    fluidOnBoardL: options.fluidOnBoardM3 === undefined ? null : roundTo(options.fluidOnBoardM3 * 1000, 0.1),
  };
}

function plannedAnswer(parts: MemberParts): BriefMember['limits']['planned'] {
  const planned = overMinima(parts, parts.planned);
  const minutes = (seconds: number) => roundTo(seconds / 60, 0.1);
  return {
    earlyDescentMinutes: minutes(planned.earlyDescentS),
    vectorsMinutes: minutes(planned.vectorsS),
    approachMinutes: minutes(planned.approachS),
    holdMinutes: minutes(planned.holdS),
    approachAltitudeFt: Math.round(ftFromM(planned.approachAltitudeM)),
    holdAltitudeFt: Math.round(ftFromM(planned.holdAltitudeM)),
    alternate: parts.alternate ?? null,
  };
}

export function dataAnswer(source: UsedSource, route: RoutePoints): DataUsed {
  return {
    kind: source.kind,
    id: source.id,
    name: source.name,
    runUtc: source.runMs === undefined ? null : new Date(source.runMs).toISOString(),
    validUtc: new Date(source.validMs).toISOString(),
    usedUpToMinutes: Math.round(source.offsetMs / 60_000),
    nearestNm: roundTo(nmFromM(source.nearestM), 1),
    share: roundTo(source.points.length / route.pointCount, 0.01),
    alongNm: stretchesNm(source.points, route),
    lacks: lacksOf(source),
    invented: source.kind === 'sounding' && isInventedStation(source.name),
    attribution: source.attribution,
  };
}

/** Runs of neighboring points, as the distances of their first and last. */
function stretchesNm(points: readonly number[], { distanceM }: RoutePoints): [number, number][] {
  const stretches: [number, number][] = [];
  points.forEach((point, index) => {
    const distanceNm = roundTo(nmFromM(distanceM[point]!), 0.01);
    const isNext = index > 0 && points[index - 1] === point - 1;
    if (isNext) stretches.at(-1)![1] = distanceNm;
    else stretches.push([distanceNm, distanceNm]);
  });
  return stretches;
}

const wholeFtOrNull = (meters: number) => (Number.isFinite(meters) ? Math.round(ftFromM(meters)) : null);
