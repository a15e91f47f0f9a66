import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BriefRequest } from '../../web/src/contract.ts';
import {
  departureUtc,
  legFields,
  legTextFromFields,
  MORE_FIELDS,
  wordAtCaret,
} from '../../web/src/start/leg-fields.ts';
import {
  LEG_PARAMETERS,
  legTextFromQuery,
  legTextFromRequest,
  parameterOfPath,
  queryFromLegText,
  readLegText,
} from '../../web/src/url-state.ts';
import { briefRequestSchema } from '../../worker/schema/request.ts';

function throughTheAddress(request: BriefRequest): unknown {
  const reading = readLegText(legTextFromQuery(`?${queryFromLegText(legTextFromRequest(request))}`));
  return reading.kind === 'request' ? reading.request : reading;
}

const optional = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });
const feet = fc.integer({ min: -1000, max: 60000 });
const minutes = fc.double({ min: 0, max: 240, noNaN: true });
const crossings = fc.oneof(
  fc.record({ atNm: fc.double({ min: 0, max: 5000, noNaN: true }), altitudeFt: feet }),
  fc.record({
    fix: fc.oneof(
      fc.stringMatching(/^[A-Z]{3,5}$/),
      fc.constantFrom('40', 'none', 'A:B', 'A,B', '4420N07130W'),
    ),
    altitudeFt: feet,
  }),
);
const routes = fc.oneof(
  fc.stringMatching(/^[A-Z0-9]{2,7}( [A-Z0-9/]{1,9}){0,6}$/),
  fc.record({
    type: fc.constant('LineString' as const),
    coordinates: fc.array(
      fc.tuple(
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: -90, max: 90, noNaN: true }),
      ),
      {
        minLength: 2,
        maxLength: 6,
      },
    ),
  }),
);
const otherRoutes = fc.oneof(
  routes,
  fc.constantFrom('none', ' AAA BBB', '[AAA', 'AAA\nBBB', '{', '<gpx/>'),
  fc.record({ route: routes, minimumAltitudes: fc.constant([{ fromNm: 0, toNm: 40, altitudeFt: 5000 }]) }),
);
const requests = fc
  .record({
    route: routes,
    departure: fc.record({
      atUtc: fc.constantFrom('2026-01-14T11:30Z', '2026-01-14T11:30:15.250Z', '2026-02-28T23:59:00Z'),
    }),
    aircraft: fc.stringMatching(/^[a-z][a-z0-9-]{0,40}$/),
    options: fc.record({
      fluidOnBoardL: optional(fc.double({ min: 0, max: 1000, noNaN: true })),
      altimeterSettingHPa: optional(fc.double({ min: 850, max: 1085, noNaN: true })),
      corridorHalfWidthNm: optional(fc.double({ min: 0.1, max: 50, noNaN: true })),
      fixedAltitudeFt: optional(feet),
      altitudesFt: optional(fc.array(feet, { minLength: 1, maxLength: 60 })),
      minimumAltitudes: optional(
        fc.array(
          fc.record({
            fromNm: fc.integer({ min: 0, max: 5000 }),
            toNm: fc.double({ min: 0, max: 5000, noNaN: true }),
            altitudeFt: feet,
          }),
          { maxLength: 5 },
        ),
      ),
      minimumCrossings: optional(fc.array(crossings, { maxLength: 4 })),
      planned: optional(
        fc.record({
          earlyDescentMinutes: optional(minutes),
          vectorsMinutes: optional(minutes),
          approachMinutes: optional(minutes),
          holdMinutes: optional(minutes),
          approachAltitudeFt: optional(feet),
          holdAltitudeFt: optional(feet),
        }),
      ),
      takeoffWeightKg: optional(fc.double({ min: 1, max: 600000, noNaN: true })),
      directionRule: optional(fc.constantFrom('faa-91-179', 'icao-annex-2')),
      oxygenRule: optional(fc.constantFrom('faa-135-89', 'faa-91-211')),
      airMass: optional(fc.constantFrom('continental', 'maritime')),
      laterDepartures: optional(fc.integer({ min: 0, max: 6 })),
      alternate: optional(fc.stringMatching(/^[A-Z0-9]{1,10}$/)),
      otherRoutes: optional(fc.array(otherRoutes, { maxLength: 4 })),
    }),
  })
  .map(withoutUndefined);

