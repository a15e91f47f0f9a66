import { describe, expect, test } from 'vitest';
import { aircraftFromProfile, tableValue } from '../../worker/flight/aircraft.ts';
import { builtInAircraft, findBuiltInAircraft } from '../../worker/flight/aircraft-profiles.ts';
import { type AircraftProfile, aircraftSchema } from '../../worker/schema/aircraft.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

const turboprop = findBuiltInAircraft('generic-fluid-turboprop')!;
type FluidProfile = Extract<AircraftProfile['protection'], { kind: 'fluid' }>;
const withFluid = (change: Partial<FluidProfile>): AircraftProfile => ({
  ...turboprop,
  protection: { ...(turboprop.protection as FluidProfile), ...change },
});

describe('the built-in profiles', () => {
  test.each(builtInAircraft.map((profile) => [profile.id, profile] as const))(
    '%s fits the schema and its checks',
    (id, profile) => {
      const parsed = aircraftSchema.parse(profile);
      expect(aircraftFromProfile(parsed)).toMatchObject({ id });
    },
  );

  test('are the four promised, one of each protection and one without', () => {
    expect(
      builtInAircraft.map((profile) => [profile.id, profile.protection.kind, profile.certifiedForIcing]),
    ).toEqual([
      ['generic-fluid-turboprop', 'fluid', true],
      ['generic-boots-twin', 'boots', true],
      ['generic-piston-twin', 'boots', true],
      ['generic-unprotected-single', 'none', false],
    ]);
  });

  test('an unknown id is undefined', () => {
    expect(findBuiltInAircraft('no-such')).toBeUndefined();
  });
});

describe('aircraftFromProfile', () => {
  test('turns feet, knots, liters, minutes and kilograms an hour into SI', () => {
    const aircraft = aircraftFromProfile({
      ...withFluid({ usableL: 60, normalFlowLPerMin: 0.6, reserveMinutes: 30 }),
      ceilingFt: 10000,
      icedCeilingFt: 8000,
      minimumIcingAirspeedKt: 90,
      iceLoss: { airspeedPctPerMm: 1, climbRatePctPerMm: 3, fuelFlowGainPctPerMm: 0.5 },
      inletSeparator: { airspeedLossPct: 2, climbRateLossPct: 10, fuelFlowGainPct: 4 },
      descentRateFtPerMin: 600,
      climbTrueAirspeedKt: 180,
      wingNoseRadiusMm: 20,
      fuelFlowKgPerH: [{ pressureAltitudeFt: 1000, value: 180 }],
    });
    assertClose(aircraft.ceilingM, 3048, { abs: 1e-9, why: 'exact' });
    assertClose(aircraft.icedCeilingM, 2438.4, { abs: 1e-9, why: 'exact' });
    assertClose(aircraft.minimumIcingAirspeedMps!, 46.3, { abs: 1e-12, why: 'exact' });
    // 1 % a millimeter is 1,000 % a meter.
    expect(aircraft.iceLoss).toEqual({ airspeedPerM: 10, climbRatePerM: 30, fuelFlowGainPerM: 5 });
    expect(aircraft.separator).toEqual({ airspeedLoss: 0.02, climbRateLoss: 0.1, fuelFlowGain: 0.04 });
    assertClose(aircraft.descentRateMps.value[0]!, 3.048, { abs: 1e-12, why: 'exact' });
    assertClose(aircraft.climbTrueAirspeedMps, 92.6, { abs: 1e-12, why: 'exact' });
    assertClose(aircraft.wingNoseRadiusM, 0.02, { abs: 1e-15, why: 'exact' });
    assertClose(aircraft.fuelFlowKgPerS.value[0]!, 0.05, { abs: 1e-15, why: 'exact' });
    assertClose(aircraft.fuelFlowKgPerS.pressureAltitudeM[0]!, 304.8, { abs: 1e-12, why: 'exact' });
    expect(aircraft.protection).toMatchObject({ kind: 'fluid', usableM3: 0.06, reserveS: 1800 });
    if (aircraft.protection.kind !== 'fluid') throw new Error('no fluid');
    assertClose(aircraft.protection.normalFlowM3PerS, 1e-5, { abs: 1e-18, why: 'exact' });
  });

  test.each([
    [
      'high flow below normal',
      withFluid({ normalFlowLPerMin: 1, highFlowLPerMin: 0.9 }),
      'aircraft.protection.highFlowLPerMin',
    ],
    ['dispatch above usable', withFluid({ minimumDispatchL: 81 }), 'aircraft.protection.minimumDispatchL'],
    ['priming above usable', withFluid({ primingL: 81 }), 'aircraft.protection.primingL'],
    [
      'a table that does not ascend',
      {
        ...turboprop,
        climbRateFtPerMin: [
          { pressureAltitudeFt: 5000, value: 900 },
          { pressureAltitudeFt: 5000, value: 800 },
        ],
      },
      'aircraft.climbRateFtPerMin[1].pressureAltitudeFt',
    ],
  ])('refuses %s, with the path of the field', (_, profile, field) => {
    expect(() => aircraftFromProfile(profile)).toThrowError(
      expect.objectContaining({ kind: 'invalid-request', field }),
    );
  });

  test('accepts the limits themselves', () => {
    const profile = withFluid({
      normalFlowLPerMin: 1,
      highFlowLPerMin: 1,
      minimumDispatchL: 80,
      primingL: 80,
    });
    expect(aircraftFromProfile(profile).protection.kind).toBe('fluid');
  });
});

describe('tableValue', () => {
  const table = { pressureAltitudeM: [0, 1000, 3000], value: [10, 20, 0] };

  test.each([
    [-500, 10],
    [0, 10],
    [250, 12.5],
    [1000, 20],
    [2000, 10],
    [3000, 0],
    [9000, 0],
  ])('at %i m is %f', (altitudeM, value) => {
    expect(tableValue(table, altitudeM)).toBe(value);
  });

  test('at no altitude is NaN', () => {
    expect(tableValue(table, Number.NaN)).toBeNaN();
  });

  test('of one row is that row everywhere', () => {
    expect(tableValue({ pressureAltitudeM: [mFromFt(5000)], value: [7] }, 0)).toBe(7);
  });
});
