/** Rules about the trip itself. See verdict-rules-planned.test.ts for what is planned for, reported, or asked of the aeroplane. */
import { describe, expect, test } from 'vitest';
import { fileReason } from '../../worker/flight/file-advice.ts';
import { VERDICT_RULES } from '../../worker/flight/verdict-rules.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { fluidL, high, ICING, NO_ICE, verdict } from './judge-exposure.ts';
import { makeAircraft } from './make-curtain.ts';

describe('verdictOf', () => {
  test('a path where every rule stays silent has no ice found', () => {
    expect(verdict({})).toMatchObject({ code: 'no-ice-found', reasonCodes: ['no-ice-found'] });
  });

  test('icing in the high estimate alone is within limits', () => {
    expect(verdict(ICING)).toMatchObject({ code: 'within-limits', reasonCodes: ['icing'] });
  });

  test('icing is outside the limits of an aeroplane that is not certified for it', () => {
    const aircraft = makeAircraft('generic-unprotected-single');
    expect(verdict(ICING, { aircraft })).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['not-certified', 'icing'],
    });
    expect(verdict({}, { aircraft }).code).toBe('no-ice-found');
  });

  test('large drops are outside limits even without probable icing', () => {
    expect(verdict({ largeDropS: 60, worstLargeDrops: 'freezing-drizzle' })).toMatchObject({
      code: 'outside-limits',
      sentences: ['Freezing drizzle on the path for 5 min'],
    });
  });

  test('severe icing in the high estimate alone is outside limits', () => {
    const intensityS = { ...NO_ICE.intensityS, severe: high(60) };
    expect(verdict({ ...ICING, intensityS })).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['severe-icing', 'icing'],
    });
  });

  test('more fluid needed than carried is outside limits', () => {
    expect(verdict({ ...ICING, ...fluidL(61) }, { onBoardL: 60 })).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['fluid-short', 'icing'],
      sentences: ['Fluid short: up to 65 L needed, 60 L on board', 'Up to 10 min of icing, light at worst'],
    });
    expect(verdict({ ...ICING, ...fluidL(60) }, { onBoardL: 60 }).code).toBe('within-limits');
  });

  test('less than the dispatch minimum is outside limits whatever the trip needs', () => {
    expect(verdict({ ...ICING, ...fluidL(10) }, { onBoardL: 24 })).toMatchObject({
      code: 'outside-limits',
      reasonCodes: ['fluid-below-dispatch-minimum', 'icing'],
    });
    expect(verdict({}, { onBoardL: 24 })).toMatchObject({
      code: 'outside-limits',
      sentences: ['Fluid 24 L is below the dispatch minimum of 25 L'],
    });
    expect(verdict({}, { onBoardL: 25 }).code).toBe('no-ice-found');
  });
});

describe('verdictOf, small chances', () => {
  test('ice in one draw of twenty is not excluded, in fewer or for some seconds alone it is not found', () => {
    expect(verdict({ iceChance: 0.0625, expectedIcingS: 30 })).toMatchObject({
      code: 'within-limits',
      reasonCodes: ['ice-not-excluded'],
      sentences: ['Ice is not excluded: a chance of 5 % on the path'],
    });
    expect(verdict({ iceChance: 0.047, expectedIcingS: 30 }).code).toBe('no-ice-found');
    expect(verdict({ iceChance: 0.09, expectedIcingS: 10 }).code).toBe('no-ice-found');
  });

  test('large drops too improbable to be named are spoken of from one in ten', () => {
    expect(verdict({ ...ICING, wholeLargeDropChance: 0.2 })).toMatchObject({
      code: 'within-limits',
      reasonCodes: ['large-drops-not-excluded', 'icing'],
    });
    expect(verdict({ wholeLargeDropChance: 0.09 }).code).toBe('no-ice-found');
  });

  test('what is filed then says that they are not excluded', () => {
    const reasonWith = (...codes: string[]) =>
      fileReason({
        exposure: NO_ICE,
        verdictReasons: codes.map((code) => ({ code, sentence: '', numbers: {} })),
      });
    expect(reasonWith()).toBe('no ice found on the whole path');
    expect(reasonWith('large-drops-not-excluded')).toBe('no ice found, but large drops are not excluded');
  });
});

describe('verdictOf, what is not known or close', () => {
  test('any unknown time makes it unknown, however little', () => {
    expect(verdict({ unknownS: 1 })).toMatchObject({
      code: 'unknown',
      reasonCodes: ['unknown-air'],
      sentences: ['No data for 5 min of the path'],
    });
    expect(verdict({ ...ICING, unknownS: 1 }).code).toBe('unknown');
  });

  test('outside limits outweighs unknown', () => {
    expect(verdict({ unknownS: 600, largeDropS: 60, worstLargeDrops: 'freezing-rain' }).code).toBe(
      'outside-limits',
    );
  });

  test('fluid that is short only if unknown air is moist leaves it unknown', () => {
    const exposure = { unknownS: 1200, fluidM3: high(0.07), fluidHighKnownM3: 0.05 };
    expect(verdict(exposure, { onBoardL: 60 })).toMatchObject({
      code: 'unknown',
      reasonCodes: ['unknown-air', 'fluid-short-if-unknown-air-is-moist'],
    });
  });

  test('fluid that is not given may be taken to be the dispatch minimum, no more', () => {
    expect(verdict({ ...ICING, ...fluidL(25) }, { onBoardL: undefined }).code).toBe('within-limits');
    expect(verdict({ ...ICING, ...fluidL(26) }, { onBoardL: undefined })).toMatchObject({
      code: 'unknown',
      reasonCodes: ['fluid-not-given', 'icing'],
    });
  });

  test('less than 1,500 ft over the tops is within limits, not "no ice found"', () => {
    expect(verdict({ topsMarginM: mFromFt(1499) })).toMatchObject({
      code: 'within-limits',
      sentences: ['Cruise only 1,000 ft above the expected top of the ice'],
    });
    expect(verdict({ topsMarginM: mFromFt(300) }).sentences).toEqual([
      'Cruise less than 500 ft above the expected top of the ice',
    ]);
  });

  test('unknown air within 1,500 ft below is no better than a thin margin', () => {
    expect(verdict({ topsUnknownS: 60, belowUnknownS: 600 })).toMatchObject({
      code: 'within-limits',
      reasonCodes: ['air-below-unknown'],
      sentences: ['Air within 1,500 ft below is unknown for 10 min of the cruise'],
    });
  });

  test('nor is a gap in what is known further below, through which the way down leads', () => {
    expect(verdict({ belowUnknownS: 600 })).toMatchObject({
      code: 'within-limits',
      sentences: ['Air below is unknown for 10 min of the cruise'],
    });
  });

  test('the design envelope is stated and forbids nothing', () => {
    expect(verdict({ ...ICING, greatestEnvelopeRatio: 1.6 })).toMatchObject({
      code: 'within-limits',
      sentences: [
        'Up to 10 min of icing, light at worst',
        'Liquid water up to 1.6 times the certification envelope',
      ],
    });
    expect(verdict({ ...ICING, greatestEnvelopeRatio: 10 }).sentences[1]).toBe(
      'Water outside the ranges of the certification envelope',
    );
  });
});

describe('VERDICT_RULES', () => {
  test('each has its own code and says where it comes from', () => {
    expect(new Set(VERDICT_RULES.map((rule) => rule.code)).size).toBe(VERDICT_RULES.length);
    expect(VERDICT_RULES.every((rule) => rule.source.length > 20)).toBe(true);
  });
});