/** A request never carries a member that is undefined, and no options at all rather than none of them. */
function withoutUndefined(request: object): BriefRequest {
  const plain = JSON.parse(JSON.stringify(request)) as BriefRequest & { options: object };
  if (Object.keys(plain.options).length > 0) return plain;
  const { options: _none, ...rest } = plain;
  return rest;
}

describe('a brief’s address', () => {
  it('opens the same request again, whatever the request holds', () => {
    fc.assert(
      fc.property(requests, (request) => {
        fc.pre(briefRequestSchema.safeParse(request).success);
        expect(throughTheAddress(request)).toEqual(request);
      }),
      { seed: 20260114, numRuns: 400 },
    );
  });

  it('carries an inline aircraft profile', () => {
    const request: BriefRequest = {
      route: 'AAA BBB',
      departure: { atUtc: '2026-01-14T11:30Z' },
      aircraft: {
        id: 'mine',
        name: 'mine & <ours>',
        trueAirspeedKt: [{ pressureAltitudeFt: 0, value: 150 }],
        climbRateFtPerMin: [{ pressureAltitudeFt: 0, value: 900 }],
        descentRateFtPerMin: 800,
        climbTrueAirspeedKt: 120,
        descentTrueAirspeedKt: 160,
        fuelFlowKgPerH: [{ pressureAltitudeFt: 0, value: 180 }],
        ceilingFt: 25000,
        certifiedForIcing: true,
        wingNoseRadiusMm: 20,
        rodRadiusMm: 5,
        temperatureRecoveryRatio: 0.8,
        protection: { kind: 'boots' },
      },
    };
    expect(throughTheAddress(request)).toEqual(request);
  });

  it('tells a plan without figures from none', () => {
    const request: BriefRequest = {
      route: 'AAA BBB',
      departure: { atUtc: '2026-01-14T11:30Z' },
      aircraft: 'x',
      options: { planned: {} },
    };
    expect(throughTheAddress(request)).toEqual(request);
  });

  it('writes a minimum for the whole leg as one plain number', () => {
    const text = legTextFromRequest({
      route: 'AAA BBB',
      departure: { atUtc: '2026-01-14T11:30Z' },
      aircraft: 'x',
      options: { minimumAltitudes: [{ fromNm: 0, toNm: 5000, altitudeFt: 6100 }] },
    });
    expect(text.minimum).toBe('6100');
  });
});

describe('readLegText', () => {
  const leg = { route: 'AAA BBB', departure: '2026-01-14T11:30Z', aircraft: 'x' };

  it('calls an address without any parameter empty, not wrong', () => {
    expect(readLegText({})).toEqual({ kind: 'empty' });
  });

  it('takes an altimeter setting in inches of mercury', () => {
    const reading = readLegText({ ...leg, setting: '29.92' });
    expect(reading.kind === 'request' && reading.request.options?.altimeterSettingHPa).toBeCloseTo(1013.2, 1);
  });

  it.each([
    ['departure', { departure: '2026-01-14T25:30Z' }],
    ['fluid', { fluid: 'sixty' }],
    ['minimum', { minimum: '0-40' }],
    ['setting', { setting: '500' }],
    ['altitudes', { altitudes: '9000,,11000' }],
    ['corridor', { corridor: '0' }],
    ['fixed', { fixed: 'high' }],
    ['crossing', { crossing: 'KESTU' }],
    ['crossing', { crossing: 'KESTU:9000:3' }],
    ['hold', { hold: 'long' }],
    ['hold', { hold: '300', planned: 'vectors:10' }],
    ['planned', { planned: 'vectors:-1' }],
    ['planned', { planned: 'tea:5' }],
    ['weight', { weight: '0' }],
    ['direction', { direction: 'left' }],
    ['oxygen', { oxygen: 'some' }],
    ['air', { air: 'hot' }],
    ['later', { later: '1.5' }],
    ['alternate', { alternate: 'much too long' }],
    ['routes', { routes: 'A B\nB A\nC D\nD C\nE F' }],
    ['aircraft', { aircraft: '' }],
    ['route', { route: '  ' }],
  ])('names %s when it does not fit', (parameter, change) => {
    expect(readLegText({ ...leg, ...change })).toMatchObject({ kind: 'invalid', parameter });
  });
});

