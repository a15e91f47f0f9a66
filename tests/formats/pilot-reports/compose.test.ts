import { describe, expect, test } from 'vitest';
import { composePirep, type ReportEntry } from '../../../worker/formats/pilot-reports/compose.ts';
import { isNullIcing } from '../../../worker/formats/pilot-reports/report.ts';
import { CONTEXT, readOne } from './report-context.ts';
import { composed, entryWith, faultsOf } from './report-entries.ts';

const START = 'ABC UA /OV ABC/TM 1412/FL090/TP ZZZZ';
const on15th = (hour: number, minute: number) => Date.UTC(2026, 0, 15, hour, minute);
const isUrgent = (changed: Partial<ReportEntry>) => composed(entryWith(changed)).startsWith('ABC UUA ');

describe('examples of the project reference on reports, section 1, letter for letter', () => {
  test('light rime in a layer of its own, 25 NM out on the 120 radial', () => {
    const entry = entryWith({
      place: { kind: 'radial', identifier: 'ABC', radialDeg: 120, distanceNm: 25 },
      sky: [{ thinnest: 'overcast', thickest: 'overcast', baseFt: 4500, topFt: 11_000 }],
      temperatureC: -7,
      wind: { directionDeg: 280, speedKt: 35 },
      icing: {
        kind: 'met',
        lightest: 'light',
        heaviest: 'light',
        what: 'rime',
        lowerFt: 6000,
        upperFt: 9000,
      },
    });
    expect(composed(entry)).toBe(
      'ABC UA /OV ABC120025/TM 1412/FL090/TP ZZZZ/SK OVC045-TOP110/TA M07/WV 28035KT/IC LGT RIME 060-090',
    );
  });

  test('urgent severe clear ice at the altitude of the report, freezing rain, remarks', () => {
    const entry = entryWith({
      station: 'KXYZ',
      place: { kind: 'fix', identifier: 'KXYZ' },
      timeMs: on15th(2, 3),
      altitudeFt: 7000,
      visibilitySm: 2,
      weather: ['FZRA'],
      temperatureC: -2,
      icing: { kind: 'met', lightest: 'severe', heaviest: 'severe', what: 'clear' },
      remarks: 'Ice aft of panels',
    });
    expect(composed(entry)).toBe(
      'KXYZ UUA /OV KXYZ/TM 0203/FL070/TP ZZZZ/WX FV02SM FZRA/TA M02/IC SEV CLR/RM ICE AFT OF PANELS',
    );
  });

  test('a null report', () => {
    const entry = entryWith({
      station: 'DEF',
      place: { kind: 'fix', identifier: 'DEF' },
      timeMs: on15th(22, 15),
      altitudeFt: 12_000,
      temperatureC: -15,
      icing: { kind: 'none' },
    });
    expect(composed(entry)).toBe('DEF UA /OV DEF/TM 2215/FL120/TP ZZZZ/TA M15/IC NEG');
  });

  test('a report without icing is no null report', () => {
    const entry = entryWith({
      station: 'JKL',
      place: { kind: 'fix', identifier: 'JKL' },
      timeMs: on15th(0, 31),
      altitudeFt: 8000,
      turbulence: { kind: 'met', lightest: 'light', heaviest: 'light', what: 'unstated' },
    });
    expect(composed(entry)).toBe('JKL UA /OV JKL/TM 0031/FL080/TP ZZZZ/TB LGT');
    expect(isNullIcing(readOne(composed(entry)))).toBe(false);
  });

  test('a top without a base, an altitude that is unknown: the example, its last elements in the order of the table', () => {
    const entry = entryWith({
      station: 'GHI',
      place: { kind: 'fix', identifier: 'GHI' },
      timeMs: on15th(0, 30),
      altitudeFt: undefined,
      sky: [{ thinnest: 'overcast', thickest: 'overcast', topFt: 8500 }],
      turbulence: { kind: 'none' },
      icing: { kind: 'met', lightest: 'moderate', heaviest: 'moderate', what: 'rime', upperFt: 8500 },
    });
    expect(composed(entry)).toBe(
      'GHI UA /OV GHI/TM 0030/FLUNKN/TP ZZZZ/SK OVC-TOP085/TB NEG/IC MOD RIME BLO 085',
    );
  });

  test('elements of the example that is flown in descent', () => {
    const entry = entryWith({
      timeMs: on15th(14, 0),
      altitudeFt: undefined,
      phase: 'descent',
      aircraftType: undefined,
      sky: [{ thinnest: 'broken', thickest: 'overcast', baseFt: 3000, topFt: 'unknown' }],
      icing: {
        kind: 'met',
        lightest: 'trace',
        heaviest: 'light',
        what: 'mixed',
        lowerFt: 7000,
        upperFt: 10_000,
      },
    });
    expect(composed(entry)).toBe(
      'ABC UA /OV ABC/TM 1400/FLUNKN/TP UNKN/SK BKN-OVC030-TOPUNKN/IC TRACE-LGT MX 070-100/RM DURD',
    );
  });
});

