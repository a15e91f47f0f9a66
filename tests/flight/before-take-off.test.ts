/** What to have on before take-off on this leg, and when to leave. Altitudes and times by hand: 1,000 ft/min up from the sea. */
import { describe, expect, it } from 'vitest';
import type { ChooseInput, FlightReason } from '../../worker/flight/types.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { choose } from './choose.ts';
import {
  type CellAt,
  DRY,
  fluidOf,
  LIGHT_ICE,
  layer,
  makeAircraft,
  makeTestRoute,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
  UNKNOWN,
} from './make-curtain.ts';

const WITH_SEPARATOR = makeAircraft('generic-fluid-turboprop', {
  ...ROUND_AIRCRAFT,
  separator: { airspeedLoss: 0, climbRateLoss: 0, fuelFlowGain: 0.02 },
});
const MOIST = { cloudProbability: 0.9 };
const list = (cells: CellAt, change: Partial<ChooseInput> = {}) =>
  choose(cells, { aircraft: WITH_SEPARATOR, candidateAltitudesM: [mFromFt(10000)], ...change });
const item = (reasons: readonly FlightReason[], code: string) => reasons.find((each) => each.code === code);
const sentence = (cells: CellAt, code: string, change?: Partial<ChooseInput>) =>
  item(list(cells, change).beforeTakeOff, code)?.sentence;

it('a clean wing and probe heat stand first, the heat for the whole flight, whatever the air, and the flight manual last', () => {
  for (const cells of [DRY, layer(0, 30000, UNKNOWN), layer(2000, 8000, LIGHT_ICE)]) {
    const { beforeTakeOff } = list(cells);
    expect(beforeTakeOff[0]?.code).toBe('clean');
    expect(beforeTakeOff[1]).toMatchObject({
      code: 'probe-heat',
      sentence: 'Probe heat on, for the whole flight',
    });
    expect(beforeTakeOff.at(-1)?.code).toBe('flight-manual');
  }
});

describe('the inlet separator', () => {
  it('is on before cloud at +5 °C, where that begins later than two minutes after lift-off, and the other heats with it', () => {
    expect(sentence(layer(3000, 5000, { ...MOIST, temperatureC: 5 }), 'separator')).toBe(
      'Inlet separator on before 3,000 ft: moisture at +5 °C or colder is possible from 3,000 ft, 3 min after lift-off',
    );
  });
  it('is on before take-off for cloud within the two minutes', () => {
    const low = layer(1000, 5000, { ...MOIST, temperatureC: 0 });
    expect(sentence(low, 'separator')).toMatch(/^Inlet separator on before take-off: moisture/);
    expect(sentence(low, 'other-heat')).toMatch(
      /^Heat of propeller, windshield and stall warning on before take-off/,
    );
  });
  it('counts cloud from a chance of one in twenty on, as ice does', () => {
    const cloud = (cloudProbability: number) => layer(3000, 5000, { cloudProbability, temperatureC: -6 });
    expect(sentence(cloud(0.06), 'separator')).toMatch(/on before 3,000 ft/);
    expect(sentence(cloud(0.04), 'separator')).toMatch(/ready/);
  });
  it('is only kept ready for cloud at +6 °C', () => {
    expect(sentence(layer(3000, 5000, { ...MOIST, temperatureC: 6 }), 'separator')).toMatch(
      /^Inlet separator ready/,
    );
  });
  it('is on where the air is unknown', () => {
    expect(sentence(layer(2000, 4000, UNKNOWN), 'separator')).toBe(
      'Inlet separator on before 2,000 ft: the air is unknown from 2,000 ft, 2 min after lift-off',
    );
  });
  it('has another name where the profile has none', () => {
    expect(sentence(DRY, 'separator', { aircraft: ROUND_AIRCRAFT })).toMatch(/^Engine inlet protection/);
  });
});

describe('the fluid', () => {
  it('is primed before take-off for moisture below freezing further up', () => {
    expect(sentence(layer(3000, 5000, MOIST), 'prime')).toBe(
      'Fluid panels primed before take-off (4 L): moisture below 0 °C is possible from 3,000 ft, 3 min after lift-off',
    );
  });
  it('is on before take-off where that comes within the two minutes that the panels take to be wet', () => {
    expect(sentence(layer(1500, 5000, MOIST), 'prime')).toMatch(/^Fluid primed and on before take-off/);
    expect(sentence(layer(0, 5000, UNKNOWN), 'prime')).toBe(
      'Fluid primed and on before take-off (4 L): the air is unknown from the ground',
    );
  });
  it('is not asked for in dry air, and the panels are looked at all the same', () => {
    expect(sentence(DRY, 'prime')).toMatch(/no moisture below 0 °C is expected; panels checked/);
  });
});

