/** Performance by weight, the figures that stand in for what a profile leaves out, and what is refused. */
import { describe, expect, test } from 'vitest';
import { AIRCRAFT_DEFAULTS, aircraftFromProfile } from '../../worker/flight/aircraft.ts';
import { builtInAircraft, findBuiltInAircraft } from '../../worker/flight/aircraft-profiles.ts';
import { readPerformance, tableValue } from '../../worker/flight/performance-table.ts';
import { type AircraftProfile, aircraftSchema } from '../../worker/schema/aircraft.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

const EXACT = { abs: 1e-9, why: 'linear, by hand' };
type Row = AircraftProfile['trueAirspeedKt'][number];
const row = (weightKg: number | undefined, pressureAltitudeFt: number, value: number): Row =>
  weightKg === undefined ? { pressureAltitudeFt, value } : { weightKg, pressureAltitudeFt, value };

/** 3,000 kg: 1,200 falling to 800 at 10,000 ft. 4,000 kg: 800, 700 at 5,000 ft, 400 at 10,000 ft. */
const ROWS = [
  row(3000, 0, 1200),
  row(3000, 10000, 800),
  row(4000, 0, 800),
  row(4000, 5000, 700),
  row(4000, 10000, 400),
];
const valueAt = (weightKg: number | undefined, altitudeFt: number, rows: readonly Row[] = ROWS) =>
  tableValue(readPerformance(rows, { toSi: (value) => value, field: 'x', weightKg }), mFromFt(altitudeFt));

describe('readPerformance', () => {
  test.each([
    [3000, 0, 1200],
    [4000, 5000, 700],
    [3500, 0, 1000],
    [3500, 5000, 850],
    [3250, 10000, 700],
    [3250, 2500, 0.75 * 1100 + 0.25 * 750],
  ])('at %i kg and %i ft is %f, linear in weight and altitude', (weightKg, altitudeFt, expected) => {
    assertClose(valueAt(weightKg, altitudeFt), expected, EXACT);
  });

  test('below the lightest weight is as at it, above the heaviest is refused', () => {
    assertClose(valueAt(2000, 0), 1200, EXACT);
    expect(() => valueAt(5000, 0)).toThrowError(
      /found no rows for 5000 kg, expected rows up to the take-off weight/,
    );
  });

  test('without a weight is as at the heaviest, where an aeroplane does least', () => {
    assertClose(valueAt(undefined, 5000), 700, EXACT);
  });

  test('of rows without weights holds at any weight', () => {
    const plain = [row(undefined, 0, 900), row(undefined, 10000, 500)];
    for (const weightKg of [undefined, 2000, 9000]) assertClose(valueAt(weightKg, 5000, plain), 700, EXACT);
  });

  test.each([
    ['a weight in some rows alone', [row(3000, 0, 1), row(undefined, 5000, 2)], 'x[1].weightKg', 'no weight'],
    ['no weight before a weight', [row(undefined, 0, 1), row(3000, 5000, 2)], 'x[1].weightKg', '3000'],
    ['a lighter weight after a heavier', [row(4000, 0, 1), row(3000, 0, 2)], 'x[1].weightKg', '3000'],
    ['an altitude twice', [row(3000, 0, 1), row(3000, 0, 2)], 'x[1].pressureAltitudeFt', '0'],
    [
      'a lower altitude after a higher of one weight',
      [row(3000, 0, 1), row(3000, 5000, 1), row(3000, 4000, 2)],
      'x[2].pressureAltitudeFt',
      '4000',
    ],
  ])('refuses %s with the path of the field', (_, rows, field, found) => {
    expect(() => valueAt(3000, 0, rows)).toThrowError(
      expect.objectContaining({ kind: 'invalid-request', field, found }),
    );
  });
});

describe('aircraftFromProfile at a weight', () => {
  const turboprop = findBuiltInAircraft('generic-fluid-turboprop')!;
  const climbFtPerMin = (weightKg?: number) =>
    (tableValue(aircraftFromProfile(turboprop, 'aircraft', weightKg).climbRateMps, 0) / mFromFt(1)) * 60;

  test('climbs better when it is lighter, and by its own weight when none is given', () => {
    assertClose(climbFtPerMin(3200), 1250, EXACT);
    assertClose(climbFtPerMin(3600), 1075, EXACT);
    assertClose(climbFtPerMin(), 900, EXACT);
  });

  test('takes a table of descent rates as well as one number', () => {
    const profile = {
      ...turboprop,
      descentRateFtPerMin: [row(undefined, 0, 500), row(undefined, 10000, 1000)],
    };
    const { descentRateMps } = aircraftFromProfile(profile);
    assertClose((tableValue(descentRateMps, mFromFt(5000)) / mFromFt(1)) * 60, 750, EXACT);
  });
});

