/** Draws: their margins are the probabilities they come from, they are the same every time, and errors widen their sums. */
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CELL_STATE, type DiagnosisSettings, INTENSITY } from '../../worker/science/columns.ts';
import { diagnoseSources } from '../../worker/science/diagnose-columns.ts';
import { drawIcing } from '../../worker/science/draw-icing.ts';
import { type DrawnIcing, intensityOfMark, MARK } from '../../worker/science/drawn-icing.ts';
import { type ErrorSpread, forecastErrors, NO_ERROR } from '../../worker/science/error-spreads.ts';
import { EXACT, listPointSources, ownSources } from '../../worker/science/point-sources.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { alongPoints, makeProfile, makeSettings } from '../support/make-profile.ts';

const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: 150, cellCount: 40 });
const POINTS = 30;
const SPACING_M = 9000;
const HOUR_MS = 3_600_000;

/** A deck at 850-750 hPa, -8 to -13 degC, of this humidity in per cent; dry above and below. */
function deck(humidityPct: number, warmerK = 0) {
  return makeProfile({
    temperatureC: (hPa) => -52 * Math.log(1000 / hPa) + warmerK,
    relativeHumidityPct: alongPoints([
      [1000, 40],
      [860, 40],
      [850, humidityPct],
      [750, humidityPct],
      [740, 20],
      [300, 10],
    ]),
  });
}

interface Flown {
  readonly humidityPct?: number;
  readonly errors?: ErrorSpread;
  readonly settings?: Partial<DiagnosisSettings>;
  readonly warmerK?: number;
}

/** The same deck along the route, of one forecast with these errors. */
function flown({ humidityPct = 96, errors = NO_ERROR, warmerK = 0 }: Flown) {
  const profiles = Array.from({ length: POINTS }, () => deck(humidityPct, warmerK));
  const weather = weatherColumnsFromProfiles(profiles, axis);
  const sources = listPointSources({ pointCount: POINTS, sourceCount: POINTS }, (point, source) =>
    point === source ? { ...EXACT, errors } : undefined,
  );
  const settings = makeSettings(axis.cellCount);
  const diagnosed = diagnoseSources(weather, sources, settings);
  const drawn = drawIcing({
    columns: { weather, evidence: diagnosed.evidence },
    sources,
    pooled: diagnosed,
    settings,
    distanceM: Float64Array.from({ length: POINTS }, (_, point) => point * SPACING_M),
  });
  return { ...diagnosed, drawn };
}

const cellAt = (hPa: number) => axis.edgePressurePa.findIndex((pressurePa) => pressurePa < hPa * 100) - 1;
const MIDDLE = cellAt(800);

/** Part of all draws over all points with a mark in one cell. */
function shareMarked(drawn: DrawnIcing, cell: number, mark: number): number {
  let count = 0;
  for (let point = 0; point < POINTS; point += 1) {
    const first = (point * axis.cellCount + cell) * drawn.drawCount;
    for (let draw = 0; draw < drawn.drawCount; draw += 1) {
      if ((drawn.marks[first + draw]! & mark) !== 0) count += 1;
    }
  }
  return count / (POINTS * drawn.drawCount);
}

/** Minutes of ice of each draw at one cell, 2 min a point; sorted. */
function icyPoints(drawn: DrawnIcing, cell: number): number[] {
  return Array.from({ length: drawn.drawCount }, (_, draw) => {
    let count = 0;
    for (let point = 0; point < POINTS; point += 1) {
      const mark = drawn.marks[(point * axis.cellCount + cell) * drawn.drawCount + draw]!;
      if ((mark & MARK.ice) !== 0) count += 1;
    }
    return count;
  }).sort((a, b) => a - b);
}

