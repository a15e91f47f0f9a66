/**
 * The figures of a TEMP group and what they stand for. Each function gives NaN for slashes (missing) and undefined for
 * figures that the code does not have.
 *
 * @source  WMO-No. 306, Manual on Codes, volume I.1, FM 35 and code tables 0777, 3931.
 */

import { kFromC } from '../../science/units.ts';

export interface TemperatureGroup {
  /** K; NaN where coded missing. */
  readonly temperatureK: number;
  /** K, over liquid water; NaN where coded missing. */
  readonly dewPointK: number;
}

/**
 * TTTDD. The parity of the third figure is the sign: even at or above zero, odd below; the figure also stands for its
 * odd or even neighbor, so the value is known to 0.2 K. DD: 00-50 tenths, 56-99 whole degrees plus 50, 51-55 unused.
 */
export function temperatureGroup(group: string): TemperatureGroup | undefined {
  if (group === '/////') return { temperatureK: Number.NaN, dewPointK: Number.NaN };
  const figures = /^(\d{3})(\d\d|\/\/)$/.exec(group);
  if (figures === null) return undefined;
  const temperatureK = kFromC(signedTenths(figures[1]!) / 10);
  const depressionK = dewPointDepressionK(figures[2]!);
  return depressionK === undefined ? undefined : { temperatureK, dewPointK: temperatureK - depressionK };
}

/** TTT, code table 3931: tenths of a degree with their sign. */
function signedTenths(figures: string): number {
  const tenths = Number(figures);
  return tenths % 2 === 0 ? tenths : -tenths;
}

/** DD, code table 0777, K. */
function dewPointDepressionK(figures: string): number | undefined {
  if (figures === '//') return Number.NaN;
  const code = Number(figures);
  if (code <= 50) return code / 10;
  return code >= 56 ? code - 50 : undefined;
}

export interface WindGroup {
  /** Where the wind comes from, deg; NaN where coded missing. */
  readonly directionDeg: number;
  /** In the report's own unit; NaN where coded missing. */
  readonly speed: number;
}

/** dddff: direction to 5 degrees, the hundreds of the speed added to its last figure. */
export function windGroup(group: string): WindGroup | undefined {
  if (group === '/////') return { directionDeg: Number.NaN, speed: Number.NaN };
  if (!/^\d{5}$/.test(group)) return undefined;
  const ddd = Number(group.slice(0, 3));
  const hundreds = ddd % 5;
  const directionDeg = ddd - hundreds;
  if (directionDeg > 360) return undefined;
  return { directionDeg, speed: Number(group.slice(3)) + 100 * hundreds };
}

/**
 * PPP of a surface, significant, tropopause or wind level, Pa: whole hPa without the thousand (000-099 are 1000-1099),
 * tenths of hPa in the parts above 100 hPa.
 */
export function pressurePa(figures: string, isAbove100HPa: boolean): number | undefined {
  if (figures === '///') return Number.NaN;
  if (!/^\d{3}$/.test(figures)) return undefined;
  const code = Number(figures);
  if (isAbove100HPa) return code * 10;
  return (code < 100 ? code + 1000 : code) * 100;
}

/** A height that the figures may stand for; `isByRule` marks the one that the code's own rule gives. */
export interface HeightChoice {
  readonly heightM: number;
  readonly isByRule: boolean;
}

/**
 * hhh of a standard level: to 700 hPa meters without the thousands, above it decameters without the ten thousands.
 * The rule fits every common height; the neighbors a thousand meters (ten thousand, above 700 hPa) away are offered
 * for the air of deep lows and high stratospheres, to be chosen only where the thickness below asks for them.
 *
 * @returns  choices, the rule's first; empty where coded missing; undefined for anything but figures.
 * @source   WMO-No. 306; the ranges of 1000 and 700 hPa and above 100 hPa from memory.
 */
export function heightChoices(figures: string, standardHPa: number): HeightChoice[] | undefined {
  if (figures === '///') return [];
  if (!/^\d{3}$/.test(figures)) return undefined;
  const ruled = ruledHeightM(Number(figures), standardHPa);
  const choices = [{ heightM: ruled, isByRule: true }];
  if (standardHPa === 1000) return choices;
  const step = standardHPa >= 700 ? 1000 : 10_000;
  for (const heightM of [ruled - step, ruled + step]) {
    if (heightM >= 0) choices.push({ heightM, isByRule: false });
  }
  return choices;
}

function ruledHeightM(code: number, standardHPa: number): number {
  switch (standardHPa) {
    case 1000:
      return code < 500 ? code : 500 - code;
    case 925:
      return code;
    case 850:
      return 1000 + code;
    case 700:
      return (code < 500 ? 3000 : 2000) + code;
    case 500:
    case 400:
    case 300:
      return 10 * code;
    case 250:
      return (code < 500 ? 10_000 : 0) + 10 * code;
    case 200:
    case 150:
    case 100:
    case 70:
      return 10_000 + 10 * code;
    case 50:
    case 10:
      // 50 hPa lies near 20 km and 10 hPa near 30 km: high figures are still below the round number.
      return (code < 500 ? 10_000 : 0) + (standardHPa === 50 ? 10_000 : 20_000) + 10 * code;
    default:
      return 20_000 + 10 * code;
  }
}
