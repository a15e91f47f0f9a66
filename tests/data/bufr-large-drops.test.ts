/**
 * Freezing rain and ice pellets on the ascents of 2008-12-08: what the diagnosis raises in the air of BUFR ascents beside a
 * classification of the raw levels, which are ecCodes' and not ours (tests/support/warm-nose.ts).
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { profileOfSounding } from '../../worker/brief/sounding-profile.ts';
import { readBufr } from '../../worker/formats/bufr/read-bufr.ts';
import { CELL_STATE } from '../../worker/science/columns.ts';
import { dumpedLevels } from '../support/bufr-dumped-levels.ts';
import { bufrDumpPlain } from '../support/eccodes-bufr.ts';
import {
  answerAnywhere,
  answerBetween,
  BRIEF_AXIS,
  diagnose,
  FINE_AXIS,
} from '../support/large-drop-answers.ts';
import { figure, printTable } from '../support/print-table.ts';
import { isHazard, MELTS_J_PER_KG, type RawLevel, warmNoses } from '../support/warm-nose.ts';

const FILE = join(process.env.RIMEWAY_DATA_DIR ?? '', 'soundings/bufr/temp-global-2008120812.bufr');
const LAUNCHES = bufrDumpPlain(FILE);

/** Levels that have temperature and dew point, the lowest first, up to 100 hPa. */
function rawLevels(message: number): RawLevel[] {
  return dumpedLevels(LAUNCHES[message]!)
    .flatMap(({ pressurePa, temperatureK, dewPointK }) =>
      pressurePa === undefined || temperatureK === undefined || dewPointK === undefined || pressurePa < 10_000
        ? []
        : {
            pressureHPa: pressurePa / 100,
            temperatureC: temperatureK - 273.15,
            dewPointC: dewPointK - 273.15,
          },
    )
    .sort((a, b) => b.pressureHPa - a.pressureHPa);
}

const compared = [...readBufr(new Uint8Array(readFileSync(FILE)))].map((item, message) => {
  if (item.kind !== 'ascent') throw new Error(`message ${message + 1} was refused: ${item.error.message}`);
  const profile = profileOfSounding(item.sounding);
  const noses = warmNoses(rawLevels(message)).filter(({ meltingJPerKg }) => meltingJPerKg >= MELTS_J_PER_KG);
  return {
    station: item.sounding.stationId,
    noses,
    hazards: noses.filter(isHazard),
    fine: diagnose(profile, FINE_AXIS),
    coarse: diagnose(profile, BRIEF_AXIS),
  };
});

/** Depth of a fine cell, 30.5 m near the ground, in ln p. */
const CELL_LN = 0.004;

/** True where a hole up to 400 hPa may be the source of anything: unknown air is not taken for dry. */
function hasUnknownAir({ axis, state }: ReturnType<typeof diagnose>): boolean {
  const isUnknown = (cell: number) =>
    state[cell] !== CELL_STATE.known && state[cell] !== CELL_STATE.belowGround;
  const cells = Array.from(axis.middlePressurePa, (pressurePa, cell) => (pressurePa > 40_000 ? cell : -1));
  return cells.some(
    (cell) => cell >= 0 && isUnknown(cell) && state.slice(0, cell).includes(CELL_STATE.known),
  );
}

describe('station 72659 on 2008-12-08 at 12 UTC', () => {
  const { noses, fine, coarse } = compared.find(({ station }) => station === '72659')!;

  it('has cold air from the ground to about 880 hPa under one warm layer, and moist air above it', () => {
    expect(noses).toHaveLength(1);
    const [nose] = noses;
    // 890 hPa -2.3, 883 hPa +0.1; 840 hPa +1.1, 823 hPa -0.3; the greatest +1.7 at 872 hPa; the coldest -3.4 at 920 hPa.
    expect(nose!.footHPa).toBeGreaterThan(883);
    expect(nose!.footHPa).toBeLessThan(890);
    expect(nose!.topHPa).toBeGreaterThan(823);
    expect(nose!.topHPa).toBeLessThan(840);
    expect(nose!.greatestC).toBeCloseTo(1.7, 1);
    expect(nose!.coldestC).toBeCloseTo(-3.4, 1);
    expect(nose!.coldFootHPa).toBe(961);
  });

  it('raises the hazard in the cold air exactly when the raw levels show melting and a source', () => {
    const [nose] = noses;
    const expected = isHazard(nose!) ? 'raised' : 'not raised';
    expect(answerBetween(fine, nose!.coldFootHPa, nose!.coldTopHPa)).toBe(expected);
    expect(answerBetween(coarse, nose!.coldFootHPa, nose!.coldTopHPa)).toBe(expected);
  });
});

describe('all 285 ascents', () => {
  it('raise the hazard in the cold air under a warm layer with a source above, and nowhere else', () => {
    printTable(
      '2008-12-08 12 UTC: at least 2 J/kg of air above 0 °C over air below it (melting and refreezing in J/kg)',
      [
        'station',
        'warm',
        'melting',
        'cold',
        'coldest',
        'refreezing',
        'moist above',
        'expected',
        '100 ft',
        '500 ft',
      ],
      compared.flatMap(({ station, noses, fine, coarse }) =>
        noses.map((nose) => [
          station,
          `${figure(nose.footHPa, 0)}-${figure(nose.topHPa, 0)} hPa, ${figure(nose.greatestC, 1)} °C`,
          figure(nose.meltingJPerKg, 1),
          `${figure(nose.coldFootHPa, 0)}-${figure(nose.coldTopHPa, 0)} hPa`,
          `${figure(nose.coldestC, 1)} °C`,
          figure(nose.refreezingJPerKg, 1),
          `${figure(nose.moistAboveM, 0)} m`,
          isHazard(nose) ? 'hazard' : 'none',
          answerBetween(fine, nose.coldFootHPa, nose.coldTopHPa),
          answerBetween(coarse, nose.coldFootHPa, nose.coldTopHPa),
        ]),
      ),
    );
    expect(compared).toHaveLength(285);
    for (const { station, hazards, fine } of compared) {
      for (const { coldFootHPa, coldTopHPa } of hazards) {
        const isThinnerThanCell = Math.log(coldFootHPa / coldTopHPa) < CELL_LN;
        const answers = isThinnerThanCell ? ['raised', 'unknown'] : ['raised'];
        expect(answers, station).toContain(answerBetween(fine, coldFootHPa, coldTopHPa));
      }
      if (hazards.length > 0 || hasUnknownAir(fine)) continue;
      expect(answerAnywhere(fine), station).not.toBe('raised');
    }
    const withHazard = compared.filter(({ hazards }) => hazards.length > 0).map(({ station }) => station);
    expect(withHazard).toEqual(['72659', '74560', '71203', '71908', '23921', '28225', '27707']);
    expect(compared.filter(({ fine }) => !hasUnknownAir(fine)).length).toBeGreaterThan(180);
  });
});
