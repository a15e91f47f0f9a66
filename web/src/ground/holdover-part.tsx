/** Fluid, its window, and the count-down from the start of the final application. */
import { useSignal } from '@preact/signals';
import type { Holdover } from '../../../worker/ground/holdover.ts';
import type { StandingAeroplane, Treatment } from '../../../worker/ground/treatment.ts';
import { CountDown } from './count-down.tsx';
import { enterLowestUse, type LowestUseReading, lowestUseText, readLowestUse } from './lowest-use-entry.ts';
import { fluidsOf, type Ground, holdoverFor } from './ramp.ts';

interface HoldoverPartProps {
  readonly ground: Ground;
  readonly conditions: Treatment['conditions'];
  readonly fuel: StandingAeroplane['fuel'];
  /** Why the report no longer counts; undefined while it does. */
  readonly old: string | undefined;
  /** UTC. */
  readonly onDay: string;
}

export function HoldoverPart({ ground, conditions, fuel, old, onDay }: HoldoverPartProps) {
  const chosen = useSignal<string>('');
  const fluids = fluidsOf(ground);
  const fluid = fluids.find(({ name }) => name === chosen.value);
  const outcomeOf = (one: (typeof fluids)[number]): Holdover =>
    old === undefined
      ? holdoverFor(ground, {
          ...one,
          lowestUse: readLowestUse(lowestUseText(one.name)),
          conditions,
          isSkinColder: fuel === 'cold-soaked',
          onDay,
        })
      : { kind: 'unknown', why: old };
  return (
    <div class="holdover">
      {fluids.length === 0 ? (
        <p class="ground-no-table">
          No holdover table of the season is loaded for a fluid and the skin of this aeroplane:{' '}
          <strong>no time can be given</strong>.
        </p>
      ) : (
        <label>
          Final fluid{' '}
          <select value={chosen.value} onChange={(event) => (chosen.value = event.currentTarget.value)}>
            <option value="">choose it as its label says</option>
            {fluids.map(({ name }) => (
              <option key={name} value={name}>
                {name}
              </option>
            ))}
          </select>
        </label>
      )}
      {fluid !== undefined && (
        <>
          <LowestUse fluid={fluid.name} />
          <Outcome fluid={fluid} outcome={outcomeOf(fluid)} ground={ground} />
        </>
      )}
      <CountDown
        aerodrome={ground.aerodrome}
        fluid={fluid && { name: fluid.name, outcome: outcomeOf(fluid) }}
        outcomeOfName={(name) => {
          const one = fluids.find((each) => each.name === name);
          return one && outcomeOf(one);
        }}
      />
    </div>
  );
}

function LowestUse({ fluid }: { readonly fluid: string }) {
  const text = lowestUseText(fluid);
  return (
    <label>
      Lowest operational use temperature of this fluid, °C, as its label or certificate says; empty: not known{' '}
      <input
        class="lowest-use"
        autocomplete="off"
        placeholder="such as -25"
        value={text}
        aria-invalid={readLowestUse(text).kind === 'not-read'}
        onInput={(event) => enterLowestUse(fluid, event.currentTarget.value)}
      />
    </label>
  );
}

interface OutcomeProps {
  readonly fluid: ReturnType<typeof fluidsOf>[number];
  readonly outcome: Holdover;
  readonly ground: Ground;
}

function Outcome({ fluid, outcome, ground: { weather } }: OutcomeProps) {
  return (
    <>
      {fluid.table.standing !== 'in-force' && (
        <p class="ground-invented">Invented table, for trying only: never to be flown by</p>
      )}
      <p class={outcome.kind === 'unknown' ? 'holdover-outcome readout-unknown' : 'holdover-outcome'}>
        <span>{outcomeWords(outcome, weather.isRaining === true)}</span>
      </p>
      {outcome.kind === 'window' && (
        <p class="quiet">
          {lowestUseWords(readLowestUse(lowestUseText(fluid.name)), weather.temperature?.coldestC)} Snow by
          charts of 2003 and older, the heavier of two.
        </p>
      )}
    </>
  );
}

function lowestUseWords(reading: LowestUseReading, coldestC: number | undefined): string {
  return reading.kind === 'given'
    ? `Used down to ${reading.lowestC} °C, as was entered; the air may have ${coldestC} °C. Skin below that is not seen here.`
    : `Only with a lowest operational use temperature at or below ${coldestC} °C, of air and skin.`;
}

function outcomeWords(outcome: Holdover, isRaining: boolean): string {
  if (outcome.kind === 'window')
    return `Holdover ${spanMinutes(outcome.minimumMinutes)} to ${spanMinutes(outcome.maximumMinutes)} from the start of the final application`;
  if (outcome.kind === 'not-asked')
    return isRaining
      ? 'Rain that is not freezing by the report: no holdover time is for it'
      : 'Nothing that freezes or lies by the report: no holdover time is for it';
  return `${outcome.kind === 'none' ? 'No holdover time' : 'Holdover time unknown'}: ${outcome.why}`;
}

const spanMinutes = (minutes: number) =>
  `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`;
