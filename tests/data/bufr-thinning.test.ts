/** Real ascents of thousands of levels, thinned: how many levels stay, and what the cells of a brief make of them. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { profileOfSounding } from '../../worker/brief/sounding-profile.ts';
import { readBufr } from '../../worker/formats/bufr/read-bufr.ts';
import type { Sounding } from '../../worker/formats/sounding.ts';
import {
  LEAST_THINNED_LEVELS,
  MOST_KEPT_LEVELS,
  type ThinnedLevels,
  thinnedLevels,
} from '../../worker/formats/thin/thin-levels.ts';
import { CELL_STATE } from '../../worker/science/columns.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { diagnose, FINE_AXIS } from '../support/large-drop-answers.ts';
import { printTable } from '../support/print-table.ts';

const FOLDER = join(process.env.RIMEWAY_DATA_DIR ?? '', 'soundings/bufr');

interface Thinned {
  readonly sounding: Sounding;
  readonly thinned: ThinnedLevels;
}

const ascents: Thinned[] = readdirSync(FOLDER)
  .filter((name) => name.endsWith('.bufr'))
  .flatMap((name) => [...readBufr(new Uint8Array(readFileSync(join(FOLDER, name))))])
  .flatMap((item) => {
    if (item.kind !== 'ascent' || item.sounding.levels.levelCount <= LEAST_THINNED_LEVELS) return [];
    const thinned = thinnedLevels(item.sounding.levels);
    return thinned === undefined ? [] : [{ sounding: item.sounding, thinned }];
  });

const columnsOf = (sounding: Sounding) =>
  weatherColumnsFromProfiles([profileOfSounding(sounding)], FINE_AXIS);

/** Of each level left out, from a straight line in ln p between the levels kept around it that have a temperature. */
function temperatureErrorsK({ levels }: Sounding, { kept }: ThinnedLevels): number[] {
  const lnPressure = levels.pressurePa.map(Math.log);
  const withValue = [...kept].filter((level) => !Number.isNaN(levels.temperatureK[level]!));
  return withValue.slice(1).flatMap((above, n) => {
    const below = withValue[n]!;
    const span = lnPressure[below]! - lnPressure[above]!;
    const between = Array.from({ length: above - below - 1 }, (_, each) => below + 1 + each);
    return between
      .filter((level) => levels.pressurePa[level]! > 20_000 && !Number.isNaN(levels.temperatureK[level]!))
      .map((level) => {
        const share = (lnPressure[below]! - lnPressure[level]!) / span;
        const line = (1 - share) * levels.temperatureK[below]! + share * levels.temperatureK[above]!;
        return Math.abs(line - levels.temperatureK[level]!);
      });
  });
}

describe('ascents of high resolution', () => {
  it('are ten, and stay below the limit with the bounds as they are', () => {
    printTable(
      'Thinned ascents',
      ['station', 'levels', 'kept', 'below 300 hPa', 'kept', 'widened'],
      ascents.map(({ sounding, thinned }) => [
        sounding.stationId,
        sounding.levels.levelCount,
        thinned.kept.length,
        sounding.levels.pressurePa.filter((pressurePa) => pressurePa > 30_000).length,
        thinned.levels.pressurePa.filter((pressurePa) => pressurePa > 30_000).length,
        `${thinned.boundFactor} times`,
      ]),
    );
    expect(ascents.length).toBeGreaterThanOrEqual(10);
    for (const { sounding, thinned } of ascents) {
      expect(thinned.boundFactor, sounding.stationId).toBe(1);
      expect(thinned.kept.length, sounding.stationId).toBeLessThanOrEqual(MOST_KEPT_LEVELS);
      expect(thinned.kept.length / sounding.levels.levelCount, sounding.stationId).toBeLessThan(0.3);
    }
  });

  it('give the same known cells of 100 ft, within 0.1 K and 1 % up to 200 hPa', () => {
    let known = 0;
    for (const { sounding, thinned } of ascents) {
      const before = columnsOf(sounding);
      const after = columnsOf({ ...sounding, levels: thinned.levels });
      expect([...after.state], sounding.stationId).toEqual([...before.state]);
      for (let cell = 0; cell < FINE_AXIS.cellCount; cell += 1) {
        if (before.state[cell] !== CELL_STATE.known) continue;
        if (FINE_AXIS.edgePressurePa[cell + 1]! < 20_000) continue;
        known += 1;
        const place = `${sounding.stationId}, cell ${cell}`;
        expect(Math.abs(after.temperatureK[cell]! - before.temperatureK[cell]!), place).toBeLessThan(0.1001);
        const ratio = after.relativeHumidityRatio[cell]! - before.relativeHumidityRatio[cell]!;
        expect(Math.abs(ratio), place).toBeLessThan(0.010_01);
      }
    }
    expect(known).toBeGreaterThan(2000);
  });

  it('reproduce every temperature within 0.1 K up to 200 hPa, and use that bound', () => {
    const worst = ascents.map(({ sounding, thinned }) => ({
      station: sounding.stationId,
      errorK: Math.max(...temperatureErrorsK(sounding, thinned)),
    }));
    for (const { station, errorK } of worst) expect(errorK, station).toBeLessThan(0.1 + 1e-9);
    expect(Math.max(...worst.map(({ errorK }) => errorK))).toBeGreaterThan(0.098);
  });

  it('are diagnosed alike: the probability of ice differs by a few hundredths at most', () => {
    const worst = ascents.map(({ sounding, thinned }) => {
      const before = diagnose(profileOfSounding(sounding), FINE_AXIS);
      const after = diagnose(profileOfSounding({ ...sounding, levels: thinned.levels }), FINE_AXIS);
      const differences = Array.from(before.icingProbability, (probability, cell) =>
        Math.abs(probability - after.icingProbability[cell]!),
      ).filter((difference) => !Number.isNaN(difference));
      return { station: sounding.stationId, worst: Math.max(...differences) };
    });
    printTable(
      'Greatest difference of the probability of ice in a cell of 100 ft',
      ['station', 'difference'],
      worst.map(({ station, worst: difference }) => [station, difference.toFixed(3)]),
    );
    for (const { station, worst: difference } of worst) expect(difference, station).toBeLessThan(0.1);
  });
});
