/** Which fields of which model an hour keeps: parameters, levels, products and dates, as the models publish them. */
import { describe, expect, test } from 'vitest';
import { cloudBasis, humidityBasis } from '../../worker/sources/grid-basis.ts';
import { type FieldIdentity, wantedSlices } from '../../worker/sources/grid-quantities.ts';
import { GRID_QUANTITIES } from '../../worker/sources/ports.ts';

const GFS = { centre: 7, generatingProcess: 96 };
const HRRR = { centre: 7, generatingProcess: 83 };
const ECMWF = { centre: 98, generatingProcess: 154 };
const ICON = { centre: 78, generatingProcess: 11 };
const GEM = { centre: 54, generatingProcess: 47 };

type Surface = readonly [type: number, value?: number, second?: readonly [type: number, value: number]];
const P: Surface = [100, 70_000];
const GROUND: Surface = [1];
const TWO_METERS: Surface = [103, 2];
const TEN_METERS: Surface = [103, 10];
const HYBRID: Surface = [105, 12];
/** A layer of the model's own between two numbered faces. */
const LAYER: Surface = [150, 64, [150, 65]];

function identity(
  source: { centre: number; generatingProcess: number },
  parameter: string,
  [type, value = Number.NaN, second]: Surface,
  more: Partial<FieldIdentity> = {},
): FieldIdentity {
  const [discipline = 0, category = 0, number = 0] = parameter.split('.').map(Number);
  return {
    ...source,
    parameter: { discipline, category, number },
    level: { type, value },
    secondLevel: second === undefined ? undefined : { type: second[0], value: second[1] },
    productTemplate: 0,
    member: undefined,
    referenceTimeMs: Date.UTC(2024, 0, 15, 12),
    ...more,
  };
}

/** Quantity and form, or nothing. */
const keptAs = (field: FieldIdentity) =>
  wantedSlices(field).map(({ quantity, form }) =>
    form === 'as-named' ? quantity : `${quantity} as ${form}`,
  );

