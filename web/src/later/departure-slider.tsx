/** Moves the departure through the forecast: the brief of each time comes in the place of the one before it. */
import { useSignal, useSignalEffect } from '@preact/signals';
import { slideDeparture } from '../ask-leg.ts';
import { anchorDepartureUtc, legText } from '../state.ts';
import { usePause } from '../use-pause.ts';
import { departureAfter, departureWords } from './later-words.ts';

const STEP_MIN = 30;
const EARLIEST_MIN = -180;
const LATEST_MIN = 720;
const ASK_AFTER_MS = 250;

export function DepartureSlider() {
  const anchor = anchorDepartureUtc.value;
  const movedMin = useSignal(0);
  const pause = usePause();
  useSignalEffect(() => {
    // Another leg, or the time that was asked for.
    pause.drop();
    movedMin.value = minutesBetween(anchorDepartureUtc.value, legText.value.departure);
  });
  const move = (minutes: number) => {
    movedMin.value = minutes;
    pause.after(ASK_AFTER_MS, () => slideDeparture(departureAfter(anchor, minutes)));
  };
  const words = departureWords(anchor, movedMin.value);
  return (
    <p class="departure-slider">
      <label for="departure-slider">Leave</label>
      <input
        id="departure-slider"
        type="range"
        min={EARLIEST_MIN}
        max={LATEST_MIN}
        step={STEP_MIN}
        value={movedMin.value}
        aria-valuetext={words}
        onInput={(event) => move(event.currentTarget.valueAsNumber)}
      />
      <output for="departure-slider">{words}</output>
    </p>
  );
}

/** 0 where either is no time. */
function minutesBetween(anchorUtc: string, departureUtc: string | undefined): number {
  const minutes = Math.round((Date.parse(departureUtc ?? '') - Date.parse(anchorUtc)) / 60_000);
  return Number.isFinite(minutes) ? minutes : 0;
}
