/** What a dispatcher enters of an aeroplane: fluid on board, ice equipment that is inoperative, a note. */
import { useSignal } from '@preact/signals';
import { type BoardFlight, ICE_EQUIPMENT, type IceEquipment } from '../../../worker/schema/board.ts';
import { enterTail, withPerson } from './acts.ts';
import { utcClock } from './leg-times.ts';
import { EQUIPMENT_WORDS } from './row-words.ts';
import { boardState, canEdit } from './store.ts';
import { litersOf } from './tail-liters.ts';

export function TailForm({ flight }: { readonly flight: BoardFlight }) {
  const { tail } = flight;
  if (tail === null)
    return (
      <section class="panel-part">
        <h3>Aeroplane</h3>
        <p class="quiet">None is planned for this leg.</p>
      </section>
    );
  const entered = boardState.value?.tails.get(tail);
  return (
    <section class="panel-part">
      <h3>{tail}</h3>
      <p class="quiet">
        {entered === undefined
          ? 'Nothing was entered of it: its fluid on board is unknown.'
          : `${fluidText(entered.fluidOnBoardL)}; entered ${utcClock(entered.enteredUtc)} UTC by ${entered.by}${entered.note === '' ? '' : `: ${entered.note}`}`}
      </p>
      {canEdit.value && <Entry tail={tail} />}
    </section>
  );
}

const fluidText = (fluidL: number | null) =>
  fluidL === null ? 'Fluid on board unknown' : `${fluidL} L on board`;

function Entry({ tail }: { readonly tail: string }) {
  const entered = boardState.peek()?.tails.get(tail);
  const fluid = useSignal(entered?.fluidOnBoardL?.toString() ?? '');
  const out = useSignal<readonly IceEquipment[]>(entered?.inoperative ?? []);
  const note = useSignal(entered?.note ?? '');
  const liters = litersOf(fluid.value);
  const send = (event: Event) => {
    event.preventDefault();
    if (liters === undefined) return;
    const state = { fluidOnBoardL: liters, inoperative: [...out.value], note: note.value.trim() };
    withPerson((by) => void enterTail(tail, state, by));
  };
  const toggle = (each: IceEquipment, isOut: boolean) => {
    out.value = ICE_EQUIPMENT.filter((one) => (one === each ? isOut : out.value.includes(one)));
  };
  return (
    <form class="tail-form" onSubmit={send}>
      <p class="tail-fluid">
        <label for="tail-fluid">Fluid on board, L</label>
        <input
          id="tail-fluid"
          inputmode="decimal"
          autocomplete="off"
          placeholder="unknown"
          value={fluid.value}
          aria-invalid={liters === undefined}
          onInput={(event) => (fluid.value = event.currentTarget.value)}
        />
        {liters === undefined && <span class="complaint">A number of liters, 0 to 1,000</span>}
      </p>
      <fieldset class="tail-equipment">
        <legend>Inoperative</legend>
        {ICE_EQUIPMENT.map((each) => (
          <label key={each}>
            <input
              type="checkbox"
              checked={out.value.includes(each)}
              onChange={(event) => toggle(each, event.currentTarget.checked)}
            />
            {EQUIPMENT_WORDS[each]}
          </label>
        ))}
      </fieldset>
      <p class="tail-note">
        <label for="tail-note">Note</label>
        <input
          id="tail-note"
          autocomplete="off"
          maxlength={200}
          value={note.value}
          onInput={(event) => (note.value = event.currentTarget.value)}
        />
      </p>
      <button type="submit" disabled={liters === undefined}>
        Enter
      </button>
    </form>
  );
}