describe('fields of the models', () => {
  /** Short names of the publishers beside the numbers of code table 4.2, which tests/formats/grib2/code-tables.test.ts checks. */
  test.each([
    ['GFS TMP', GFS, '0.0.0', P, 'temperatureK'],
    ['GFS RH', GFS, '0.1.1', P, 'relativeHumidityRatio'],
    ['GFS SPFH', GFS, '0.1.0', P, 'relativeHumidityRatio as specific-humidity'],
    ['GFS HGT', GFS, '0.3.5', P, 'geopotentialHeightM'],
    ['GFS UGRD', GFS, '0.2.2', P, 'windEastMps'],
    ['GFS VGRD', GFS, '0.2.3', P, 'windNorthMps'],
    ['GFS VVEL', GFS, '0.2.8', P, 'verticalVelocityPaPerS'],
    ['GFS DZDT', GFS, '0.2.9', P, 'verticalVelocityPaPerS as geometric-velocity'],
    ['GFS CLMR', GFS, '0.1.22', P, 'condensateKgPerKg'],
    ['GFS ICMR', GFS, '0.1.23', P, 'cloudIceKgPerKg'],
    ['GFS RWMR', GFS, '0.1.24', P, 'rainKgPerKg'],
    ['GFS SNMR', GFS, '0.1.25', P, 'snowKgPerKg'],
    ['GFS GRLE', GFS, '0.1.32', P, 'graupelKgPerKg'],
    ['GFS TCDC on a level', GFS, '0.6.1', P, 'cloudFractionRatio'],
    ['GFS PRES at the ground', GFS, '0.3.0', GROUND, 'surfacePressurePa'],
    ['GFS HGT at the ground', GFS, '0.3.5', GROUND, 'surfaceHeightM'],
    ['GFS CRAIN', GFS, '0.1.192', GROUND, 'rainRatio'],
    ['GFS CFRZR', GFS, '0.1.193', GROUND, 'freezingRainRatio'],
    ['GFS CICEP', GFS, '0.1.194', GROUND, 'icePelletsRatio'],
    ['GFS CSNOW', GFS, '0.1.195', GROUND, 'snowRatio'],
    ['GFS TMP at 2 m', GFS, '0.0.0', TWO_METERS, 'screenTemperatureK'],
    ['GFS RH at 2 m', GFS, '0.1.1', TWO_METERS, 'screenRelativeHumidityRatio'],
    ['GFS UGRD at 10 m', GFS, '0.2.2', TEN_METERS, 'screenWindEastMps'],
    ['GFS VGRD at 10 m', GFS, '0.2.3', TEN_METERS, 'screenWindNorthMps'],
    ['HRRR DPT', HRRR, '0.0.6', P, 'relativeHumidityRatio as dew-point'],
    ['HRRR DPT at 2 m', HRRR, '0.0.6', TWO_METERS, 'screenRelativeHumidityRatio as dew-point'],
    ['HRRR CIMIXR', HRRR, '0.1.82', P, 'cloudIceKgPerKg'],
    ['HRRR PRES on its own level', HRRR, '0.3.0', HYBRID, 'pressurePa'],
    ['HRRR FRACCC on its own level', HRRR, '0.6.32', HYBRID, 'cloudFractionRatio'],
    ['RRFS TCOND on its own level', HRRR, '0.6.195', HYBRID, 'condensateKgPerKg as total-condensate'],
    ['RRFS TCOND by the code table', HRRR, '0.1.21', HYBRID, 'condensateKgPerKg as total-condensate'],
    ['ICON FI', ICON, '0.3.4', P, 'geopotentialHeightM'],
    ['ICON QV on its own layer', ICON, '0.1.0', LAYER, 'relativeHumidityRatio as specific-humidity'],
    ['ICON P on its own layer', ICON, '0.3.0', LAYER, 'pressurePa'],
    ['ICON QC on its own layer', ICON, '0.1.22', LAYER, 'condensateKgPerKg'],
    ['ICON QI on its own layer', ICON, '0.1.82', LAYER, 'cloudIceKgPerKg'],
    ['ICON CLC on its own layer', ICON, '0.6.22', LAYER, 'cloudFractionRatio'],
    ['ICON HSURF', ICON, '0.3.6', GROUND, 'surfaceHeightM'],
    ['GEM DEPR', GEM, '0.0.7', P, 'relativeHumidityRatio as dew-point-depression'],
    ['GEM DEPR at 2 m', GEM, '0.0.7', TWO_METERS, 'screenRelativeHumidityRatio as dew-point-depression'],
    ['ECMWF q', ECMWF, '0.1.0', P, 'relativeHumidityRatio as specific-humidity'],
    ['ECMWF clwc', ECMWF, '0.1.83', P, 'condensateKgPerKg'],
    ['ECMWF ciwc', ECMWF, '0.1.84', P, 'cloudIceKgPerKg'],
    ['ECMWF crwc', ECMWF, '0.1.85', P, 'rainKgPerKg'],
    ['ECMWF cswc', ECMWF, '0.1.86', P, 'snowKgPerKg'],
    ['ECMWF cc', ECMWF, '0.6.32', P, 'cloudFractionRatio'],
    ['ECMWF 2d', ECMWF, '0.0.6', TWO_METERS, 'screenRelativeHumidityRatio as dew-point'],
    ['ECMWF z at the ground', ECMWF, '0.3.4', GROUND, 'surfaceHeightM'],
    ['categorical freezing rain of the code table', ECMWF, '0.1.34', GROUND, 'freezingRainRatio'],
    ['the height of the terrain, discipline 2', ECMWF, '2.0.7', GROUND, 'surfaceHeightM'],
  ] as const)('%s', (...[, source, parameter, surface, expected]) => {
    expect(keptAs(identity(source, parameter, surface))).toEqual([expected]);
  });

  test('a type of precipitation is a slice for each kind', () => {
    expect(keptAs(identity(ECMWF, '0.1.19', GROUND))).toEqual([
      'rainRatio',
      'freezingRainRatio',
      'icePelletsRatio',
      'snowRatio',
    ]);
  });

  test('every quantity is kept of some field', () => {
    const found = new Set<string>();
    for (let category = 0; category <= 6; category += 1) {
      for (let number = 0; number < 256; number += 1) {
        for (const surface of [P, GROUND, TWO_METERS, TEN_METERS, HYBRID]) {
          for (const { quantity } of wantedSlices(identity(GFS, `0.${category}.${number}`, surface)))
            found.add(quantity);
        }
      }
    }
    expect([...found].sort()).toEqual([...GRID_QUANTITIES].sort());
  });
});