describe('what is reported or warned of counts where the air holds nothing', () => {
  const hazard = {
    id: 'report',
    kind: 'surface-report' as const,
    severity: 'large-drops' as const,
    sentence: 'AAAA reports freezing rain',
    validFromMs: 0,
    validToMs: 1e15,
    issuedMs: 0,
    firstPoint: 0,
    lastPoint: 3,
    lowerM: -Infinity,
    upperM: mFromFt(4000),
  };
  it('in the list before take-off', () => {
    const change = { hazards: [hazard] };
    expect(sentence(DRY, 'separator', change)).toBe(
      'Inlet separator on before take-off: ice or freezing rain is reported from the ground',
    );
    expect(sentence(DRY, 'prime', change)).toMatch(/^Fluid primed and on before take-off .* is reported/);
    expect(sentence(DRY, 'first-ice', change)).toBe(
      'First ice reported from the ground: note the time and watch the rod',
    );
  });
  it('on the part of the flight that leads through it', () => {
    const choice = list(DRY, { hazards: [hazard] });
    const reported = Object.fromEntries(
      choice.candidates[0]!.exposure!.parts.map(({ part, reported: told }) => [part, told]),
    );
    expect(reported.climb).toEqual(['AAAA reports freezing rain']);
    expect(reported.cruise).toEqual([]);
  });
});

it('a list that finds nothing on the trip says so where the hold is in cloud', () => {
  const lastPoint = makeTestRoute().pointCount - 1;
  const overTheField = layer(4500, 6500, { ...LIGHT_ICE }, [lastPoint, lastPoint]);
  const planned = { ...NOTHING_PLANNED, holdS: 1800, holdAltitudeM: mFromFt(5500) };
  const told = sentence(overTheField, 'first-ice', { planned, route: makeTestRoute() });
  expect(told).toMatch(/^No ice is expected on the trip, but where approach or hold is planned/);
});

it('an aeroplane with boots, or with nothing, has lines of its own', () => {
  const deck = layer(3000, 5000, MOIST);
  const boots = makeAircraft('generic-fluid-turboprop', {
    protection: { kind: 'boots', cycleS: 60, minimumThicknessM: 0.006 },
  });
  expect(sentence(deck, 'boots', { aircraft: boots })).toMatch(/^Boots cycled once/);
  const bare = makeAircraft('generic-fluid-turboprop', { protection: { kind: 'none' } });
  expect(sentence(deck, 'no-protection', { aircraft: bare })).toMatch(
    /^No ice protection in the profile: moisture/,
  );
});

it('where no altitude can be flown everything is asked for from the ground', () => {
  const choice = list(DRY, { candidateAltitudesM: [mFromFt(45000)] });
  expect(item(choice.beforeTakeOff, 'separator')?.sentence).toMatch(/the air is unknown from the ground$/);
});

it('a speed that the profile does not give is to be looked up', () => {
  const unknown = { ...WITH_SEPARATOR, minimumIcingAirspeedMps: undefined };
  expect(sentence(DRY, 'icing-speed', { aircraft: unknown })).toBe(
    'Minimum speed in ice: not in the profile, look it up',
  );
});

describe('when to leave', () => {
  const cue = (code: string, aircraft = WITH_SEPARATOR) => item(list(DRY, { aircraft }).cues, code)?.sentence;

  it('the signs of large drops stand in every brief, the ridge behind the wetted part with a fluid wing', () => {
    expect(cue('large-drop-signs')).toMatch(/rain or splashes below 0 °C/);
    expect(cue('ridge')).toBe('A ridge of ice behind the wetted part is one of them');
    expect(cue('leave-at-once')).toMatch(/ask for priority/);
  });
  // 30 min at 0.45 L/min and 0.5 L for the windshield: 14 L, rounded up to fives.
  it('without a speed in the profile the manual’s stands there, never nothing', () => {
    expect(cue('icing-speed', { ...WITH_SEPARATOR, minimumIcingAirspeedMps: undefined })).toMatch(
      /manual’s minimum speed/,
    );
    expect(cue('failure')).toMatch(/pump, pressure or a dry panel/);
  });
  it('what is kept of the fluid is the reserve and the windshield', () => {
    expect(cue('fluid-kept', makeAircraft())).toMatch(/^15 L left/);
    expect(fluidOf(makeAircraft()).windshieldM3).toBeCloseTo(0.0005, 9);
  });
  it('an aeroplane that is not certified leaves the first of it', () => {
    expect(cue('not-certified', { ...WITH_SEPARATOR, certifiedForIcing: false })).toMatch(
      /leave at the first/,
    );
    expect(cue('not-certified')).toBeUndefined();
  });
});
