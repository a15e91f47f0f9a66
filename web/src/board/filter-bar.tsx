/** Which legs are listed: by time, place and name; and what the filters keep from view. */
import { NEXT_HOURS, NO_FILTERS } from './filters.ts';
import { filters, flights, hidden } from './store.ts';
import { chooseFilters } from './view-address.ts';

export function FilterBar() {
  const { nextHours, station, text } = filters.value;
  return (
    <search class="filter-bar">
      <fieldset class="filter-hours">
        <legend class="for-ears">Departing</legend>
        {NEXT_HOURS.map((hours) => (
          <button
            key={hours}
            type="button"
            aria-pressed={nextHours === hours}
            onClick={() => chooseFilters({ nextHours: hours })}
          >
            Next {hours} h
          </button>
        ))}
        <button
          type="button"
          aria-pressed={nextHours === undefined}
          onClick={() => chooseFilters({ nextHours: undefined })}
        >
          All
        </button>
      </fieldset>
      <label>
        <span>Station</span>
        <input
          type="search"
          autocomplete="off"
          autocapitalize="characters"
          placeholder="KBTV"
          maxlength={10}
          value={station}
          onInput={(event) => chooseFilters({ station: event.currentTarget.value })}
        />
      </label>
      <label>
        <span>Leg or tail</span>
        <input
          type="search"
          autocomplete="off"
          placeholder="101"
          maxlength={30}
          value={text}
          onInput={(event) => chooseFilters({ text: event.currentTarget.value })}
        />
      </label>
      <HiddenLine />
    </search>
  );
}

function HiddenLine() {
  const { count, grave } = hidden.value;
  const all = flights.value.length;
  if (count === 0) return <p class="hidden-line">{all === 1 ? '1 leg' : `All ${all} legs`}</p>;
  return (
    <p class={`hidden-line${grave > 0 ? ' hidden-grave' : ''}`} role="status">
      {all - count} of {all} legs
      {grave > 0 && <b>; {grave} not listed outside limits, unknown or overdue</b>}{' '}
      <button type="button" onClick={() => chooseFilters(NO_FILTERS)}>
        List all
      </button>
    </p>
  );
}
