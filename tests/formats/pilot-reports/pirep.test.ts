import { describe, expect, test } from 'vitest';
import { isNullIcing } from '../../../worker/formats/pilot-reports/report.ts';
import { readOne } from './report-context.ts';

const report = (elements: string) => readOne(`ABC UA /OV ABC/TM 1400/FL140${elements}`);

describe('icing that is absent, null, met and unreadable are four different things', () => {
  test('absent', () => {
    const absent = report('/TB NEG');
    expect(absent.icing).toEqual({ kind: 'not-reported' });
    expect(isNullIcing(absent)).toBe(false);
  });

  test('null', () => {
    const none = report('/IC NEG 051-100');
    expect(none.icing).toMatchObject({
      layers: [{ heaviest: 'none', band: { lowerFt: 5100, upperFt: 10_000 } }],
    });
    expect(isNullIcing(none)).toBe(true);
  });

  test('met', () => {
    expect(isNullIcing(report('/IC TRACE'))).toBe(false);
    expect(isNullIcing(report('/IC NEG-LGT'))).toBe(false);
    expect(isNullIcing(report('/IC RIME'))).toBe(false);
    expect(isNullIcing(report('/IC NEG BLO 060 LGT 060-080'))).toBe(false);
  });

  test('unreadable', () => {
    const unreadable = report('/IC FM ZKC');
    const { icing, unread } = unreadable;
    expect(icing).toEqual({ kind: 'unreadable', text: 'FM ZKC' });
    expect(isNullIcing(unreadable)).toBe(false);
    expect(unread).toMatchObject([{ element: 'IC', text: 'FM ZKC' }]);
  });

  test('an empty element, or UNKN, reports nothing', () => {
    expect(report('/IC/TB LGT').icing).toEqual({ kind: 'not-reported' });
    expect(report('/IC UNKN').icing).toEqual({ kind: 'not-reported' });
  });
});

describe('icing typed under turbulence', () => {
  test('is icing, and no turbulence; the report says where it stood', () => {
    expect(report('/TB LGT RIME200-140/RM FM ZKC')).toMatchObject({
      icing: {
        kind: 'reported',
        element: 'TB',
        layers: [{ heaviest: 'light', what: 'rime', band: { lowerFt: 14_000, upperFt: 20_000 } }],
      },
      turbulence: { kind: 'not-reported' },
      unread: [{ element: 'TB', text: 'LGT RIME200-140' }],
    });
  });

  test('is turbulence with an unread word where the report has its own icing', () => {
    expect(report('/TB LGT RIME/IC NEG')).toMatchObject({
      icing: { element: 'IC', layers: [{ heaviest: 'none' }] },
      turbulence: { layers: [{ heaviest: 'light' }] },
      unread: [{ element: 'TB', text: 'RIME' }],
    });
  });
});

describe('altitudes of an element', () => {
  test('are the report altitude where none is given, and marked so', () => {
    expect(report('/IC LGT RIME').icing).toMatchObject({
      layers: [{ band: { kind: 'layer', lowerFt: 14_000, upperFt: 14_000, isStated: false } }],
    });
    expect(readOne('ABC UA /OV ABC/FL060-090/IC LGT').icing).toMatchObject({
      layers: [{ band: { kind: 'layer', lowerFt: 6000, upperFt: 9000, isStated: false } }],
    });
  });

  test('are unknown where the report has none, or says UNKN', () => {
    expect(readOne('ABC UA /OV ABC/FLUNKN/IC LGT').icing).toMatchObject({
      layers: [{ band: { kind: 'unknown' } }],
    });
    expect(report('/IC TRACE UNKN').icing).toMatchObject({ layers: [{ band: { kind: 'unknown' } }] });
  });
});

describe('every word comes out', () => {
  /** Each report with every word that no value is made of. */
  test.each([
    ['/OV ABC/TM 1400 LCL/FL140', ['LCL']],
    ['/OV ABC/TP ZZZZ HEAVY', ['HEAVY']],
    ['/OV ABC/TB MOD WAVE/IC LGT RIME ON WINGS', ['WAVE', 'ON WINGS']],
    ['HELLO /OV ABC/TM 1400', ['HELLO']],
    ['/OV ABC/SK OVC040 RAGGED', ['RAGGED']],
    ['/OV SOMEWHERE NICE/TM 1400', ['SOMEWHERE NICE']],
  ])('%s', (elements, words) => {
    const { unread } = readOne(`ABC UA ${elements}`);
    expect(unread.map(({ text }) => text).sort()).toEqual([...words].sort());
    expect(unread.every(({ reason }) => /: found .*, expected /.test(reason))).toBe(true);
  });
});
