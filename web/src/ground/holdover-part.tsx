/** Fluid, its window, and the count-down from the start of the final application. */
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { checkHoldsS, holdoverClock } from '../../../worker/ground/count-down.ts';
import type { Holdover } from '../../../worker/ground/holdover.ts';
import type { Treatment } from '../../../worker/ground/treatment.ts';
import { clockText, zoneWord } from '../units.ts';
import { soundPhase } from './alarm.ts';
import { clockWords, spanText } from './clock-words.ts';
import { fluidsOf, type Ground, holdoverFor } from './ramp.ts';
import { application, forgetApplication, isSameApplication, noteCheck, startApplication } from './started.ts';

interface HoldoverPartProps {
  readonly ground: Ground;
  readonly conditions: Treatment['conditions'];
  readonly departureUtc: string;
}

export function HoldoverPart({ ground, conditions, departureUtc }: HoldoverPartProps) {
  const chosen = useSignal(0);
  const fluids = fluidsOf(ground);
  const fluid = fluids[chosen.value] ?? fluids[0];
  if (fluid === undefined) {
    return (
      <p class="ground-no-table">
        No holdover table of the season is loaded for a fluid of this aeroplane:{' '}
        <strong>no time can be given</strong>.
      </p>
    );
  }
  const outcome = holdoverFor(ground, { ...fluid, conditions, onDay: departureUtc.slice(0, 10) });
  const { standing } = fluid.table;
  return (
    <div class="holdover">
      {standing !== 'in-force' && (
        <p class="ground-invented">Invented table, for trying only: never to be flown by</p>
      )}
      <label>
        Final fluid{' '}
        <select
          value={String(chosen.value)}
          onChange={(event) => (chosen.value = Number(event.currentTarget.value))}
        >
          {fluids.map(({ name }, at) => (
            <option key={name} value={String(at)}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <p class={`holdover-outcome holdover-${outcome.kind}`}>{outcomeWords(outcome)}</p>
      <CountDown aerodrome={ground.aerodrome} fluid={fluid.name} outcome={outcome} />
    </div>
  );
}

function outcomeWords(outcome: Holdover): string {
  if (outcome.kind === 'window')
    return `Holdover ${spanMinutes(outcome.minimumMinutes)} to ${spanMinutes(outcome.maximumMinutes)} from the start of the final application`;
  if (outcome.kind === 'not-asked') return 'Nothing falls or forms by the report: no time to hold against';
  return `${outcome.kind === 'none' ? 'No holdover time' : 'Holdover time unknown'}: ${outcome.why}`;
}

const spanMinutes = (minutes: number) =>
  `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`;

interface CountDownProps {
  readonly aerodrome: string;
  readonly fluid: string;
  readonly outcome: Holdover;
}

/** The window is that of the moment when it was started: a report that comes later is read anew, and said. */
function CountDown({ aerodrome, fluid, outcome }: CountDownProps) {
  useClock();
  const nowMs = Date.now();
  const running = application.value;
  if (running === undefined || !isSameApplication(running, aerodrome)) {
    const window = outcome.kind === 'window' ? outcome : undefined;
    return (
      <button
        type="button"
        class="ground-start"
        onClick={() => startApplication({ aerodrome, fluid, startMs: Date.now(), window })}
      >
        Final application starts now
      </button>
    );
  }
  const clock = holdoverClock(running.startMs, nowMs, running.window);
  soundPhase(clock.phase);
  const checkS = running.checkedMs === undefined ? 0 : checkHoldsS(running.checkedMs, nowMs);
  return (
    <div class={`count-down count-down-${clock.phase}`} role="timer" aria-live="off">
      <p class="count-down-time">{clockWords(clock)}</p>
      <p>
        {running.fluid}, started {clockText(running.startMs)} {zoneWord()}
      </p>
      <p>{clock.mustCheck}</p>
      <p>
        {checkS > 0 ? `Checked: begin the take-off within ${spanText(checkS)}` : 'No check of the last 5 min'}
      </p>
      <button type="button" onClick={() => noteCheck(Date.now())}>
        Checked now
      </button>
      <button type="button" onClick={forgetApplication}>
        End
      </button>
    </div>
  );
}

const TICK_MS = 500;

/** Draws anew at each tick, and when the page wakes; the time is asked for where it is shown. */
function useClock(): void {
  const ticks = useSignal(0);
  ticks.value;
  useEffect(() => {
    const tick = () => {
      ticks.value += 1;
    };
    const timer = setInterval(tick, TICK_MS);
    document.addEventListener('visibilitychange', tick);
    return () => {
      clearInterval(timer);
      document.removeEventListener('visibilitychange', tick);
    };
  }, []);
}
