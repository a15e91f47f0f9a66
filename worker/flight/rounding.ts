/**
 * The one rounding of numbers on their way out. Screens and sentences carry what is known (5 minutes, 500 ft, 5 L); the
 * API carries finer figures, rounded all the same so that equal inputs give equal bytes. What screens say is rounded from
 * what the API carries: a sentence written here and a cell written by the page from the answer say the same.
 */
import { AppBug } from '../errors.ts';

/**
 * nearest: to the nearest step. not-zero: the same, but something never becomes nothing. up, down: on screens never less,
 * or never more, than what the API carries.
 */
type Mode = 'nearest' | 'not-zero' | 'up' | 'down';

const QUANTITIES = {
  /** Time of a flight or phase. */
  timeMinutes: { screen: 1, api: 0.1, mode: 'nearest' },
  /** Time in ice, moisture, large drops or unknown air. */
  hazardMinutes: { screen: 5, api: 0.1, mode: 'not-zero' },
  /** The same where it is said as the most there may be. */
  mostMinutes: { screen: 5, api: 0.1, mode: 'up' },
  /** Height above something to stay away from. */
  marginFt: { screen: 500, api: 1, mode: 'down' },
  /** Height of weather: tops, freezing levels. */
  weatherFt: { screen: 500, api: 1, mode: 'nearest' },
  /** Altitudes to fly and minimum altitudes: said as they are. */
  altitudeFt: { screen: 1, api: 1, mode: 'nearest' },
  builtMm: { screen: 1, api: 0.1, mode: 'not-zero' },
  fluidL: { screen: 5, api: 0.1, mode: 'up' },
  /** Left over: never more than there is. */
  spareL: { screen: 5, api: 0.1, mode: 'down' },
  /** As read from the gauge or manual. */
  fluidOnBoardL: { screen: 0.1, api: 0.1, mode: 'nearest' },
  fuelKg: { screen: 5, api: 1, mode: 'nearest' },
  /** Against a limit of the flight manual. */
  indicatedKt: { screen: 1, api: 0.1, mode: 'nearest' },
  speedKt: { screen: 5, api: 1, mode: 'nearest' },
  temperatureC: { screen: 1, api: 0.1, mode: 'nearest' },
  distanceNm: { screen: 1, api: 0.01, mode: 'nearest' },
  courseDeg: { screen: 1, api: 0.1, mode: 'nearest' },
  probability: { screen: 0.05, api: 0.01, mode: 'not-zero' },
  growthMmPerMin: { screen: 0.1, api: 0.01, mode: 'not-zero' },
  catchGPerM2S: { screen: 0.1, api: 0.001, mode: 'not-zero' },
  ratio: { screen: 0.1, api: 0.01, mode: 'nearest' },
} as const satisfies Record<string, { screen: number; api: number; mode: Mode }>;

export type RoundedQuantity = keyof typeof QUANTITIES;

/**
 * @param value  In the unit the quantity's name ends with.
 * @returns      A multiple of the step, without the dust of binary fractions and never -0. Monotone in value.
 * @throws       AppBug for NaN and infinities: unknown must be said by a state before it is rounded.
 */
export function rounded(value: number, quantity: RoundedQuantity, edge: 'screen' | 'api'): number {
  if (!Number.isFinite(value))
    throw new AppBug(`rounding ${quantity}: found ${value}, expected a finite number`);
  const { screen, api, mode } = QUANTITIES[quantity];
  const isKept = (mode === 'not-zero' || mode === 'up') && value > 0;
  const inApi = inSteps(value, api, 'nearest', isKept);
  return edge === 'api' ? inApi : inSteps(inApi, screen, mode, isKept);
}

function inSteps(value: number, step: number, mode: Mode, isKept: boolean): number {
  const count = wholeSteps(value / step, mode);
  return Number(((isKept ? Math.max(1, count) : count) * step).toFixed(6)) + 0;
}

function wholeSteps(count: number, mode: Mode): number {
  if (mode === 'up') return Math.ceil(count - 1e-9);
  return mode === 'down' ? Math.floor(count + 1e-9) : Math.round(count);
}

/** The same for values that may be unknown: NaN gives null, as it stands in JSON. */
export function roundedOrNull(
  value: number,
  quantity: RoundedQuantity,
  edge: 'screen' | 'api',
): number | null {
  return Number.isNaN(value) ? null : rounded(value, quantity, edge);
}
