/** What falls or forms, in words. Temperatures in this folder are °C, since the bands of tables end at whole degrees of it. */
import type { RampCondition } from '../schema/ground-words.ts';

export const CONDITION_WORDS = {
  frost: 'active frost',
  'freezing-fog': 'freezing fog',
  'ice-crystals': 'ice crystals',
  'very-light-snow': 'very light snow',
  'light-snow': 'light snow',
  'moderate-snow': 'moderate snow',
  'heavy-snow': 'heavy snow',
  'snow-grains': 'snow grains',
  'snow-pellets': 'snow pellets or small hail',
  'blowing-snow': 'blowing or drifting snow',
  'ice-pellets': 'ice pellets',
  hail: 'hail',
  'freezing-drizzle': 'freezing drizzle',
  'light-freezing-rain': 'light freezing rain',
  'freezing-rain': 'moderate or heavy freezing rain',
  'rain-and-snow': 'rain with snow',
  'rain-near-freezing': 'rain that may freeze on a cold skin',
  'rain-on-cold-soaked-wing': 'rain on a cold-soaked wing',
  'unknown-precipitation': 'precipitation of unknown kind or intensity',
} as const satisfies Record<RampCondition, string>;
