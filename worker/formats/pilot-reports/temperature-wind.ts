/** Temperature, /TA, and wind, /WV, with the forms that air-reports give them. */
import { kFromC, mpsFromKt } from '../../science/units.ts';
import type { ReportedWind } from './report.ts';

/** Static air temperatures that no aeroplane meets; beyond them the figures are a typing fault. */
const COLDEST_C = -99;
const WARMEST_C = 60;
/** Faster than any wind measured from an aeroplane. */
const FASTEST_KT = 300;
const MPS_PER_KMH = 1000 / 3600;

/** One value, and the words that are left. */
export interface ReadValue<Value> {
  readonly value: Value | undefined;
  readonly unread: readonly string[];
}

/**
 * `M08`, `-06`, `15`, `+5`, and `MS55` or `PS05` of air-reports: whole degrees Celsius.
 *
 * @returns  K, and the words after the first; undefined for UNKN, other words and values out of -99 to 60 degrees.
 */
export function readTemperature(text: string): ReadValue<number> {
  const words = text.split(' ').filter((word) => word !== '');
  if (words[0] === 'UNKN') return { value: undefined, unread: words.slice(1) };
  const match = /^(M|MS|-|P|PS|\+)?(\d{1,2})C?$/.exec(words[0] ?? '');
  if (match === null) return { value: undefined, unread: words };
  const celsius = Number(match[2]) * (/^[M-]/.test(match[1] ?? '') ? -1 : 1);
  if (celsius < COLDEST_C || celsius > WARMEST_C) return { value: undefined, unread: words };
  return { value: kFromC(celsius + 0), unread: words.slice(1) };
}

/**
 * `24540KT`, `310050`, `292/049KT`: direction the wind blows from, then speed, in knots unless KMH or MPS is written.
 *
 * @param north  the form's: /WV is degrees magnetic (AIM), air-reports are true (ICAO Doc 4444, from memory).
 * @returns      undefined for a direction beyond 360, a speed beyond 300 kt, and other words.
 */
export function readWind(text: string, north: 'magnetic' | 'true'): ReadValue<ReportedWind> {
  const words = text.split(' ').filter((word) => word !== '');
  if (words[0] === 'UNKN') return { value: undefined, unread: words.slice(1) };
  const match = /^(\d{3})\/?(\d{2,3})(KT|KTS|KMH|MPS)?$/.exec(words[0] ?? '');
  const directionDeg = Number(match?.[1] ?? 999);
  const speedMps = Number(match?.[2] ?? 999) * unitMps(match?.[3] ?? 'KT');
  if (directionDeg > 360 || speedMps > mpsFromKt(FASTEST_KT)) return { value: undefined, unread: words };
  return { value: { directionDeg: directionDeg % 360, north, speedMps }, unread: words.slice(1) };
}

function unitMps(unit: string): number {
  if (unit === 'KMH') return MPS_PER_KMH;
  return unit === 'MPS' ? 1 : mpsFromKt(1);
}
