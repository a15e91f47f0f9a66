/** Whether an aeroplane needs treatment before take-off, and by which procedure. It never says that none is needed, only that nothing was found. */
import { type FluidType, NEVER_TIMED, type RampCondition } from '../schema/ground-words.ts';
import { CONDITION_WORDS } from './conditions.ts';
import { mayFrostForm } from './frost.ts';
import type { RampTemperature } from './holdover.ts';

/** Undefined members are not known. */
export interface RampWeather {
  readonly temperature: RampTemperature | undefined;
  readonly dewPointC: number | undefined;
  readonly windKt: number | undefined;
  readonly isSkyClear: boolean | undefined;
  /** What falls and freezes or lies; frost is worked out here. */
  readonly falling: readonly RampCondition[] | undefined;
  /** Rain or drizzle that does not freeze in the air. */
  readonly isRaining: boolean | undefined;
  /** What else the reports hold that speaks against calling the ramp dry: near, recent, expected, or not seen by a machine. */
  readonly also: readonly Finding[];
}

export const FOUND_ON_AEROPLANE = ['nothing', 'frost', 'snow-or-ice', 'not-looked'] as const;
export const FUEL_STATES = ['not-colder', 'cold-soaked', 'not-known'] as const;

export interface StandingAeroplane {
  /** By somebody who looked and felt. */
  readonly found: (typeof FOUND_ON_AEROPLANE)[number];
  readonly fuel: (typeof FUEL_STATES)[number];
  /** Types that its flight manual lists; undefined where its profile does not say. */
  readonly fluids: readonly FluidType[] | undefined;
}

export type TreatmentNeed = 'needed' | 'may-be-needed' | 'nothing-found' | 'unknown';

export interface Treatment {
  readonly need: TreatmentNeed;
  readonly reasons: readonly string[];
  /** In their order; empty where nothing was found. */
  readonly steps: readonly string[];
  /** What the fluid will have to hold against; undefined where nobody knows. */
  readonly conditions: readonly RampCondition[] | undefined;
}

/** Warmer than this a wing that is not cold-soaked gathers nothing that freezes, °C (judgement: the columns of rain end here). */
const WARM_RAIN_C = 15;

/** The worst of all that is known; what is not known and might be worse makes it unknown. */
export function treatmentFor(weather: RampWeather, aeroplane: StandingAeroplane): Treatment {
  const conditions = conditionsOf(weather, aeroplane);
  const findings = [
    ...foundOn(aeroplane),
    ...fallingOn(conditions),
    ...notKnown(weather, conditions),
    ...weather.also,
  ];
  const need = findings.map((finding) => finding.need).reduce(worse, 'nothing-found');
  const reasons = findings.length > 0 ? findings.map(({ reason }) => reason) : [NOTHING];
  return {
    need,
    reasons,
    steps: need === 'nothing-found' ? [] : stepsFor(conditions, aeroplane, weather.also.length > 0),
    conditions,
  };
}

export interface Finding {
  readonly need: TreatmentNeed;
  readonly reason: string;
}

const NOTHING = 'Nothing was found in the weather that calls for treatment: look and feel all the same';

const ORDER: readonly TreatmentNeed[] = ['nothing-found', 'may-be-needed', 'unknown', 'needed'];
const worse = (a: TreatmentNeed, b: TreatmentNeed) => (ORDER.indexOf(a) < ORDER.indexOf(b) ? b : a);

function foundOn({ found }: StandingAeroplane): Finding[] {
  if (found === 'nothing') return [];
  if (found === 'not-looked')
    return [{ need: 'may-be-needed', reason: 'Nobody has looked at the aeroplane yet' }];
  const words = found === 'frost' ? 'Frost is' : 'Snow or ice is';
  return [{ need: 'needed', reason: `${words} on the aeroplane` }];
}

function fallingOn(conditions: readonly RampCondition[] | undefined): Finding[] {
  return (conditions ?? []).map((condition) => ({
    need: condition === 'frost' || condition === 'rain-on-cold-soaked-wing' ? 'may-be-needed' : 'needed',
    reason: `${CONDITION_WORDS[condition]} at the ramp`,
  }));
}

function notKnown(weather: RampWeather, conditions: readonly RampCondition[] | undefined): Finding[] {
  const gaps = [
    weather.falling === undefined && 'what falls',
    weather.temperature === undefined && 'the temperature',
    weather.temperature !== undefined &&
      conditions === undefined &&
      weather.falling !== undefined &&
      'the dew point',
  ].filter((gap) => gap !== false);
  return gaps.length === 0
    ? []
    : [{ need: 'unknown', reason: `${gaps.join(' and ')} at the ramp is not known` }];
}

/** All at once; undefined where something that matters is not known. */
function conditionsOf(weather: RampWeather, { fuel }: StandingAeroplane): RampCondition[] | undefined {
  const { falling, temperature, isRaining, dewPointC, windKt, isSkyClear } = weather;
  if (falling === undefined || temperature === undefined) return undefined;
  // Fuel that nobody measured may be colder.
  const isColdSoaked = fuel !== 'not-colder';
  const frost = mayFrostForm({ temperature, dewPointC, windKt, isSkyClear, isColdSoaked });
  if (falling.length > 0) return [...falling];
  if (isRaining === true && fuel !== 'not-colder' && temperature.coldestC <= WARM_RAIN_C)
    return ['rain-on-cold-soaked-wing'];
  if (isRaining === true) return [];
  return frost === undefined ? undefined : frost ? ['frost'] : [];
}

const ANTI_ICING: readonly FluidType[] = ['IV', 'III', 'II'];

function stepsFor(
  conditions: readonly RampCondition[] | undefined,
  { fluids, found }: StandingAeroplane,
  mayGoOn: boolean,
): string[] {
  const untimed = conditions?.find((condition) => NEVER_TIMED.has(condition));
  if (untimed !== undefined) return [`No fluid has a time in ${CONDITION_WORDS[untimed]}: hangar, or wait`];
  const look = found === 'not-looked' ? ['Look and feel first'] : [];
  return [...look, ...fluidSteps(conditions, fluids, mayGoOn)];
}

function fluidSteps(
  conditions: readonly RampCondition[] | undefined,
  fluids: readonly FluidType[] | undefined,
  mayGoOn: boolean,
): string[] {
  if (fluids === undefined)
    return ['Fluids of this aeroplane are not given: the flight manual says which may be used'];
  if (fluids.length === 0) return ['The profile lists no fluid for this aeroplane: hangar, or wait'];
  const thickened = ANTI_ICING.filter((type) => fluids.includes(type));
  const remove = fluids.includes('I')
    ? 'Remove what is found with heated Type I'
    : `Remove what is found with heated ${typesText(thickened)}, or in the hangar: Type I is not listed`;
  const isGoingOn = conditions === undefined || conditions.length > 0 || mayGoOn;
  if (!isGoingOn) return [`${remove}; one step while nothing falls or forms`];
  if (thickened.length === 0)
    return [remove, 'No anti-icing fluid is listed: Type I alone holds for a short time only'];
  return [
    remove,
    `Second step, before the first freezes: ${typesText(thickened)}, as the flight manual lists it`,
  ];
}

const typesText = (types: readonly FluidType[]) => types.map((type) => `Type ${type}`).join(' or ');
