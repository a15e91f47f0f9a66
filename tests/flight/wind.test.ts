import { describe, expect, test } from 'vitest';
import { groundSpeedMps, windComponents, windFromColumns } from '../../worker/flight/wind.ts';
import { CELL_STATE } from '../../worker/science/columns.ts';
import { ktFromMps, mFromFt, mpsFromKt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { makeCurtain, UNKNOWN } from './make-curtain.ts';

const RAD_PER_DEG = Math.PI / 180;

/** Wind as pilots write it: the direction it blows from, and its speed. */
function windFrom(fromDeg: number, speedKt: number) {
  const speedMps = mpsFromKt(speedKt);
  return {
    eastMps: -speedMps * Math.sin(fromDeg * RAD_PER_DEG),
    northMps: -speedMps * Math.cos(fromDeg * RAD_PER_DEG),
  };
}

describe('the wind triangle agrees with worked examples in print', () => {
  // Answers read from a flight computer to 1 kt: an examination question on general navigation, and a computer's manual.
  test.each([
    { course: 180, tas: 180, from: 100, speed: 18, ground: 176 },
    { course: 90, tas: 125, from: 230, speed: 18, ground: 138 },
  ])(
    'course $course, true airspeed $tas kt, wind $from/$speed kt: $ground kt over the ground',
    ({ course, tas, from, speed, ground }) => {
      const components = windComponents(windFrom(from, speed), course * RAD_PER_DEG);
      assertClose(ktFromMps(groundSpeedMps(mpsFromKt(tas), components)), ground, {
        abs: 0.75,
        why: 'read from a flight computer: half a knot and a quarter for the eye',
      });
    },
  );

  test('course 000, true airspeed 90 kt, wind 270/10 kt: 89.4 kt over the ground', () => {
    const components = windComponents(windFrom(270, 10), 0);
    assertClose(ktFromMps(groundSpeedMps(mpsFromKt(90), components)), 89.4, {
      abs: 0.05,
      why: 'half the last printed digit',
    });
  });
});

describe('windComponents', () => {
  test('a wind from ahead is a headwind and one from the left a positive crosswind', () => {
    const north = windComponents(windFrom(360, 20), 0);
    const west = windComponents(windFrom(270, 20), 0);
    assertClose(ktFromMps(north.headwindMps), 20, { abs: 1e-9, why: 'arithmetic' });
    assertClose(ktFromMps(west.crosswindMps), 20, { abs: 1e-9, why: 'arithmetic' });
  });
});

describe('windComponents on a slant', () => {
  test('a wind from dead ahead on a course of 045 has no crosswind', () => {
    const { headwindMps, crosswindMps } = windComponents(windFrom(45, 20), 45 * RAD_PER_DEG);
    assertClose(ktFromMps(headwindMps), 20, { abs: 1e-9, why: 'arithmetic' });
    assertClose(crosswindMps, 0, { abs: 1e-9, why: 'arithmetic' });
  });
});

describe('groundSpeedMps', () => {
  test('is NaN when the crosswind alone is stronger than the airspeed', () => {
    expect(groundSpeedMps(50, { headwindMps: 0, crosswindMps: 51 })).toBeNaN();
  });
});

describe('windFromColumns', () => {
  const { weather } = makeCurtain(2, (point) =>
    point === 0 ? { windEastMps: 12, windNorthMps: -3 } : UNKNOWN,
  );
  const windAt = windFromColumns(weather);

  test('gives the wind of the cell', () => {
    expect(windAt(0, mFromFt(5250))).toEqual({ eastMps: 12, northMps: -3 });
  });

  test('is undefined in an unknown cell although numbers stand there', () => {
    const { weather: stale } = makeCurtain(1, () => ({ windEastMps: 12 }));
    stale.state.fill(CELL_STATE.tooOld);
    expect(windFromColumns(stale)(0, mFromFt(5250))).toBeUndefined();
  });

  test('is undefined in an unknown cell, above the axis, and where a known cell has no wind', () => {
    weather.windEastMps[3] = Number.NaN;
    expect([windAt(1, mFromFt(5250)), windAt(0, mFromFt(31000)), windAt(0, mFromFt(1750))]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
  });
});
