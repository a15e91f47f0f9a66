/** The aircraft profile of the edge turned into SI, with the checks that span several fields. */
import { InvalidRequestError } from '../errors.ts';
import type { AircraftProfile } from '../schema/aircraft.ts';
import { mFromFt, mpsFromKt } from '../science/units.ts';
import type { Aircraft, AltitudeTable } from './types.ts';

const M3_PER_L = 0.001;
const S_PER_MIN = 60;
const S_PER_H = 3600;

type EdgeTable = AircraftProfile['trueAirspeedKt'];

/**
 * @param profile  Already checked against the schema.
 * @param field    Path of the profile in the request, for errors.
 * @throws         InvalidRequestError with the path of the field, found and expected.
 */
export function aircraftFromProfile(profile: AircraftProfile, field = 'aircraft'): Aircraft {
  return {
    id: profile.id,
    name: profile.name,
    trueAirspeedMps: readTable(profile.trueAirspeedKt, mpsFromKt, `${field}.trueAirspeedKt`),
    climbRateMps: readTable(profile.climbRateFtPerMin, mpsFromFtPerMin, `${field}.climbRateFtPerMin`),
    descentRateMps: mpsFromFtPerMin(profile.descentRateFtPerMin),
    climbTrueAirspeedMps: mpsFromKt(profile.climbTrueAirspeedKt),
    descentTrueAirspeedMps: mpsFromKt(profile.descentTrueAirspeedKt),
    fuelFlowKgPerS: readTable(
      profile.fuelFlowKgPerH,
      (kgPerH) => kgPerH / S_PER_H,
      `${field}.fuelFlowKgPerH`,
    ),
    ceilingM: mFromFt(profile.ceilingFt),
    certifiedForIcing: profile.certifiedForIcing,
    wingNoseRadiusM: profile.wingNoseRadiusMm / 1000,
    rodRadiusM: profile.rodRadiusMm / 1000,
    temperatureRecoveryRatio: profile.temperatureRecoveryRatio,
    protection: readProtection(profile.protection, `${field}.protection`),
  };
}

const mpsFromFtPerMin = (ftPerMin: number): number => mFromFt(ftPerMin) / S_PER_MIN;

function readTable(rows: EdgeTable, toSi: (value: number) => number, field: string): AltitudeTable {
  rows.forEach((row, index) => {
    const before = rows[index - 1];
    if (before === undefined || row.pressureAltitudeFt > before.pressureAltitudeFt) return;
    throw new InvalidRequestError({
      field: `${field}[${index}].pressureAltitudeFt`,
      found: `${row.pressureAltitudeFt}`,
      expected: `more than the row before (${before.pressureAltitudeFt})`,
    });
  });
  return {
    pressureAltitudeM: rows.map((row) => mFromFt(row.pressureAltitudeFt)),
    value: rows.map((row) => toSi(row.value)),
  };
}

function readProtection(protection: AircraftProfile['protection'], field: string): Aircraft['protection'] {
  if (protection.kind !== 'fluid') return protection;
  if (protection.highFlowLPerMin < protection.normalFlowLPerMin) {
    throw new InvalidRequestError({
      field: `${field}.highFlowLPerMin`,
      found: `${protection.highFlowLPerMin}`,
      expected: `at least normalFlowLPerMin (${protection.normalFlowLPerMin})`,
    });
  }
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
  };
}

/** Value of a performance table: linear between its rows, the end value outside; NaN altitude gives NaN. */
export function tableValue(table: AltitudeTable, pressureAltitudeM: number): number {
  const { pressureAltitudeM: at, value } = table;
  if (Number.isNaN(pressureAltitudeM)) return Number.NaN;
  const above = at.findIndex((altitudeM) => altitudeM >= pressureAltitudeM);
  if (above === -1) return value.at(-1)!;
  if (above === 0) return value[0]!;
  const lowM = at[above - 1]!;
  const part = (pressureAltitudeM - lowM) / (at[above]! - lowM);
  return value[above - 1]! + part * (value[above]! - value[above - 1]!);
}