describe('fields that are not kept', () => {
  test.each([
    ['an average over an interval', GFS, '0.1.193', GROUND, { productTemplate: 8 }],
    ['a mean of members', GFS, '0.0.0', P, { productTemplate: 2 }],
    ['a probability', GFS, '0.0.0', P, { productTemplate: 5 }],
    ['a level above 100 hPa', GFS, '0.0.0', [100, 9_999], {}],
    ['a layer between isobaric levels', GFS, '0.0.0', [100, 70_000, [100, 80_000]], {}],
    ['pressure on an isobaric level', GFS, '0.3.0', P, {}],
    ['temperature at 80 m', GFS, '0.0.0', [103, 80], {}],
    ['total cloud cover of the whole column', GFS, '0.6.1', [10], {}],
    ["NCEP's own numbers from another centre", ECMWF, '0.1.193', GROUND, {}],
    ['vertical motion on a face between layers', ICON, '0.2.9', [150, 64], {}],
    ['a layer over several of the model', ICON, '0.0.0', [150, 64, [150, 70]], {}],
    ['a hybrid level without a number', HRRR, '0.0.0', [105], {}],
    ['the sea', GFS, '10.0.3', GROUND, {}],
  ] as const)('%s', (...[, source, parameter, surface, more]) => {
    expect(keptAs(identity(source, parameter, surface as Surface, more))).toEqual([]);
  });
});

describe('what a source means', () => {
  const at = (source: { centre: number; generatingProcess: number }, isoTime: string) => ({
    ...source,
    referenceTimeMs: Date.parse(isoTime),
  });

  test.each([
    [
      'GFS, the last run with ice in its cloud water',
      GFS,
      '2019-06-12T06:00Z',
      ['condensateKgPerKg as total-condensate'],
    ],
    ['GFS, the first without', GFS, '2019-06-12T12:00Z', ['condensateKgPerKg']],
    [
      'the analysis of the same model',
      { centre: 7, generatingProcess: 81 },
      '2011-01-10T12:00Z',
      ['condensateKgPerKg as total-condensate'],
    ],
    ['a regional model of NCEP before', HRRR, '2018-01-01T00:00Z', ['condensateKgPerKg']],
    ['another centre before', ECMWF, '2018-01-01T00:00Z', ['condensateKgPerKg']],
  ])('cloud water of %s', (_, source, isoTime, expected) => {
    const { referenceTimeMs } = at(source, isoTime);
    expect(keptAs(identity(source, '0.1.22', P, { referenceTimeMs }))).toEqual(expected);
  });

  test.each([
    ['GFS before its post-processor changed', GFS, '2021-03-22T06:00Z', 'ncep-mixed', 'ncep-mixed'],
    ['GFS after', GFS, '2021-03-22T12:00Z', 'water', 'ncep-mixed'],
    ['HRRR', HRRR, '2011-01-01T00:00Z', 'water', 'water'],
    ['ECMWF', ECMWF, '2024-01-01T00:00Z', 'ecmwf-mixed', 'ecmwf-mixed'],
    ['ICON', ICON, '2024-01-01T00:00Z', 'water', 'water'],
    ['GEM', GEM, '2024-01-01T00:00Z', 'water', 'water'],
  ])('humidity and clouds of %s', (...[, source, isoTime, humidity, cloud]) => {
    expect(humidityBasis(at(source, isoTime))).toBe(humidity);
    expect(cloudBasis(at(source, isoTime))).toBe(cloud);
  });
});
