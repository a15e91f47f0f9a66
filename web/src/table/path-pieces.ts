/** What a candidate flies through from end to end, climb and descent included. */
import type { CurtainAnswer } from '../contract.ts';
import { airOfCell, cellAt, stretchOfPoint } from '../curtain.ts';
import { type Look, lookOf, patternsOf } from '../look.ts';

export interface PathPiece {
  readonly fromNm: number;
  readonly toNm: number;
  readonly look: Look;
}

/** In climb and descent a point's stretch passes several cells. */
const PARTS_PER_STRETCH = 8;

/** Stretches of one look along the path; each point's column reaches half way to its neighbors. */
export function pathPieces(curtain: CurtainAnswer, flownFt: readonly number[]): PathPiece[] {
  const pieces: PathPiece[] = [];
  for (let point = 0; point < curtain.pointCount; point += 1) {
    const { fromNm, toNm } = stretchOfPoint(curtain.distanceNm, point);
    const partNm = (toNm - fromNm) / PARTS_PER_STRETCH;
    for (let part = 0; part < PARTS_PER_STRETCH; part += 1) {
      const startNm = fromNm + part * partNm;
      const overFt = altitudeOverFt(curtain.distanceNm, flownFt, startNm + partNm / 2);
      const look = lookOf(airOfCell(cellAt(curtain, point, overFt)));
      const last = pieces.at(-1);
      if (last !== undefined && isSameLook(last.look, look)) {
        pieces[pieces.length - 1] = { ...last, toNm: startNm + partNm };
      } else pieces.push({ fromNm: startNm, toNm: startNm + partNm, look });
    }
  }
  return pieces;
}

/** Straight between route points; NaN, which is outside every cell, where there is no altitude. */
export function altitudeOverFt(
  distancesNm: readonly number[],
  flownFt: readonly number[],
  nm: number,
): number {
  const next = Math.max(
    1,
    distancesNm.findIndex((distanceNm) => distanceNm >= nm),
  );
  const [fromNm, toNm] = [distancesNm[next - 1] ?? Number.NaN, distancesNm[next] ?? Number.NaN];
  const [fromFt, toFt] = [flownFt[next - 1] ?? Number.NaN, flownFt[next] ?? Number.NaN];
  return fromFt + ((nm - fromNm) / (toNm - fromNm)) * (toFt - fromFt);
}

const isSameLook = (a: Look, b: Look) => patternsOf(a).join() === patternsOf(b).join();
