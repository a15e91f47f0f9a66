/** What an aeroplane's fluid tank holds at a departure: the figure that was entered, less what the flights before may take. */
import type { Evaluation } from '../schema/board.ts';
import type { MadeMark, StoredTail } from '../sources/boards.ts';
import { dayClockWords } from './clock-words.ts';

/** A flight of the same aeroplane; a stored flight is one. */
export interface FlightBefore {
  /** As planned, epoch ms. */
  readonly departureMs: number;
  readonly departed?: MadeMark | undefined;
  readonly arrived?: MadeMark | undefined;
  readonly evaluation: Evaluation | undefined;
  /** A last attempt that failed: what an older one said does not count. */
  readonly failure?: { readonly atMs: number } | undefined;
  readonly cancelled: MadeMark | boolean | undefined;
}

/** Tanks are filled between shifts: an older figure says nothing (judgement). */
const HOLDS_MS = 12 * 3_600_000;

export interface FluidLeft {
  /** undefined where it is not known. */
  readonly fluidOnBoardL: number | undefined;
  /** Why it is not known; empty where it is. */
  readonly why: string;
}

/**
 * Takes the high estimate of every flight that had not arrived at the entry and leaves before this departure; one without a figure
 * leaves it unknown.
 *
 * @param others  Of the same aeroplane, without the flight itself.
 */
export function fluidAtDeparture(
  departureMs: number,
  tail: StoredTail | undefined,
  others: readonly FlightBefore[],
): FluidLeft {
  if (tail === undefined) return unknown('Nobody entered the fluid of the aeroplane');
  const { fluidOnBoardL, fluidEnteredMs: enteredMs } = tail;
  if (fluidOnBoardL === undefined || enteredMs === undefined)
    return unknown(`The fluid of ${tail.tail} is entered as not known`);
  if (departureMs - enteredMs > HOLDS_MS) {
    return unknown(`The fluid of ${tail.tail} was entered ${dayClockWords(enteredMs)}, too long before`);
  }
  let leftL = fluidOnBoardL;
  for (const flight of others) {
    if (flight.cancelled || !takesAfter(flight, enteredMs, departureMs)) continue;
    const tripL = (flight.failure === undefined ? flight.evaluation?.exposure?.fluidTripHighL : null) ?? null;
    if (tripL === null) {
      return unknown(
        `What ${tail.tail} uses on its flight of ${dayClockWords(flight.departureMs)} is not known`,
      );
    }
    leftL -= tripL;
  }
  return { fluidOnBoardL: leftL === fluidOnBoardL ? leftL : wholeLiters(leftL), why: '' };
}

const unknown = (why: string): FluidLeft => ({ fluidOnBoardL: undefined, why });

/** Without a figure for how long a flight is in the air, ms. */
const LONG_MS = 2 * 3_600_000;
/** Without a mark it may still be in the air so long after it was to arrive, ms. */
const LATE_MS = 30 * 60_000;

/** Whatever may have been in the air when the figure was entered, or leaves before the departure, takes of it. */
function takesAfter(
  { departureMs, departed, arrived, evaluation }: FlightBefore,
  enteredMs: number,
  untilMs: number,
): boolean {
  if (departureMs >= untilMs) return false;
  if (arrived !== undefined) return arrived.atMs > enteredMs;
  const minutes = evaluation?.exposure?.timeMinutes;
  const flownMs = minutes === undefined ? LONG_MS : minutes * 60_000;
  return (departed?.atMs ?? departureMs) + flownMs + LATE_MS > enteredMs;
}

/** Never more than there is, and no finer than an estimate is known. */
const wholeLiters = (liters: number) => Math.max(0, Math.floor(liters + 1e-6));
