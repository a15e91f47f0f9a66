import { describe, expect, test } from 'vitest';
import { readWarnings } from '../../../worker/formats/warnings/read-warnings.ts';
import type { Warning } from '../../../worker/formats/warnings/warning.ts';
import { CONVECTIVE, SIGMET_CANCEL, SIGMET_ICE, TANGO, ZULU } from './us-bulletins.ts';
import { CONTEXT, readOne, statedIn } from './warning-context.ts';

function warnings(text: string): Warning[] {
  return [...readWarnings(text, CONTEXT)].map((item) => {
    if (item.kind === 'refused') throw new Error(item.reason);
    return item;
  });
}
const on = (day: number, hour: number, minute = 0) => Date.UTC(2026, 0, day, hour, minute);

describe('AIRMET ZULU', () => {
  const all = warnings(ZULU);

  test('gives one warning an area, outlook and statement of the freezing level', () => {
    expect(all.map(({ phenomenon, isOutlook, line }) => [phenomenon.kind, isOutlook, line])).toEqual([
      ['icing', false, 6],
      ['icing', false, 11],
      ['icing', true, 16],
      ['freezing-level', false, 21],
      ['multiple-freezing-levels', false, 21],
      ['freezing-level', false, 21],
      ['freezing-level', false, 21],
    ]);
    expect(
      all.every(
        ({ identification, form, office }) => `${identification} ${form} ${office}` === 'ZULU 2 airmet BOSZ',
      ),
    ).toBe(true);
    expect(all.flatMap(({ unread }) => unread)).toEqual([]);
  });

  test('an area with its states, levels, validity and conditions', () => {
    expect(all[0]).toMatchObject({
      places: 'ME NH VT NY LO',
      phenomenon: { kind: 'icing', intensity: 'moderate', cause: 'unstated' },
      validFromMs: on(15, 14, 45),
      validToMs: on(15, 21),
      levels: { kind: 'layer', lower: { kind: 'altitude', altitudeFt: 2000 }, upper: { altitudeFt: 10_000 } },
      conditions: 'CONDS CONTG BYD 21Z THRU 03Z',
      areas: [{ geometry: { kind: 'polygon' } }],
    });
    expect(statedIn(all[0]!.areas[0]!.statement)).toBe('polygon AAA, BBB, CCC, DDD, DDD, AAA');
  });

  test('from the freezing level up, with the range that the next sentence gives', () => {
    expect(all[1]).toMatchObject({
      places: 'MA RI NY NJ WV MD DE VA NC AND CSTL WTRS',
      levels: {
        kind: 'layer',
        lower: { kind: 'freezing-level', lowestFt: 2000, highestFt: 6000 },
        upper: { kind: 'flight-level', altitudeFt: 19_000 },
      },
    });
  });

  test('the outlook holds after the bulletin', () => {
    expect(all[2]).toMatchObject({
      isOutlook: true,
      places: 'OH LE',
      validFromMs: on(15, 21),
      validToMs: on(16, 3),
      conditions: 'CONDS DVLPG AFT 00Z. CONDS CONTG THRU 03Z',
    });
  });

  test('the freezing level: its range, where it is crossed more than once, and lines of one altitude', () => {
    expect(all[3]).toMatchObject({
      areas: [],
      levels: { kind: 'layer', lower: { kind: 'surface' }, upper: { altitudeFt: 4500 } },
      validToMs: on(15, 21),
    });
    expect(all[4]).toMatchObject({ levels: { kind: 'below', upper: { altitudeFt: 9000 } } });
    expect(statedIn(all[4]!.areas[0]!.statement)).toBe('polygon AAA, BBB, CCC, AAA');
    expect(all[5]).toMatchObject({ levels: { kind: 'at', level: { kind: 'surface' } } });
    expect(all[6]).toMatchObject({ levels: { kind: 'at', level: { kind: 'altitude', altitudeFt: 4000 } } });
    expect(statedIn(all[6]!.areas[0]!.statement)).toBe('line 0.00 km AAA, BBB, CCC');
  });
});

