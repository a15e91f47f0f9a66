/** Sources pooled at a point: shares of weight are all that counts, and no result leaves what the sources span. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CELL_STATE, type IcingColumns } from '../../worker/science/columns.ts';
import type { DiagnosedSources } from '../../worker/science/diagnose-columns.ts';
import { ICING_AMOUNTS, ICING_CODES } from '../../worker/science/icing-columns.ts';
import { even } from '../support/even-numbers.ts';
import { makeProfile } from '../support/make-profile.ts';
import { pooledAtPoint, type SourceOverPoint, weighed } from '../support/pool-point.ts';
import { anyProfile, sourceErrors } from '../support/random-sources.ts';

const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: 150, cellCount: 44 });
/** Of numbers that are kept in single precision. */
const SINGLE = 3e-7;

const whole = fc
  .record({ profile: anyProfile, weight: even(0.05, 3), errors: sourceErrors })
  .map(({ profile: air, weight, errors: spread }) => ({ profile: air, worth: weighed(weight, spread) }));
/** Some levels lost their humidity. */
const holed = fc
  .record({ source: whole, holes: fc.array(fc.integer({ min: 0, max: 32 }), { maxLength: 3 }) })
  .map(({ source, holes }) => {
    for (const level of holes) source.profile.relativeHumidityRatio[level] = Number.NaN;
    return source;
  });
const several = (source: fc.Arbitrary<SourceOverPoint>) => fc.array(source, { minLength: 1, maxLength: 4 });

const reweighed = (source: SourceOverPoint, factor: number): SourceOverPoint => ({
  ...source,
  worth: weighed(source.worth.humidity * factor, source.worth.errors),
});

/** Of the pooled air, without condensate: that of the heaviest source's basis. */
const AIR = ['temperatureK', 'relativeHumidityRatio', 'windEastMps', 'verticalVelocityPaPerS'] as const;

/** Where two pooled points differ by more than a part of their values; states and codes by anything. */
function differences(one: DiagnosedSources, other: DiagnosedSources, rounding: number): string[] {
  const found: string[] = [];
  const compare = (name: string, a: Float32Array, b: Float32Array) => {
    const isSame = (value: number, cell: number) =>
      Object.is(value, b[cell]) || Math.abs(value - b[cell]!) <= rounding * Math.abs(value);
    const cell = a.findIndex((value, at) => !isSame(value, at));
    if (cell >= 0) found.push(`${name} of cell ${cell}: ${a[cell]}, ${b[cell]}`);
  };
  for (const name of ICING_AMOUNTS) compare(name, one.icing[name], other.icing[name]);
  for (const name of AIR) compare(name, one.weather[name], other.weather[name]);
  for (const name of [...ICING_CODES, 'state'] as const) {
    if (one.icing[name].some((code, cell) => code !== other.icing[name][cell])) found.push(name);
  }
  return found;
}

const pooled = (sources: readonly SourceOverPoint[]) => pooledAtPoint(sources, axis);

describe('the pooled chance of ice and of cloud', () => {
  it('is the mean of those that know the cell by weight, so between the least and the greatest of them', () => {
    let mixed = 0;
    fc.assert(
      fc.property(several(holed), (sources) => {
        const { icing } = pooled(sources);
        const alone = sources.map(
          (source) => pooled([{ ...source, worth: { ...source.worth, humidity: 1 } }]).icing,
        );
        const expectedMean = (name: 'icingProbability' | 'cloudProbability', cell: number) => {
          const known = [...sources.keys()].filter((each) => alone[each]!.state[cell] === CELL_STATE.known);
          const weight = known.reduce((sum, each) => sum + sources[each]!.worth.humidity, 0);
          return (
            known.reduce((sum, each) => sum + sources[each]!.worth.humidity * alone[each]![name][cell]!, 0) /
            weight
          );
        };
        for (const name of ['icingProbability', 'cloudProbability'] as const) {
          const wrong = [...icing.state.keys()].filter(
            (cell) =>
              icing.state[cell] === CELL_STATE.known &&
              !(Math.abs(icing[name][cell]! - expectedMean(name, cell)) <= SINGLE),
          );
          expect(wrong, name).toEqual([]);
        }
        mixed += countDisagreed(icing, alone);
      }),
      { seed: 18, numRuns: 250 },
    );
    expect(mixed, 'known cells of which sources differ by more than 0.2').toBeGreaterThan(1000);
  });
});

