/** What the parameters of paths look like. */
import * as z from 'zod/mini';
import { boardIdSchema, flightIdSchema } from './board.ts';

export const PATH_PARAMETERS = {
  board: boardIdSchema,
  /** Of a link to a board; opens nothing. */
  keyId: boardIdSchema,
  leg: boardIdSchema,
  flight: flightIdSchema,
  tail: z.string().check(z.trim(), z.minLength(1), z.maxLength(12)),
  /** Of a shared brief. */
  id: z.string().check(z.minLength(1), z.maxLength(100)),
} as const;

export type PathParameterName = keyof typeof PATH_PARAMETERS;
