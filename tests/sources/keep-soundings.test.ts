import { beforeEach, describe, expect, it } from 'vitest';
import { readTemp, type TempContext } from '../../worker/formats/temp/read-temp.ts';
import { keepSoundings } from '../../worker/sources/keep-soundings.ts';
import type { SoundingRepository, StoredSounding } from '../../worker/sources/ports.ts';
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

function allStored(): Promise<readonly StoredSounding[]> {
  return repository.find({
    operators: ['op'],
    fromMs: 0,
    toMs: Number.MAX_SAFE_INTEGER,
    southDeg: -90,
    northDeg: 90,
    lonRanges: [[-180, 180]],
  });
}

async function storedRows(): Promise<(number | null)[][]> {
  const found = await allStored();
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

  it('keeps words and ascent in agreement when two writers send versions of one part at the same time', async () => {
    const other = PART_A.replace('01230', '03156');
    await Promise.all([keep(PART_A), keep(other), keep(PART_A)]);
    const afterAll = await storedRows();
    await keep(PART_B);
    const at850 = (levels: (number | null)[][]) => levels.find(([hPa]) => hPa === 850)?.[2];
    expect(at850(await storedRows())).toBe(at850(afterAll));
  });

  it('makes the same ascent of a part that came again cut short, in one upload or in two', async () => {
    const short = 'TTBB 6512/ 00901 00987 02112 11968 03506=';
    await keep(`${PART_A}\n${PART_B}`);
    await keep(short);
    expect(await storedRows()).toEqual(whole);
    repository = createMemoryStores().soundings;
    await keep(`${PART_A}\n${PART_B}\n${short}`);
    expect(await storedRows()).toEqual(whole);
  });

  it('looks once more after it stored, and no oftener when nobody else writes, for a part sent twice too', async () => {
    const calls: string[] = [];
    const counted: SoundingRepository = {
      ...repository,
      keepReports: (...given) => {
        calls.push('keep');
        return repository.keepReports(...given);
      },
      reports: (...given) => {
        calls.push('look');
        return repository.reports(...given);
      },
    };
    await keep(`${PART_A}\n${PART_A}`, counted);
    expect(calls).toEqual(['keep', 'look']);
  });

  it('keeps the ascents of one balloon in two formats apart', async () => {
    const fine = makeAscent([[987, 197, -2.1, 1.2, 60, 4]], {
      timeMs: NOON_MS,
      stationId: '00901',
      format: 'fm-94-bufr',
    });
    await keepSoundings(repository, 'op', [fine], { context: CONTEXT, nowMs: NOON_MS });
    await keep(PART_A);
    expect(await allStored()).toHaveLength(2);
  });

  it('refuses an ascent of tomorrow', async () => {
    const late = await keepSoundings(repository, 'op', [read(PART_A)], {
      context: CONTEXT,
      nowMs: NOON_MS - 4 * 3_600_000,
    });
    expect(late.refused.map(({ reason }) => reason)).toEqual([
      'time: found 2026-01-15T12:00:00.000Z, expected an ascent that has been made (it is 2026-01-15T08:00:00.000Z)',
    ]);
    expect(late.stored).toBe(0);
  });

  it('refuses what cannot be placed, tells it, and stores the others', async () => {
    const good = makeAscent([[987, 197, -2.1, 1.2, 60, 4]], { timeMs: NOON_MS });
    const timeless = makeAscent([[987, 197, -2.1, 1.2, 60, 4]], { timeMs: Number.NaN, stationId: 'LOST' });
    const empty = makeAscent([], { timeMs: NOON_MS, stationId: 'EMPTY' });
    const nowhere = makeAscent([[987, 197, -2.1, 1.2, 60, 4]], {
      timeMs: NOON_MS,
      stationId: 'NOWHERE',
      latDeg: Number.NaN,
    });
    const kept = await keepSoundings(repository, 'op', [timeless, good, empty, nowhere], {
      context: CONTEXT,
      nowMs: NOON_MS,
    });
    expect(kept.stored).toBe(1);
    expect(kept.refused.map(({ station }) => station)).toEqual(['LOST', 'EMPTY', 'NOWHERE']);
    expect(kept.soundings).toHaveLength(4);
    expect(await storedRows()).toEqual(rows(good));
  });
});
