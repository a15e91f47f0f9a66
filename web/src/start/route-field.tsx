/** The route, with the places that the identifier being typed could mean. */
import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { findPlaces, type Place } from '../api.ts';
import { Field } from './field.tsx';
import { wordAtCaret } from './leg-fields.ts';

interface RouteFieldProps {
  readonly value: string;
  readonly onValue: (value: string) => void;
  readonly complaint: string | undefined;
}

const ASK_AFTER_MS = 160;

export function RouteField({ value, onValue, complaint }: RouteFieldProps) {
  const input = useRef<HTMLInputElement>(null);
  const places = useSuggestions();
  const chosen = useSignal(-1);
  const take = (place: Place | undefined) => {
    const field = input.current;
    if (place === undefined || field === null) return;
    const caret = field.selectionStart ?? field.value.length;
    const { start } = wordAtCaret(field.value, caret);
    onValue(`${field.value.slice(0, start)}${place.ident} ${field.value.slice(caret).trimStart()}`);
    places.close();
    field.focus();
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const count = places.found.value.length;
    if (count === 0) return;
    if (event.key === 'ArrowDown') chosen.value = (chosen.value + 1) % count;
    else if (event.key === 'ArrowUp') chosen.value = (chosen.value - 1 + count) % count;
    else if (event.key === 'Enter' && chosen.value >= 0) take(places.found.value[chosen.value]);
    else if (event.key === 'Escape') places.close();
    else return;
    event.preventDefault();
  };
  const isOpen = places.found.value.length > 0;
  return (
    <div class="route-field">
      <Field name="route" label="Route" complaint={complaint}>
        <input
          ref={input}
          id="leg-route"
          name="route"
          type="text"
          role="combobox"
          autocomplete="off"
          autocapitalize="characters"
          spellcheck={false}
          placeholder="KBTV DCT KBGR"
          value={value}
          aria-expanded={isOpen}
          aria-controls="route-places"
          aria-autocomplete="list"
          aria-activedescendant={isOpen && chosen.value >= 0 ? `route-place-${chosen.value}` : undefined}
          aria-invalid={complaint !== undefined}
          aria-describedby={complaint === undefined ? undefined : 'leg-route-complaint'}
          onInput={(event) => {
            chosen.value = -1;
            onValue(event.currentTarget.value);
            places.ask(wordAtCaret(event.currentTarget.value, event.currentTarget.selectionStart ?? 0).word);
          }}
          onKeyDown={onKeyDown}
          onBlur={() => places.close()}
        />
      </Field>
      <div id="route-places" class="places" role="listbox" aria-label="Places" hidden={!isOpen}>
        {places.found.value.map((place, index) => (
          <div
            key={`${place.ident} ${index}`}
            id={`route-place-${index}`}
            role="option"
            tabIndex={-1}
            aria-selected={index === chosen.value}
            onPointerDown={(event) => {
              event.preventDefault();
              take(place);
            }}
          >
            <b>{place.ident}</b> {place.name}
          </div>
        ))}
      </div>
    </div>
  );
}

/** Asks once typing pauses; a newer question drops the older one. A list that cannot be had is simply not offered. */
function useSuggestions() {
  const found = useSignal<readonly Place[]>([]);
  const pending = useRef<{ timer: number; call: AbortController } | undefined>(undefined);
  const close = () => {
    if (pending.current) {
      clearTimeout(pending.current.timer);
      pending.current.call.abort();
    }
    found.value = [];
  };
  const ask = (word: string) => {
    close();
    if (word === '') return;
    const call = new AbortController();
    const timer = window.setTimeout(async () => {
      const answer = await findPlaces(word, call.signal);
      if (answer.kind === 'ok' && !call.signal.aborted) found.value = answer.value.places.slice(0, 8);
    }, ASK_AFTER_MS);
    pending.current = { timer, call };
  };
  useEffect(() => close, []);
  return { found, ask, close };
}
