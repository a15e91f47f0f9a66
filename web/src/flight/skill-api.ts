/** How forecasts did: tops of the last day around the leg, and the running comparison with all reports. */

import { type SkillAnswer, skillAnswerSchema } from '../../../worker/schema/skill.ts';
import { type Answer, answerOf } from '../api.ts';
import type { Brief } from '../contract.ts';

const TIMEOUT_MS = 15_000;
/** So far beside the leg tops still tell of its air (judgement). */
const BESIDE_DEG = 2;

export interface SkillFound {
  readonly tops: Answer<SkillAnswer>;
  readonly all: Answer<SkillAnswer>;
}

/** @param beforeMs  Reports before this instant count. */
export async function askSkill(
  { bbox }: Pick<Brief, 'bbox'>,
  beforeMs: number,
  signal: AbortSignal,
): Promise<SkillFound> {
  const beforeUtc = new Date(beforeMs).toISOString();
  const ask = (query: string) =>
    answerOf((both) => fetch(`/api/skill?beforeUtc=${beforeUtc}${query}`, { signal: both }), signal, {
      timeoutMs: TIMEOUT_MS,
      schema: skillAnswerSchema,
    });
  const [tops, all] = await Promise.all([ask(`&bbox=${boxAround(bbox).join(',')}`), ask('')]);
  return { tops, all };
}

/** West may come to exceed east, as a box over the antimeridian has it. */
export function boxAround(bbox: readonly number[]): [number, number, number, number] {
  const [west = -180, south = -90, east = 180, north = 90] = bbox;
  const isAround = (east >= west ? east - west : east - west + 360) + 2 * BESIDE_DEG >= 360;
  const wrapped = (deg: number) => (deg > 180 ? deg - 360 : deg < -180 ? deg + 360 : deg);
  return [
    isAround ? -180 : wrapped(west - BESIDE_DEG),
    Math.max(-90, south - BESIDE_DEG),
    isAround ? 180 : wrapped(east + BESIDE_DEG),
    Math.min(90, north + BESIDE_DEG),
  ];
}
