/** What a dispatcher enters of an aeroplane: fluid on board, ice equipment that is inoperative, a note. */
import { useSignal } from '@preact/signals';
import { type BoardFlight, ICE_EQUIPMENT, type IceEquipment } from '../../../worker/schema/board.ts';
import { enterTail, withPerson } from './acts.ts';
import { EQUIPMENT_WORDS } from './row-words.ts';
import { boardState, canEdit } from './store.ts';
import { fluidKnownWords, tailEnteredWords, tailEntryOf } from './tail-words.ts';

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
      <p class="quiet">{fluidKnownWords(entered)}</p>
      {entered !== undefined && <p class="quiet">{tailEnteredWords(entered)}</p>}
      {canEdit.value && <Entry tail={tail} />}
    </section>
  );
}

function Entry({ tail }: { readonly tail: string }) {
  const entered = boardState.value?.tails.get(tail);
  // Empty, whatever is known: a figure that was not typed now is not to be sent as one of now.
  const fluid = useSignal('');
  const isFluidUnknown = useSignal(false);
  const out = useSignal<readonly IceEquipment[]>(entered?.inoperative ?? []);
  const note = useSignal(entered?.note ?? '');
  const entry = tailEntryOf({
    fluid: fluid.value,
    isFluidUnknown: isFluidUnknown.value,
    inoperative: out.value,
    note: note.value,
  });
  const send = (event: Event) => {
    event.preventDefault();
    if (entry === undefined) return;
    withPerson((by) => {
      void enterTail(tail, entry, by).then((isTaken) => {
        if (!isTaken) return;
        fluid.value = '';
        isFluidUnknown.value = false;
      });
    });
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
          placeholder="as it is"
          value={fluid.value}
          disabled={isFluidUnknown.value}
          aria-invalid={entry === undefined}
          aria-describedby="tail-fluid-words"
          onInput={(event) => (fluid.value = event.currentTarget.value)}
        />
        <label>
          <input
            type="checkbox"
            checked={isFluidUnknown.value}
            onChange={(event) => (isFluidUnknown.value = event.currentTarget.checked)}
          />
          Not known
        </label>
        <span id="tail-fluid-words" class="quiet">
          Left empty, it stays: {fluidKnownWords(entered)}
        </span>
        {entry === undefined && <span class="complaint">A number of liters, 0 to 1,000</span>}
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
      <button type="submit" disabled={entry === undefined}>
        Enter
      </button>
    </form>
  );
}
