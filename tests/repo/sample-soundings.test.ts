/** The demo's files: all named, all readable, their physics fits together, and the weather is what the README says. */
import { describe, expect, it } from 'vitest';
import { readPlacesCsv } from '../../worker/formats/places-csv.ts';
import { findStation } from '../../worker/formats/stations.ts';
import { assertClose } from '../support/assert-close.ts';
import {
  type Air,
  airOf,
  ascentOf,
  ascents,
  dataFiles,
  depthM,
  filesRead,
  meltingEnergyJPerKg,
  numberOf,
  overIcePct,
  overWaterPct,
  readSample,
  thicknessM,
} from '../support/sample-scenario.ts';

const HOURS = [6, 12];
const DECK_STATIONS = ['00901', '00902', '00904', '00905'];
const WEDGE_STATIONS = ['00903', '00907'];

describe('the folder', () => {
  it('names every data file in its README, and every file the README names is there', () => {
    const named = [...readSample('README.md').matchAll(/^\| `([^`]+\.[a-z]+)`\s*\|/gm)].map(
      (match) => match[1]!,
    );
    expect(named.sort()).toEqual([...dataFiles].sort());
    expect(named.length).toBeGreaterThanOrEqual(9);
  });

  it('says in its README that operator, aeroplane and weather are invented, and why block 00', () => {
    expect(readSample('README.md')).toMatch(/operator.*aeroplane.*weather are invented/s);
    expect(readSample('README.md')).toContain('WMO block 00, which no country uses');
  });
});

describe('the stations', () => {
  it('are read without one rejected line', () => {
    expect([...filesRead, ...ascents].flatMap((each) => each.rejected)).toEqual([]);
    expect(ascents).toHaveLength(16);
  });

  it('are eight, each with an ascent at 06 and 12 UTC, four of them in each format', () => {
    const formats = new Map(ascents.map((each) => [numberOf(each), each.format]));
    expect([...formats.keys()].sort()).toEqual(Array.from({ length: 8 }, (_, index) => `0090${index + 1}`));
    for (const number of formats.keys()) {
      for (const hour of HOURS) expect(ascentOf(number, hour).timeMs).toBe(Date.UTC(2026, 0, 14, hour));
    }
    expect([...formats.values()].filter((format) => format === 'igra-v2')).toHaveLength(4);
    expect([...formats.values()].filter((format) => format === 'fm-35-temp')).toHaveLength(4);
  });

  it('bear the identifiers of no country, and stand where the table of stations has them', () => {
    for (const { stationId, latDeg, lonDeg, elevationM } of ascents) {
      expect(stationId).toMatch(/^(ZZM000)?00\d{3}$/);
      const { wmoNumber: _, ...place } = findStation(stationId.slice(-5))!;
      expect({ latDeg, lonDeg, elevationM }).toEqual(place);
    }
  });
});

describe('the ascents', () => {
  it('have 25 to 45 levels from the ground to 100 hPa, falling in pressure and rising in height', () => {
    for (const each of ascents) {
      const air = airOf(each);
      expect(air.length).toBeGreaterThanOrEqual(25);
      expect(air.length).toBeLessThanOrEqual(45);
      expect(air[0]!.heightM).toBe(each.elevationM);
      expect(air.at(-1)!.pressureHPa).toBe(100);
      const known = air.filter(({ heightM }) => Number.isFinite(heightM));
      expect(known.length).toBeGreaterThanOrEqual(11);
      known.slice(1).forEach((upper, index) => {
        expect(upper.pressureHPa).toBeLessThan(known[index]!.pressureHPa);
        expect(upper.heightM).toBeGreaterThan(known[index]!.heightM);
      });
    }
  });

  it('have temperature, dew point and wind in range on every level', () => {
    for (const each of ascents) {
      for (const { celsius, dewPointC } of airOf(each)) {
        expect(celsius).toBeGreaterThan(-75);
        expect(celsius).toBeLessThan(10);
        expect(dewPointC).toBeLessThanOrEqual(celsius + 1e-9);
        expect(dewPointC).toBeGreaterThan(-110);
      }
      const { windSpeedMps, windDirectionDeg } = each.levels;
      expect(windSpeedMps.every((mps) => mps > 0 && mps < 65)).toBe(true);
      expect(windDirectionDeg.every((deg) => deg > 0 && deg <= 360)).toBe(true);
    }
  });

  it('cool nowhere faster upward than the dry adiabat', () => {
    for (const air of ascents.map(airOf)) {
      air.slice(1).forEach((upper, index) => {
        // 9.8 K/km, and a step of coding (up to 0.2 K) over two levels.
        const most = 0.0098 * thicknessM(air[index]!, upper) + 0.2;
        expect(air[index]!.celsius - upper.celsius).toBeLessThan(most);
      });
    }
  });

  it('hold nowhere more than 8 % over saturation over ice where it is colder than -20 degC', () => {
    const cold = ascents.flatMap(airOf).filter(({ celsius }) => celsius < -20);
    expect(cold.length).toBeGreaterThan(200);
    for (const air of cold) expect(overIcePct(air)).toBeLessThan(108);
  });

  it('have heights that fit temperature and humidity', () => {
    let compared = 0;
    for (const each of ascents) {
      const codingM = each.format === 'igra-v2' ? 1 : 10;
      const why = `heights coded to ${codingM} m, temperatures to 0.2 K at most, another form of saturation`;
      for (const stretch of betweenHeights(airOf(each))) {
        const rise = stretch.at(-1)!.heightM - stretch[0]!.heightM;
        assertClose(rise, depthM(stretch), { abs: codingM, rel: 0.0005, why });
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(250);
  });
});

/** Runs of levels from one that gives its height to the next that does. */
function betweenHeights(air: readonly Air[]): Air[][] {
  const known = air.flatMap(({ heightM }, index) => (Number.isFinite(heightM) ? [index] : []));
  return known.slice(1).map((to, index) => air.slice(known[index]!, to + 1));
}

/** The lowest run of levels near saturation over water, without a gap. */
function cloudOf(number: string, hour: number): Air[] {
  const air = airOf(ascentOf(number, hour));
  const isCloudy = (each: Air) => overWaterPct(each) > 96;
  const base = air.findIndex(isCloudy);
  const end = air.findIndex((each, index) => index > base && !isCloudy(each));
  return air.slice(base, end);
}

describe('the deck', () => {
  it.each(DECK_STATIONS)('is saturated, below freezing and more than 1,000 m deep over %s', (number) => {
    for (const hour of HOURS) {
      const cloud = cloudOf(number, hour);
      expect(depthM(cloud)).toBeGreaterThan(1000);
      for (const { celsius } of cloud) {
        expect(celsius).toBeGreaterThan(-12);
        expect(celsius).toBeLessThan(-3);
      }
    }
  });

  it.each(DECK_STATIONS)('has an inversion and air under 60 % humid above it over %s', (number) => {
    for (const hour of HOURS) {
      const top = cloudOf(number, hour).at(-1)!;
      const above = airOf(ascentOf(number, hour)).filter(({ pressureHPa }) => pressureHPa < top.pressureHPa);
      for (const each of above) expect(overWaterPct(each)).toBeLessThan(60);
      const inversion = above.filter(({ pressureHPa }) => pressureHPa > top.pressureHPa - 30);
      expect(inversion.length).toBeGreaterThan(0);
      expect(Math.max(...inversion.map(({ celsius }) => celsius))).toBeGreaterThan(top.celsius + 3);
    }
  });

  it.each(DECK_STATIONS)('comes down from 06 to 12 UTC over %s', (number) => {
    expect(cloudOf(number, 12).at(-1)!.pressureHPa).toBeGreaterThan(cloudOf(number, 6).at(-1)!.pressureHPa);
  });
});

describe('the wedge', () => {
  it.each(WEDGE_STATIONS)('at 12 UTC over %s is freezing rain by the enclosed energies', (number) => {
    const air = airOf(ascentOf(number, 12));
    const firstWarm = air.findIndex(({ celsius }) => celsius > 0);
    const lastWarm = air.findLastIndex(({ celsius }) => celsius > 0);
    const melting = meltingEnergyJPerKg(air.slice(firstWarm - 1, lastWarm + 2));
    const freezing = -meltingEnergyJPerKg(air.slice(0, firstWarm + 1));
    expect(air[0]!.celsius).toBeLessThan(-1.5);
    // Bourgouin 2000: melts wholly above a few tens of J/kg; stays liquid below 46 + 0.66 PA (from memory).
    expect(melting).toBeGreaterThan(50);
    expect(freezing).toBeGreaterThan(30);
    expect(freezing).toBeLessThan(46 + 0.66 * melting);
  });

  it.each(WEDGE_STATIONS)('at 12 UTC over %s has moist air above with tops below -40 degC', (number) => {
    const air = airOf(ascentOf(number, 12));
    const above = air.slice(air.findLastIndex(({ celsius }) => celsius > 0) + 1);
    const moist = above.slice(
      0,
      above.findIndex((each) => overIcePct(each) < 93),
    );
    expect(depthM(moist)).toBeGreaterThan(5000);
    expect(moist.at(-1)!.celsius).toBeLessThan(-40);
  });

  it.each(WEDGE_STATIONS)(
    'at 06 UTC over %s is below freezing all the way up, so that nothing melts',
    (number) => {
      expect(Math.max(...airOf(ascentOf(number, 6)).map(({ celsius }) => celsius))).toBeLessThan(0);
    },
  );
});

describe('the north', () => {
  it('has a deep cloud over 00908, saturated and below freezing, with a warm top and dry air above', () => {
    for (const hour of HOURS) {
      const cloud = cloudOf('00908', hour);
      const top = cloud.at(-1)!;
      expect(depthM(cloud)).toBeGreaterThan(3800);
      expect(Math.max(...cloud.map(({ celsius }) => celsius))).toBeLessThan(-2);
      expect(top.celsius).toBeGreaterThan(-12);
      const above = airOf(ascentOf('00908', hour)).filter(({ pressureHPa }) => pressureHPa < top.pressureHPa);
      for (const each of above.slice(1)) expect(overWaterPct(each)).toBeLessThan(60);
    }
  });

  it('has a dry high over 00906, less than 75 % humid everywhere, with an inversion at the ground', () => {
    for (const hour of HOURS) {
      const air = airOf(ascentOf('00906', hour));
      for (const each of air) expect(overWaterPct(each)).toBeLessThan(75);
      expect(air.find(({ pressureHPa }) => pressureHPa < 970)!.celsius).toBeGreaterThan(air[0]!.celsius + 4);
    }
  });
});

describe('the places', () => {
  const fixes = readPlacesCsv(readSample('fixes.csv'));
  const spots = readPlacesCsv(readSample('spot-heights.csv'));

  it('read without one rejected line: a few fixes, and high points of the region', () => {
    expect([fixes.kind, spots.kind]).toEqual(['fixes', 'spot-heights']);
    expect([...fixes.rejected, ...spots.rejected]).toEqual([]);
    expect(fixes.rows.length).toBeGreaterThanOrEqual(3);
    expect(spots.rows.length).toBeGreaterThanOrEqual(20);
    for (const { latDeg, lonDeg } of [...fixes.rows, ...spots.rows]) {
      expect(latDeg > 41 && latDeg < 50 && lonDeg > -77 && lonDeg < -64).toBe(true);
    }
  });

  it('hold the best-known heights, ft (public facts, from memory)', () => {
    const rows = spots.kind === 'spot-heights' ? spots.rows : [];
    const heights = new Map(rows.map(({ name, heightFt }) => [name, heightFt]));
    expect(heights.get('Mount Washington')).toBe(6288);
    expect(heights.get('Mount Marcy')).toBe(5344);
    expect(heights.get('Mount Mansfield')).toBe(4393);
  });
});
