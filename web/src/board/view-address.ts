/** What is listed and what stands beside it, in the query of the address: a load, and the way back, find it again. */
import { batch } from '@preact/signals';
import { flightIdSchema } from '../../../worker/schema/board.ts';
import { type Filters, filtersFromQuery, putFilters } from './filters.ts';
import { type Beside, beside, filters, type Part } from './store.ts';

const PARTS: readonly Part[] = ['network', 'handover', 'setup', 'notify'];

/** Takes both from the address, and again whenever the reader goes back or forth. */
export function readView(): void {
  const read = () =>
    batch(() => {
      const query = new URLSearchParams(location.search);
      filters.value = filtersFromQuery(query);
      beside.value = besideFromQuery(query);
    });
  addEventListener('popstate', read);
  read();
}

export function besideFromQuery(query: URLSearchParams): Beside | undefined {
  const { data: id } = flightIdSchema.safeParse(query.get('leg'));
  if (id !== undefined) return { kind: 'leg', id };
  const part = PARTS.find((each) => each === query.get('open'));
  return part === undefined ? undefined : { kind: part };
}

export function chooseFilters(change: Partial<Filters>): void {
  filters.value = { ...filters.peek(), ...change };
  writeAddress('replaceState');
}

/** The first that is opened is a step of the history, so that a phone's way back closes it. */
export function openBeside(next: Beside | undefined): void {
  const isFirst = beside.peek() === undefined && next !== undefined;
  beside.value = next;
  writeAddress(isFirst ? 'pushState' : 'replaceState');
}

function writeAddress(how: 'pushState' | 'replaceState'): void {
  const query = new URLSearchParams(location.search);
  putFilters(query, filters.peek());
  query.delete('leg');
  query.delete('open');
  const now = beside.peek();
  if (now?.kind === 'leg') query.set('leg', now.id);
  else if (now !== undefined) query.set('open', now.kind);
  const text = query.toString();
  history[how](null, '', `${location.pathname}${text === '' ? '' : `?${text}`}`);
}
