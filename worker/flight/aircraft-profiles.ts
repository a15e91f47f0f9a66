/**
 * Generic aeroplanes to try the tool with. Every figure is invented, taken from no flight manual and of no real type:
 * take every number from your flight manual before you use a brief for a flight.
 */
import type { AircraftProfile } from '../schema/aircraft.ts';

type Table = AircraftProfile['trueAirspeedKt'];

/** Rows of pressure altitude, ft, and value. */
const table = (...rows: readonly (readonly [number, number])[]): Table =>
  rows.map(([pressureAltitudeFt, value]) => ({ pressureAltitudeFt, value }));

/** Rows of two weights, kg, one behind the other. */
const byWeight = (light: readonly [number, Table], heavy: readonly [number, Table]): Table =>
  [light, heavy].flatMap(([weightKg, rows]) => rows.map((row) => ({ weightKg, ...row })));

const fluidTurboprop: AircraftProfile = {
  id: 'generic-fluid-turboprop',
  groundFluids: ['I', 'III'],
  name: 'Generic single turboprop, fluid protection',
  weightKg: 4000,
  trueAirspeedKt: table([0, 160], [5000, 168], [10000, 177], [15000, 184], [20000, 186], [25000, 182]),
  climbRateFtPerMin: byWeight(
    [3200, table([0, 1250], [10000, 1080], [15000, 900], [20000, 680], [25000, 450])],
    [4000, table([0, 900], [10000, 750], [15000, 600], [20000, 400], [25000, 200])],
  ),
  descentRateFtPerMin: 700,
  climbTrueAirspeedKt: 120,
  descentTrueAirspeedKt: 165,
  fuelFlowKgPerH: table([0, 190], [5000, 175], [10000, 160], [15000, 145], [20000, 130], [25000, 118]),
  ceilingFt: 25000,
  icedCeilingFt: 20000,
  certifiedForIcing: true,
  minimumIcingAirspeedKt: 120,
  iceLoss: { airspeedPctPerMm: 1, climbRatePctPerMm: 3, fuelFlowGainPctPerMm: 0.5 },
  inletSeparator: { airspeedLossPct: 2, climbRateLossPct: 10, fuelFlowGainPct: 2 },
  oxygen: 'on-board',
  landingWithIce: {
    flapNote: 'Flaps no further than half with ice left on the tail',
    landingDistanceGainPct: 20,
  },
  wingNoseRadiusMm: 20,
  rodRadiusMm: 6,
  temperatureRecoveryRatio: 0.85,
  protection: {
    kind: 'fluid',
    usableL: 80,
    minimumDispatchL: 25,
    normalFlowLPerMin: 0.45,
    highFlowLPerMin: 0.9,
    primingL: 4,
    reserveMinutes: 30,
    maximumFlowLPerMin: 1.8,
    maximumBurstS: 120,
    windshieldL: 0.5,
    densityKgPerL: 1.1,
  },
};

const bootsTwin: AircraftProfile = {
  id: 'generic-boots-twin',
  groundFluids: ['I', 'II', 'IV'],
  name: 'Generic twin turboprop, boots',
  trueAirspeedKt: table([0, 205], [5000, 216], [10000, 228], [15000, 238], [20000, 245], [25000, 246]),
  climbRateFtPerMin: table([0, 1800], [10000, 1500], [20000, 900], [25000, 600]),
  descentRateFtPerMin: 1200,
  climbTrueAirspeedKt: 150,
  descentTrueAirspeedKt: 220,
  fuelFlowKgPerH: table([0, 330], [10000, 275], [20000, 225], [25000, 205]),
  ceilingFt: 28000,
  icedCeilingFt: 24000,
  certifiedForIcing: true,
  minimumIcingAirspeedKt: 140,
  iceLoss: { airspeedPctPerMm: 0.8, climbRatePctPerMm: 2.5, fuelFlowGainPctPerMm: 0.5 },
  inletSeparator: { airspeedLossPct: 2, climbRateLossPct: 8, fuelFlowGainPct: 2 },
  oxygen: 'pressurized',
  landingWithIce: { flapNote: 'Approach flap only with ice left on the tail', landingDistanceGainPct: 15 },
  wingNoseRadiusMm: 25,
  rodRadiusMm: 6,
  temperatureRecoveryRatio: 0.85,
  protection: { kind: 'boots', cycleS: 60, minimumThicknessMm: 6 },
};

const pistonTwin: AircraftProfile = {
  id: 'generic-piston-twin',
  name: 'Generic piston twin, boots',
  trueAirspeedKt: table([0, 150], [5000, 158], [10000, 165], [15000, 160], [18000, 154]),
  climbRateFtPerMin: table([0, 1200], [5000, 950], [10000, 650], [15000, 350], [18000, 150]),
  descentRateFtPerMin: 600,
  climbTrueAirspeedKt: 115,
  descentTrueAirspeedKt: 160,
  fuelFlowKgPerH: table([0, 92], [5000, 86], [10000, 78], [15000, 68], [18000, 62]),
  ceilingFt: 18000,
  icedCeilingFt: 13000,
  certifiedForIcing: true,
  minimumIcingAirspeedKt: 120,
  iceLoss: { airspeedPctPerMm: 1.5, climbRatePctPerMm: 5, fuelFlowGainPctPerMm: 1 },
  inletSeparator: null,
  oxygen: 'on-board',
  landingWithIce: { flapNote: 'Flaps up or one stage with ice left', landingDistanceGainPct: 40 },
  wingNoseRadiusMm: 22,
  rodRadiusMm: 6,
  temperatureRecoveryRatio: 0.8,
  protection: { kind: 'boots', cycleS: 60, minimumThicknessMm: 6 },
};

const unprotectedSingle: AircraftProfile = {
  id: 'generic-unprotected-single',
  name: 'Generic piston single, no protection',
  trueAirspeedKt: table([0, 118], [5000, 124], [10000, 122], [14000, 114]),
  climbRateFtPerMin: table([0, 720], [5000, 500], [10000, 280], [14000, 100]),
  descentRateFtPerMin: 500,
  climbTrueAirspeedKt: 85,
  descentTrueAirspeedKt: 120,
  fuelFlowKgPerH: table([0, 32], [5000, 29], [10000, 25], [14000, 22]),
  ceilingFt: 14000,
  icedCeilingFt: 8000,
  certifiedForIcing: false,
  minimumIcingAirspeedKt: null,
  iceLoss: { airspeedPctPerMm: 2, climbRatePctPerMm: 8, fuelFlowGainPctPerMm: 1 },
  inletSeparator: null,
  oxygen: 'none',
  landingWithIce: { flapNote: 'Flaps up with ice left', landingDistanceGainPct: 60 },
  wingNoseRadiusMm: 18,
  rodRadiusMm: 5,
  temperatureRecoveryRatio: 0.8,
  protection: { kind: 'none' },
};

export const builtInAircraft: readonly AircraftProfile[] = [
  fluidTurboprop,
  bootsTwin,
  pistonTwin,
  unprotectedSingle,
];

/** The built-in profile of an id, or undefined. */
export function findBuiltInAircraft(id: string): AircraftProfile | undefined {
  return builtInAircraft.find((profile) => profile.id === id);
}
