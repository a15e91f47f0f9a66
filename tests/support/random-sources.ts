/** Sources with weights and errors for property tests of draws and pools. */
import fc from 'fast-check';
import {
  type ErrorSpread,
  forecastErrors,
  NO_ERROR,
  soundingErrors,
} from '../../worker/science/error-spreads.ts';
import type { SourceAlong } from './draw-along.ts';
import { even } from './even-numbers.ts';
import { drawnAir, profileOfAir } from './random-air.ts';
import { gridAir, profileOfGridAir } from './random-grid-air.ts';

const HOUR_MS = 3_600_000;

/** None, or those of an ascent to 300 km off, or of a forecast to two days ahead. */
export const sourceErrors: fc.Arbitrary<ErrorSpread> = fc.oneof(
  fc.constant(NO_ERROR),
  even(0, 300_000).map((distanceM) => soundingErrors(distanceM, HOUR_MS)),
  even(0, 48).map((hours) => forecastErrors(hours * HOUR_MS)),
);

/** An ascent's or a model's air, known throughout. */
export const anyProfile = fc.oneof(drawnAir.map(profileOfAir), gridAir.map(profileOfGridAir));

/** A source whose air changes from point to point and comes again at every third; weights 0.1 to 2. */
export const changingSource: fc.Arbitrary<Required<SourceAlong>> = fc
  .record({
    profiles: fc.array(anyProfile, { minLength: 3, maxLength: 3 }),
    weight: even(0.1, 2),
    errors: sourceErrors,
  })
  .map(({ profiles, ...worth }) => ({ ...worth, profileAt: (point: number) => profiles[point % 3]! }));
