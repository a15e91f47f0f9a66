/** What stands beside the list on a wide display, and over it on a narrow one: a leg with its brief, or one of the board's other parts. */
import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { answerFromState } from './board-state.ts';
import { dataAgeWords, hasInventedData, hearingWords } from './head-words.ts';
import { LatePart } from './late-part.tsx';
import { LegBrief } from './leg-brief.tsx';
import { LegAnswer, LegPanel } from './leg-panel.tsx';
import { utcClock } from './leg-times.ts';
import { LegTitle } from './leg-title.tsx';
import { handoverSheet, networkPlan, notifySwitch, setupPanel } from './parts.ts';
import {
  beside,
  boardState,
  flights,
  flightsById,
  hearing,
  link,
  nowMs,
  type Part as PartKind,
  person,
} from './store.ts';
import { openBeside } from './view-address.ts';
import { isWide } from './wide.ts';

export function BesidePane({ boardId }: { readonly boardId: string }) {
  const now = beside.value;
  const close = useRef<HTMLButtonElement>(null);
  const isOpen = now !== undefined;
  useEffect(() => {
    if (isOpen && !isWide.peek()) close.current?.focus();
  }, [isOpen]);
  if (now === undefined) return null;
  return (
    <aside class="beside" aria-label={now.kind === 'leg' ? 'The leg and its brief' : 'Of the board'}>
      <div class="beside-bar">
        <button ref={close} type="button" class="beside-back" onClick={() => openBeside(undefined)}>
          {isWide.value ? 'Close' : '← All legs'}
        </button>
        {now.kind === 'leg' && <LegTitle flight={flightsById.value.get(now.id)} />}
      </div>
      {!isWide.value && <StateLine />}
      <div class={`beside-body beside-${now.kind}`}>
        {now.kind === 'leg' ? (
          <Leg id={now.id} boardId={boardId} />
        ) : (
          <Part kind={now.kind} boardId={boardId} />
        )}
      </div>
    </aside>
  );
}

/** Where the list is covered its head is too: what time it is, whether this is heard of, and how old the data are. */
function StateLine() {
  const now = nowMs.value;
  const parts = [`${utcClock(now)} UTC`, hearingWords(hearing.value), dataAgeWords(flights.value, now)];
  if (boardState.value?.board.standsAtUtc !== null) parts.push('training');
  if (hasInventedData(flights.value)) parts.push('invented data');
  return <p class="beside-state">{parts.join(' · ')}</p>;
}

/** Where there is no room for both. */
const SIDES = { brief: 'Brief', panel: 'Marks, share, aeroplane' } as const;

function Leg({ id, boardId }: { readonly id: string; readonly boardId: string }) {
  const side = useSignal<keyof typeof SIDES>('brief');
  const flight = flightsById.value.get(id);
  if (flight === undefined)
    return (
      <p class="beside-none">This leg is not on the board: removed from the schedule, or of another day.</p>
    );
  return (
    <>
      <LegAnswer flight={flight} />
      <fieldset class="leg-sides">
        <legend class="for-ears">Of the leg</legend>
        {(['brief', 'panel'] as const).map((each) => (
          <button
            key={each}
            type="button"
            aria-pressed={side.value === each}
            onClick={() => (side.value = each)}
          >
            {SIDES[each]}
          </button>
        ))}
      </fieldset>
      <div class={`leg-both leg-shows-${side.value}`}>
        <LegPanel key={`panel ${id}`} flight={flight} />
        <LegBrief key={`brief ${id}`} flight={flight} boardId={boardId} />
      </div>
    </>
  );
}

interface PartProps {
  readonly kind: PartKind;
  readonly boardId: string;
}

function Part({ kind, boardId }: PartProps) {
  const state = boardState.value!;
  if (kind === 'network')
    return (
      <LatePart
        key={kind}
        part={networkPlan}
        name="Plan of the network"
        props={{
          flights: flights.value,
          selectedId: undefined,
          onSelect: (id: string) => openBeside({ kind: 'leg', id }),
        }}
      />
    );
  if (kind === 'handover')
    return (
      <LatePart
        key={kind}
        part={handoverSheet}
        name="Handover"
        props={{ board: answerFromState(state, flights.value, nowMs.value) }}
      />
    );
  if (kind === 'notify')
    return (
      <LatePart
        key={kind}
        part={notifySwitch}
        name="Messages to this device"
        props={{ boardId, boardKey: link.value!.key, person: person.value }}
      />
    );
  return (
    <LatePart
      key={kind}
      part={setupPanel}
      name="Schedule and links"
      props={{ boardId, boardKey: link.value!.key, access: state.access, timeZone: state.board.timeZone }}
    />
  );
}
