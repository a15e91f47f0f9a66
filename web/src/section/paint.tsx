/** The paints of the sheet, used by every drawing on it, and the one element that applies them. */
import { type Look, patternsOf } from '../look.ts';

/** Defines the patterns once for the whole page. Kept in the layout with no size: hidden patterns do not paint. */
export function PatternSheet() {
  return (
    <svg class="pattern-sheet" width="0" height="0" aria-hidden="true" focusable="false">
      <defs>
        <pattern
          id="paint-unknown"
          width="9"
          height="9"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <rect width="9" height="9" class="unknown-ground" />
          <path d="M0 0V9" class="unknown-line" />
        </pattern>
        <pattern id="paint-possible" width="7" height="7" patternUnits="userSpaceOnUse">
          <rect y="2.5" width="7" height="4.5" class="fill-paper ruling" />
        </pattern>
        <pattern id="paint-likely" width="7" height="7" patternUnits="userSpaceOnUse">
          <rect y="5" width="7" height="2" class="fill-paper ruling" />
        </pattern>
        <pattern id="paint-large-drops" width="11" height="11" patternUnits="userSpaceOnUse">
          <circle cx="3" cy="3" r="1.9" class="drop-dot" />
          <circle cx="8.5" cy="8.5" r="1.9" class="drop-dot" />
        </pattern>
        <pattern
          id="paint-warning"
          width="14"
          height="14"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(-45)"
        >
          <path d="M0 0V14" class="warning-line" />
        </pattern>
      </defs>
    </svg>
  );
}

const PATTERNS: ReadonlySet<string> = new Set([
  'paint-unknown',
  'paint-possible',
  'paint-likely',
  'paint-large-drops',
]);

interface PaintedProps {
  readonly d: string;
  readonly look: Look;
  readonly featureId?: string;
}

/** One area with all its paints; carries the feature's identity when it draws one. */
export function Painted({ d, look, featureId }: PaintedProps) {
  return (
    <g
      class="painted"
      data-look={look.kind}
      {...(featureId === undefined ? {} : { 'data-feature-id': featureId })}
    >
      {patternsOf(look).map((paint) =>
        PATTERNS.has(paint) ? (
          <path key={paint} d={d} fill={`url(#${paint})`} />
        ) : (
          <path key={paint} d={d} class={paint.replace('paint-', 'fill-')} />
        ),
      )}
    </g>
  );
}

export function rectPath(left: number, top: number, right: number, bottom: number): string {
  return `M${left} ${top}H${right}V${bottom}H${left}Z`;
}
