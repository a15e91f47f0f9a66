import { describe, expect, test } from 'vitest';
import { InvalidRequestError } from '../../worker/errors.ts';
import {
  forecastHours,
  hourOfUrl,
  modelUrls,
  newestRunMs,
  OPEN_MODELS,
  type OpenModelId,
  usuallyThereMs,
} from '../../worker/sources/open-models.ts';

const at = (hour: number, minute = 0) => Date.UTC(2026, 0, 14, hour, minute);

describe('modelUrls', () => {
  test.each<[OpenModelId, number, number, string, string]>([
    [
      'gfs-0p25',
      6,
      9,
      'https://noaa-gfs-bdp-pds.s3.amazonaws.com/gfs.20260114/06/atmos/gfs.t06z.pgrb2.0p25.f009',
      'https://noaa-gfs-bdp-pds.s3.amazonaws.com/gfs.20260114/06/atmos/gfs.t06z.pgrb2.0p25.f009.idx',
    ],
    [
      'hrrr-prs',
      7,
      12,
      'https://noaa-hrrr-bdp-pds.s3.amazonaws.com/hrrr.20260114/conus/hrrr.t07z.wrfprsf12.grib2',
      'https://noaa-hrrr-bdp-pds.s3.amazonaws.com/hrrr.20260114/conus/hrrr.t07z.wrfprsf12.grib2.idx',
    ],
    [
      'rap-awp130',
      3,
      51,
      'https://noaa-rap-pds.s3.amazonaws.com/rap.20260114/rap.t03z.awp130pgrbf51.grib2',
      'https://noaa-rap-pds.s3.amazonaws.com/rap.20260114/rap.t03z.awp130pgrbf51.grib2.idx',
    ],
    [
      'ecmwf-ifs-0p25',
      12,
      6,
      'https://ecmwf-forecasts.s3.eu-central-1.amazonaws.com/20260114/12z/ifs/0p25/oper/20260114120000-6h-oper-fc.grib2',
      'https://ecmwf-forecasts.s3.eu-central-1.amazonaws.com/20260114/12z/ifs/0p25/oper/20260114120000-6h-oper-fc.index',
    ],
  ])(
    '%s, run of %i UTC, hour %i: file and inventory',
    (...[id, runHour, forecastHour, dataUrl, inventoryUrl]) => {
      const hour = { runMs: at(runHour), forecastHour };
      expect(modelUrls(OPEN_MODELS[id], hour)).toEqual({ dataUrl, inventoryUrl });
    },
  );

  test('a base address stands in the place of the bucket', () => {
    const { dataUrl } = modelUrls(
      OPEN_MODELS['rap-awp130'],
      { runMs: at(3), forecastHour: 0 },
      'http://127.0.0.1:9/m/',
    );
    expect(dataUrl).toBe('http://127.0.0.1:9/m/rap.20260114/rap.t03z.awp130pgrbf00.grib2');
  });

  test.each<[string, OpenModelId, number, number]>([
    ['run', 'gfs-0p25', at(3), 0],
    ['run', 'gfs-0p25', at(6) + 1, 0],
    ['run', 'hrrr-prs', Number.NaN, 0],
    ['forecastHour', 'gfs-0p25', at(6), 121],
    ['forecastHour', 'gfs-0p25', at(6), 385],
    ['forecastHour', 'gfs-0p25', at(6), -1],
    ['forecastHour', 'gfs-0p25', at(6), 1.5],
    ['forecastHour', 'hrrr-prs', at(7), 19],
    ['forecastHour', 'rap-awp130', at(4), 22],
    ['forecastHour', 'ecmwf-ifs-0p25', at(6), 93],
    ['forecastHour', 'ecmwf-ifs-0p25', at(0), 4],
  ])('refuses a %s that %s does not have (%d, %d)', (field, id, runMs, forecastHour) => {
    const call = () => modelUrls(OPEN_MODELS[id], { runMs, forecastHour });
    expect(call).toThrow(InvalidRequestError);
    expect(call).toThrow(expect.objectContaining({ field }));
  });
});

describe('the catalogue', () => {
  const models = Object.values(OPEN_MODELS);

  test('every model names each hour of the day at most once, and hours that grow', () => {
    for (const { runs, id } of models) {
      const starts = runs.flatMap(({ atH }) => atH);
      expect(new Set(starts).size, id).toBe(starts.length);
      for (const runHour of starts) {
        const hours = forecastHours(OPEN_MODELS[id], at(runHour));
        expect(hours, id).toEqual([...new Set(hours)].sort((a, b) => a - b));
        expect(hours[0], id).toBe(0);
      }
    }
  });

  test('every file has an address of its own', () => {
    for (const model of models) {
      const starts = model.runs.flatMap(({ atH }) => atH);
      const urls = starts.flatMap((runHour) =>
        forecastHours(model, at(runHour)).flatMap((forecastHour) =>
          Object.values(modelUrls(model, { runMs: at(runHour), forecastHour })),
        ),
      );
      expect(new Set(urls).size).toBe(urls.length);
      expect(urls.filter((url) => new URL(url).href !== url || url.includes('{'))).toEqual([]);
    }
  });

  test('GFS has 209 hours, as its bucket lists', () => {
    expect(forecastHours(OPEN_MODELS['gfs-0p25'], at(0))).toHaveLength(209);
  });
});

describe('newestRunMs', () => {
  const gfs = OPEN_MODELS['gfs-0p25'];

  test('is the last run whose hour is usually there', () => {
    const thereMs = usuallyThereMs(gfs, { runMs: at(6), forecastHour: 12 });
    expect(newestRunMs(gfs, 12, thereMs)).toBe(at(6));
    expect(newestRunMs(gfs, 12, thereMs - 1)).toBe(at(0));
  });

  test('passes over runs that do not go so far', () => {
    expect(newestRunMs(OPEN_MODELS['hrrr-prs'], 30, at(11))).toBe(at(6));
    expect(newestRunMs(OPEN_MODELS['hrrr-prs'], 49, at(11))).toBeUndefined();
  });
});

describe('hourOfUrl', () => {
  test.each(Object.values(OPEN_MODELS))('knows the addresses of $id again, and no others', (model) => {
    const runMs = Date.UTC(2026, 10, 27, 12);
    for (const forecastHour of [0, 3, 18]) {
      const { dataUrl, inventoryUrl } = modelUrls(model, { runMs, forecastHour });
      expect(hourOfUrl(dataUrl)).toMatchObject({ model, runMs, forecastHour });
      for (const other of [
        inventoryUrl,
        `${dataUrl}x`,
        dataUrl.replace('https:', 'http:'),
        dataUrl.replace(model.host, 'example.org'),
        dataUrl.replace('20261127', '20261327'),
        dataUrl.replace('/', '/../'),
      ])
        expect(hourOfUrl(other), other).toBeUndefined();
      const mirrored = modelUrls(model, { runMs, forecastHour }, 'http://127.0.0.1:1/m/').dataUrl;
      expect(hourOfUrl(mirrored)).toBeUndefined();
      expect(hourOfUrl(mirrored, 'http://127.0.0.1:1/m/')).toMatchObject({ forecastHour });
    }
  });
});
