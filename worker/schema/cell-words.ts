/** The words that cells, bands and exposures share. */
import * as z from 'zod/mini';

export const intensitySchema = z.enum(['none', 'trace', 'light', 'moderate', 'severe']);
export const iceKindSchema = z.enum(['none', 'rime', 'mixed', 'clear']);
export const largeDropsSchema = z.enum(['none', 'freezing-drizzle', 'freezing-rain', 'ice-pellets']);
export const cellStateSchema = z.enum([
  'known',
  'no-data',
  'too-old',
  'outside-coverage',
  'outside-profile',
  'quantity-missing',
  'decode-failed',
  'below-ground',
]);
