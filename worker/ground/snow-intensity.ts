/** How heavily it snows, by the visibility in it: the sign of a report follows visibility and not the water that falls. */
import type { RampCondition } from '../schema/ground-words.ts';

export type SnowCondition = Extract<RampCondition, `${string}-snow`> &
  `${'very-light' | 'light' | 'moderate' | 'heavy'}-snow`;

export type Light = 'day' | 'dark';
export type SnowChart = 'canada-2003' | 'united-states-undated';

/** Heaviest first. */
const INTENSITIES = ['heavy-snow', 'moderate-snow', 'light-snow', 'very-light-snow'] as const;
const M_PER_STATUTE_MILE = 1609.344;

/**
 * Greatest visibility of heavy, moderate and light snow, statute miles; beyond it is very light.
 *
 * @source Transport Canada TP 10643, chart of snowfall intensity, 2003. -1 °C counts as warm.
 */
const CANADA_2003_MILES = {
  dark: { warm: [1, 2.5, 4], cold: [0.75, 1.5, 3] },
  day: { warm: [0.5, 1.5, 3], cold: [0.375, 0.875, 2] },
} as const;

/**
 * Intensity at each visibility in meters; between two, at the lower.
 *
 * @source The table of the United States in a copy without a date, before 2011 by its content. -1 °C counts as cold.
 */
const UNITED_STATES_M = [400, 800, 1200, 1600, 2400, 3200, 4000] as const;
const UNITED_STATES = {
  day: { cold: 'HMMLLVV', warm: 'HHMMLLV' },
  dark: { cold: 'HHHMMLV', warm: 'HHHHMLV' },
} as const;
const OF_LETTER = { H: 'heavy-snow', M: 'moderate-snow', L: 'light-snow', V: 'very-light-snow' } as const;

/** A report in whole hundreds of meters rounds a mile down by this much at most. */
const ROUNDED_M = 25;

export interface SnowView {
  readonly visibilityM: number;
  readonly temperatureC: number;
  readonly light: Light;
}

/** @throws RangeError for a visibility or temperature that is no number. */
export function snowIntensity(view: SnowView, chart: SnowChart): SnowCondition {
  const { visibilityM, temperatureC } = view;
  if (!(visibilityM >= 0) || !Number.isFinite(temperatureC)) {
    throw new RangeError(`snow: found ${visibilityM} m at ${temperatureC} °C, expected two numbers`);
  }
  return chart === 'canada-2003' ? byCanada(view) : byUnitedStates(view);
}

/** The heavier of both charts: they disagree at their edges. */
export function heavierSnowIntensity(view: SnowView): SnowCondition {
  const [canada, states] = [snowIntensity(view, 'canada-2003'), snowIntensity(view, 'united-states-undated')];
  return INTENSITIES.indexOf(canada) < INTENSITIES.indexOf(states) ? canada : states;
}

function byCanada({ visibilityM, temperatureC, light }: SnowView): SnowCondition {
  const edges = CANADA_2003_MILES[light][temperatureC >= -1 ? 'warm' : 'cold'];
  const at = edges.findIndex((miles) => visibilityM <= miles * M_PER_STATUTE_MILE);
  return INTENSITIES[at === -1 ? 3 : at]!;
}

function byUnitedStates({ visibilityM, temperatureC, light }: SnowView): SnowCondition {
  const letters = UNITED_STATES[light][temperatureC <= -1 ? 'cold' : 'warm'];
  const at = UNITED_STATES_M.findLastIndex((atM) => visibilityM + ROUNDED_M >= atM);
  return OF_LETTER[letters[Math.max(0, at)] as keyof typeof OF_LETTER];
}