test('statements of a freezing level where it always freezes, and storms of no size, are unread', () => {
  const freezing = warnings(ZULU.replace('BLW 090', 'BLW 890').replace('040 ALG', '840 ALG'));
  expect(freezing.map(({ phenomenon }) => phenomenon.kind)).toEqual([
    'icing',
    'icing',
    'icing',
    'freezing-level',
    'freezing-level',
  ]);
  expect(freezing[3]!.unread.map(({ text }) => text).join(' ')).toMatch(/^MULT FRZLVL BLW 890.* 840 ALG/);
  const storm = warnings(CONVECTIVE.replace('D30', 'D0'))[2]!;
  expect(statedIn(storm.areas[0]!.statement)).toBe('polygon AAA');
  expect(storm.phenomenon).toEqual({ kind: 'other', text: 'ISOL TS D0' });
});

test('AIRMET TANGO is read as other phenomena, with its areas', () => {
  expect(
    warnings(TANGO).map(({ phenomenon, areas, levels }) => [phenomenon, areas.length, levels?.kind]),
  ).toEqual([
    [{ kind: 'other', text: 'TURB' }, 1, 'layer'],
    [{ kind: 'other', text: 'STG SFC WNDS' }, 1, undefined],
    [{ kind: 'other', text: 'LLWS POTENTIAL' }, 1, undefined],
  ]);
});

describe('SIGMET', () => {
  test('severe icing due to freezing rain', () => {
    expect(readOne(SIGMET_ICE)).toMatchObject({
      form: 'sigmet',
      identification: 'PAPA 2',
      office: 'BOSP',
      places: 'ME NH VT NY PA',
      phenomenon: { kind: 'icing', intensity: 'severe', cause: 'freezing-rain' },
      validFromMs: on(4, 15, 10),
      validToMs: on(4, 19, 10),
      levels: {
        lower: { kind: 'altitude', altitudeFt: 4000 },
        upper: { kind: 'flight-level', altitudeFt: 22_000 },
      },
      unread: [],
    });
  });

  test.each([
    ['OCNL SEV ICE', 'severe'],
    ['SEV ICGICIP', 'severe'],
    ['SVR ICING', 'severe'],
    ['MOD TO SEV ICE', 'severe'],
    ['MOD-SEV RIME ICG', 'severe'],
    ['MOD ICE', 'moderate'],
    ['LGT TO MOD RIME ICGIC', 'moderate'],
  ])('%s', (words, intensity) => {
    expect(readOne(SIGMET_ICE.replace('OCNL SEV ICE', words)).phenomenon).toMatchObject({
      kind: 'icing',
      intensity,
    });
  });

  test('a cancellation names what it cancels', () => {
    expect(readOne(SIGMET_CANCEL)).toMatchObject({
      action: { kind: 'cancel', identification: 'OSCAR 1' },
      phenomenon: { kind: 'not-stated' },
      conditions: 'CONDS HV ENDED.',
      validFromMs: on(17, 6, 53),
    });
  });

  test('an end too far from the issue has a wrong figure', () => {
    const warning = readOne(SIGMET_ICE.replace('UNTIL 041910', 'UNTIL 091910'));
    expect(warning).toMatchObject({
      validToMs: undefined,
      unread: [{ element: 'validity', text: '091910' }],
    });
  });

  test('convective areas, lines with a width and storms with a diameter', () => {
    const all = warnings(CONVECTIVE);
    expect(all.map(({ identification, phenomenon }) => [identification, phenomenon])).toEqual([
      ['75C', { kind: 'other', text: 'AREA TS' }],
      ['76C', { kind: 'not-stated' }],
      ['77C', { kind: 'not-stated' }],
    ]);
    expect(all.map(({ areas }) => statedIn(areas[0]!.statement))).toEqual([
      'polygon AAA, BBB, CCC, AAA',
      'line 18.52 km AAA, BBB',
      'circle 27.78 km AAA',
    ]);
    expect(all.map(({ validToMs }) => validToMs)).toEqual([on(14, 18, 55), on(14, 18, 55), on(14, 18, 55)]);
    expect(all.map(({ movement }) => movement?.kind)).toEqual(['moving', 'moving', 'little']);
    expect(all[1]!.levels).toMatchObject({ kind: 'top', top: 'above', upper: { altitudeFt: 45_000 } });
  });
});
