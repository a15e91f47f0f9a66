/** Which run of which model speaks for a leg, point by point, through the whole brief. */
import { beforeEach, describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { ingestGrid } from '../../worker/store/ingest-grid.ts';
import { concat, latLon, microdegrees } from '../support/grib2-builder.ts';
import { fieldMessage } from '../support/grid-fields.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';
import { redatedGrib } from '../support/redate-grib.ts';

const H = 3_600_000;
const MIN = 60_000;
const DAY = Date.UTC(2026, 0, 15);
/** From 73 W to 71 W on 44.5 N: half an hour. */
const ROUTE = {
  type: 'LineString' as const,
  coordinates: [
    [-73, 44.5],
    [-71, 44.5],
  ] as [number, number][],
};

/** Points a degree apart from 50 N southward. */
const gridFrom = (westDeg: number, columns: number) =>
  latLon(
    { nx: columns, ny: 12 },
    { 51: microdegrees(360 + westDeg), 60: microdegrees(360 + westDeg + columns - 1) },
  );
const WIDE = gridFrom(-80, 16);
/** Ends at 72 W, in the middle of the leg. */
const HALF = gridFrom(-80, 9);
const ELSEWHERE = gridFrom(-120, 10);

interface HourSpec {
  readonly runH: number;
  readonly validH: number;
  readonly process: number;
  readonly grid?: Uint8Array;
  readonly humidityPct?: number;
  readonly hasCloudWater?: boolean;
  readonly condensateKgPerKg?: number;
  /** Levels that the hour does not have. */
  readonly lostHpa?: readonly number[];
}

let stores: MemoryStores;
beforeEach(() => {
  stores = createMemoryStores();
});

/** Cold moist air, the same everywhere. */
async function store(spec: HourSpec): Promise<void> {
  const { runH, validH, process, grid = WIDE, humidityPct = 60, hasCloudWater = true, lostHpa = [] } = spec;
  const all = [1000, 975, 950, 925, 900, 850, 800, 750, 700, 600, 500, 400, 300];
  const levels = all.filter((hPa) => !lostHpa.includes(hPa));
  const fields = levels.flatMap((hPa) => [
    { parameter: '0.0.0', level: hPa * 100, value: 258 + (hPa - 500) * 0.03 },
    { parameter: '0.1.1', level: hPa * 100, value: humidityPct },
    { parameter: '0.3.5', level: hPa * 100, value: 44_330 * (1 - (hPa / 1013.25) ** 0.19) },
    ...(hasCloudWater ? [{ parameter: '0.1.22', level: hPa * 100, value: spec.condensateKgPerKg ?? 0 }] : []),
  ]);
  const file = concat(fields.map((field) => fieldMessage(field, { centre: 7, process, grid })));
  const bytes = redatedGrib(file, { runMs: DAY + runH * H, forecastHour: validH - runH });
  const chunks = (async function* () {
    yield bytes;
  })();
  await ingestGrid(chunks, { ...stores, operator: 'open', area: undefined }, () => DAY);
}

/** Which run each stretch of the leg uses, and the states of its cells. */
async function brief(departureMs: number) {
  const answer = await makeBrief(
    stores,
    {
      route: ROUTE,
      departure: { atUtc: new Date(departureMs).toISOString() },
      aircraft: 'generic-fluid-turboprop',
      options: { curtain: true },
    },
    { operators: ['open'] },
  );
  const { curtain, data } = answer.brief;
  const words = new Set(curtain!.state.map((code) => curtain!.stateWords[code]));
  const runs = [
    ...new Set(data.map(({ name, runUtc }) => `${name.split(' ').at(-1)} ${runUtc?.slice(11, 13)}Z`)),
  ];
  return {
    words,
    runs: runs.toSorted(),
    data,
    reasons: answer.brief.verdict.reasons,
    alternatives: answer.brief.alternatives,
  };
}

describe('the run that speaks for a leg', () => {
  it('is the older one that has hours around it, not the newer whose last hour lies before it', async () => {
    for (const validH of [7, 8, 9, 10, 11]) await store({ runH: 6, validH, process: 83 });
    for (const validH of [12, 13]) await store({ runH: 5, validH, process: 83 });
    const { runs, words } = await brief(DAY + 12 * H + 10 * MIN);
    expect(runs).toEqual(['7-83-16x12 05Z']);
    expect(words).not.toContain('too-old');
  });

  it('is of the model with cloud water when another of the same hour has none', async () => {
    for (const validH of [12, 13]) {
      await store({ runH: 11, validH, process: 105, hasCloudWater: false });
      await store({ runH: 11, validH, process: 83 });
    }
    expect((await brief(DAY + 12 * H + 10 * MIN)).runs).toEqual(['7-83-16x12 11Z']);
  });

  it('is found behind any number of runs that lie elsewhere', async () => {
    for (const process of [83, 105])
      for (const runH of [7, 8, 9, 10, 11])
        for (const validH of [12, 13]) await store({ runH, validH, process, grid: ELSEWHERE });
    for (const validH of [12, 13]) await store({ runH: 6, validH, process: 96 });
    const { runs, words } = await brief(DAY + 12 * H + 10 * MIN);
    expect(runs).toEqual(['7-96-16x12 06Z']);
    expect(words).not.toContain('outside-coverage');
    expect(words).not.toContain('no-data');
  });

  it('changes where the leg leaves the grid of the first: the rest is known by the next', async () => {
    for (const validH of [12, 13]) {
      await store({ runH: 11, validH, process: 83, grid: HALF });
      await store({ runH: 6, validH, process: 96 });
    }
    const { runs, words, data } = await brief(DAY + 12 * H + 10 * MIN);
    expect(runs).toEqual(['7-83-9x12 11Z', '7-96-16x12 06Z']);
    expect(words).not.toContain('outside-coverage');
    const ends = (name: string) =>
      data.filter((each) => each.name.endsWith(name)).flatMap(({ alongNm }) => alongNm.flat());
    expect(Math.min(...ends('9x12'))).toBe(0);
    expect(Math.max(...ends('9x12'))).toBeLessThan(Math.min(...ends('16x12')));
  });

  it('is the one before when an hour of the newest does not read back, and the hour is not bridged over a hole', async () => {
    for (const validH of [12, 13]) {
      await store({ runH: 11, validH, process: 83 });
      await store({ runH: 10, validH, process: 83 });
    }
    for (const key of stores.objectMap.keys())
      if (key.endsWith('manifest.json') && key.includes(`/${DAY + 11 * H}/`)) stores.objectMap.delete(key);
    expect((await brief(DAY + 12 * H + 10 * MIN)).runs).toEqual(['7-83-16x12 10Z']);
  });

  it('is not one with an hour lost inside the window while an older one has them all', async () => {
    for (const validH of [11, 12, 13, 14, 15, 16]) {
      await store({ runH: 11, validH, process: 83 });
      await store({ runH: 10, validH, process: 83 });
    }
    for (const key of stores.objectMap.keys())
      if (key.endsWith('manifest.json') && key.includes(`/${DAY + 11 * H}/${DAY + 13 * H}/`))
        stores.objectMap.delete(key);
    const { runs, words } = await brief(DAY + 12 * H + 10 * MIN);
    expect(runs).toEqual(['7-83-16x12 10Z']);
    expect(words).not.toContain('decode-failed');
  });

  it('bridges the lost hour where no other run has it', async () => {
    for (const validH of [11, 12, 13, 14, 15, 16]) await store({ runH: 11, validH, process: 83 });
    for (const key of stores.objectMap.keys())
      if (key.endsWith('manifest.json') && key.includes(`/${DAY + 11 * H}/${DAY + 13 * H}/`))
        stores.objectMap.delete(key);
    const { words, data, reasons } = await brief(DAY + 12 * H + 10 * MIN);
    expect(words).toContain('known');
    // One hour of a model with hourly ones is lost: that is said, as past the last hour.
    expect(reasons[0]?.code).toBe('forecast-hour-alone');
    expect(new Set(data.map(({ validUtc }) => validUtc.slice(11, 13)))).toEqual(new Set(['12', '14']));
  });

  it('is the older one where the newer has a grid and no values', async () => {
    for (const validH of [12, 13]) {
      await store({ runH: 11, validH, process: 83, humidityPct: 9999 });
      await store({ runH: 6, validH, process: 96 });
    }
    const { runs, words } = await brief(DAY + 12 * H + 10 * MIN);
    expect(runs).toEqual(['7-96-16x12 06Z']);
    expect(words).not.toContain('quantity-missing');
  });

  it('a cloud of one hour does not vanish a minute later, with its level lost in the next', async () => {
    const lost = [850, 800];
    await store({ runH: 11, validH: 12, process: 83, humidityPct: 100, condensateKgPerKg: 4e-4 });
    await store({ runH: 11, validH: 13, process: 83, lostHpa: lost });
    expect((await brief(DAY + 12 * H + 2 * MIN)).words).toContain('quantity-missing');
  });

  it('when none reads back the air is not decoded', async () => {
    for (const validH of [12, 13]) await store({ runH: 11, validH, process: 83 });
    for (const key of stores.objectMap.keys())
      if (key.endsWith('manifest.json')) stores.objectMap.delete(key);
    const { words, alternatives } = await brief(DAY + 12 * H + 10 * MIN);
    expect(words).toEqual(new Set(['decode-failed']));
    const flown = alternatives.flatMap(({ exposure }) => exposure ?? []);
    expect(flown.length).toBeGreaterThan(0);
    for (const { iceChancePct, worstIntensity } of flown)
      expect([iceChancePct, worstIntensity]).toEqual([null, null]);
  });

  it('beyond the last hour of every run the nearest serves for six hours, the newest run first', async () => {
    await store({ runH: 6, validH: 9, process: 83 });
    await store({ runH: 5, validH: 9, process: 83 });
    const near = await brief(DAY + 12 * H);
    expect(near.runs).toEqual(['7-83-16x12 06Z']);
    // The flight has two and a half hours more to go at most.
    expect(near.reasons[0]).toMatchObject({
      code: 'forecast-hour-alone',
      numbers: { validUtc: '2026-01-15T09:00:00.000Z' },
    });
    expect(near.reasons[0]!.numbers.minutes).toBeGreaterThan(180);
    expect((await brief(DAY + 16 * H)).words).toEqual(new Set(['no-data']));
  });
});