describe('aircraftFromProfile and what a profile leaves out', () => {
  const {
    icedCeilingFt: _iced,
    minimumIcingAirspeedKt: _speed,
    iceLoss: _loss,
    inletSeparator: _separator,
    oxygen: _oxygen,
    landingWithIce: _landing,
    ...bare
  } = findBuiltInAircraft('generic-fluid-turboprop')!;
  const aircraft = aircraftFromProfile(bare);

  test('names every member that generic figures stand in for', () => {
    expect(aircraft.assumed).toEqual([
      'icedCeilingFt',
      'minimumIcingAirspeedKt',
      'iceLoss',
      'inletSeparator',
      'oxygen',
      'landingWithIce',
    ]);
    expect(aircraftFromProfile({ ...bare, oxygen: 'none', inletSeparator: null }).assumed).toEqual([
      'icedCeilingFt',
      'minimumIcingAirspeedKt',
      'iceLoss',
      'landingWithIce',
    ]);
  });

  test('ice still costs speed, climb and fuel: 1, 3 and 1 % a millimeter', () => {
    expect(AIRCRAFT_DEFAULTS.iceLoss).toEqual({
      airspeedPctPerMm: 1,
      climbRatePctPerMm: 3,
      fuelFlowGainPctPerMm: 1,
    });
    expect(aircraft.iceLoss).toEqual({ airspeedPerM: 10, climbRatePerM: 30, fuelFlowGainPerM: 10 });
  });

  test('the ceiling with ice is seven tenths of the ceiling, landing takes a fifth more, oxygen is on board', () => {
    assertClose(aircraft.icedCeilingM, mFromFt(17500), EXACT);
    expect(aircraft.landingWithIce).toEqual({ flapNote: '', landingDistanceGain: 0.2 });
    expect(aircraft.oxygen).toBe('on-board');
  });

  test('an airspeed in icing that is left out is not known, null is none in the flight manual', () => {
    expect(aircraft.minimumIcingAirspeedMps).toBeUndefined();
    expect(aircraftFromProfile({ ...bare, minimumIcingAirspeedKt: null }).minimumIcingAirspeedMps).toBe(0);
  });

  test('the built-in profiles leave nothing out', () => {
    expect(builtInAircraft.flatMap((profile) => aircraftFromProfile(profile).assumed)).toEqual([]);
  });

  test('a fluid system without its further figures bursts at the high flow for 120 s', () => {
    const {
      maximumFlowLPerMin: _,
      maximumBurstS: __,
      windshieldL: ___,
      densityKgPerL: ____,
      ...fluid
    } = bare.protection as Extract<AircraftProfile['protection'], { kind: 'fluid' }>;
    const { protection } = aircraftFromProfile({ ...bare, protection: fluid });
    if (protection.kind !== 'fluid') throw new Error('no fluid');
    expect(protection.maximumFlowM3PerS).toBe(protection.highFlowM3PerS);
    expect([protection.maximumBurstS, protection.windshieldM3, protection.densityKgPerM3]).toEqual([
      120, 0, 1100,
    ]);
  });

  test('refuses a ceiling with ice above the ceiling, and a burst that flows less than the high setting', () => {
    expect(() => aircraftFromProfile({ ...bare, icedCeilingFt: 25001 })).toThrowError(
      expect.objectContaining({ kind: 'invalid-request', field: 'aircraft.icedCeilingFt', found: '25001' }),
    );
    const protection = { ...bare.protection, maximumFlowLPerMin: 0.8 } as AircraftProfile['protection'];
    expect(() => aircraftFromProfile({ ...bare, protection })).toThrowError(
      expect.objectContaining({ kind: 'invalid-request', field: 'aircraft.protection.maximumFlowLPerMin' }),
    );
  });

  test('the schema takes a profile without them, and none with more than is known', () => {
    expect(aircraftSchema.safeParse(bare).success).toBe(true);
    expect(aircraftSchema.safeParse({ ...bare, iceLoss: { airspeedPctPerMm: 1 } }).success).toBe(false);
    expect(aircraftSchema.safeParse({ ...bare, oxygen: 'some' }).success).toBe(false);
  });
});
