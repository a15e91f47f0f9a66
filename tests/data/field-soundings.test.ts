/**
 * Soundings of winter field projects, and one of a listing service, in formats that no reader of the worker takes: what the
 * diagnosis makes of air whose profile says plainly what to expect.
 */
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CELL_STATE, type IcingColumns, LARGE_DROPS } from '../../worker/science/columns.ts';
import { diagnoseColumns } from '../../worker/science/diagnose-columns.ts';
import { columnFromLevels } from '../../worker/science/level-column.ts';
import { profileOfLevels, rawLevelOf, readFieldSounding } from '../support/field-soundings.ts';
import { answerAnywhere, diagnose, FINE_AXIS } from '../support/large-drop-answers.ts';
import { makeSettings } from '../support/make-profile.ts';
import { isHazard, warmNoses } from '../support/warm-nose.ts';

const DATA = process.env.RIMEWAY_DATA_DIR ?? '';

describe('soundings of known air', () => {
  /** Greatest probability of ice between two pressures. */
  const greatest = (icing: IcingColumns, footHPa: number, topHPa: number) =>
    Math.max(
      ...Array.from(icing.icingProbability).filter((_, cell) => {
        const hPa = icing.axis.middlePressurePa[cell]! / 100;
        return hPa <= footHPa && hPa >= topHPa && icing.state[cell] === CELL_STATE.known;
      }),
    );
  const read = (path: string) => {
    const levels = readFieldSounding(join(DATA, 'soundings', path));
    return {
      levels,
      noses: warmNoses(levels.map(rawLevelOf)),
      icing: diagnose(profileOfLevels(levels), FINE_AXIS),
    };
  };

  it('Essex, all below -7 °C at 81 to 91 %: no rain, a small chance of ice where it is moistest', () => {
    const { levels, noses, icing } = read('field/albany-essex-2022022512.txt');
    expect(levels.length).toBeGreaterThan(1000);
    expect(noses).toEqual([]);
    expect(answerAnywhere(icing)).toBe('not raised');
    const moistest = greatest(icing, 690, 610);
    expect(moistest).toBeGreaterThan(greatest(icing, 1000, 800));
    expect(moistest).toBeGreaterThan(0.02);
    expect(moistest).toBeLessThan(0.4);
  });

  it('Quebec, rain at 95 to 99 % under +6 °C at the ground: ice from the 0 °C level up, none below, no freezing rain', () => {
    const { levels, noses, icing } = read('field/cu-dow-2022021801.csv');
    expect(levels.length).toBeGreaterThan(1000);
    expect(noses.some(isHazard)).toBe(false);
    expect(answerAnywhere(icing)).toBe('not raised');
    expect(greatest(icing, 1000, 830)).toBe(0);
    expect(greatest(icing, 780, 680)).toBeGreaterThanOrEqual(0.15);
    expect(greatest(icing, 600, 300)).toBeLessThan(greatest(icing, 780, 680));
  });

  it('Mont-Saint-Hilaire, 87 to 95 % from -1 to -11 °C over dry air: a chance of ice in it, none below', () => {
    const { levels, noses, icing } = read('field/mcgill-gault-2022020301.txt');
    expect(levels.length).toBeGreaterThan(1000);
    expect(noses.some(isHazard)).toBe(false);
    expect(answerAnywhere(icing)).toBe('not raised');
    expect(greatest(icing, 1000, 900)).toBeLessThan(0.01);
    expect(greatest(icing, 850, 650)).toBeGreaterThanOrEqual(0.15);
  });

  it('Boise, saturated at -0.1 °C under +5.4 °C and deep cloud: freezing rain at the lowest level', () => {
    const { levels, noses } = read('text/metpy-dec9_sounding.txt');
    // The cold air is ten meters deep: it is looked for at the level itself, in no cell.
    const icing = diagnoseColumns(columnFromLevels(profileOfLevels(levels)), makeSettings(levels.length));
    expect(noses.filter(isHazard)).toHaveLength(1);
    expect(noses[0]?.meltingJPerKg).toBeGreaterThan(50);
    expect(icing.largeDrops[0]).toBe(LARGE_DROPS.freezingRain);
    expect(icing.largeDrops.slice(1).every((code) => code !== LARGE_DROPS.freezingRain)).toBe(true);
  });
});
