/** Rules about what is planned beyond the trip, what is reported, what the aeroplane can do with ice, and ways out of it. */
import { describe, expect, test } from 'vitest';
import type { Hazard } from '../../worker/flight/hazards.ts';
import { VERDICT_RULES, VERDICTS_BY_GRAVITY } from '../../worker/flight/verdict-rules.ts';
import { mFromFt, mpsFromKt } from '../../worker/science/units.ts';
import { fluidL, high, ICING, NOTHING_THERE, plannedPart, verdict } from './judge-exposure.ts';
import { makeAircraft } from './make-curtain.ts';

const inHold = (change: Parameters<typeof plannedPart>[1] = {}) => [
  plannedPart('approach'),
  plannedPart('hold', change),
];

describe('verdictOf and what is planned beyond the trip', () => {
  test('large drops there are outside limits, and the part is named', () => {
    const planned = {
      ...NOTHING_THERE,
      parts: inHold(),
      largeDropS: 600,
      worstLargeDrops: 'freezing-drizzle',
      largeDropPart: 'approach',
    } as const;
    expect(verdict({ planned })).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['large-drops-where-planned'],
      sentences: ['Freezing drizzle on the approach'],
      numbers: [{ minutes: 10, kind: 'freezing-drizzle' }],
    });
  });

  test('severe icing there in the high estimate alone is outside limits', () => {
    const planned = { ...NOTHING_THERE, parts: inHold(), severeHighS: 1800, severePart: 'hold' } as const;
    expect(verdict({ planned })).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['severe-icing-where-planned'],
      sentences: ['Severe icing for up to 30 min in the hold'],
    });
  });

  test('a hold in unknown air leaves the verdict unknown', () => {
    const planned = { ...NOTHING_THERE, parts: inHold({ unknownS: 1800 }), unknownS: 1800 };
    expect(verdict({ planned })).toMatchObject({
      code: 'unknown',
      reasonCodes: ['unknown-where-planned'],
      sentences: ['No data for 30 min in the hold'],
    });
  });

  test('icing there is within limits and said, beside that of the trip too', () => {
    const planned = { ...NOTHING_THERE, parts: inHold({ icingS: high(1200) }), icingHighS: 1200 };
    expect(verdict({ planned })).toMatchObject({
      code: 'within-limits',
      reasonCodes: ['icing-where-planned'],
      sentences: ['Up to 20 min of icing in the hold'],
    });
    expect(verdict({ ...ICING, planned }).reasonCodes).toEqual(['icing', 'icing-where-planned']);
  });

  test('icing there is outside the limits of an aeroplane that is not certified for it', () => {
    const planned = { ...NOTHING_THERE, parts: inHold({ icingS: high(1200) }), icingHighS: 1200 };
    const aircraft = makeAircraft('generic-unprotected-single');
    expect(verdict({ planned }, { aircraft })).toMatchObject({ code: 'outside-limits' });
  });

  test('fluid that would do without the hold is short for the hold', () => {
    const planned = { ...NOTHING_THERE, parts: inHold({ fluidM3: high(0.0135) }) };
    expect(verdict({ ...ICING, ...fluidL(70), planned }, { onBoardL: 60 }).sentences[0]).toBe(
      'Fluid short for the hold: up to 70 L needed, 60 L on board',
    );
    expect(verdict({ ...ICING, ...fluidL(75), planned }, { onBoardL: 60 }).sentences[0]).toBe(
      'Fluid short: up to 75 L needed, 60 L on board',
    );
  });
});

describe('verdictOf and the aeroplane with ice', () => {
  test('a twentieth of a millimeter or more left on it at lift-off is outside limits before anything else', () => {
    expect(verdict({ residualIceM: 0.0005, largeDropS: 60, worstLargeDrops: 'freezing-rain' })).toMatchObject(
      {
        code: 'outside-limits',
        reasonCodes: ['ice-at-lift-off', 'large-drops'],
      },
    );
    expect(verdict({ residualIceM: 0.002 }).sentences).toEqual([
      '2 mm of ice left on the aeroplane: remove it before take-off',
    ]);
    expect(verdict({ residualIceM: 0.0004 }).reasonCodes).toEqual(['ice-at-lift-off']);
    expect(verdict({ residualIceM: 0.00005 }).reasonCodes).toEqual(['ice-at-lift-off']);
    expect(verdict({ residualIceM: 0.00004 }).code).toBe('no-ice-found');
  });

  test('above the ceiling with ice is outside limits once a millimeter is built, left from the ground or both', () => {
    const highestM = mFromFt(21000);
    expect(verdict({ ...ICING, highestM, builtAloftM: high(0.001) })).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['iced-ceiling', 'icing'],
      sentences: [
        'Above 20,000 ft pressure altitude, the ceiling with ice, and up to 1 mm on the aeroplane',
        'Up to 10 min of icing, light at worst',
      ],
    });
    expect(
      verdict({ ...ICING, highestM, builtAloftM: high(0.0007), residualIceM: 0.0003 }).reasonCodes,
    ).toEqual(['ice-at-lift-off', 'iced-ceiling', 'icing']);
    expect(verdict({ ...ICING, highestM, builtAloftM: high(0.0009) }).code).toBe('within-limits');
    expect(verdict({ ...ICING, highestM: mFromFt(20000), builtAloftM: high(0.01) }).code).toBe(
      'within-limits',
    );
  });

  test('less than the minimum airspeed in icing is outside limits, that speed itself is not', () => {
    expect(verdict({ ...ICING, leastIcingAirspeedMps: mpsFromKt(113) })).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['icing-speed-not-held', 'icing'],
      sentences: [
        'Only 113 kt indicated with ice, 120 kt is the least in icing',
        'Up to 10 min of icing, light at worst',
      ],
    });
    expect(verdict({ ...ICING, leastIcingAirspeedMps: mpsFromKt(120) }).code).toBe('within-limits');
    const noneGiven = makeAircraft('generic-fluid-turboprop', { minimumIcingAirspeedMps: 0 });
    expect(verdict({ ...ICING, leastIcingAirspeedMps: 1 }, { aircraft: noneGiven }).code).toBe(
      'within-limits',
    );
  });

  test('a cruise close under the tops is within limits and said', () => {
    expect(verdict({ ...ICING, underTopsS: 1200 })).toMatchObject({
      code: 'within-limits',
      reasonCodes: ['icing', 'close-under-the-tops'],
      numbers: [{}, { minutes: 20 }],
    });
  });
});