test('the example below table 7-1-7 of the AIM is composed, a blank apart, and reads as printed', () => {
  // AIM 7-1 (6/17/21), example 1, looked up; type designator replaced by ZZZZ.
  const printed = 'KCMH UA /OV APE 230010/TM 1516/FL085/TP ZZZZ/SK BKN065/WX FV03SM HZ FU/TA 20/TB LGT';
  const text = composed(
    entryWith({
      station: 'KCMH',
      place: { kind: 'radial', identifier: 'APE', radialDeg: 230, distanceNm: 10 },
      timeMs: on15th(15, 16),
      altitudeFt: 8500,
      sky: [{ thinnest: 'broken', thickest: 'broken', baseFt: 6500 }],
      visibilitySm: 3,
      weather: ['HZ', 'FU'],
      temperatureC: 20,
      turbulence: { kind: 'met', lightest: 'light', heaviest: 'light', what: 'unstated' },
    }),
  );
  expect(text).toBe(printed.replace('APE 230010', 'APE230010'));
  const evening = { ...CONTEXT, referenceMs: on15th(23, 0) };
  expect({ ...readOne(text, evening), text: '' }).toEqual({ ...readOne(printed, evening), text: '' });
});

describe('forms of the table', () => {
  test.each([
    [
      { sky: [{ thinnest: 'scattered', thickest: 'broken', baseFt: 5000, topFt: 10_000 }] },
      '/SK SCT-BKN050-TOP100',
    ],
    [
      { sky: [{ thinnest: 'broken', thickest: 'broken', baseFt: 'unknown', topFt: 7500 }] },
      '/SK BKNUNKN-TOP075',
    ],
    [{ sky: [{ thinnest: 'unstated', thickest: 'unstated', topFt: 9000 }] }, '/SK TOP090'],
    [
      {
        sky: [
          { thinnest: 'overcast', thickest: 'overcast', baseFt: 10_000, topFt: 11_000 },
          { thinnest: 'clear', thickest: 'clear' },
        ],
      },
      '/SK OVC100-TOP110/SKC',
    ],
    [{ visibilitySm: 'unrestricted' }, '/WX FV99SM'],
    [{ visibilitySm: 0, weather: ['+sn'] }, '/WX FV00SM +SN'],
    [{ temperatureC: -8 }, '/TA M08'],
    [{ temperatureC: -0 }, '/TA 00'],
    [{ wind: { directionDeg: 5, speedKt: 105 } }, '/WV 005105KT'],
    [
      {
        turbulence: {
          kind: 'met',
          lightest: 'light',
          heaviest: 'moderate',
          what: 'chop',
          lowerFt: 3000,
          upperFt: 5000,
        },
      },
      '/TB LGT-MOD CHOP 030-050',
    ],
    [
      { icing: { kind: 'met', lightest: 'light', heaviest: 'light', what: 'unstated', lowerFt: 8000 } },
      '/IC LGT ABV 080',
    ],
    [
      {
        icing: {
          kind: 'met',
          lightest: 'light',
          heaviest: 'light',
          what: 'rime',
          lowerFt: 6000,
          upperFt: 6000,
        },
      },
      '/IC LGT RIME 060',
    ],
    // The altitude of the report is not said again.
    [
      {
        icing: {
          kind: 'met',
          lightest: 'light',
          heaviest: 'light',
          what: 'rime',
          lowerFt: 9000,
          upperFt: 9000,
        },
      },
      '/IC LGT RIME',
    ],
    [
      {
        icing: { kind: 'met', lightest: 'light', heaviest: 'light', what: 'rime', lowerFt: 0, upperFt: 2000 },
      },
      '/IC LGT RIME SFC-020',
    ],
    [{ phase: 'climb', remarks: 'NEG TURB' }, '/RM DURC NEG TURB'],
  ] as const satisfies readonly (readonly [Partial<ReportEntry>, string])[])(
    '%j is %s',
    (changed, elements) => {
      expect(composed(entryWith(changed))).toBe(`${START}${elements}`);
    },
  );

  test('small letters and blanks around a word are no fault', () => {
    const entry = entryWith({
      station: ' kabc',
      place: { kind: 'fix', identifier: 'kabc ' },
      aircraftType: 'zzzz',
    });
    expect(composed(entry)).toBe('KABC UA /OV KABC/TM 1412/FL090/TP ZZZZ');
  });

  test('an identifier with a figure is parted from its radial', () => {
    const place = { kind: 'radial', identifier: 'N12E', radialDeg: 120, distanceNm: 25 } as const;
    expect(composed(entryWith({ place }))).toContain('/OV N12E 120025/');
  });

  test('a minute that has begun is that minute, before 1970 too', () => {
    expect(composed(entryWith({ timeMs: on15th(14, 12) + 59_999 }))).toContain('/TM 1412/');
    expect(composed(entryWith({ timeMs: -1 }))).toContain('/TM 2359/');
  });
});

