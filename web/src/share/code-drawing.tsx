/** A link's code as a drawing: dark on white, whatever the theme, so that a camera reads it. */
import type { LinkCode } from './link-code.ts';

interface CodeDrawingProps {
  readonly code: LinkCode;
  /** The class of its place. */
  readonly name: string;
  readonly label: string;
}

export function CodeDrawing({ code, name, label }: CodeDrawingProps) {
  return (
    <svg
      class={name}
      viewBox={`0 0 ${code.modules} ${code.modules}`}
      shape-rendering="crispEdges"
      role="img"
      aria-label={label}
    >
      <rect width={code.modules} height={code.modules} fill="#fff" />
      <path d={code.path} fill="#000" />
    </svg>
  );
}
