/** Moving the plan of the network: nearer and further by buttons, aside by dragging, a touch chooses. */
import { useRef } from 'preact/hooks';
import { type DrawnLine, lineAt, type Px } from './lines.ts';
import { moved, type Size, type View, WHOLE, ZOOM_STEP, zoomed } from './network-frame.ts';
import type { PairLine } from './pairs.ts';

/** A finger is no finer. */
const REACH_PX = 22;
/** What moves less is a touch. */
const STILL_PX = 6;

interface ViewProps {
  readonly view: View;
  readonly setView: (view: View) => void;
  readonly size: Size;
}

export function ViewButtons({ view, setView, size }: ViewProps) {
  return (
    <div class="network-buttons">
      <button type="button" aria-label="Zoom in" onClick={() => setView(zoomed(view, ZOOM_STEP, size))}>
        +
      </button>
      <button
        type="button"
        aria-label="Zoom out"
        disabled={view.k === 1}
        onClick={() => setView(zoomed(view, 1 / ZOOM_STEP, size))}
      >
        −
      </button>
      {view.k > 1 && (
        <button type="button" onClick={() => setView(WHOLE)}>
          Whole
        </button>
      )}
    </div>
  );
}

interface HandProps extends ViewProps {
  readonly lines: readonly DrawnLine[];
  readonly onPair: (pair: PairLine) => void;
}

/** Handlers of the element that holds the drawing. */
export function useHand({ lines, view, setView, size, onPair }: HandProps) {
  const down = useRef<{ readonly at: Px; readonly view: View; readonly isDrag: boolean }>(undefined);
  return {
    onPointerDown: (event: PointerEvent) => {
      down.current = { at: [event.clientX, event.clientY], view, isDrag: false };
    },
    onPointerMove: (event: PointerEvent) => {
      const start = down.current;
      if (start === undefined || event.buttons === 0) return;
      const [byX, byY] = [event.clientX - start.at[0], event.clientY - start.at[1]];
      if (!start.isDrag && Math.hypot(byX, byY) < STILL_PX) return;
      down.current = { ...start, isDrag: true };
      if (start.view.k > 1) setView(moved(start.view, byX, byY, size));
    },
    onClick: (event: MouseEvent) => {
      if (down.current?.isDrag === true) return;
      const box = (event.currentTarget as Element).getBoundingClientRect();
      const point: Px = [event.clientX - box.left, event.clientY - box.top];
      const line = lineAt(lines, point, view, REACH_PX);
      if (line) onPair(line.pair);
    },
  };
}
