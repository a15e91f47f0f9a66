/** The four verdicts as shapes: open ring, half disc, full disc with a bar through it, hatched square. */
import type { VerdictCode } from '../contract.ts';

interface VerdictShapeProps {
  readonly code: VerdictCode;
  readonly sizePx: number;
}

/** Drawing only: the word always stands beside it. */
export function VerdictShape({ code, sizePx }: VerdictShapeProps) {
  return (
    <svg
      class={`verdict-shape verdict-${code}`}
      data-verdict={code}
      width={sizePx}
      height={sizePx}
      viewBox="0 0 24 24"
      aria-hidden="true"
    >
      {SHAPES[code]()}
    </svg>
  );
}

const SHAPES: Readonly<Record<VerdictCode, () => preact.JSX.Element>> = {
  'no-ice-found': () => <circle cx="12" cy="12" r="9" class="shape-line" />,
  'within-limits': () => (
    <>
      <circle cx="12" cy="12" r="9" class="shape-line" />
      <path d="M3 12a9 9 0 0 0 18 0z" class="shape-full" />
    </>
  ),
  'outside-limits': () => (
    <>
      <circle cx="12" cy="12" r="10" class="shape-full" />
      <path d="M0 12H24" class="shape-bar-gap" />
      <path d="M0 12H24" class="shape-bar" />
    </>
  ),
  unknown: () => (
    <>
      <rect x="2.5" y="2.5" width="19" height="19" class="shape-square" />
      <path
        d="M2.5 9 9 2.5M2.5 15.5 15.5 2.5M2.5 21.5 21.5 2.5M8.5 21.5 21.5 8.5M15 21.5 21.5 15"
        class="shape-hatch"
      />
    </>
  ),
};
