/** BUFR ascents of several services, value by value beside `bufr_dump`, and the ascents made of them. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type BufrSubset, decodeMessage } from '../../worker/formats/bufr/decode-message.ts';
import { MessageBuffer } from '../../worker/formats/bufr/message-buffer.ts';
import { type BufrItem, readBufr } from '../../worker/formats/bufr/read-bufr.ts';
import { readSections } from '../../worker/formats/bufr/sections.ts';
import type { Sounding } from '../../worker/formats/sounding.ts';
import { type DumpedLevel, dumpedLevels, oneAPressure } from '../support/bufr-dumped-levels.ts';
import { plainDifferences } from '../support/bufr-values.ts';
import { bufrDumpPlain, eccodesPlaces } from '../support/eccodes-bufr.ts';
import { printTable } from '../support/print-table.ts';

const FOLDER = join(process.env.RIMEWAY_DATA_DIR ?? '', 'soundings/bufr');
const FILES = readdirSync(FOLDER).filter((name) => name.endsWith('.bufr'));
const GLOBAL = 'temp-global-2008120812.bufr';

const bytesOf = (name: string) => new Uint8Array(readFileSync(join(FOLDER, name)));

/** The subsets of every message of a file, all of one subset here. */
function subsetsOf(name: string): BufrSubset[] {
  const buffer = new MessageBuffer();
  const subsets: BufrSubset[] = [];
  for (const part of buffer.parts(bytesOf(name))) {
    buffer.append(part);
    for (let cut = buffer.next(false); cut !== undefined; cut = buffer.next(false)) {
      if (cut.kind === 'message') subsets.push(...decodeMessage(readSections(cut.bytes, cut.offsetBytes)));
    }
  }
  return subsets;
}

interface LevelCount {
  /** Values equal. */
  equal: number;
  /** Values left out by a line of `rejected`. */
  refused: number;
  /** Levels merged into another of their pressure, left out with a line, and those under the ground without air or wind. */
  merged: number;
  told: number;
  underground: number;
}

/** Levels that the dump has too; the others stand, without values, where the air between two is unknown. */
function dumpedCount({ levels }: Sounding, dumped: readonly DumpedLevel[]): number {
  const pressures = new Set(dumped.map(({ pressurePa }) => pressurePa));
  return levels.pressurePa.filter((pressurePa) => pressures.has(pressurePa)).length;
}

/** Every value of every dumped level is in the ascent, or a line of `rejected` says why not. */
function compareLevels(sounding: Sounding, dumped: readonly DumpedLevel[], count: LevelCount): string[] {
  const { levels } = sounding;
  const indexOf = new Map(Array.from(levels.pressurePa, (pressurePa, index) => [pressurePa, index]));
  const toldLines = new Set(sounding.rejected.map(({ line }) => line));
  const runs = oneAPressure(dumped);
  expect(dumpedCount(sounding, dumped)).toBeLessThanOrEqual(runs.length);
  return runs.flatMap(({ level, numbers }) => {
    const isTold = numbers.some((number) => toldLines.has(number));
    const place = `level ${numbers} at ${level.pressurePa} Pa`;
    const index = indexOf.get(level.pressurePa ?? Number.NaN);
    if (index === undefined) {
      const isEmpty = level.temperatureK === undefined && level.windSpeedMps === undefined;
      const isUnderground = isEmpty && (level.pressurePa ?? 0) > levels.pressurePa[0]!;
      if (isTold) count.told += 1;
      else if (isUnderground) count.underground += 1;
      return isTold || isUnderground ? [] : [place];
    }
    count.merged += numbers.length - 1;
    return compareValues(levels, index, level).flatMap((difference) => {
      if (difference === '') count.equal += 1;
      else if (isTold && difference.startsWith('NaN')) count.refused += 1;
      else return [`${place}: ${difference}`];
      return [];
    });
  });
}

/** One text a quantity: empty where both are equal. Heights of old messages are geopotentials divided by g. */
function compareValues(levels: Sounding['levels'], index: number, level: DumpedLevel): string[] {
  const pairs = [
    [levels.geopotentialHeightM[index]!, level.heightM, 1e-9 * Math.abs(level.heightM ?? 0)],
    [levels.temperatureK[index]!, level.temperatureK, 1e-9],
    [levels.dewPointK[index]!, level.dewPointK, 1e-9],
    [levels.windDirectionDeg[index]!, level.windDirectionDeg, 0],
    [levels.windSpeedMps[index]!, level.windSpeedMps, 1e-9],
  ] as const;
  return pairs.map(([own, theirs, tolerance]) => {
    const isEqual = theirs === undefined ? Number.isNaN(own) : Math.abs(own - theirs) <= tolerance;
    return isEqual ? '' : `${own} beside ${theirs}`;
  });
}

const ascentsOf = (items: readonly BufrItem[]) =>
  items.flatMap((item) => (item.kind === 'ascent' ? [item.sounding] : []));

