/** How forecasts did: tops of the last day around the leg, and the running comparison with all reports. */

import { getSkill } from '../../../worker/schema/calls-reports.ts';
import type { SkillAnswer } from '../../../worker/schema/skill.ts';
import type { Answer } from '../client/answer.ts';
import { call } from '../client/call.ts';
import type { Brief } from '../contract.ts';

const TIMEOUT_MS = 15_000;
/** So far beside the leg tops still tell of its air (judgement). */
const BESIDE_DEG = 2;

/** @param beforeMs  Tops reported in the day before this instant. */
export function askTops(
  { bbox }: Pick<Brief, 'bbox'>,
  beforeMs: number,
  signal: AbortSignal,
): Promise<Answer<SkillAnswer>> {
  const box = boxAround(bbox).map((deg) => deg.toFixed(2));
  const query = { parts: 'tops', beforeUtc: new Date(beforeMs).toISOString(), bbox: box.join(',') };
  return call(getSkill, { query }, { signal, timeoutMs: TIMEOUT_MS });
}

/** Of all reports: the same whatever the leg. */
export function askSkill(signal?: AbortSignal): Promise<Answer<SkillAnswer>> {
  return call(getSkill, { query: { parts: 'skill' } }, { signal, timeoutMs: TIMEOUT_MS });
}

/** Hundredths of degrees, outward. West may come to exceed east, as a box over the antimeridian has it. */
export function boxAround(bbox: readonly number[]): [number, number, number, number] {
  const [west = -180, south = -90, east = 180, north = 90] = bbox;
  const isAround = (east >= west ? east - west : east - west + 360) + 2 * BESIDE_DEG >= 360;
  const wrapped = (deg: number) => (deg > 180 ? deg - 360 : deg < -180 ? deg + 360 : deg);
  return [
    isAround ? -180 : outward(wrapped(west - BESIDE_DEG), Math.floor),
    Math.max(-90, outward(south - BESIDE_DEG, Math.floor)),
    isAround ? 180 : outward(wrapped(east + BESIDE_DEG), Math.ceil),
    Math.min(90, outward(north + BESIDE_DEG, Math.ceil)),
  ];
}

/** To a hundredth, which the service takes; the dust of binary fractions is none. */
function outward(deg: number, rounding: (value: number) => number): number {
  return rounding(Number((deg * 100).toFixed(6))) / 100;
}