describe('verdictOf and the way out', () => {
  test('none for more than five minutes is outside limits, for five minutes not yet', () => {
    expect(verdict(ICING, { waysOut: { longestNoneS: 301 } })).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['no-way-out', 'icing'],
    });
    expect(verdict(ICING, { waysOut: { longestNoneS: 300 } }).code).toBe('within-limits');
  });

  test('unknown for more than five minutes makes it unknown, and a missing minimum altitude is asked for', () => {
    const unknown = (isMinimumMissing: boolean) =>
      verdict({}, { waysOut: { longestNoneKnownS: 900, isMinimumMissing } });
    expect(unknown(false)).toMatchObject({
      code: 'unknown',
      reasonCodes: ['way-out-unknown'],
      sentences: ['Way out of the ice unknown for 15 min'],
    });
    expect(unknown(true).sentences).toEqual([
      'Way out of the ice unknown for 15 min: enter the minimum altitudes',
    ]);
    expect(verdict({}, { waysOut: { longestNoneKnownS: 300 } }).code).toBe('no-ice-found');
  });

  test('none for more than five minutes says it all: that some around it is unknown is no second reason', () => {
    const facts = { waysOut: { longestNoneS: 600, longestNoneKnownS: 900 } };
    expect(verdict(ICING, facts).reasonCodes).toEqual(['no-way-out', 'icing']);
  });
});

describe('verdictOf and reports', () => {
  const met = (severity: Hazard['severity'], metS = 600) => ({
    hazard: {
      id: 'X',
      kind: 'pilot-report',
      severity,
      sentence: `Said to be ${severity}`,
      validFromMs: 0,
      validToMs: 1,
      issuedMs: 0,
      firstPoint: 0,
      lastPoint: 9,
      lowerM: 0,
      upperM: 9000,
    } as const,
    metS,
  });

  test.each([
    ['large-drops', 'outside-limits', 'reported-large-drops'],
    ['severe', 'outside-limits', 'reported-severe-icing'],
    ['moderate', 'within-limits', 'reported-icing'],
    ['unstated', 'within-limits', 'reported-icing'],
  ] as const)('a report of %s makes it %s although the model has nothing', (severity, code, reasonCode) => {
    expect(verdict({}, { hazards: [met(severity)] })).toMatchObject({
      code,
      reasonCodes: [reasonCode],
      sentences: [`Said to be ${severity}`],
      numbers: [{ reports: 1, minutes: 10, kind: 'pilot-report' }],
    });
  });

  test('a report of any ice is outside the limits of an aeroplane that is not certified', () => {
    const aircraft = makeAircraft('generic-unprotected-single');
    expect(verdict({}, { aircraft, hazards: [met('moderate')] })).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['not-certified', 'reported-icing'],
    });
  });

  test('several are counted, with the longest time in one of them', () => {
    expect(
      verdict({}, { hazards: [met('severe', 300), met('severe', 900), met('moderate')] }).numbers[0],
    ).toEqual({
      reports: 2,
      minutes: 15,
      kind: 'pilot-report',
    });
  });
});

describe('VERDICT_RULES in their order', () => {
  test('what is outside limits stands first, then unknown, then what is within limits', () => {
    const gravity = VERDICT_RULES.map(({ verdict: code }) => VERDICTS_BY_GRAVITY.indexOf(code));
    expect(gravity).toEqual([...gravity].sort((a, b) => b - a));
  });

  test('are these, in this order', () => {
    expect(VERDICT_RULES.map(({ code }) => code)).toEqual([
      'ice-at-lift-off',
      'large-drops',
      'large-drops-where-planned',
      'reported-large-drops',
      'severe-icing',
      'severe-icing-where-planned',
      'reported-severe-icing',
      'not-certified',
      'fluid-below-dispatch-minimum',
      'fluid-short',
      'icing-speed-not-held',
      'iced-ceiling',
      'climb-not-held',
      'missed-approach-not-climbed',
      'no-way-out',
      'unknown-air',
      'unknown-where-planned',
      'ice-beyond-known-loss',
      'icing-speed-not-given',
      'way-out-unknown',
      'fluid-short-if-unknown-air-is-moist',
      'fluid-not-given',
      'large-drops-not-excluded',
      'reported-icing',
      'icing',
      'icing-where-planned',
      'ice-not-excluded',
      'above-design-envelope',
      'close-under-the-tops',
      'close-over-the-tops',
      'air-below-unknown',
    ]);
  });
});
