/** An ascent made up for tests: freezing rain aloft, then ordinary air up to 10 hPa. Heights fit the temperatures. */
import type { PlainLevel, PlainSounding } from './sounding-plain.ts';

const LEVELS: readonly (readonly [number, ...(number | undefined)[]])[] = [
  // hPa, gpm, degC, dew point degC, deg, kt
  [987, 197, -2.1, -3.3, 60, 8],
  [968, undefined, -3.5, -4.1, undefined, undefined],
  [951, undefined, -4.3, -4.8, 70, 14],
  [925, 722, -4.9, -5.4, 80, 19],
  [902, undefined, 0.6, -0.6, undefined, undefined],
  [877, undefined, 2.2, 0.2, 125, 27],
  [850, 1398, 1.2, -1.8, 150, 30],
  [788, undefined, undefined, undefined, 190, 38],
  [743, undefined, -5.5, -9.3, undefined, undefined],
  [700, 2942, -8.1, -14.1, 215, 45],
  [612, undefined, -14.9, -22.9, undefined, undefined],
  [566, undefined, undefined, undefined, 235, 88],
  [500, 5490, -24.3, -35.3, 250, 111],
  [431, undefined, -33.5, -45.5, undefined, undefined],
  [400, 7070, -37.7, -50.7, 255, 124],
  [300, 9010, -52.1, -66.1, 260, 139],
  [262, undefined, -56.9, -70.9, 265, 132],
  [250, 10180, -55.5, -70.5, 265, 120],
  [200, 11600, -54.3, -72.3, 265, 94],
  [150, 13440, -53.1, -74.1, 270, 71],
  [121, undefined, -57.7, -78.7, undefined, undefined],
  [100, 15990, -58.3, -80.3, 270, 52],
  [70, 18220, -57.9, -82.9, 275, 40],
  [58.3, undefined, -60.3, -84.3, 280, 44],
  [50, 20330, -59.1, -85.1, 285, 47],
  [41.2, undefined, -57.3, -86.3, undefined, undefined],
  [30, 23540, -56.7, -87.7, 290, 55],
];

/** Levels in that order; the ground lies at 197 m. */
export const SAMPLE: PlainSounding = {
  stationId: '00901',
  latDeg: 44.47,
  lonDeg: -73.15,
  timeUtc: '2026-01-15T12:00:00Z',
  levels: LEVELS.map(([pressureHPa, ...values]) => plainLevel(pressureHPa, values)),
};

/** Where readers of the sample look its station up. */
export const SAMPLE_PLACE = { latDeg: 44.47, lonDeg: -73.15, elevationM: 197 };

function plainLevel(pressureHPa: number, values: readonly (number | undefined)[]): PlainLevel {
  const names = ['heightM', 'temperatureC', 'dewPointC', 'windDirectionDeg', 'windSpeedKt'] as const;
  const entries = names.flatMap((name, index) =>
    values[index] === undefined ? [] : [[name, values[index]]],
  );
  return { pressureHPa, ...Object.fromEntries(entries) };
}
