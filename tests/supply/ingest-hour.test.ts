import { afterEach, describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { OPEN_MODELS, usuallyThereMs } from '../../worker/sources/open-models.ts';
import { INGEST_STEPS, ingestHour, LEASE_MS } from '../../worker/supply/ingest-hour.ts';
import { runSchedule } from '../../worker/supply/schedule.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import {
  HOUR,
  indexText,
  OPERATOR,
  offsetOf,
  prefixesOf,
  type StageOptions,
  type SupplyStage,
  startSupplyStage,
  VALID_MS,
} from '../support/supply-stage.ts';

let stage: SupplyStage;
afterEach(() => stage.server.close());

const start = async (options?: StageOptions) => {
  stage = await startSupplyStage(options);
  return stage;
};
const visible = () => stage.stores.grids.find([OPERATOR], VALID_MS, VALID_MS);
const rowOf = () => stage.stores.supply.find(HOUR);

/** Cells of a leg from Chicago to Detroit at the hour's time: how many are known, and the curtain as text. */
async function curtain(): Promise<{ known: number; cells: number; text: string }> {
  const { brief } = await makeBrief(
    stage.stores,
    {
      route: {
        type: 'LineString',
        coordinates: [
          [-87.9, 41.98],
          [-83.35, 42.21],
        ],
      },
      departure: { atUtc: new Date(VALID_MS).toISOString() },
      aircraft: 'generic-fluid-turboprop',
      options: { curtain: true },
    },
    { operators: [OPERATOR] },
  );
  const state = brief.curtain!.state.flat();
  return {
    known: state.filter((code) => code === 0).length,
    cells: state.length,
    text: JSON.stringify(brief.curtain),
  };
}

