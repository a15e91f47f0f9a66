/** The ramp: what falls, whether treatment is called for and how, and the clock of a fluid that was applied. */
import { useSignal } from '@preact/signals';
import { capitalized } from '../../../worker/flight/words.ts';
import { CONDITION_WORDS } from '../../../worker/ground/conditions.ts';
import type { StandingAeroplane, Treatment } from '../../../worker/ground/treatment.ts';
import { BigChoice } from '../big-choice.tsx';
import { nowMs } from '../state.ts';
import { clockText, zoneWord } from '../units.ts';
import { UNKNOWN_WORD } from '../words.ts';
import { HoldoverPart } from './holdover-part.tsx';
import { type Ground, NOTHING_KNOWN, treatmentOf } from './ramp.ts';
import { outOfDateWords } from './report-age.ts';
import { ReportFold } from './report-fold.tsx';

const FOUND_WORDS = {
  'not-looked': 'nobody looked yet',
  nothing: 'nothing found',
  frost: 'frost',
  'snow-or-ice': 'snow or ice',
} as const satisfies Record<StandingAeroplane['found'], string>;

const FUEL_WORDS = {
  'not-known': 'not known',
  'not-colder': 'not colder than the air',
  'cold-soaked': 'cold-soaked',
} as const satisfies Record<StandingAeroplane['fuel'], string>;

const NEED_WORDS = {
  needed: 'Treatment is called for',
  'may-be-needed': 'Treatment may be called for',
  'nothing-found': 'Nothing found in the reports',
  unknown: 'Unknown whether treatment is called for',
} as const;

interface GroundCardProps {
  readonly ground: Ground;
  readonly departureUtc: string;
  readonly isInvented: boolean;
}

export function GroundCard(props: GroundCardProps) {
  const { ground, departureUtc } = props;
  return (
    <section class="ground-card" aria-labelledby="ground-title">
      <h2 id="ground-title">Ground, {ground.aerodrome}</h2>
      <Ramp key={`${ground.aerodrome} ${departureUtc} ${ground.report?.observedUtc}`} {...props} />
      <ReportFold departureUtc={departureUtc} />
    </section>
  );
}

/** What somebody found holds for this departure and this report alone: it is keyed by them. */
function Ramp({ ground, departureUtc, isInvented }: GroundCardProps) {
  const found = useSignal<StandingAeroplane['found']>('not-looked');
  const fuel = useSignal<StandingAeroplane['fuel']>('not-known');
  const atMs = isInvented ? Date.parse(departureUtc) : nowMs.value;
  const old = outOfDateWords(ground, atMs);
  // From a report that the page has outlived nothing is worked out.
  const current = old === undefined ? ground : { ...ground, weather: NOTHING_KNOWN };
  const treatment = treatmentOf(current, { found: found.value, fuel: fuel.value });
  return (
    <>
      <ReportLines ground={ground} />
      <div class="ground-state">
        <BigChoice
          label="On the aeroplane"
          words={FOUND_WORDS}
          value={found.value}
          onChoose={(value) => (found.value = value)}
        />
        <BigChoice
          label="Fuel in the wing"
          words={FUEL_WORDS}
          value={fuel.value}
          onChoose={(value) => (fuel.value = value)}
        />
      </div>
      <Need treatment={treatment} />
      {old !== undefined && ground.report !== null && <p>{capitalized(old)}</p>}
      <Reasons treatment={treatment} />
      <HoldoverPart
        ground={ground}
        conditions={treatment.conditions}
        fuel={fuel.value}
        old={old}
        onDay={new Date(atMs).toISOString().slice(0, 10)}
      />
      {ground.cautions.map((caution) => (
        <p key={caution} class="quiet">
          {caution}
        </p>
      ))}
    </>
  );
}

function Need({ treatment: { need } }: { readonly treatment: Treatment }) {
  return (
    <p class={need === 'unknown' ? 'ground-need readout-unknown' : 'ground-need'}>
      <span>
        <strong>{NEED_WORDS[need]}</strong>
      </span>
    </p>
  );
}

function Reasons({ treatment: { reasons, steps } }: { readonly treatment: Treatment }) {
  return (
    <>
      <ul>
        {reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
      {steps.length > 0 && (
        <ol class="ground-steps" aria-label="Procedure">
          {steps.map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ol>
      )}
    </>
  );
}

function ReportLines({ ground: { report, forecast, weather } }: { readonly ground: Ground }) {
  return (
    <>
      {report === null ? (
        <p class="readout-unknown">
          <span>{UNKNOWN_WORD}: no report of the aerodrome is held</span>
        </p>
      ) : (
        <p class={report.isFresh ? '' : 'ground-old'}>
          {!report.isFresh && <strong>Too old, not used: </strong>}
          <code>{report.text}</code>
        </p>
      )}
      {weather.falling !== null && (
        <p>
          Observed {report === null ? '' : `${clockText(report.observedUtc)} ${zoneWord()}`}:{' '}
          {fallingWords(weather.falling)}
        </p>
      )}
      {forecast === null && <p>No forecast of the aerodrome is held</p>}
      {forecast !== null && (
        <p>
          Forecast around the departure:{' '}
          {forecast.falling === null ? UNKNOWN_WORD : fallingWords(forecast.falling)}
        </p>
      )}
    </>
  );
}

function fallingWords(falling: readonly (keyof typeof CONDITION_WORDS)[]): string {
  return falling.length === 0
    ? 'nothing that freezes or lies'
    : falling.map((each) => CONDITION_WORDS[each]).join(', ');
}
