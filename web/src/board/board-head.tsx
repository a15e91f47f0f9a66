/** The head: the board's name, how many legs stand how, how it hears of changes, and how old its data are. */
import { VerdictShape } from '../answer/verdict-shape.tsx';
import { VERDICT_WORDS } from '../words.ts';
import { GROUPS, type Group } from './filters.ts';
import { dataAgeWords, hearingWords } from './head-words.ts';
import { utcClock, zoneClock } from './leg-times.ts';
import {
  awaitsPerson,
  beside,
  boardState,
  canEdit,
  counts,
  filters,
  flights,
  hearing,
  namePerson,
  nowMs,
  type Part,
  person,
} from './store.ts';
import { chooseFilters, openBeside } from './view-address.ts';

export function BoardHeadLine() {
  const { board, waiting } = boardState.value!;
  const now = nowMs.value;
  const told = hearing.value;
  return (
    <header class="board-head">
      <div class="board-title">
        <p class="wordmark">
          <a href="/">Rimeway</a>
        </p>
        <h1>{board.name}</h1>
        <p class="board-clock">
          <b>{utcClock(now)} UTC</b> <span>{zoneClock(now, board.timeZone)}</span>
        </p>
      </div>
      <Counts />
      <p class="board-hearing">
        <span class={`hearing hearing-${told.kind}`} role="status">
          {hearingWords(told)}
        </span>
        <span>{dataAgeWords(flights.value, now)}</span>
        <span>
          {waiting === 0 ? 'nothing waits to be worked out' : `${waiting} waiting to be worked out`}
        </span>
      </p>
      <Tools />
    </header>
  );
}

const GROUP_WORDS: Readonly<Record<Group, string>> = {
  ...VERDICT_WORDS,
  overdue: 'Overdue',
  done: 'Arrived or cancelled',
};

/** Shape, word and count; a press lists these legs only. */
function Counts() {
  const chosen = filters.value.groups;
  const toggle = (group: Group) =>
    chooseFilters({
      groups: chosen.includes(group) ? chosen.filter((each) => each !== group) : [...chosen, group],
    });
  return (
    <fieldset class="board-counts">
      <legend class="for-ears">Legs by verdict; press to list these only</legend>
      {GROUPS.map((group) => (
        <button
          key={group}
          type="button"
          class={`count count-${group}${counts.value[group] === 0 ? ' count-none' : ''}`}
          aria-pressed={chosen.includes(group)}
          onClick={() => toggle(group)}
        >
          {group !== 'overdue' && group !== 'done' && <VerdictShape code={group} sizePx={26} />}
          <b>{counts.value[group]}</b>
          <span>{GROUP_WORDS[group]}</span>
        </button>
      ))}
    </fieldset>
  );
}

const PART_WORDS: Readonly<Record<Part, string>> = {
  network: 'Plan of the network',
  handover: 'Handover',
  notify: 'Messages to this device',
  setup: 'Schedule and links',
};

function Tools() {
  const open = beside.value?.kind;
  const parts: Part[] = ['network', 'handover', 'notify'];
  if (canEdit.value) parts.push('setup');
  return (
    <div class="board-tools">
      {parts.map((part) => (
        <button
          key={part}
          type="button"
          aria-expanded={open === part}
          onClick={() => openBeside(open === part ? undefined : { kind: part })}
        >
          {PART_WORDS[part]}
        </button>
      ))}
      {canEdit.value ? (
        <button type="button" class="board-person" onClick={() => (awaitsPerson.value = namePerson)}>
          {person.value === '' ? 'Say who you are' : `You are ${person.value}`}
        </button>
      ) : (
        <p class="board-reads">This link only reads.</p>
      )}
    </div>
  );
}
