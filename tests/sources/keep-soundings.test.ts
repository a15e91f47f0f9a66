import { beforeEach, describe, expect, it } from 'vitest';
import { readTemp, type TempContext } from '../../worker/formats/temp/read-temp.ts';
import { keepSoundings } from '../../worker/sources/keep-soundings.ts';
import type { SoundingRepository } from '../../worker/sources/ports.ts';
import { makeAscent } from '../support/make-ascent.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { only, rows } from '../support/sounding-levels.ts';

const CONTEXT: TempContext = {
  nearMs: Date.UTC(2026, 0, 16),
  stations: () => ({ latDeg: 44.47, lonDeg: -73.15, elevationM: 197 }),
};
const NOON_MS = Date.UTC(2026, 0, 15, 12);
const PART_A =
  'TTAA 65123 00901 99987 02112 06008 00091 ///// ///// 92722 04905 08019 85398 01230 15030 88999 77999=';
const PART_B = 'TTBB 6512/ 00901 00987 02112 11968 03506 22850 01230 21212 00987 06008 11951 07014=';
const read = (text: string) => only(readTemp(text, CONTEXT));

let repository: SoundingRepository;
beforeEach(() => {
  repository = createMemoryStores().soundings;
});
const keep = (text: string, store = repository) =>
  keepSoundings(store, 'op', [read(text)], { context: CONTEXT, nowMs: NOON_MS });

async function storedRows(): Promise<(number | null)[][]> {
  const found = await repository.find({
    operators: ['op'],
    fromMs: 0,
    toMs: Number.MAX_SAFE_INTEGER,
    southDeg: -90,
    northDeg: 90,
    lonRanges: [[-180, 180]],
  });
  expect(found).toHaveLength(1);
  return rows(found[0]!);
}

describe('keepSoundings', () => {
  const whole = rows(read(`${PART_A}\n${PART_B}`));

  it('joins a part that comes in a later upload, in either order', async () => {
    await keep(PART_A);
    expect((await storedRows()).length).toBeLessThan(whole.length);
    const kept = await keep(PART_B);
    expect(await storedRows()).toEqual(whole);
    expect(kept.soundings.map((each) => rows(each))).toEqual([whole]);

    repository = createMemoryStores().soundings;
    await keep(PART_B);
    await keep(PART_A);
    expect(await storedRows()).toEqual(whole);
  });

  it('keeps both parts when two writers send one each at the same time', async () => {
    // The first writer's ascent reaches the store after the second's, made without its part.
    let release: () => void = () => undefined;
    const held = new Promise<void>((resolve) => {
      release = resolve;
    });
    let isFirst = true;
    const slow: SoundingRepository = {
      ...repository,
      put: async (...given) => {
        if (isFirst) {
          isFirst = false;
          await held;
        }
        await repository.put(...given);
      },
    };
    const first = keep(PART_A, slow);
    await keep(PART_B);
    release();
    expect((await first).stored).toBe(1);
    expect(await storedRows()).toEqual(whole);
  });

  it('refuses what cannot be placed, tells it, and stores the others', async () => {
    const good = makeAscent([[987, 197, -2.1, 1.2, 60, 4]], { timeMs: NOON_MS });
    const timeless = makeAscent([[987, 197, -2.1, 1.2, 60, 4]], { timeMs: Number.NaN, stationId: 'LOST' });
    const empty = makeAscent([], { timeMs: NOON_MS, stationId: 'EMPTY' });
    const kept = await keepSoundings(repository, 'op', [timeless, good, empty], {
      context: CONTEXT,
      nowMs: NOON_MS,
    });
    expect(kept.stored).toBe(1);
    expect(kept.refused.map(({ station }) => station)).toEqual(['LOST', 'EMPTY']);
    expect(kept.soundings).toHaveLength(3);
    expect(await storedRows()).toEqual(rows(good));
  });
});
