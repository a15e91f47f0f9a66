/** Levels that say nothing new, and levels told in another order, change no icing. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { profileOfSounding } from '../../worker/brief/sounding-profile.ts';
import { readIgra } from '../../worker/formats/igra.ts';
import type { Sounding } from '../../worker/formats/sounding.ts';
import { type LevelRecord, mergeLevels } from '../../worker/formats/sounding-levels.ts';
import { readTemp } from '../../worker/formats/temp/read-temp.ts';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CELL_STATE, type IcingColumns, type Profile } from '../../worker/science/columns.ts';
import { diagnoseColumns } from '../../worker/science/diagnose-columns.ts';
import { ICING_AMOUNTS, ICING_CODES } from '../../worker/science/icing-columns.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { even } from '../support/even-numbers.ts';
import { makeSettings } from '../support/make-profile.ts';
import { AIR_PRESSURES } from '../support/random-air.ts';
import { profileOfRainyAir, rainyAir } from '../support/random-grid-air.ts';
import { SAMPLE, SAMPLE_PLACE } from '../support/sounding-sample.ts';
import { type PlainSounding, writeIgra, writeTemp } from '../support/sounding-writer.ts';

const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: 150, cellCount: 44 });
const settings = makeSettings(axis.cellCount);
const diagnose = (profile: Profile) => diagnoseColumns(weatherColumnsFromProfiles([profile], axis), settings);

/** Arrays of a profile with one value a level. */
const BY_LEVEL = [
  'geopotentialHeightM',
  'temperatureK',
  'relativeHumidityRatio',
  'windEastMps',
  'windNorthMps',
  'verticalVelocityPaPerS',
  'condensateKgPerKg',
  'cloudFractionRatio',
  'rainKgPerKg',
] as const;

/** The profile with levels put in: `places` are fractional indexes of levels, `lost` may have no value beside them. */
function withInserted(profile: Profile, places: readonly number[], lost: number): Profile {
  const own = Array.from({ length: profile.levelCount }, (_, level) => level);
  const isWhole = (place: number) => Math.floor(place) !== lost && Math.ceil(place) !== lost;
  const all = [...new Set([...own, ...places.filter(isWhole)])].sort((a, b) => a - b);
  const at = (values: Float64Array, place: number) => {
    const [below, above] = [values[Math.floor(place)]!, values[Math.ceil(place)]!];
    return below + (place % 1) * (above - below);
  };
  const lnPressure = profile.pressurePa.map(Math.log);
  const inserted = Object.fromEntries(
    BY_LEVEL.map((name) => [name, Float64Array.from(all, (place) => at(profile[name]!, place))]),
  );
  const pressurePa = Float64Array.from(all, (place) =>
    Number.isInteger(place) ? profile.pressurePa[place]! : Math.exp(at(lnPressure, place)),
  );
  return { ...profile, ...inserted, levelCount: all.length, pressurePa };
}

/** Relative difference that a last bit of temperature and humidity may make further on. */
const SINGLE_PRECISION = 1e-5;

/** Why two icings differ. */
function differences(one: IcingColumns, other: IcingColumns): string[] {
  const found: string[] = [];
  one.state.forEach((state, cell) => {
    if (other.state[cell] !== state) found.push(`state of cell ${cell}`);
    if (state !== CELL_STATE.known) return;
    for (const name of ICING_AMOUNTS) {
      const [a, b] = [one[name][cell]!, other[name][cell]!];
      if (!(Math.abs(a - b) <= SINGLE_PRECISION * Math.abs(a)))
        found.push(`${name} of cell ${cell}: ${a}, ${b}`);
    }
    for (const name of ICING_CODES) {
      if (one[name][cell] !== other[name][cell]) found.push(`${name} of cell ${cell}`);
    }
  });
  return found;
}

describe('levels put in by linear interpolation in ln p', () => {
  const top = AIR_PRESSURES.length - 1;
  const places = fc.array(even(0, top - 0.001), { minLength: 1, maxLength: 30 });
  const level = fc.integer({ min: 0, max: top });

  it('change no icing, over any ground, beside a level that lost its humidity, with heights or without', () => {
    let icy = 0;
    let unlike = 0;
    const given = fc.record({
      air: rainyAir,
      places,
      lost: level,
      groundM: even(-50, 1500),
      hasHeights: fc.boolean(),
    });
    fc.assert(
      fc.property(given, ({ air, places: at, lost, groundM, hasHeights }) => {
        const profile: Profile = { ...profileOfRainyAir(air), surfaceHeightM: groundM };
        profile.relativeHumidityRatio[lost] = Number.NaN;
        AIR_PRESSURES.forEach((hPa, index) => {
          profile.geopotentialHeightM[index] = 8000 * Math.log(1013 / hPa);
        });
        const more = withInserted(profile, at, lost);
        if (!hasHeights) blankBetween(more, profile);
        const [plain, denser] = [diagnose(profile), diagnose(more)];
        expect(differences(plain, denser)).toEqual([]);
        if (more.levelCount > profile.levelCount) unlike += 1;
        icy += plain.icingProbability.filter((probability) => probability > 0.3).length;
      }),
      { seed: 11, numRuns: 500 },
    );
    expect(icy).toBeGreaterThan(1000);
    expect(unlike).toBeGreaterThan(450);
  });

  it('do change icing when their humidity is 2 % off the line', () => {
    let changed = 0;
    fc.assert(
      fc.property(rainyAir, level, (air, at) => {
        const profile = profileOfRainyAir(air);
        const more = withInserted(profile, [Math.min(top - 1, at) + 0.5], -1);
        more.relativeHumidityRatio[Math.min(top - 1, at) + 1]! += 0.02;
        if (differences(diagnose(profile), diagnose(more)).length > 0) changed += 1;
      }),
      { seed: 12, numRuns: 100 },
    );
    expect(changed).toBeGreaterThan(40);
  });
});