it('readLegText takes crossings by fix and by distance', () => {
  const reading = readLegText({
    route: 'AAA BBB',
    departure: '2026-01-14T11:30Z',
    aircraft: 'x',
    crossing: 'KESTU:9000, 40:7000',
  });
  expect(reading.kind === 'request' && reading.request.options?.minimumCrossings).toEqual([
    { fix: 'KESTU', altitudeFt: 9000 },
    { atNm: 40, altitudeFt: 7000 },
  ]);
});

it('readLegText names the figure of an aircraft that does not fit, and what would', () => {
  const reading = readLegText({
    route: 'AAA BBB',
    departure: '2026-01-14T11:30Z',
    aircraft: '{"id":"mine","name":"mine","ceilingFt":-5}',
  });
  expect(reading.kind === 'invalid' && reading.sentence).toMatch(/figures do not fit at \w+/);
});

it.each([
  ['route', 'route'],
  ['departure.atUtc', 'departure'],
  ['options.fluidOnBoardL', 'fluid'],
  ['options.minimumAltitudes.0.altitudeFt', 'minimum'],
  ['aircraft.ceilingFt', 'aircraft'],
  ['options.planned.holdMinutes', 'hold'],
  ['options.minimumCrossings.0.fix', 'crossing'],
])('shows a complaint about %s at the field %s', (path, parameter) => {
  expect(parameterOfPath(path.split('.'))).toBe(parameter);
});

describe('the entry form', () => {
  it.each(['11:30', '1130', '11:30Z'])('reads the time %s', (time) => {
    expect(departureUtc('2026-01-14', time)).toBe('2026-01-14T11:30Z');
  });

  it('reads a time without its leading zero', () => {
    expect(departureUtc('2026-01-14', '9:05')).toBe('2026-01-14T09:05Z');
  });

  it('holds every option of a leg, and gives each back as it was or as it is said anew', () => {
    const open = Object.fromEntries(LEG_PARAMETERS.map((name) => [name, `of ${name}`]));
    const leg = { ...open, departure: '2026-01-14T11:30Z', fluid: '40' };
    const fields = legFields(leg, 0);
    const inSight = ['route', 'departure', 'aircraft', 'fluid', 'minimum', 'setting'];
    expect(new Set([...inSight, ...MORE_FIELDS])).toEqual(new Set(LEG_PARAMETERS));
    expect(legTextFromFields(fields, leg, 'other')).toEqual(leg);
    for (const name of MORE_FIELDS)
      expect(legTextFromFields({ ...fields, [name]: ' anew ' }, leg, 'other')).toEqual({
        ...leg,
        [name]: 'anew',
      });
  });

  it.each([
    ['KBTV DCT KB', 11, 'KB', 9],
    ['KBTV DCT', 8, '', 5],
    ['KB KBGR', 2, 'KB', 0],
    ['4420N07130W', 11, '', 0],
    ['K', 1, '', 0],
  ])('finds in "%s" at %i the word "%s"', (text, caret, word, start) => {
    expect(wordAtCaret(text, caret)).toEqual({ word, start });
  });
});
