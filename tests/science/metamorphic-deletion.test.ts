/**
 * What is lost makes no cell clear. Vertical motion and cloud fraction lost in a cell count as what endangers most; a whole
 * source that is lost leaves the others to speak for themselves, and its points unknown where no other speaks.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import {
  CELL_STATE,
  type DiagnosisSettings,
  type IcingColumns,
  type Profile,
} from '../../worker/science/columns.ts';
import { diagnoseColumns, diagnoseSources } from '../../worker/science/diagnose-columns.ts';
import { soundingErrors } from '../../worker/science/error-spreads.ts';
import { ICING_AMOUNTS, ICING_CODES } from '../../worker/science/icing-columns.ts';
import { largeDropHazard } from '../../worker/science/large-drops.ts';
import { listPointSources, type SourceAtPoint } from '../../worker/science/point-sources.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { even } from '../support/even-numbers.ts';
import { makeProfile, makeSettings } from '../support/make-profile.ts';
import { pooledAtPoint, weighed } from '../support/pool-point.ts';
import { type DrawnAir, drawnAir, profileOfAir } from '../support/random-air.ts';
import { gridAir, profileOfGridAir } from '../support/random-grid-air.ts';

const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: 150, cellCount: 44 });
const settings: DiagnosisSettings = makeSettings(axis.cellCount);
const ROUNDING = 1 - 1e-6;

const cells = fc.array(fc.integer({ min: 0, max: axis.cellCount - 1 }), { minLength: 1, maxLength: 6 });
const weatherOf = (...profiles: Profile[]) => weatherColumnsFromProfiles(profiles, axis);

const PROBABILITIES = ['cloudProbability', 'icingProbability', 'largeDropProbability'] as const;
const AMOUNTS = ['liquidWaterKgPerM3', 'medianVolumeDiameterM', 'wingCatchKgPerM2S', 'intensity'] as const;

/** Asserts that states are the same and that nothing named falls. @returns in how many cells something rose. */
function expectNoLess(
  before: IcingColumns,
  after: IcingColumns,
  names: readonly ((typeof PROBABILITIES)[number] | (typeof AMOUNTS)[number])[],
): number {
  expect(after.state).toEqual(before.state);
  const falls: string[] = [];
  const risen = new Set<number>();
  before.state.forEach((state, cell) => {
    if (state !== CELL_STATE.known) return;
    for (const name of names) {
      const [was, is] = [before[name][cell]!, after[name][cell]!];
      if (!(is >= was * ROUNDING)) falls.push(`${name} of cell ${cell}: ${was} to ${is}`);
      if (is > was + 1e-9) risen.add(cell);
    }
    const [was, is] = [before, after].map((icing) => largeDropHazard(icing.largeDrops[cell]!));
    if (is! < was!) falls.push(`large drops of cell ${cell}: hazard ${was} to ${is}`);
  });
  expect(falls).toEqual([]);
  return risen.size;
}

describe('lost in single cells of a source that gives it elsewhere', () => {
  const lose = (
    profile: Profile,
    places: readonly number[],
    name: 'verticalVelocityPaPerS' | 'cloudFractionRatio',
  ) => {
    const weather = weatherOf(profile);
    for (const cell of places) weather[name][cell] = Number.NaN;
    return diagnoseColumns(weather, settings);
  };

  it('vertical motion: the cell is taken to be in full lift, and nothing of ice falls', () => {
    let rises = 0;
    fc.assert(
      fc.property(gridAir, cells, (air, places) => {
        const profile = profileOfGridAir(air);
        const before = diagnoseColumns(weatherOf(profile), settings);
        rises += expectNoLess(before, lose(profile, places, 'verticalVelocityPaPerS'), [
          ...PROBABILITIES,
          ...AMOUNTS,
        ]);
      }),
      { seed: 6, numRuns: 300 },
    );
    expect(rises).toBeGreaterThan(250);
  });

  it('cloud fraction: no probability falls', () => {
    let rises = 0;
    fc.assert(
      fc.property(gridAir, cells, (air, places) => {
        const profile = profileOfGridAir(air);
        const before = diagnoseColumns(weatherOf(profile), settings);
        rises += expectNoLess(before, lose(profile, places, 'cloudFractionRatio'), PROBABILITIES);
      }),
      { seed: 7, numRuns: 300 },
    );
    expect(rises).toBeGreaterThan(80);
  });

  it('cloud fraction where condensate alone speaks for cloud, at 10 % humidity: no amount falls either', () => {
    let rises = 0;
    fc.assert(
      fc.property(gridAir, cells, (air, places) => {
        const dry = air.relativeHumidityPct.map(() => 10);
        const profile = profileOfGridAir({ ...air, relativeHumidityPct: dry });
        const before = diagnoseColumns(weatherOf(profile), settings);
        rises += expectNoLess(before, lose(profile, places, 'cloudFractionRatio'), [
          ...PROBABILITIES,
          ...AMOUNTS,
        ]);
      }),
      { seed: 8, numRuns: 300 },
    );
    expect(rises).toBeGreaterThan(80);
  });
});

/** Icing of one point by those of the sources that are kept: the others are gone from the columns too. */
const pointOf = (
  sources: readonly { readonly air: DrawnAir; readonly worth: SourceAtPoint }[],
  isKept: (source: number) => boolean = () => true,
): IcingColumns =>
  pooledAtPoint(
    sources
      .filter((_, source) => isKept(source))
      .map(({ air, worth }) => ({ profile: profileOfAir(air), worth })),
    axis,
  ).icing;