/** Takes the heights of the inserted levels away. */
function blankBetween(more: Profile, own: Profile): void {
  const given = new Set(own.pressurePa);
  more.pressurePa.forEach((pressurePa, index) => {
    if (!given.has(pressurePa)) more.geopotentialHeightM[index] = Number.NaN;
  });
}

/** The sample ascent, its station as each format names it. */
const IGRA_SAMPLE: PlainSounding = { ...SAMPLE, stationId: 'ZZM00000901' };
const colder: PlainSounding = {
  ...IGRA_SAMPLE,
  timeUtc: '2026-01-16T00:00:00Z',
  levels: IGRA_SAMPLE.levels.filter((_, level) => level % 3 !== 1),
};
const icingOf = (sounding: Sounding) => diagnose(profileOfSounding(sounding));
const shuffled = <T>(items: readonly T[]) =>
  fc.shuffledSubarray([...items], { minLength: items.length, maxLength: items.length });

describe('levels in any order', () => {
  const records = Array.from({ length: 40 }, (_, index): LevelRecord => {
    const level = index >> 1;
    const isWind = index % 2 === 1;
    return {
      line: index + 1,
      pressurePa: 100_000 - 3000 * level,
      geopotentialHeightM: isWind ? Number.NaN : 100 + 270 * level,
      temperatureK: isWind ? Number.NaN : 272 - level,
      dewPointK: isWind ? Number.NaN : 271 - level,
      windDirectionDeg: isWind ? 10 * level : Number.NaN,
      windSpeedMps: isWind ? 5 + level : Number.NaN,
    };
  });

  it('become the same ascent, temperature and wind of a pressure told apart or together', () => {
    const inOrder = mergeLevels(records);
    expect(inOrder.levels.levelCount).toBe(20);
    fc.assert(
      fc.property(shuffled(records), (mixed) => {
        expect(mergeLevels(mixed)).toEqual(inOrder);
      }),
      { seed: 13, numRuns: 100 },
    );
  });

  it('of TEMP parts give the same icing', () => {
    const parts = writeTemp(SAMPLE)
      .split('=')
      .map((part) => part.trim())
      .filter((part) => part.length > 0);
    expect(parts.map((part) => part.slice(0, 4))).toEqual(['TTAA', 'TTBB', 'TTCC', 'TTDD']);
    const context = { nearMs: Date.parse(SAMPLE.timeUtc), stations: () => SAMPLE_PLACE };
    const read = (text: readonly string[]) =>
      icingOf(readTemp(`${text.join('=\n')}=\n`, context).soundings[0]!);
    const inOrder = read(parts);
    expect(Math.max(...inOrder.icingProbability.filter((value) => value > 0))).toBeGreaterThan(0.5);
    fc.assert(
      fc.property(shuffled(parts), (mixed) => {
        expect(read(mixed)).toEqual(inOrder);
      }),
      { seed: 14, numRuns: 24 },
    );
  });

  it('of ascents in one IGRA file give each the same icing, whichever comes first', () => {
    const [morning, evening] = [writeIgra(IGRA_SAMPLE), writeIgra(colder)];
    const [first, second] = readIgra(morning + evening).soundings.map(icingOf);
    const [later, earlier] = readIgra(evening + morning).soundings.map(icingOf);
    expect([earlier, later]).toEqual([first, second]);
    expect(differences(first!, second!).length).toBeGreaterThan(0);
  });

  it('but not of records within an IGRA ascent, where a pressure that rises is told and not used', () => {
    const [header, ...lines] = writeIgra(IGRA_SAMPLE).trimEnd().split('\n');
    [lines[5], lines[6]] = [lines[6]!, lines[5]!];
    const [whole, swapped] = [writeIgra(IGRA_SAMPLE), `${[header, ...lines].join('\n')}\n`].map(
      (text) => readIgra(text).soundings[0]!,
    );
    // In its place stands a level without values.
    expect(swapped!.levels.levelCount).toBe(whole!.levels.levelCount);
    const known = (levels: Float64Array) => levels.filter((value) => !Number.isNaN(value)).length;
    expect(known(swapped!.levels.temperatureK)).toBe(known(whole!.levels.temperatureK) - 1);
    expect(swapped!.rejected).toHaveLength(1);
  });
});
