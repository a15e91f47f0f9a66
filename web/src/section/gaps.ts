/** What is left over along the leg, and what is covered in one piece. */

/** Stretches of the leg that no part covers. */
export function gapsNm(
  parts: readonly { readonly fromNm: number; readonly toNm: number }[],
  lengthNm: number,
): { fromNm: number; toNm: number }[] {
  const gaps = [];
  let reachedNm = 0;
  for (const part of [...parts].sort((a, b) => a.fromNm - b.fromNm)) {
    if (part.fromNm > reachedNm + 0.01) gaps.push({ fromNm: reachedNm, toNm: part.fromNm });
    reachedNm = Math.max(reachedNm, part.toNm);
  }
  if (lengthNm > reachedNm + 0.01) gaps.push({ fromNm: reachedNm, toNm: lengthNm });
  return gaps;
}

/** Two ends this near are one place, NM. */
const TOUCH_NM = 0.02;

/** Parts that touch, as one; in order. */
export function joinedNm(
  parts: readonly { readonly fromNm: number; readonly toNm: number }[],
  touchNm = TOUCH_NM,
): { fromNm: number; toNm: number }[] {
  const joined: { fromNm: number; toNm: number }[] = [];
  for (const { fromNm, toNm } of [...parts].sort((a, b) => a.fromNm - b.fromNm)) {
    const last = joined.at(-1);
    if (last !== undefined && fromNm <= last.toNm + touchNm) last.toNm = Math.max(last.toNm, toNm);
    else joined.push({ fromNm, toNm });
  }
  return joined;
}
