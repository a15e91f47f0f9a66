import { describe, expect, it } from 'vitest';
import type { Brief } from '../../web/src/contract.ts';
import { flightLevelTicks, indicatedFtOfFlightLevel } from '../../web/src/section/flight-levels.ts';
import { gapsNm, joinedNm } from '../../web/src/section/gaps.ts';
import { boxAround, placeLabels } from '../../web/src/section/label-places.ts';
import { printLayout, SIDE_BY_SIDE_PX, sheetLayout } from '../../web/src/section/layout.ts';
import { altitudeRange, altitudeTicksFt, makeSheet, snapAltitudeFt } from '../../web/src/section/scales.ts';

function briefWith(altitudesFt: readonly number[], groundsFt: readonly number[] = []): Brief {
  const alternatives = altitudesFt.map((altitudeFt) => ({ altitudeFt }));
  const features = groundsFt.map((heightFt) => ({ properties: { kind: 'terrain', heightFt } }));
  return { brief: { alternatives }, features } as unknown as Brief;
}

const margins = { left: 60, right: 40, top: 40, bottom: 46 };

describe('altitudeRange', () => {
  it('leaves a whole row above the highest candidate', () => {
    const range = altitudeRange(briefWith([25000, 24000, 23000]));
    expect(range.highestFt - 25000).toBeGreaterThanOrEqual(range.stepFt / 2);
  });

  it('reaches over ground that is higher than every candidate', () => {
    expect(altitudeRange(briefWith([5000], [14000])).highestFt).toBeGreaterThan(14000);
  });

  it('takes its step from the closest two candidates', () => {
    expect(altitudeRange(briefWith([9000, 7000, 6500])).stepFt).toBe(500);
  });
});

describe('makeSheet', () => {
  const range = altitudeRange(briefWith([12000, 11000, 10000, 9000]));
  const sheet = makeSheet({ widthPx: 700, rowPx: 24, range, lengthNm: 186, margins });

  it('puts candidates exactly one row apart, so that table rows can stand level', () => {
    expect(sheet.y(10000) - sheet.y(11000)).toBeCloseTo(24, 6);
  });

  it('gives back the place that a pixel was drawn for', () => {
    expect(sheet.ftAt(sheet.y(8250))).toBeCloseTo(8250, 6);
    expect(sheet.nmAt(sheet.x(33.3))).toBeCloseTo(33.3, 6);
  });

  it('holds places outside the drawing at its edges', () => {
    expect(sheet.nmAt(-1000)).toBe(0);
    expect(sheet.ftAt(-1000)).toBe(range.highestFt);
  });

  it('labels altitudes no closer than asked', () => {
    const ticks = altitudeTicksFt(sheet, 40);
    expect(ticks.length).toBeGreaterThan(2);
    expect(sheet.y(ticks[0]!) - sheet.y(ticks[1]!)).toBeGreaterThanOrEqual(40);
  });
});

describe('sheetLayout', () => {
  it('sets the table beside the section from 720 px on', () => {
    expect(sheetLayout(SIDE_BY_SIDE_PX - 1, 26, false).isSideBySide).toBe(false);
    expect(sheetLayout(SIDE_BY_SIDE_PX, 26, false).isSideBySide).toBe(true);
  });

  it.each([SIDE_BY_SIDE_PX, 1280, 1500, 2560])('has rows that a finger can hit at %i px', (widthPx) => {
    expect(sheetLayout(widthPx, 20, true).rowPx).toBe(36);
    expect(sheetLayout(widthPx, 20, true).isSideBySide).toBe(true);
  });

  it('sets the table below where side by side it would be many screens high', () => {
    expect(sheetLayout(820, 62, true).isSideBySide).toBe(true);
    expect(sheetLayout(820, 63, true).isSideBySide).toBe(false);
    expect(sheetLayout(820, 80, false).isSideBySide).toBe(true);
    expect(sheetLayout(820, 81, false).isSideBySide).toBe(false);
  });

  // Letter is 1,315 px high where it is 1,000 px wide, less its margins.
  it('leaves a print of many rows room for answer and cautions, with rows that letters can be read in', () => {
    expect(printLayout(60).rowPx * 60).toBeLessThanOrEqual(0.6 * 1315);
    expect(printLayout(60).rowPx).toBeGreaterThanOrEqual(13);
  });
});

it('snapAltitudeFt goes to the nearest candidate', () => {
  expect(snapAltitudeFt([9000, 11000], 10100)).toBe(11000);
});

describe('flight levels', () => {
  it('lie at their own altitude on the standard setting', () => {
    expect(indicatedFtOfFlightLevel(180, 1013.25)).toBeCloseTo(18000, 6);
  });

  it('lie lower by the height at which the standard atmosphere has the setting as its pressure', () => {
    // ICAO standard atmosphere: 977.2 hPa at 1,000 ft (from memory, four digits).
    expect(Math.abs(17000 - indicatedFtOfFlightLevel(180, 977.2))).toBeLessThan(2);
  });

  it('are listed inside the range only', () => {
    const levels = flightLevelTicks({ lowestFt: 0, highestFt: 5000 }, 1013.25, 20).map(
      (tick) => tick.flightLevel,
    );
    expect(levels).toEqual([20, 40]);
  });
});

describe('gapsNm', () => {
  it('finds what no ground height covers, at both ends and between', () => {
    const parts = [
      { fromNm: 50, toNm: 80 },
      { fromNm: 10, toNm: 40 },
    ];
    expect(gapsNm(parts, 100)).toEqual([
      { fromNm: 0, toNm: 10 },
      { fromNm: 40, toNm: 50 },
      { fromNm: 80, toNm: 100 },
    ]);
  });

  it('calls the whole leg a gap when there are no parts', () => {
    expect(gapsNm([], 100)).toEqual([{ fromNm: 0, toNm: 100 }]);
  });
});

describe('joinedNm', () => {
  it('makes one stretch of parts that touch, in whatever order, and leaves others apart', () => {
    const parts = [
      { fromNm: 60, toNm: 80 },
      { fromNm: 10, toNm: 20.01 },
      { fromNm: 20, toNm: 40 },
    ];
    expect(joinedNm(parts)).toEqual([
      { fromNm: 10, toNm: 40 },
      { fromNm: 60, toNm: 80 },
    ]);
    expect(joinedNm([])).toEqual([]);
  });
});

describe('placeLabels', () => {
  const room = { left: 0, right: 300, top: 0, bottom: 100 };

  it('keeps two labels of one room apart', () => {
    const [first, second] = placeLabels(
      [
        { words: 'light rime ice', room },
        { words: 'trace rime ice', room },
      ],
      [],
    );
    const [a, b] = [boxAround(first!), boxAround(second!)];
    expect(a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top).toBe(true);
  });

  it('leaves a label out that has no room', () => {
    expect(placeLabels([{ words: 'freezing drizzle', room: { ...room, right: 60 } }], [])).toEqual([]);
  });

  it('says the short words where the long ones have no room', () => {
    const wish = {
      words: 'unknown: no data',
      shortWords: 'unknown',
      room: { ...room, right: 90 },
    };
    expect(placeLabels([wish], []).map((label) => label.words)).toEqual(['unknown']);
  });

  it('leaves taken places free', () => {
    expect(placeLabels([{ words: 'light rime ice', room }], [room])).toEqual([]);
  });
});
