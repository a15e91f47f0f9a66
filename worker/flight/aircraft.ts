/** The aircraft profile of the edge turned into SI at one weight, with the checks that span several fields. */
import { InvalidRequestError } from '../errors.ts';
import type { AircraftProfile } from '../schema/aircraft.ts';
import { mFromFt, mpsFromKt } from '../science/units.ts';
import { readPerformance } from './performance-table.ts';
import type { Aircraft } from './types.ts';

export { tableValue } from './performance-table.ts';

const M3_PER_L = 0.001;
const S_PER_MIN = 60;
const S_PER_H = 3600;
const PER_CENT = 0.01;
/** Per cent for a millimeter as a part for a meter. */
const PER_M = PER_CENT * 1000;

/**
 * Stand in for what a profile leaves out: generic figures (judgement), with which ice costs something. A timed burst of 120 s
 * is common practice.
 */
export const AIRCRAFT_DEFAULTS = {
  /** Of the clean ceiling. */
  icedCeilingPart: 0.7,
  iceLoss: { airspeedPctPerMm: 1, climbRatePctPerMm: 3, fuelFlowGainPctPerMm: 1 },
  inletSeparator: null,
  oxygen: 'on-board',
  landingWithIce: { flapNote: '', landingDistanceGainPct: 20 },
  fluid: { maximumBurstS: 120, windshieldL: 0, densityKgPerL: 1.1 },
  boots: { cycleS: 60, minimumThicknessMm: 0 },
} as const;

type Protection = AircraftProfile['protection'];

/**
 * @param profile   Already checked against the schema.
 * @param field     Path of the profile in the request, for errors.
 * @param weightKg  Instead of the profile's own; tables without weights hold at any.
 * @throws          InvalidRequestError with the path of the field, found and expected.
 */
export function aircraftFromProfile(
  profile: AircraftProfile,
  field = 'aircraft',
  weightKg: number | undefined = profile.weightKg,
): Aircraft {
  const read = (rows: Rows, toSi: (value: number) => number, name: string) =>
    readPerformance(rows, { toSi, field: `${field}.${name}`, weightKg });
  const { descentRateFtPerMin: descent, iceLoss = AIRCRAFT_DEFAULTS.iceLoss } = profile;
  const separator = profile.inletSeparator ?? AIRCRAFT_DEFAULTS.inletSeparator;
  const landing = profile.landingWithIce ?? AIRCRAFT_DEFAULTS.landingWithIce;
  return {
    id: profile.id,
    name: profile.name,
    trueAirspeedMps: read(profile.trueAirspeedKt, mpsFromKt, 'trueAirspeedKt'),
    climbRateMps: read(profile.climbRateFtPerMin, mpsFromFtPerMin, 'climbRateFtPerMin'),
    descentRateMps: read(
      typeof descent === 'number' ? [{ pressureAltitudeFt: 0, value: descent }] : descent,
      mpsFromFtPerMin,
      'descentRateFtPerMin',
    ),
    climbTrueAirspeedMps: mpsFromKt(profile.climbTrueAirspeedKt),
    descentTrueAirspeedMps: mpsFromKt(profile.descentTrueAirspeedKt),
    fuelFlowKgPerS: read(profile.fuelFlowKgPerH, (kgPerH) => kgPerH / S_PER_H, 'fuelFlowKgPerH'),
    ceilingM: mFromFt(profile.ceilingFt),
    icedCeilingM: mFromFt(icedCeilingFt(profile, field)),
    certifiedForIcing: profile.certifiedForIcing,
    minimumIcingAirspeedMps:
      profile.minimumIcingAirspeedKt === undefined
        ? undefined
        : mpsFromKt(profile.minimumIcingAirspeedKt ?? 0),
    iceLoss: {
      airspeedPerM: iceLoss.airspeedPctPerMm * PER_M,
      climbRatePerM: iceLoss.climbRatePctPerMm * PER_M,
      fuelFlowGainPerM: iceLoss.fuelFlowGainPctPerMm * PER_M,
    },
    separator: {
      airspeedLoss: (separator?.airspeedLossPct ?? 0) * PER_CENT,
      climbRateLoss: (separator?.climbRateLossPct ?? 0) * PER_CENT,
      fuelFlowGain: (separator?.fuelFlowGainPct ?? 0) * PER_CENT,
    },
    wingNoseRadiusM: profile.wingNoseRadiusMm / 1000,
    rodRadiusM: profile.rodRadiusMm / 1000,
    temperatureRecoveryRatio: profile.temperatureRecoveryRatio,
    groundFluids: profile.groundFluids,
    wingSkin: profile.wingSkin,
    oxygen: profile.oxygen ?? AIRCRAFT_DEFAULTS.oxygen,
    landingWithIce: {
      flapNote: landing.flapNote,
      landingDistanceGain: landing.landingDistanceGainPct * PER_CENT,
    },
    protection: readProtection(profile.protection, `${field}.protection`),
    assumed: assumedMembers(profile),
  };
}