describe('a report is urgent', () => {
  const icing = (lightest: 'light' | 'severe', heaviest: 'moderate' | 'severe') =>
    ({ kind: 'met', lightest, heaviest, what: 'rime' }) as const;
  const turbulence = (heaviest: 'moderate' | 'severe' | 'extreme') =>
    ({ kind: 'met', lightest: 'light', heaviest, what: 'unstated' }) as const;

  test.each<Partial<ReportEntry>>([
    { icing: icing('severe', 'severe') },
    { icing: icing('light', 'severe') },
    { turbulence: turbulence('severe') },
    { turbulence: turbulence('extreme') },
    { weather: ['+FC'] },
    { weather: ['HZ', '-tsragr'] },
    { weather: ['VA'] },
    { weather: ['VCFC'] },
    { isJudgedHazardous: true },
  ])('for %j', (changed) => {
    expect(isUrgent(changed)).toBe(true);
    expect(readOne(composed(entryWith(changed))).urgency).toBe('urgent');
  });

  test.each<Partial<ReportEntry>>([
    { icing: icing('light', 'moderate') },
    { icing: { kind: 'none' } },
    { turbulence: turbulence('moderate') },
    { weather: ['FZRA'] },
    { weather: ['GS'] },
    { weather: ['+TSRA'] },
    { remarks: 'SEV ICE' },
  ])('not for %j alone', (changed) => {
    expect(isUrgent(changed)).toBe(false);
  });

  test('and the answer says so', () => {
    expect(composePirep(entryWith({ isJudgedHazardous: true }))).toMatchObject({ isUrgent: true });
    expect(composePirep(entryWith())).toMatchObject({ isUrgent: false });
  });
});

describe('icing that is not reported and icing that was not met are two things', () => {
  test('left out, or NEG', () => {
    expect(composed(entryWith({ icing: { kind: 'not-reported' } }))).toBe(START);
    expect(composed(entryWith({ icing: { kind: 'none' } }))).toBe(`${START}/IC NEG`);
    expect(isNullIcing(readOne(composed(entryWith({ icing: { kind: 'none' } }))))).toBe(true);
  });

  test('any other word is neither', () => {
    for (const kind of ['', 'unknown', 'constructor']) {
      const entry = entryWith({ icing: { kind } as unknown as ReportEntry['icing'] });
      expect(faultsOf(entry)).toEqual([
        { field: 'icing.kind', found: `"${kind}"`, expected: 'not-reported, none or met' },
      ]);
    }
  });
});
