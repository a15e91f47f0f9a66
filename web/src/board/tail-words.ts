/** What is known of an aeroplane in words, each figure with when it was entered; and what a form of it sends. */
import type { IceEquipment, PutTail, TailState } from '../../../worker/schema/board.ts';
import { instantText } from '../numbers.ts';
import { litersOf } from './tail-liters.ts';

/** "80 L, entered 14 Jan 11:00 UTC by Ada"; who entered other things later is not named for the fluid. */
export function fluidKnownWords(entered: TailState | undefined): string {
  if (entered === undefined || entered.fluidEnteredUtc === null)
    return 'Fluid on board unknown: never entered';
  const { fluidOnBoardL, fluidEnteredUtc, enteredUtc, by } = entered;
  const figure = fluidOnBoardL === null ? 'Fluid on board not known' : `${fluidOnBoardL} L on board`;
  const who = fluidEnteredUtc === enteredUtc ? ` by ${by}` : '';
  return `${figure}, entered ${instantText(fluidEnteredUtc)}${who}`;
}

/** When the aeroplane was entered last, whatever of it, and the note; '' for one that never was. */
export function tailEnteredWords(entered: TailState | undefined): string {
  if (entered === undefined) return '';
  const { enteredUtc, by, note } = entered;
  return `Equipment and note entered ${instantText(enteredUtc)} by ${by}${note === '' ? '' : `: ${note}`}`;
}

interface TailDraft {
  /** As it is typed; empty leaves the fluid as it is. */
  readonly fluid: string;
  /** Somebody said that it is not known. */
  readonly isFluidUnknown: boolean;
  readonly inoperative: readonly IceEquipment[];
  readonly note: string;
}

/** What is sent: the fluid only where somebody said something of it. undefined for an amount that is none. */
export function tailEntryOf(draft: TailDraft): Omit<PutTail, 'by'> | undefined {
  const { fluid, isFluidUnknown, inoperative, note } = draft;
  const rest = { inoperative: [...inoperative], note: note.trim() };
  if (isFluidUnknown) return { ...rest, fluidOnBoardL: null };
  const liters = litersOf(fluid);
  if (liters === undefined) return undefined;
  return liters === null ? rest : { ...rest, fluidOnBoardL: liters };
}
