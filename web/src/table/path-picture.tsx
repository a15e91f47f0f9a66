/** The path of a candidate as a thin strip along the leg, in the section's own paints. */
import type { Candidate, CurtainAnswer } from '../contract.ts';
import { Painted, rectPath } from '../section/paint.tsx';
import { pathPieces } from './path-pieces.ts';

interface PathPictureProps {
  readonly curtain: CurtainAnswer;
  readonly flownFt: NonNullable<Candidate['flownFt']>;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The patterns of the section are made for large areas. */
const PATTERN_SCALE = 0.6;

/** Drawing only: the minutes stand beside it. */
export function PathPicture({ curtain, flownFt, widthPx, heightPx }: PathPictureProps) {
  const lengthNm = curtain.distanceNm.at(-1) ?? 1;
  const x = (nm: number) => ((nm / lengthNm) * widthPx) / PATTERN_SCALE;
  return (
    <svg
      class="path-picture"
      width={widthPx}
      height={heightPx}
      viewBox={`0 0 ${widthPx} ${heightPx}`}
      aria-hidden="true"
    >
      <g shape-rendering="crispEdges" transform={`scale(${PATTERN_SCALE})`}>
        {pathPieces(curtain, flownFt).map(({ fromNm, toNm, look }) => (
          <Painted key={fromNm} look={look} d={rectPath(x(fromNm), 0, x(toNm), heightPx / PATTERN_SCALE)} />
        ))}
      </g>
      <path class="path-picture-edge" d={rectPath(0.5, 0.5, widthPx - 0.5, heightPx - 0.5)} />
    </svg>
  );
}