type Rows = AircraftProfile['trueAirspeedKt'];

const mpsFromFtPerMin = (ftPerMin: number): number => mFromFt(ftPerMin) / S_PER_MIN;

const MAY_BE_LEFT_OUT = [
  'icedCeilingFt',
  'minimumIcingAirspeedKt',
  'iceLoss',
  'inletSeparator',
  'oxygen',
  'landingWithIce',
] as const satisfies readonly (keyof AircraftProfile)[];

function assumedMembers(profile: AircraftProfile): string[] {
  return MAY_BE_LEFT_OUT.filter((name) => profile[name] === undefined);
}

function icedCeilingFt(
  { ceilingFt, icedCeilingFt: icedFt = AIRCRAFT_DEFAULTS.icedCeilingPart * ceilingFt }: AircraftProfile,
  field: string,
) {
  if (icedFt <= ceilingFt) return icedFt;
  throw new InvalidRequestError({
    field: `${field}.icedCeilingFt`,
    found: `${icedFt}`,
    expected: `at most ceilingFt (${ceilingFt})`,
  });
}

function readProtection(protection: Protection, field: string): Aircraft['protection'] {
  if (protection.kind === 'none') return protection;
  if (protection.kind === 'fluid') return readFluid(protection, field);
  const { boots } = AIRCRAFT_DEFAULTS;
  const { cycleS = boots.cycleS, minimumThicknessMm = boots.minimumThicknessMm } = protection;
  return { kind: 'boots', cycleS, minimumThicknessM: minimumThicknessMm / 1000 };
}

function readFluid(given: Extract<Protection, { kind: 'fluid' }>, field: string): Aircraft['protection'] {
  const { fluid } = AIRCRAFT_DEFAULTS;
  const protection = {
    ...given,
    maximumFlowLPerMin: given.maximumFlowLPerMin ?? given.highFlowLPerMin,
    maximumBurstS: given.maximumBurstS ?? fluid.maximumBurstS,
    windshieldL: given.windshieldL ?? fluid.windshieldL,
    densityKgPerL: given.densityKgPerL ?? fluid.densityKgPerL,
  };
  refuseLess(protection, ['highFlowLPerMin', 'normalFlowLPerMin'], field);
  refuseLess(protection, ['maximumFlowLPerMin', 'highFlowLPerMin'], field);
  for (const name of ['minimumDispatchL', 'primingL'] as const) {
    if (protection[name] <= protection.usableL) continue;
    throw new InvalidRequestError({
      field: `${field}.${name}`,
      found: `${protection[name]}`,
      expected: `at most usableL (${protection.usableL})`,
    });
  }
  return {
    kind: 'fluid',
    usableM3: protection.usableL * M3_PER_L,
    minimumDispatchM3: protection.minimumDispatchL * M3_PER_L,
    normalFlowM3PerS: (protection.normalFlowLPerMin * M3_PER_L) / S_PER_MIN,
    highFlowM3PerS: (protection.highFlowLPerMin * M3_PER_L) / S_PER_MIN,
    primingM3: protection.primingL * M3_PER_L,
    reserveS: protection.reserveMinutes * S_PER_MIN,
    maximumFlowM3PerS: (protection.maximumFlowLPerMin * M3_PER_L) / S_PER_MIN,
    maximumBurstS: protection.maximumBurstS,
    windshieldM3: protection.windshieldL * M3_PER_L,
    densityKgPerM3: protection.densityKgPerL / M3_PER_L,
  };
}

type Flow = 'normalFlowLPerMin' | 'highFlowLPerMin' | 'maximumFlowLPerMin';

function refuseLess(
  flows: Readonly<Record<Flow, number>>,
  [greater, smaller]: readonly [Flow, Flow],
  field: string,
): void {
  if (flows[greater] >= flows[smaller]) return;
  throw new InvalidRequestError({
    field: `${field}.${greater}`,
    found: `${flows[greater]}`,
    expected: `at least ${smaller} (${flows[smaller]})`,
  });
}
