/** How long a fluid is expected to hold: a window of a loaded table, none, or nobody knows. */
import { type Mix, NEVER_TIMED, type RampCondition } from '../schema/ground-words.ts';
import { CONDITION_WORDS } from './conditions.ts';
import { cellFor, type HoldoverTable } from './holdover-table.ts';

/** What is known of the air at the ramp; a report in whole degrees has half a degree to either side. */
export interface RampTemperature {
  readonly warmestC: number;
  readonly coldestC: number;
}

export interface HoldoverQuestion {
  /** Everything that falls or forms at once; undefined where nobody knows. */
  readonly conditions: readonly RampCondition[] | undefined;
  /** undefined where nobody knows. */
  readonly temperature: RampTemperature | undefined;
  readonly mix: Mix;
  /** Somebody says that the fuel in the wing is colder than the air: the row of the air is then the wrong one. */
  readonly isSkinColder: boolean;
  /** Day of the final application, UTC: "2026-01-14". */
  readonly onDay: string;
}

export type Holdover =
  | { readonly kind: 'window'; readonly minimumMinutes: number; readonly maximumMinutes: number }
  | { readonly kind: 'none'; readonly why: string }
  | { readonly kind: 'unknown'; readonly why: string }
  /** Nothing falls or forms: there is nothing to hold against. */
  | { readonly kind: 'not-asked' };

/** The shortest of what holds over all conditions and all temperatures that it may be. */
export function holdoverOf(table: HoldoverTable, question: HoldoverQuestion): Holdover {
  const { conditions, temperature, onDay } = question;
  if (onDay > table.expiresOn) return unknown(`the table of ${table.season} is out of season`);
  if (onDay < table.issuedOn) return unknown(`the table of ${table.season} was not issued yet`);
  if (conditions === undefined) return unknown('what falls is not known');
  if (conditions.length === 0) return { kind: 'not-asked' };
  const untimed = conditions.find((condition) => NEVER_TIMED.has(condition));
  if (untimed !== undefined) return none(`no fluid has a time in ${CONDITION_WORDS[untimed]}`);
  if (temperature === undefined) return unknown('the temperature is not known');
  if (question.isSkinColder) return unknown('the skin is colder than the air');
  return conditions
    .flatMap((condition) => [
      heldAgainst(table, question.mix, temperature.warmestC, condition),
      heldAgainst(table, question.mix, temperature.coldestC, condition),
    ])
    .reduce(shorter);
}

function heldAgainst(
  table: HoldoverTable,
  mix: Mix,
  temperatureC: number,
  condition: RampCondition,
): Holdover {
  const cell = cellFor(table, mix, temperatureC, condition);
  const words = `${CONDITION_WORDS[condition]} at ${temperatureC} °C, Type ${table.fluidType} ${mix}`;
  if (cell === undefined) return none(`the table has no place for ${words}`);
  if (cell === null) return none(`the table gives no time for ${words}`);
  const { minimumMinutes, maximumMinutes } = cell;
  return { kind: 'window', minimumMinutes, maximumMinutes };
}

function shorter(a: Holdover, b: Holdover): Holdover {
  if (a.kind !== 'window') return a;
  if (b.kind !== 'window') return b;
  return {
    kind: 'window',
    minimumMinutes: Math.min(a.minimumMinutes, b.minimumMinutes),
    maximumMinutes: Math.min(a.maximumMinutes, b.maximumMinutes),
  };
}

const none = (why: string): Holdover => ({ kind: 'none', why });
const unknown = (why: string): Holdover => ({ kind: 'unknown', why });
