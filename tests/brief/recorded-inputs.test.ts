/** A brief's inputs: recording them changes nothing, and they are all that it takes to make it again. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { recordInputs, replayInputs } from '../../worker/brief/recorded-inputs.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import type { BriefReads, TerrainSource } from '../../worker/sources/ports.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { DECK_AIR, DRY_AIR, FIELDS, LEG, NOON_MS, over } from '../support/winter-leg.ts';
import { gridStores } from './hourly-grids.ts';

const HOUR_MS = 3_600_000;
const OPERATORS = ['other', 'demo'];
const textOf = async (reads: BriefReads, request: BriefRequest) =>
  JSON.stringify(await makeBrief(reads, request, { operators: OPERATORS }));

/** Ground of one height, or of none that is known. */
const flat = (heightM: number): TerrainSource => ({
  attribution: 'A survey of heights',
  highestGround: async (stretches) =>
    stretches.map(() => ({
      ...{ highestM: heightM, atLeastM: heightM, allowanceM: 100 },
      isMountainous: Number.isNaN(heightM) ? undefined : false,
    })),
});

const situation = fc.record({
  grid: fc.constantFrom(undefined, { isMoist: true }, { isMoist: false }, { isMoist: true, isTorn: true }),
  air: fc.constantFrom(undefined, DRY_AIR, DECK_AIR),
  terrain: fc.constantFrom(undefined, flat(300), flat(Number.NaN)),
  options: fc.record(
    {
      laterDepartures: fc.integer({ min: 0, max: 2 }),
      otherRoutes: fc.constantFrom<string[]>(
        ['AAAA NNNN BBBB'],
        ['AAAA NNNN BBBB', 'AAAA SSSS BBBB', 'AAAA NNNN BBBB'],
      ),
      alternate: fc.constant('CCCC'),
      curtain: fc.boolean(),
    },
    { requiredKeys: [] },
  ),
});
type Situation = typeof situation extends fc.Arbitrary<infer Value> ? Value : never;

async function storesOf({ grid, air, terrain }: Situation) {
  const hours = grid === undefined ? [] : [0, 1, 2].map((afterH) => ({ ...grid, afterH }));
  const spotHeights = [{ name: 'a mast', latDeg: 44.5, lonDeg: -72, heightM: 500 }];
  const stores = await gridStores(hours);
  if (air !== undefined) await stores.soundings.put('demo', [over(air, NOON_MS - HOUR_MS)], NOON_MS);
  const places = { ...stores.places, spotHeights: async () => spotHeights };
  return { ...stores, places, terrain };
}

it('recording changes no byte of the brief, and a replay makes the same bytes of nothing else', async () => {
  await fc.assert(
    fc.asyncProperty(situation, async (given) => {
      const request = { ...LEG, options: { ...LEG.options, ...given.options } };
      const stores = await storesOf(given);
      const alone = await textOf(stores, request);
      const { reads, inputs } = recordInputs(stores);
      expect(await textOf(reads, request)).toBe(alone);
      expect(await textOf(await replayInputs((await inputs())!), request)).toBe(alone);
    }),
    { numRuns: 12 },
  );
});

describe('recorded inputs', () => {
  const stores = () => createMemoryStores({ places: FIELDS });

  it('are the same bytes for the same brief, whichever answer came first', async () => {
    const all = await storesOf({ grid: { isMoist: true }, air: DECK_AIR, terrain: flat(300), options: {} });
    const slowly = {
      ...all,
      soundings: { find: (query: never) => wait(30).then(() => all.soundings.find(query)) },
    };
    const [one, other] = [recordInputs(all), recordInputs(slowly)];
    expect(await textOf(one.reads, LEG)).toBe(await textOf(other.reads, LEG));
    expect(await one.inputs()).toEqual(await other.inputs());
  });

  it('hold what was answered, not what became of it in the hands of who asked', async () => {
    const bytes = new Uint8Array([1, 2, 3]);
    const objects = { get: async () => bytes.buffer, getRange: async () => undefined };
    const { reads, inputs } = recordInputs({ ...stores(), objects });
    new Uint8Array((await reads.objects.get('one'))!).fill(9);
    const replayed = await replayInputs((await inputs())!);
    expect(new Uint8Array((await replayed.objects.get('one'))!)).toEqual(new Uint8Array([1, 2, 3]));
  });

  it('take one answer for a call however often it is made, also at once, and give nobody another’s bytes', async () => {
    let asked = 0;
    const objects = {
      getRange: async () => undefined,
      get: async () => {
        await wait(5);
        asked += 1;
        return new Uint8Array([asked]).buffer;
      },
    };
    const { reads } = recordInputs({ ...stores(), objects });
    const answers = await Promise.all([1, 2, 3].map(() => reads.objects.get('one')));
    answers.push(await reads.objects.get('one'));
    expect(answers.map((each) => new Uint8Array(each!)[0])).toEqual([1, 1, 1, 1]);
    expect(new Set(answers).size).toBe(4);
    expect(asked).toBe(1);
  });

  it('that are too many are not kept, and the brief is made all the same', async () => {
    const all = await storesOf({ grid: undefined, air: DECK_AIR, terrain: undefined, options: {} });
    const { reads, inputs } = recordInputs(all, 2000);
    expect(await textOf(reads, LEG)).toBe(await textOf(all, LEG));
    expect(await inputs()).toBeUndefined();
  });

  it('say so where something is asked that was not asked then', async () => {
    const { reads, inputs } = recordInputs(stores());
    await reads.places.byIdent(OPERATORS, 'AAAA');
    const replayed = await replayInputs((await inputs())!);
    expect(await replayed.places.byIdent(OPERATORS, 'AAAA')).toEqual(FIELDS[0]);
    await expect(replayed.places.byIdent(OPERATORS, 'BBBB')).rejects.toThrow(/no answer to places\.byIdent/);
    await expect(replayed.places.byIdent(['demo'], 'AAAA')).rejects.toThrow(/no answer/);
  });

  it('a fault of a store stays a fault, and is no answer', async () => {
    const holdoverTables = { list: () => Promise.reject(new Error('no store')) };
    const { reads, inputs } = recordInputs({ ...stores(), holdoverTables });
    await expect(reads.holdoverTables.list(OPERATORS)).rejects.toThrow('no store');
    const replayed = await replayInputs((await inputs())!);
    await expect(replayed.holdoverTables.list(OPERATORS)).rejects.toThrow(/no answer/);
  });

  it.each([
    ['no gzip', new Uint8Array([1, 2, 3])],
    ['cut short', undefined],
  ])('that are %s are refused', async (_name, given) => {
    const { inputs } = recordInputs(stores());
    const bytes = given ?? (await inputs())!.slice(0, -9);
    await expect(replayInputs(bytes)).rejects.toThrow(/inputs: found/);
  });
});

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
