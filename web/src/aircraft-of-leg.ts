/** The figures of the aeroplane that the open brief is about, where the page knows them. */
import { computed } from '@preact/signals';
import type { AircraftProfile } from '../../worker/schema/aircraft.ts';
import { aircraftState, lastBrief } from './state.ts';

export const legAircraft = computed<AircraftProfile | undefined>(() => {
  const aircraft = lastBrief.value?.request?.aircraft;
  if (aircraft === undefined) return undefined;
  if (typeof aircraft !== 'string') return aircraft;
  const known = aircraftState.value;
  return known.kind === 'ok' ? known.value.aircraft.find(({ id }) => id === aircraft) : undefined;
});