describe.each(FILES)('%s', (name) => {
  const dumped = bufrDumpPlain(join(FOLDER, name));
  const items = [...readBufr(bytesOf(name))];
  const soundings = ascentsOf(items);

  it('holds the same values, confidences and substituted values for ecCodes and for us', () => {
    const subsets = subsetsOf(name);
    expect(subsets).toHaveLength(dumped.length);
    const found = subsets.flatMap((subset, message) => plainDifferences(subset, dumped[message]!));
    expect(found).toEqual([]);
  });

  it('gives an ascent a message with the levels of the dump, none lost', () => {
    expect(items.filter(({ kind }) => kind === 'rejected')).toEqual([]);
    expect(soundings).toHaveLength(dumped.length);
    const count: LevelCount = { equal: 0, refused: 0, merged: 0, told: 0, underground: 0 };
    const lost = soundings.flatMap((sounding, n) => compareLevels(sounding, dumpedLevels(dumped[n]!), count));
    expect(lost).toEqual([]);
    const own = soundings.reduce(
      (sum, sounding, n) => sum + dumpedCount(sounding, dumpedLevels(dumped[n]!)),
      0,
    );
    const all = dumped.reduce((sum, values) => sum + dumpedLevels(values).length, 0);
    printTable(
      name,
      [
        'messages read',
        'refused',
        'levels of ecCodes',
        'read',
        'merged',
        'told',
        'underground',
        'values equal',
        'told',
      ],
      [
        [
          soundings.length,
          items.length - soundings.length,
          all,
          own,
          count.merged,
          count.told,
          count.underground,
          count.equal,
          count.refused,
        ],
      ],
    );
    expect(own + count.merged + count.told + count.underground).toBe(all);
    expect(count.equal + count.refused).toBe(5 * own);
    expect(count.refused).toBeLessThan(count.equal / 100);
  });

  it('places every launch where ecCodes reads it, at full precision', () => {
    const places = eccodesPlaces(join(FOLDER, name));
    expect(soundings.map(({ latDeg, lonDeg, timeMs }) => [latDeg, lonDeg, timeMs])).toEqual(
      places.map(([latDeg, lonDeg, time]) => [
        expect.closeTo(latDeg, 9),
        expect.closeTo(lonDeg, 9),
        Date.parse(time),
      ]),
    );
  });
});

describe('how many there are', () => {
  it.each([
    ['albuquerque-2023052200.bufr', 1, 3942],
    ['germany-10954-2025022310-hires.bufr', 1, 448],
    ['macquarie-island-2018030600.bufr', 1, 1814],
    ['mobile-dfm09-20200306-309052.bufr', 1, 1470],
    ['norway-2024022600-309057.bufr', 6, 22_334],
    // Two of them without values, beside levels that the message calls unfit or gives no pressure.
    [GLOBAL, 285, 17_440],
  ])('%s: %i ascents, %i levels', (name, ascents, levels) => {
    const soundings = ascentsOf([...readBufr(bytesOf(name))]);
    expect(soundings).toHaveLength(ascents);
    expect(soundings.reduce((sum, sounding) => sum + sounding.levels.levelCount, 0)).toBe(levels);
  });
});

describe('the index made of the global set beside it', () => {
  const rows = readFileSync(join(FOLDER, 'temp-global-2008120812-index.csv'), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','));
  const soundings = new Map(
    ascentsOf([...readBufr(bytesOf(GLOBAL))]).map((sounding) => [sounding.stationId, sounding]),
  );

  it('names the same stations at the same places', () => {
    expect(rows).toHaveLength(285);
    expect(soundings.size).toBe(285);
    for (const [id = '', latDeg, lonDeg] of rows) {
      const sounding = soundings.get(id.padStart(5, '0'));
      expect([id, sounding?.latDeg, sounding?.lonDeg]).toEqual([
        id,
        expect.closeTo(Number(latDeg), 2),
        expect.closeTo(Number(lonDeg), 2),
      ]);
    }
  });

  it('counts the same pressures, moist cold levels and lowest pressure in each', () => {
    const pressureCounts = subsetsOf(GLOBAL).map(
      ({ layout }) => layout.codings.filter(({ descriptor }) => descriptor === 7004).length,
    );
    const countOf = new Map([...soundings.keys()].map((id, n) => [id, pressureCounts[n]]));
    for (const row of rows) {
      const id = row[0]!.padStart(5, '0');
      const { levels } = soundings.get(id)!;
      const moist = levels.temperatureK.filter(
        (levelK, n) => levelK <= 273.15 && levelK >= 253.15 && levelK - levels.dewPointK[n]! <= 2 + 1e-9,
      );
      const lowestHPa = Math.round(levels.pressurePa[0]! / 100);
      expect([id, countOf.get(id), moist.length, lowestHPa]).toEqual([
        id,
        Number(row[3]),
        Number(row[4]),
        Number(row[6]),
      ]);
    }
  });

  /** The index does not say its rule: half a degree on both sides of 0, up to 750 hPa, gives every flag it has and no other. */
  it('flags the same warm layers over cold air', () => {
    const flagged = rows.filter((row) => row[5] === '1').map((row) => row[0]!.padStart(5, '0'));
    const own = [...soundings].filter(([, { levels }]) => {
      const low = levels.temperatureK.filter((_, n) => levels.pressurePa[n]! > 75_000);
      const firstCold = low.findIndex((levelK) => levelK < 272.64);
      return firstCold >= 0 && low.some((levelK, n) => n > firstCold && levelK > 273.66);
    });
    expect(flagged).toHaveLength(15);
    expect(own.map(([id]) => id).sort()).toEqual(flagged.sort());
  });
});