describe('ingestHour', () => {
  it('brings the wanted fields of an hour into the store, and a brief reads them', async () => {
    await start();
    expect(await ingestHour(stage.deps, HOUR)).toBe('stored');
    expect(await visible()).toHaveLength(1);
    expect(await rowOf()).toMatchObject({ state: 'stored', failures: 0, refusals: 0 });
    expect((await rowOf())?.detail).toMatch(/^\d+ fields from \d+ ranges$/);
    const { known, cells } = await curtain();
    expect(known).toBeGreaterThan(cells / 2);
    // Of the file only ranges were fetched, and not all of it.
    const bytes = stage.server.requests.reduce((sum, { sentBytes }) => sum + sentBytes, 0);
    expect(stage.server.requests.filter(({ status }) => status === 200)).toHaveLength(1);
    expect(bytes).toBeLessThan(2_500_000);
  });

  it('does nothing for a message that comes twice, or after the hour is stored', async () => {
    await start();
    await ingestHour(stage.deps, HOUR);
    const requests = stage.server.requests.length;
    expect(await ingestHour(stage.deps, HOUR)).toBe('known');
    expect(stage.server.requests).toHaveLength(requests);
    expect(await visible()).toHaveLength(1);
  });

  it('lets one of two consumers at the same time have the hour, and the other come again', async () => {
    await start();
    const outcomes = await Promise.all([ingestHour(stage.deps, HOUR), ingestHour(stage.deps, HOUR)]);
    expect(outcomes.toSorted()).toEqual(['busy', 'stored']);
    expect(prefixesOf(stage.stores)).toHaveLength(1);
  });

  it('says late, and not failed, while the hour is not in the bucket; it comes when it is there', async () => {
    await start({ availableFromMs: VALID_MS });
    expect(await ingestHour(stage.deps, HOUR)).toBe('late');
    expect(await rowOf()).toMatchObject({ state: 'late' });
    stage.nowMs = VALID_MS + 1;
    expect(await ingestHour(stage.deps, HOUR)).toBe('stored');
  });

  it('sends an hour with a corrupt message back twice, then publishes it and says what it lacks', async () => {
    const offsetBytes = await offsetOf('TMP:850 mb');
    await start({ fault: () => ({ kind: 'corrupt', offsetBytes, xor: 0xff }) });
    for (let refusals = 1; refusals < 3; refusals += 1) {
      await expect(ingestHour(stage.deps, HOUR)).rejects.toThrow(/1 refused messages, the first: /);
      expect(await visible()).toEqual([]);
      expect(await rowOf()).toMatchObject({ state: 'failed', failures: refusals, refusals });
    }
    expect(await ingestHour(stage.deps, HOUR)).toBe('stored');
    expect((await rowOf())?.detail).toContain('1 refused messages, the first: ');
  });

  it('counts neither lateness nor a silent bucket among the chances of a corrupt hour', async () => {
    const offsetBytes = await offsetOf('TMP:850 mb');
    let isAway = false;
    await start({
      availableFromMs: VALID_MS,
      indexFault: () => (isAway ? { kind: 'status', status: 403 } : undefined),
      fault: () => ({ kind: 'corrupt', offsetBytes, xor: 0xff }),
    });
    for (let polls = 0; polls < 5; polls += 1) expect(await ingestHour(stage.deps, HOUR)).toBe('late');
    stage.nowMs = VALID_MS + 1;
    isAway = true;
    for (let tries = 0; tries < 3; tries += 1) {
      await expect(ingestHour(stage.deps, HOUR)).rejects.toThrow('403');
    }
    isAway = false;
    await expect(ingestHour(stage.deps, HOUR)).rejects.toThrow('refused messages');
    expect(await visible()).toEqual([]);
    expect(await rowOf()).toMatchObject({ failures: 4, refusals: 1 });
  });

  describe('an index that was cut while it was written', () => {
    const cut = async (isLost: (line: string, at: number, lines: readonly string[]) => boolean) => {
      const lines = (await indexText()).split('\n').filter((line) => line !== '');
      return `${lines.filter((line, at) => !isLost(line, at, lines)).join('\n')}\n`;
    };
    const at850 = (line: string) => line.includes(':850 mb:');

    it('is late as long as it may still be written, and no chance is counted', async () => {
      await start({
        index: await cut((_, at, lines) => at >= lines.findIndex((line) => line.includes(':RH:850 mb:'))),
      });
      stage.nowMs = usuallyThereMs(OPEN_MODELS[HOUR.modelId], HOUR) + 50 * 60_000;
      for (let polls = 0; polls < 4; polls += 1) expect(await ingestHour(stage.deps, HOUR)).toBe('late');
      expect(await rowOf()).toMatchObject({ state: 'late', failures: 0, refusals: 0 });
      expect((await rowOf())?.detail).toMatch(
        /index without temperatureK at 1000, 925 hPa; relativeHumidityRatio at 1000, 925, 850 hPa/,
      );
      expect(await visible()).toEqual([]);
    });

    it('is refused twice when it should be whole, and then its hole is unknown and told', async () => {
      await start({ index: await cut(at850) });
      for (let refusals = 1; refusals < 3; refusals += 1) {
        await expect(ingestHour(stage.deps, HOUR)).rejects.toThrow(/index without temperatureK at 850 hPa/);
        expect(await rowOf()).toMatchObject({ state: 'failed', refusals });
      }
      expect(await ingestHour(stage.deps, HOUR)).toBe('stored');
      expect((await rowOf())?.detail).toContain('refused messages, the first: GRIB2');
      const { known } = await curtain();
      const whole = await startSupplyStage();
      await ingestHour(whole.deps, HOUR);
      stage.stores = whole.stores;
      const reference = await curtain();
      await whole.server.close();
      expect(known).toBeGreaterThan(0);
      // No straight line from 900 to 800 hPa.
      expect(known).toBeLessThan(0.97 * reference.known);
    });

    it('is seen where it lacks only what follows the levels', async () => {
      await start({
        index: await cut((_, at, lines) => at > lines.findIndex((line) => line.includes(':RH:1000 mb:'))),
      });
      await expect(ingestHour(stage.deps, HOUR)).rejects.toThrow(/surfacePressurePa; screenTemperatureK/);
    });

    it('is seen where it lacks the cloud water of a level', async () => {
      await start({ index: await cut((line) => /:CLW?MR:700 mb:/.test(line)) });
      await expect(ingestHour(stage.deps, HOUR)).rejects.toThrow(/without condensateKgPerKg at 700 hPa/);
    });
  });

  it('a consumer that hung past its lease puts nothing over what another has brought meanwhile', async () => {
    const offsetBytes = await offsetOf('TMP:850 mb');
    let isCorrupt = true;
    await start({ fault: () => (isCorrupt ? { kind: 'corrupt', offsetBytes, xor: 0xff } : undefined) });
    for (let refusals = 0; refusals < 2; refusals += 1)
      await expect(ingestHour(stage.deps, HOUR)).rejects.toThrow('refused');
    // The first has its last chance, and hangs with all but one message in hand.
    let wake: () => void = () => undefined;
    const hangs = new Promise<void>((resolve) => {
      wake = resolve;
    });
    let hung: () => void = () => undefined;
    const isHanging = new Promise<void>((resolve) => {
      hung = resolve;
    });
    const slow = ingestHour(
      {
        ...stage.deps,
        reached: async (step) => {
          if (step !== 'manifest') return;
          hung();
          await hangs;
        },
      },
      HOUR,
    );
    await isHanging;
    isCorrupt = false;
    stage.nowMs += LEASE_MS + 1;
    expect(await ingestHour(stage.deps, HOUR)).toBe('stored');
    const [before] = await visible();
    wake();
    expect(await slow).toBe('busy');
    expect(await visible()).toEqual([before]);
    expect((await rowOf())?.detail).not.toContain('refused');
  });

  it('gives an hour up at once that its run does not forecast: asking again would not help', async () => {
    await start();
    const odd = { ...HOUR, forecastHour: 121 };
    expect(await ingestHour(stage.deps, odd)).toBe('dead');
    const row = await stage.stores.supply.find(odd);
    expect(row).toMatchObject({ state: 'dead', failures: 1, refusals: 0 });
    expect(row?.detail).toMatch(/^forecastHour: found 121, expected an hour that this run/);
    expect(stage.server.requests).toEqual([]);
  });

  it('keeps for briefs what it replaces from the moment it is replaced, however long the fetching took', async () => {
    await start();
    await ingestHour(stage.deps, HOUR);
    const [first] = prefixesOf(stage.stores);
    // Another consumer of the same hour, as after a lost word, that takes twenty minutes.
    const supply = createMemoryStores().supply;
    const slow = {
      ...stage.deps,
      supply,
      reached: () => {
        stage.nowMs += 4 * 60_000;
      },
    };
    await ingestHour(slow, HOUR);
    const { reports } = createMemoryStores();
    const rules = { models: [], horizonMs: 0, reportsKeptMs: 0, send: async () => undefined };
    const schedule = { ...stage.deps, ...rules, supply, reports };
    await runSchedule(schedule);
    expect(prefixesOf(stage.stores)).toContain(first);
    stage.nowMs += 16 * 60_000;
    await runSchedule(schedule);
    expect(prefixesOf(stage.stores)).not.toContain(first);
    expect(prefixesOf(stage.stores)).toHaveLength(1);
  });

  it('takes the hour as it is when what was corrupt the first time is whole the second', async () => {
    const offsetBytes = await offsetOf('TMP:850 mb');
    await start({
      fault: ({ attempt }) => (attempt === 1 ? { kind: 'corrupt', offsetBytes, xor: 0xff } : undefined),
    });
    await expect(ingestHour(stage.deps, HOUR)).rejects.toThrow('refused messages');
    expect(await ingestHour(stage.deps, HOUR)).toBe('stored');
    expect((await rowOf())?.detail).not.toContain('refused');
  });

  it.each([
    ['a whole file in place of a range', { fault: () => ({ kind: 'whole-file' }) }],
    ['bodies cut short', { fault: () => ({ kind: 'short-body', bytes: 1000 }) }],
    ['bursts of 503 that do not end', { fault: () => ({ kind: 'status', status: 503 }) }],
    ['an index that is an error page', { indexFault: () => ({ kind: 'status', status: 500 }) }],
    ['connections that break', { fault: () => ({ kind: 'reset' }) }],
  ] as const)('%s: nothing is visible, the row says why, and the next try succeeds', async (_, faults) => {
    let isBroken = true;
    const only = (fault?: () => unknown) => (isBroken ? fault?.() : undefined);
    await start({
      fault: () => only('fault' in faults ? faults.fault : undefined) as never,
      indexFault: () => only('indexFault' in faults ? faults.indexFault : undefined) as never,
    });
    await expect(ingestHour(stage.deps, HOUR)).rejects.toThrow();
    expect(await visible()).toEqual([]);
    const row = await rowOf();
    expect(row?.state).toBe('failed');
    expect(row?.detail).toMatch(/found .*, expected /);
    isBroken = false;
    expect(await ingestHour(stage.deps, HOUR)).toBe('stored');
  });

  it('503 now and then is nothing but a wait', async () => {
    await start({ fault: ({ attempt }) => (attempt === 1 ? { kind: 'status', status: 503 } : undefined) });
    expect(await ingestHour(stage.deps, HOUR)).toBe('stored');
  });

  it('when the store fails to take an object, nothing is visible, and the next try succeeds', async () => {
    await start();
    let failures = 3;
    const failing = {
      ...stage.deps,
      objects: {
        ...stage.stores.objects,
        put: (...given: Parameters<typeof stage.stores.objects.put>) => {
          failures -= 1;
          if (failures >= 0) return Promise.reject(new Error('put: the store is away'));
          return stage.stores.objects.put(...given);
        },
      },
    };
    await expect(ingestHour(failing, HOUR)).rejects.toThrow('the store is away');
    expect(await visible()).toEqual([]);
    expect(await rowOf()).toMatchObject({ state: 'failed', detail: 'put: the store is away' });
    failures = 0;
    expect(await ingestHour(failing, HOUR)).toBe('stored');
  });
});

