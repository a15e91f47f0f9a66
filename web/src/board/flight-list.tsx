/** The legs, worst first; of a long list only what is on the screen is drawn. Its order never changes under the reader's finger. */
import { useSignal } from '@preact/signals';
import { useLayoutEffect, useRef } from 'preact/hooks';
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { lookAt } from './acts.ts';
import { FlightRow } from './flight-row.tsx';
import { COLUMN_HEADER, gridOf, rowAt } from './grid-roles.ts';
import { heldOrder } from './held-order.ts';
import { isListHeld, useListHold } from './hold-list.ts';
import { drawnRows } from './row-window.ts';
import { beside, boardState, canEdit, filters, flightsById, nowMs, unreadIds, wantedIds } from './store.ts';
import { useRowWindow } from './use-row-window.ts';
import { openBeside } from './view-address.ts';

const COLUMNS = [
  'Verdict',
  'Leg',
  'Departs',
  'File',
  'In ten words, and why',
  'Ice',
  'Fluid',
  'Weather',
  'Last change',
  'Marks',
];

export function FlightList() {
  const list = useRef<HTMLDivElement>(null);
  const rows = useRef<HTMLDivElement>(null);
  const probe = useRef<HTMLDivElement>(null);
  useListHold(rows);
  const { ids, isBehind, changed, orderAnew } = useOrder();
  const { first, end, rowPx } = useRowWindow({ rows, probe }, ids.length);
  const { activeId, activeIndex, onKeyDown, setActive } = useActiveRow(ids, rows, rowPx);
  const byId = flightsById.value;
  const chosen = beside.value;
  const open = (flight: BoardFlight) => {
    setActive(flight.id);
    lookAt(flight);
    openBeside({ kind: 'leg', id: flight.id });
  };
  const behaves = {
    role: 'rowgroup',
    onKeyDown: (event: KeyboardEvent) => onKeyDown(event, (id) => open(byId.get(id)!)),
  } as const;
  return (
    <div class="flight-list" ref={list}>
      {isBehind && (
        <p class="order-anew">
          <button type="button" onClick={orderAnew}>
            {changed === 0 ? 'Order anew' : `${changed} ${changed === 1 ? 'change' : 'changes'}: order anew`}
          </button>
        </p>
      )}
      {ids.length === 0 && <p class="list-empty">No leg is listed.</p>}
      <div {...gridOf('Legs, worst first', ids.length + 1, COLUMNS.length)}>
        <div {...rowAt(1)} class="list-heads">
          {COLUMNS.map((name) => (
            <span key={name} role={COLUMN_HEADER}>
              {name}
            </span>
          ))}
        </div>
        <div ref={rows} class="list-rows" style={{ height: `${ids.length * rowPx}px` }} {...behaves}>
          {drawnRows({ first, end: Math.min(end, ids.length) }, activeIndex).map((index) => {
            const id = ids[index]!;
            return (
              <FlightRow
                key={id}
                id={id}
                index={index}
                topPx={index * rowPx}
                flight={byId.get(id)}
                isActive={id === activeId || (activeIndex < 0 && index === 0)}
                isOpen={chosen?.kind === 'leg' && chosen.id === id}
                isUnread={unreadIds.value.has(id)}
                canEdit={canEdit.value}
                timeZone={boardState.value!.board.timeZone}
                nowMs={nowMs.value}
                onOpen={open}
              />
            );
          })}
        </div>
      </div>
      <div ref={probe} class="row-probe" aria-hidden="true" />
    </div>
  );
}

/** The order that is shown, and how many legs changed since it was made. */
function useOrder() {
  const shown = useRef<readonly string[]>([]);
  const madeSeq = useRef(0);
  const madeFor = useRef<unknown>(undefined);
  const again = useSignal(0);
  const wanted = wantedIds.value;
  // Another filter is asked for by hand: then the list may move.
  const wish = `${again.value} ${JSON.stringify(filters.value)}`;
  const order = heldOrder(shown.current, wanted, isListHeld() && madeFor.current === wish);
  const state = boardState.value!;
  shown.current = order.ids;
  madeFor.current = wish;
  if (!order.isBehind) madeSeq.current = state.seq;
  const changed = order.isBehind
    ? [...state.flights.values()].filter(({ flight }) => flight.seq > madeSeq.current).length
    : 0;
  return { ids: order.ids, isBehind: order.isBehind, changed, orderAnew: () => (again.value += 1) };
}

const STEPS: Readonly<Record<string, number>> = {
  ArrowDown: 1,
  ArrowUp: -1,
  PageDown: 8,
  PageUp: -8,
  Home: Number.NEGATIVE_INFINITY,
  End: Number.POSITIVE_INFINITY,
};

/** The row that the keyboard is at: one stop of the tab key, and the arrows go on from it. */
function useActiveRow(ids: readonly string[], rows: { readonly current: HTMLElement | null }, rowPx: number) {
  const activeId = useSignal<string | undefined>(undefined);
  const wantsFocus = useRef(false);
  const activeIndex = activeId.value === undefined ? -1 : ids.indexOf(activeId.value);
  useLayoutEffect(() => {
    if (!wantsFocus.current) return;
    wantsFocus.current = false;
    const row = rows.current?.querySelector<HTMLElement>('[role="row"][tabindex="0"]');
    row?.focus({ preventScroll: true });
    row?.scrollIntoView({ block: 'nearest' });
  });
  const onKeyDown = (event: KeyboardEvent, open: (id: string) => void) => {
    const isOnRow = event.target instanceof HTMLElement && event.target.role === 'row';
    const step = STEPS[event.key];
    if (step !== undefined && ids.length > 0 && rowPx > 0) {
      event.preventDefault();
      const at = Math.min(ids.length - 1, Math.max(0, Math.max(0, activeIndex) + step));
      wantsFocus.current = true;
      activeId.value = ids[at];
    } else if (isOnRow && (event.key === 'Enter' || event.key === ' ')) {
      event.preventDefault();
      const id = activeId.peek() ?? ids[0];
      if (id !== undefined) open(id);
    }
  };
  return {
    activeId: activeId.value,
    activeIndex,
    onKeyDown,
    setActive: (id: string) => (activeId.value = id),
  };
}