/** Levels without humidity, so that sources do not all know the same cells. */
const withHoles = fc
  .record({
    air: drawnAir,
    holes: fc.array(fc.integer({ min: 0, max: 32 }), { maxLength: 3 }),
    weight: even(0.1, 3),
  })
  .map(({ air, holes, weight }) => ({
    air: {
      ...air,
      relativeHumidityPct: air.relativeHumidityPct.map((percent, level) =>
        holes.includes(level) ? Number.NaN : percent,
      ),
    },
    worth: weighed(weight),
  }));
const severalSources = fc.array(withHoles, { minLength: 2, maxLength: 4 });

describe('a whole source lost', () => {
  const heaviestOf = (sources: readonly { readonly worth: SourceAtPoint }[]) =>
    sources.reduce(
      (best, { worth }, source) => (worth.humidity > sources[best]!.worth.humidity ? source : best),
      0,
    );

  it('leaves what the others say: the same as if its weight were 0', () => {
    fc.assert(
      fc.property(severalSources, (sources) => {
        const lost = heaviestOf(sources);
        const weightless = sources.map((source, index) =>
          index === lost ? { ...source, worth: weighed(0) } : source,
        );
        const [gone, silent] = [pointOf(sources, (source) => source !== lost), pointOf(weightless)];
        for (const name of [...ICING_AMOUNTS, ...ICING_CODES, 'state'] as const) {
          expect(gone[name], name).toEqual(silent[name]);
        }
      }),
      { seed: 9, numRuns: 100 },
    );
  });

  it('makes no cell icier nor clearer than the remaining sources have it, and none known that it knew not', () => {
    let lostCells = 0;
    fc.assert(
      fc.property(severalSources, (sources) => {
        const lost = heaviestOf(sources);
        const alone = sources.map(({ air }) => pointOf([{ air, worth: weighed(1) }]));
        const [before, after] = [pointOf(sources), pointOf(sources, (source) => source !== lost)];
        after.state.forEach((state, cell) => {
          const others = alone.filter(
            (icing, source) => source !== lost && icing.state[cell] === CELL_STATE.known,
          );
          if (state !== CELL_STATE.known) {
            if (before.state[cell] === CELL_STATE.known) lostCells += 1;
            return;
          }
          const chances = others.map((icing) => icing.icingProbability[cell]!);
          expect(after.icingProbability[cell]!).toBeGreaterThanOrEqual(Math.min(...chances) * ROUNDING);
          expect(after.icingProbability[cell]! * ROUNDING).toBeLessThanOrEqual(Math.max(...chances));
          const wasKnown = before.state[cell] === CELL_STATE.known;
          expect(wasKnown || alone[lost]!.state[cell] !== CELL_STATE.known, `cell ${cell}`).toBe(true);
        });
      }),
      { seed: 10, numRuns: 150 },
    );
    expect(lostCells, 'cells that became unknown').toBeGreaterThan(50);
  });

  it('leaves a point without data when no other source speaks there, and another point as it was', () => {
    const weather = weatherOf(makeProfile({ relativeHumidityPct: 100 }), makeProfile());
    const speaking = (speakers: readonly number[]) =>
      diagnoseSources(
        weather,
        listPointSources({ pointCount: 2, sourceCount: 2 }, (point, source) =>
          point === source && speakers.includes(source) ? weighed(1) : undefined,
        ),
        settings,
      ).icing;
    const [both, second] = [speaking([0, 1]), speaking([1])];
    const { cellCount } = axis;
    expect(both.state[10]).toBe(CELL_STATE.known);
    expect(second.state.subarray(0, cellCount).every((state) => state === CELL_STATE.noData)).toBe(true);
    expect(second.icingProbability.subarray(0, cellCount).every(Number.isNaN)).toBe(true);
    expect(second.cloudProbability.subarray(cellCount)).toEqual(both.cloudProbability.subarray(cellCount));
  });

  /** Humidity in per cent of air that is known throughout. */
  const airOf = (humidityPct: number): DrawnAir => ({
    temperatureC: Array.from({ length: 33 }, (_, level) => -4 - level / 2),
    relativeHumidityPct: Array.from({ length: 33 }, () => humidityPct),
    condensateGPerKg: [],
    condensateBasis: 'none',
  });
  const near = { air: airOf(99), worth: weighed(1, soundingErrors(10_000, 0)) };
  const farErrors = soundingErrors(250_000, 3 * 3_600_000);
  const far = { air: airOf(86), worth: weighed(0.05, farErrors) };

  it('lets a far source speak alone, with its own wider errors: drier air than before, yet far from clear', () => {
    const [before, after] = [pointOf([near, far]), pointOf([far])];
    const exact = pointOf([{ ...far, worth: weighed(0.05) }]);
    expect(after.state[10]).toBe(CELL_STATE.known);
    expect(after.cloudProbability[10]!).toBeLessThan(before.cloudProbability[10]!);
    expect(after.cloudProbability[10]!).toBeGreaterThan(4 * exact.cloudProbability[10]!);
    expect(after.cloudProbability[10]!).toBeGreaterThan(0.2);
  });

  it('may make a cell known that a heavier source without a value kept unknown: what is not there has no vote', () => {
    const holed = { ...near, air: airOf(Number.NaN) };
    expect(pointOf([holed, far]).state[10]).toBe(CELL_STATE.quantityMissing);
    expect(pointOf([far]).state[10]).toBe(CELL_STATE.known);
  });
});