function countDisagreed(icing: IcingColumns, alone: readonly IcingColumns[]): number {
  return icing.state.filter((state, cell) => {
    const chances = alone
      .filter((each) => each.state[cell] === CELL_STATE.known)
      .map((each) => each.icingProbability[cell]!);
    return state === CELL_STATE.known && Math.max(...chances) - Math.min(...chances) > 0.2;
  }).length;
}

describe('a pooled point stays what it is', () => {
  it('when a source of weight 0 is put anywhere among the others', () => {
    fc.assert(
      fc.property(several(holed), holed, fc.nat(4), (sources, silent, at) => {
        const place = at % (sources.length + 1);
        const more = [...sources.slice(0, place), reweighed(silent, 0), ...sources.slice(place)];
        expect(differences(pooled(sources), pooled(more), 0)).toEqual([]);
      }),
      { seed: 19, numRuns: 150 },
    );
  });

  it('when all weights are doubled or made a quarter, to the last bit, and by any factor but for rounding', () => {
    fc.assert(
      fc.property(several(holed), even(0.01, 30), (sources, factor) => {
        const before = pooled(sources);
        const scaledBy = (by: number) => pooled(sources.map((source) => reweighed(source, by)));
        expect(differences(before, scaledBy(2), 0)).toEqual([]);
        expect(differences(before, scaledBy(0.25), 0)).toEqual([]);
        expect(differences(before, scaledBy(factor), SINGLE)).toEqual([]);
      }),
      { seed: 20, numRuns: 150 },
    );
  });

  it('when its sources come in another order', () => {
    fc.assert(
      fc.property(several(holed), fc.nat(3), (sources, by) => {
        const turned = sources.map((_, index) => sources[(index + by) % sources.length]!);
        expect(differences(pooled(sources), pooled(turned), SINGLE)).toEqual([]);
      }),
      { seed: 21, numRuns: 150 },
    );
  });

  it('when a source is split into two of half its weight, while all know their cells', () => {
    fc.assert(
      fc.property(several(whole), fc.nat(3), even(0.05, 0.95), (sources, at, share) => {
        const split = at % sources.length;
        const before = pooled(sources);
        const intoTwo = (part: number) =>
          pooled([
            ...sources.map((source, each) => (each === split ? reweighed(source, 1 - part) : source)),
            reweighed(sources[split]!, part),
          ]);
        expect(differences(before, intoTwo(0.5), SINGLE)).toEqual([]);
        expect(differences(before, intoTwo(share), SINGLE)).toEqual([]);
      }),
      { seed: 22, numRuns: 150 },
    );
  });

  it('but not when weight moves from one source to another', () => {
    let changed = 0;
    fc.assert(
      fc.property(whole, whole, (one, other) => {
        const [before, after] = [pooled([one, other]), pooled([reweighed(one, 1.03), other])];
        if (differences(before, after, SINGLE).length > 0) changed += 1;
      }),
      { seed: 23, numRuns: 50 },
    );
    expect(changed).toBeGreaterThan(45);
  });
});

describe('where a source lacks a value', () => {
  /** Moist air at -8 degC; without humidity when it is not known. */
  const sourceOf = (weight: number, isKnown = true): SourceOverPoint => ({
    profile: makeProfile({ temperatureC: -8, relativeHumidityPct: isKnown ? 97 : Number.NaN }),
    worth: weighed(weight),
  });
  const stateOf = (...sources: SourceOverPoint[]) => pooled(sources).icing.state[10];

  it('splitting is no matter of shares: one heavy source is asked, not two light ones', () => {
    expect(stateOf(sourceOf(1), sourceOf(0.8, false))).toBe(CELL_STATE.known);
    expect(stateOf(sourceOf(0.5), sourceOf(0.5), sourceOf(0.8, false))).toBe(CELL_STATE.quantityMissing);
  });
});
