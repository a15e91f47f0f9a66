/** What the plan of the network says in words: what its lines mean, what is chosen, what could not be drawn. */
import { useState } from 'preact/hooks';
import type { BoardFlight } from '../../../../worker/schema/board.ts';
import { VERDICTS_GRAVEST_FIRST } from '../../../../worker/schema/board-order.ts';
import { VerdictShape } from '../../answer/verdict-shape.tsx';
import { instantText } from '../../numbers.ts';
import { VERDICT_WORDS } from '../../words.ts';
import { VerdictLine } from './network-drawing.tsx';
import type { PairLine } from './pairs.ts';

/** More than these are said as a number: nobody reads a thousand names under a plan. */
const MOST_NAMED = 24;

export interface Selecting {
  readonly selectedId: string | undefined;
  readonly onSelect: (id: string) => void;
}

export function flightsWords(count: number): string {
  return count === 1 ? '1 flight' : `${count} flights`;
}

export function NetworkLegend({ pairs }: { readonly pairs: readonly PairLine[] }) {
  const flights = pairs.flatMap((pair) => pair.flights);
  return (
    <ul class="network-legend" aria-label="What the lines mean">
      {VERDICTS_GRAVEST_FIRST.map((code) => (
        <li key={code}>
          <svg width="64" height="18" viewBox="0 0 64 18" aria-hidden="true">
            <VerdictLine code={code} d="M2 9H62" />
          </svg>
          <VerdictShape code={code} sizePx={18} />
          <span>
            {VERDICT_WORDS[code]}: {flightsWords(flights.filter(({ verdict }) => verdict === code).length)}
          </span>
        </li>
      ))}
    </ul>
  );
}

/** All flights of the line that is chosen. */
export function ChosenPair({ pair, ...selecting }: Selecting & { readonly pair: PairLine }) {
  const verdict = VERDICT_WORDS[pair.verdict].toLowerCase();
  return (
    <div class="network-chosen">
      <p>
        <b>
          {pair.from}–{pair.to}
        </b>
        : {flightsWords(pair.flights.length)}
        {pair.flights.length > 1 && `, the gravest ${verdict}`}
      </p>
      <FlightButtons flights={pair.flights} {...selecting} />
    </div>
  );
}

/** Missing is not clear: a flight without a line is named. */
export function Undrawn({ flights, ...selecting }: Selecting & { readonly flights: readonly BoardFlight[] }) {
  if (flights.length === 0) return null;
  const left = flights.length - MOST_NAMED;
  return (
    <div class="network-undrawn">
      <p>
        <b>Not drawn: {flightsWords(flights.length)} without a route worked out.</b> Of{' '}
        {flights.length === 1 ? 'it' : 'them'} nothing is seen above.
      </p>
      <FlightButtons flights={flights.slice(0, MOST_NAMED)} {...selecting} />
      {left > 0 && <p class="quiet">and {left} more: see the list</p>}
    </div>
  );
}

export function FlightButtons({
  flights,
  selectedId,
  onSelect,
}: Selecting & { readonly flights: readonly BoardFlight[] }) {
  return (
    <ul class="network-flights">
      {flights.map(({ id, label, from, to, departureUtc, verdict }) => (
        <li key={id}>
          <button type="button" aria-pressed={id === selectedId} onClick={() => onSelect(id)}>
            <VerdictShape code={verdict} sizePx={16} />
            <span>
              {label} {from}–{to}, {instantText(departureUtc)}, {VERDICT_WORDS[verdict].toLowerCase()}
            </span>
          </button>
        </li>
      ))}
    </ul>
  );
}

/** The lines again as a list, for the keyboard and for ears; made when it is opened. */
export function PairList({ pairs, selectedId, onPair }: PairListProps) {
  const [isOpen, setOpen] = useState(false);
  return (
    <details class="network-list" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>The lines as a list</summary>
      {isOpen && (
        <ul class="network-flights">
          {pairs.map((pair) => (
            <li key={pair.key}>
              <button
                type="button"
                aria-pressed={pair.flights.some(({ id }) => id === selectedId)}
                onClick={() => onPair(pair)}
              >
                <VerdictShape code={pair.verdict} sizePx={16} />
                <span>
                  {pair.from}–{pair.to}, {flightsWords(pair.flights.length)},{' '}
                  {VERDICT_WORDS[pair.verdict].toLowerCase()}
                </span>
              </button>
            </li>
          ))}
        </ul>
      )}
    </details>
  );
}

interface PairListProps {
  readonly pairs: readonly PairLine[];
  readonly selectedId: string | undefined;
  readonly onPair: (pair: PairLine) => void;
}
