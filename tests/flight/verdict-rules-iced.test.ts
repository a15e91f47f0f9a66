/** Rules about climb, speed and chance with ice, over the trip and what is planned beyond it. */
import { describe, expect, test } from 'vitest';
import { mFromFt } from '../../worker/science/units.ts';
import { high, ICING, NOTHING_THERE, plannedPart, verdict } from './judge-exposure.ts';
import { makeAircraft } from './make-curtain.ts';

const FT_PER_MIN = mFromFt(1) / 60;
const MM = 0.001;

describe('verdictOf and the climb that ice leaves', () => {
  test('less than 100 ft/min at the cruise is outside limits, 100 is not', () => {
    expect(verdict({ ...ICING, climbLeftMps: 99 * FT_PER_MIN, climbedWithM: 5 * MM })).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['climb-not-held', 'icing'],
      sentences: ['With up to 5 mm of ice only 90 ft/min of climb are left at the cruise', expect.anything()],
      numbers: [{ climbFtPerMin: 90 }, {}],
    });
    expect(verdict({ ...ICING, climbLeftMps: 100 * FT_PER_MIN }).code).toBe('within-limits');
  });

  test('less than 100 ft/min for a missed approach is outside limits', () => {
    expect(
      verdict({ ...ICING, missedClimbMps: 55 * FT_PER_MIN, builtOnApproachM: high(12 * MM) }),
    ).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['missed-approach-not-climbed', 'icing'],
      sentences: [
        expect.stringMatching(/of ice only 50 ft\/min of climb are left for a missed approach$/),
        expect.anything(),
      ],
    });
    expect(verdict({ ...ICING, missedClimbMps: 100 * FT_PER_MIN }).code).toBe('within-limits');
  });
});

describe('verdictOf and a minimum airspeed in icing that is not given', () => {
  const bare = makeAircraft('generic-fluid-turboprop', { minimumIcingAirspeedMps: undefined });
  const none = makeAircraft('generic-fluid-turboprop', { minimumIcingAirspeedMps: 0 });
  const codes = (aircraft: typeof bare, aloftMm: number, residualM = 0) =>
    verdict({ ...ICING, builtAloftM: high(aloftMm * MM), residualIceM: residualM }, { aircraft });

  test('is unknown from five millimeters on, not before, and not where the manual gives none', () => {
    expect(codes(bare, 5)).toMatchObject({
      code: 'unknown',
      reasonCodes: ['icing-speed-not-given', 'icing'],
    });
    expect(codes(bare, 4.9).code).toBe('within-limits');
    expect(codes(none, 15).code).toBe('within-limits');
  });

  test('ice from the ground counts with it', () => {
    expect(codes(bare, 4.97, 0.00004).reasonCodes).toContain('icing-speed-not-given');
  });

  test('never counts as held: nothing is said of a speed that is not asked for', () => {
    expect(verdict({ ...ICING, leastIcingAirspeedMps: 1 }, { aircraft: bare }).reasonCodes).not.toContain(
      'icing-speed-not-held',
    );
  });
});

describe('verdictOf and more ice than is known', () => {
  test('more than 20 mm leave it unknown, aloft or by the end of the approach', () => {
    const reasonCodes = ['ice-beyond-known-loss', 'icing'];
    expect(verdict({ ...ICING, builtAloftM: high(20.1 * MM) })).toMatchObject({
      code: 'unknown',
      reasonCodes,
    });
    expect(verdict({ ...ICING, builtOnApproachM: high(20.1 * MM) })).toMatchObject({
      code: 'unknown',
      reasonCodes,
      numbers: [{ builtMm: 20.1 }, {}],
    });
    expect(verdict({ ...ICING, builtAloftM: high(20 * MM), builtOnApproachM: high(20 * MM) }).code).toBe(
      'within-limits',
    );
  });
});

describe('verdictOf and chances of everything planned for', () => {
  test('large drops are not excluded where trip and planned parts together have a tenth', () => {
    expect(verdict({ wholeLargeDropChance: 0.1, largeDropChance: 0 })).toMatchObject({
      code: 'within-limits',
      reasonCodes: ['large-drops-not-excluded'],
    });
    expect(verdict({ wholeLargeDropChance: 0, largeDropChance: 0.5 }).code).toBe('no-ice-found');
  });

  test('nor are they spoken of as not excluded where they are named in the hold', () => {
    const planned = {
      ...NOTHING_THERE,
      parts: [plannedPart('hold')],
      largeDropS: 60,
      worstLargeDrops: 'freezing-drizzle',
      largeDropPart: 'hold',
    } as const;
    expect(verdict({ wholeLargeDropChance: 0.7, planned }).reasonCodes).toEqual([
      'large-drops-where-planned',
    ]);
  });
});
