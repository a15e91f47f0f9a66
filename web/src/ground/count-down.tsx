/** The clock of the fluid that was applied. It never gets longer than what the newest report says. */
import { useEffect } from 'preact/hooks';
import {
  CHECK_WITHIN_S,
  checkHoldsS,
  type HoldoverWindow,
  holdoverClock,
} from '../../../worker/ground/count-down.ts';
import type { Holdover } from '../../../worker/ground/holdover.ts';
import { clockText, zoneWord } from '../units.ts';
import { canSound, readySound, soundPhase } from './alarm.ts';
import { clockWords } from './clock-words.ts';
import { lowestUseText } from './lowest-use-entry.ts';
import {
  type Application,
  application,
  forgetApplication,
  isOver,
  noteCheck,
  startApplication,
} from './started.ts';
import { useClock } from './use-clock.ts';

interface CountDownProps {
  readonly aerodrome: string;
  /** The one that is chosen; undefined: none yet. */
  readonly fluid: { readonly name: string; readonly outcome: Holdover } | undefined;
  /** What the newest report says of a fluid; undefined where its table is no longer there. */
  readonly outcomeOfName: (name: string) => Holdover | undefined;
}

export function CountDown({ aerodrome, fluid, outcomeOfName }: CountDownProps) {
  const running = application.value;
  if (running === undefined || isOver(running))
    return fluid === undefined ? null : <Start aerodrome={aerodrome} fluid={fluid} />;
  return (
    <Running running={running} isElsewhere={running.aerodrome !== aerodrome} outcomeOfName={outcomeOfName} />
  );
}

/** Who taps late says by how much. */
const MINUTES_AGO = [0, 3, 6, 10, 15] as const;

interface StartProps {
  readonly aerodrome: string;
  readonly fluid: { readonly name: string; readonly outcome: Holdover };
}

function Start({ aerodrome, fluid: { name, outcome } }: StartProps) {
  const start = (minutesAgo: number) => {
    readySound();
    const window = outcome.kind === 'window' ? outcome : undefined;
    startApplication({
      aerodrome,
      fluid: name,
      startMs: Date.now() - minutesAgo * 60_000,
      window,
      lowestUseText: lowestUseText(name),
    });
  };
  return (
    <fieldset class="big-choice ground-start">
      <legend>The final application started</legend>
      {MINUTES_AGO.map((minutes) => (
        <button key={minutes} type="button" onClick={() => start(minutes)}>
          {minutes === 0 ? 'now' : `${minutes} min ago`}
        </button>
      ))}
    </fieldset>
  );
}

interface RunningProps {
  readonly running: Application;
  readonly isElsewhere: boolean;
  readonly outcomeOfName: CountDownProps['outcomeOfName'];
}

function Running({ running, isElsewhere, outcomeOfName }: RunningProps) {
  useClock();
  const nowMs = Date.now();
  const outcome = isElsewhere ? undefined : outcomeOfName(running.fluid);
  const { window, words } = countedWindow(running, outcome, isElsewhere);
  const clock = holdoverClock(running.startMs, nowMs, window);
  useEffect(() => soundPhase(clock.phase), [clock.phase]);
  const mayCheck = clock.phase === 'running' || clock.phase === 'may-have-ended';
  return (
    <div class={`count-down count-down-${clock.phase}`} role="timer" aria-live="off">
      <p class="count-down-time">{clockWords(clock)}</p>
      {words !== undefined && <p class="count-down-changed">{words}</p>}
      <p>
        {running.aerodrome}, {running.fluid}, started {clockText(running.startMs)} {zoneWord()}
      </p>
      <p>{clock.mustCheck}</p>
      <p>{checkWords(running.checkedMs, nowMs)}</p>
      {!canSound() && (
        <p class="quiet">This device gives no tone, and none while it is locked: look at the clock.</p>
      )}
      {mayCheck && (
        <button type="button" onClick={() => noteCheck(Date.now())}>
          Checked now
        </button>
      )}
      <button type="button" onClick={forgetApplication}>
        End
      </button>
    </div>
  );
}

/** The shorter of what was started and what the newest report says; none where no time holds any more. */
function countedWindow(
  { window }: Application,
  outcome: Holdover | undefined,
  isElsewhere: boolean,
): { readonly window: HoldoverWindow | undefined; readonly words: string | undefined } {
  if (isElsewhere)
    return { window, words: 'Of another aerodrome than this leg’s: nothing is read anew for it here' };
  if (outcome === undefined)
    return { window: undefined, words: 'Its table is not here any more: no time can be told' };
  if (outcome.kind === 'none' || outcome.kind === 'unknown')
    return { window: undefined, words: `No time holds by the newest report: ${outcome.why}` };
  if (outcome.kind === 'not-asked' || window === undefined) return { window, words: undefined };
  const shorter = {
    minimumMinutes: Math.min(window.minimumMinutes, outcome.minimumMinutes),
    maximumMinutes: Math.min(window.maximumMinutes, outcome.maximumMinutes),
  };
  const isShorter =
    shorter.minimumMinutes < window.minimumMinutes || shorter.maximumMinutes < window.maximumMinutes;
  return { window: shorter, words: isShorter ? 'Shorter by the newest report' : undefined };
}

/** It tells when a check is void, never that somebody may go. */
function checkWords(checkedMs: number | undefined, nowMs: number): string {
  if (checkedMs === undefined) return 'No check was noted; a check gives no time back';
  const voidMs = checkedMs + CHECK_WITHIN_S * 1000;
  const isVoid = checkHoldsS(checkedMs, nowMs) === 0;
  return `The check of ${clockText(checkedMs)} ${isVoid ? 'is void' : `is void at ${clockText(voidMs)}`} ${zoneWord()}; it gives no time back`;
}