describe('a crash after each named step', () => {
  /** An isolate that dies goes on with nothing: neither its catch nor its finally run. */
  const crashAt = async (step: (typeof INGEST_STEPS)[number]) => {
    let reached: () => void = () => undefined;
    const crashed = new Promise<void>((resolve) => {
      reached = resolve;
    });
    void ingestHour(
      {
        ...stage.deps,
        reached: (each) => {
          if (each !== step) return undefined;
          reached();
          return new Promise<void>(() => undefined);
        },
      },
      HOUR,
    );
    await crashed;
  };

  it.each(INGEST_STEPS)(
    '%s: the air is unknown or whole, the next consumer finishes it, and what was left is deleted',
    async (step) => {
      await start();
      const reference = await startSupplyStage();
      await ingestHour(reference.deps, HOUR);
      await crashAt(step);
      const isPublished = step === 'row' || step === 'stored';
      expect(await visible()).toHaveLength(isPublished ? 1 : 0);
      expect((await curtain()).known > 0).toBe(isPublished);

      // While its lease lasts nobody else takes the hour; after it the next message does.
      if (step !== 'stored') expect(await ingestHour(stage.deps, HOUR)).toBe('busy');
      stage.nowMs += LEASE_MS + 1;
      expect(await ingestHour(stage.deps, HOUR)).toBe(step === 'stored' ? 'known' : 'stored');
      expect(await visible()).toHaveLength(1);
      const whole = await curtain();
      stage.nowMs += 3 * 3_600_000;
      await runSchedule({
        ...stage.stores,
        models: [],
        operator: OPERATOR,
        horizonMs: 0,
        reportsKeptMs: 0,
        send: async () => undefined,
        nowMs: () => stage.nowMs,
      });
      expect(prefixesOf(stage.stores)).toHaveLength(1);
      expect((await curtain()).text).toBe(whole.text);
      await reference.server.close();
    },
  );
});

describe('a clock that was wrong', () => {
  it('neither holds an hour for ever nor hides it', async () => {
    await start();
    const rightMs = stage.nowMs;
    stage.nowMs = rightMs + 30 * 3_600_000;
    await stage.stores.supply.claim(HOUR, { leaseMs: LEASE_MS, nowMs: stage.nowMs });
    stage.nowMs = rightMs;
    expect(await ingestHour(stage.deps, HOUR)).toBe('stored');
  });
});
