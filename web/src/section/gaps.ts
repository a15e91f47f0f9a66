/** What is left over along the leg. */

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
