/** The words of the ramp that the contract and the ground folder share. */

/** What an aeroplane on the ramp stands in, by the columns of holdover tables and what they leave out. */
export const RAMP_CONDITIONS = [
  'frost',
  'freezing-fog',
  'ice-crystals',
  'very-light-snow',
  'light-snow',
  'moderate-snow',
  'heavy-snow',
  'snow-grains',
  'snow-pellets',
  'blowing-snow',
  'ice-pellets',
  'hail',
  'freezing-drizzle',
  'light-freezing-rain',
  'freezing-rain',
  'rain-and-snow',
  'rain-on-cold-soaked-wing',
  'rain-near-freezing',
  'unknown-precipitation',
] as const;
export type RampCondition = (typeof RAMP_CONDITIONS)[number];

/**
 * No fluid has a holdover time in these, whatever a table says.
 *
 * @source Footnotes of the tables of 2003-04: heavy snow, snow pellets, ice pellets, moderate and heavy freezing rain, hail. Blowing
 *   snow, rain with snow, rain near 0 °C that no report calls freezing and precipitation that nobody could tell are added here.
 */
export const NEVER_TIMED: ReadonlySet<RampCondition> = new Set<RampCondition>([
  'heavy-snow',
  'snow-pellets',
  'blowing-snow',
  'ice-pellets',
  'hail',
  'freezing-rain',
  'rain-and-snow',
  'rain-near-freezing',
  'unknown-precipitation',
]);

export const FLUID_TYPES = ['I', 'II', 'III', 'IV'] as const;
export type FluidType = (typeof FLUID_TYPES)[number];

/** What the wing's skin is made of, where tables tell a difference. */
export const WING_SKINS = ['metal', 'composite'] as const;
export type WingSkin = (typeof WING_SKINS)[number];

/** Parts of fluid to parts of water. */
export const MIXES = ['100/0', '75/25', '50/50'] as const;
export type Mix = (typeof MIXES)[number];