describe('drawIcing', () => {
  it.each([90, 94, 96, 100])('marks ice as often as the probability says, humidity %i %%', (humidityPct) => {
    const { icing, drawn } = flown({ humidityPct });
    const probability = icing.icingProbability[MIDDLE]!;
    expect(probability).toBeGreaterThan(0.05);
    expect(Math.abs(shareMarked(drawn, MIDDLE, MARK.ice) - probability)).toBeLessThan(0.04);
    const cloud = icing.cloudProbability[MIDDLE]!;
    expect(Math.abs(shareMarked(drawn, MIDDLE, MARK.moist) - cloud)).toBeLessThan(0.04);
  });

  it('does so too where humidity and temperature are uncertain, places being certain', () => {
    const errors = { ...forecastErrors(24 * HOUR_MS), heightM: 0, placeM: 0 };
    const { icing, drawn } = flown({ humidityPct: 90, errors });
    const probability = icing.icingProbability[MIDDLE]!;
    expect(Math.abs(shareMarked(drawn, MIDDLE, MARK.ice) - probability)).toBeLessThan(0.06);
  });

  it('gives the same draws for the same air', () => {
    const errors = forecastErrors(12 * HOUR_MS);
    const [a, b] = [flown({ errors }).drawn, flown({ errors }).drawn];
    expect(a.marks).toEqual(b.marks);
    expect(a.growthMps).toEqual(b.growthMps);
  });

  it('spreads the time in ice wider with smooth errors than with patches alone, about the same mean', () => {
    const patchy = icyPoints(flown({ humidityPct: 95 }).drawn, MIDDLE);
    const errors = { ...NO_ERROR, humidityRatio: 0.17 };
    const smooth = icyPoints(flown({ humidityPct: 95, errors }).drawn, MIDDLE);
    const spread = (counts: number[]) => counts[57]! - counts[6]!;
    const mean = (counts: number[]) => counts.reduce((sum, each) => sum + each, 0) / counts.length;
    expect(spread(smooth)).toBeGreaterThan(1.5 * spread(patchy));
    expect(Math.abs(mean(smooth) - mean(patchy))).toBeLessThan(3);
  });

  it('grows ice at the pooled rate when nothing but the patches is uncertain', () => {
    const { icing, drawn } = flown({ humidityPct: 99 });
    const first = MIDDLE * drawn.drawCount;
    const icy = Array.from({ length: drawn.drawCount }, (_, draw) => first + draw).filter(
      (at) => (drawn.marks[at]! & MARK.ice) !== 0,
    );
    expect(icy.length).toBeGreaterThan(20);
    for (const at of icy) {
      expect(drawn.growthMps[at]! / icing.wingGrowthMps[MIDDLE]!).toBeCloseTo(1, 5);
      expect(drawn.catchKgPerM2S[at]! / icing.wingCatchKgPerM2S[MIDDLE]!).toBeCloseTo(1, 5);
      expect(intensityOfMark(drawn.marks[at]!)).toBe(icing.intensity[MIDDLE]);
    }
  });

  it('gives severe only a part of light, and both none over dry air far from the deck', () => {
    const { drawn } = flown({ humidityPct: 99, errors: forecastErrors(24 * HOUR_MS) });
    const { trace, light, moderate, severe } = drawn.probabilityAtLeast;
    expect(trace[MIDDLE]!).toBeGreaterThanOrEqual(light[MIDDLE]!);
    expect(light[MIDDLE]!).toBeGreaterThan(moderate[MIDDLE]!);
    expect(moderate[MIDDLE]!).toBeGreaterThanOrEqual(severe[MIDDLE]!);
    expect(trace[cellAt(550)]).toBeLessThan(0.05);
  });

  it('carries a chance of ice some cells over the top when heights are uncertain, none when they are not', () => {
    const justOver = cellAt(728);
    const exact = flown({ humidityPct: 100 });
    const shifted = flown({ humidityPct: 100, errors: { ...NO_ERROR, heightM: 400 } });
    expect(exact.drawn.probabilityAtLeast.trace[justOver]).toBeLessThan(0.02);
    expect(shifted.drawn.probabilityAtLeast.trace[justOver]).toBeGreaterThan(0.1);
  });

  it('leaves a cell that is not known without marks and without a probability', () => {
    const profile = deck(99);
    profile.relativeHumidityRatio[8] = Number.NaN;
    const weather = weatherColumnsFromProfiles([profile], axis);
    const sources = ownSources(1);
    const settings = makeSettings(axis.cellCount);
    const pooled = diagnoseSources(weather, sources, settings);
    const drawn = drawIcing({
      columns: { weather, evidence: pooled.evidence },
      sources,
      pooled,
      settings,
      distanceM: Float64Array.of(0),
    });
    const unknown = [...pooled.icing.state.keys()].filter(
      (cell) => pooled.icing.state[cell] !== CELL_STATE.known,
    );
    expect(unknown.length).toBeGreaterThan(0);
    for (const cell of unknown) {
      expect(drawn.probabilityAtLeast.trace[cell]).toBeNaN();
      expect(drawn.marks.subarray(cell * 64, cell * 64 + 64).every((mark) => mark === 0)).toBe(true);
    }
  });

  it('freezes nothing in air so warm that no error makes it cold', () => {
    const { drawn } = flown({ humidityPct: 100, warmerK: 30, errors: { ...NO_ERROR, temperatureK: 1 } });
    expect(drawn.marks.every((mark) => intensityOfMark(mark) === INTENSITY.none)).toBe(true);
  });
});
