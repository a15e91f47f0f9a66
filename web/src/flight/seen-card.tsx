/** What I see: ice on a part of known size and the minutes it took, judged against the brief, with no word to the service. */
import type { Signal } from '@preact/signals';
import type { LargeDropSign, SeenAnswer, SeenOnWing } from '../../../worker/flight/seen-ice.ts';
import { gPerM3FromKgPerM3, mmPerMinFromMps } from '../../../worker/science/units.ts';
import { wayOrder } from '../answer/file-line.ts';
import { BigChoice } from '../big-choice.tsx';
import { placeCursorAt } from '../consider.ts';
import type { Brief, BriefMember } from '../contract.ts';
import { placeAtNm } from '../leg-time.ts';
import { celsiusText, feetText } from '../numbers.ts';
import { nowMs } from '../state.ts';
import { amountText, clockText, zoneWord } from '../units.ts';
import { UNKNOWN_WORD } from '../words.ts';
import { isWrongFigure } from './figures.ts';
import { firstIceMs, noteFirstIce } from './first-ice.ts';
import { rodDiameterMm } from './rod.ts';
import { type Here, judgeHere, type SeenEntry } from './seen-here.ts';
import { entryOf, type SeenState, USUAL_ROD_MM } from './seen-state.ts';
import { Stepper } from './stepper.tsx';

const SIGN_WORDS: Readonly<Record<LargeDropSign, string>> = {
  'rain-or-splash': 'rain or splashes below 0 °C',
  'ice-aft': 'ice farther aft than usual',
  'side-window': 'ice on side windows',
  spinner: 'ice far back on the spinner',
};

const MOST_MM = 60;
const MOST_MINUTES = 60;
interface SeenCardProps {
  readonly brief: Brief;
  readonly here: Here | undefined;
  readonly state: SeenState;
}

export function SeenCard({ brief, here, state }: SeenCardProps) {
  return (
    <section class="flight-card seen-card" aria-labelledby="seen-title">
      <h2 id="seen-title">What I see</h2>
      {here === undefined ? (
        <p class="readout-unknown">
          <span>{UNKNOWN_WORD}: this altitude was not flown, or its air or aircraft is not here</span>
        </p>
      ) : (
        <>
          <HereLine brief={brief.brief} here={here} />
          <SeenForm state={state} here={here} />
          <SeenResult brief={brief.brief} here={here} entry={entryOf(state)} />
        </>
      )}
    </section>
  );
}

function HereLine({ brief: { leg }, here }: { readonly brief: BriefMember; readonly here: Here }) {
  const nowNm = placeAtNm(leg.points, nowMs.value);
  return (
    <p class="seen-here">
      At {Math.round(here.distanceNm)} NM, {feetText(Math.round(here.altitudeFt / 100) * 100)} ft,{' '}
      {here.temperatureC === undefined ? `air ${UNKNOWN_WORD}` : `${celsiusText(here.temperatureC)} forecast`}
      : move the cursor to where you are.{' '}
      {nowNm !== undefined && (
        <button type="button" onClick={() => placeCursorAt(nowNm)}>
          Where the plan has us now
        </button>
      )}
    </p>
  );
}

function SeenForm({ state, here }: { readonly state: SeenState; readonly here: Here }) {
  const { part, thicknessMm, minutes, signs, edges } = state;
  const toggle = (sign: LargeDropSign) => {
    signs.value = signs.value.includes(sign)
      ? signs.value.filter((each) => each !== sign)
      : [...signs.value, sign];
  };
  return (
    <div class="seen-form">
      <FirstIce minutes={minutes} />
      <Stepper
        label="Ice, thickness"
        text={amountText(String(thicknessMm.value), 'mm')}
        value={thicknessMm.value}
        step={1}
        least={0}
        most={MOST_MM}
        onValue={(value) => (thicknessMm.value = value)}
      />
      <Stepper
        label="Grown in"
        text={`${minutes.value} min`}
        value={minutes.value}
        step={1}
        least={1}
        most={MOST_MINUTES}
        onValue={(value) => (minutes.value = value)}
      />
      <BigChoice
        label="On"
        words={{
          rod: `the rod of ${rodDiameterMm.value ?? USUAL_ROD_MM} mm`,
          wing: 'an unprotected wing edge',
        }}
        value={part.value}
        onChoose={(value) => (part.value = value)}
      />
      <BigChoice
        label="Protected edges"
        words={{ free: 'come free', behind: 'ice stays' }}
        value={edges.value}
        onChoose={(value) => (edges.value = value)}
      />
      <fieldset class="big-choice">
        <legend>Signs of large drops</legend>
        {(Object.keys(SIGN_WORDS) as LargeDropSign[]).map((sign) => (
          <button
            key={sign}
            type="button"
            aria-pressed={signs.value.includes(sign)}
            onClick={() => toggle(sign)}
          >
            {SIGN_WORDS[sign]}
          </button>
        ))}
      </fieldset>
      <Measured id="seen-gauge" label="Gauge temperature, °C" hint="forecast" text={state.gaugeText} />
      {here.profile.protection.kind === 'fluid' && (
        <Measured
          id="seen-fluid"
          label="Fluid left, L"
          hint={here.fluidLeftL === undefined ? UNKNOWN_WORD : `${Math.floor(here.fluidLeftL)} planned`}
          text={state.fluidText}
        />
      )}
    </div>
  );
}

/** A tap at the first ice; from then on the minutes count by themselves. */
function FirstIce({ minutes }: { readonly minutes: Signal<number> }) {
  const startMs = firstIceMs.value;
  if (startMs === undefined)
    return (
      <button
        type="button"
        class="first-ice"
        onClick={() => {
          noteFirstIce(Date.now());
          minutes.value = 1;
        }}
      >
        First ice now
      </button>
    );
  const sinceMinutes = Math.max(1, Math.round((nowMs.value - startMs) / 60_000));
  return (
    <p class="first-ice-since">
      First ice {clockText(startMs)} {zoneWord()}, {sinceMinutes} min ago{' '}
      <button type="button" onClick={() => (minutes.value = Math.min(MOST_MINUTES, sinceMinutes))}>
        Grown since then
      </button>{' '}
      <button type="button" onClick={() => noteFirstIce(undefined)}>
        Forget
      </button>
    </p>
  );
}

interface MeasuredProps {
  readonly id: string;
  readonly label: string;
  readonly hint: string;
  readonly text: Signal<string>;
}

function Measured({ id, label, hint, text }: MeasuredProps) {
  const isWrong = isWrongFigure(text.value);
  return (
    <p class="seen-measured">
      <label for={id}>{label}</label>
      <input
        id={id}
        inputmode="decimal"
        autocomplete="off"
        placeholder={hint}
        value={text.value}
        aria-invalid={isWrong}
        onInput={(event) => (text.value = event.currentTarget.value)}
      />
      {isWrong && <span class="complaint">not a number: not used</span>}
    </p>
  );
}

interface SeenResultProps {
  readonly brief: BriefMember;
  readonly here: Here;
  readonly entry: SeenEntry;
}

function SeenResult({ brief, here, entry }: SeenResultProps) {
  const isEntered = entry.thicknessMm > 0 || entry.signs.length > 0 || entry.isProtectionBehind;
  if (!isEntered) return <p class="quiet">Enter how thick it is, or tap what you see.</p>;
  const answer = judgeHere(brief, here, entry);
  if (answer === undefined)
    return (
      <p class="readout-unknown">
        <span>{UNKNOWN_WORD}: the air here is not known, enter the gauge temperature</span>
      </p>
    );
  return (
    <div class="seen-result" aria-live="polite">
      {answer.leave.length > 0 && (
        <ul class="seen-leave">
          {answer.leave.map(({ code, sentence }) => (
            <li key={code}>
              <strong>{sentence}</strong>
            </li>
          ))}
        </ul>
      )}
      <p>
        {against(answer)}
        {answer.leave.length === 0 && '. Nothing entered asks to leave: what you see next decides'}
      </p>
      <p>
        {rangeText(answer.growthMps, (mps) => mmPerMinFromMps(mps).toFixed(1))} mm/min on{' '}
        {entry.part === 'rod' ? 'the rod' : 'the edge'}; water {waterText(answer.onWing)}; on the wing{' '}
        {intensityText(answer.onWing)}
      </p>
      <FluidLine answer={answer} />
      <WayLine here={here} answer={answer} />
    </div>
  );
}

const AGAINST_WORDS = {
  more: 'More than the high estimate of the forecast',
  within: 'Within the forecast’s estimates',
  less: 'Less than the low estimate of the forecast, which takes nothing back',
  unknown: 'No forecast here to hold it against',
} as const;

const against = ({ againstForecast }: SeenAnswer) => AGAINST_WORDS[againstForecast];

function rangeText(
  { low, middle, high }: { readonly low: number; readonly middle: number; readonly high: number },
  text: (value: number) => string,
): string {
  return `${text(middle)} (${text(low)} to ${text(high)})`;
}

const waterOf = (wing: SeenOnWing) =>
  wing.kind === 'beyond' ? 'beyond the model' : gPerM3FromKgPerM3(wing.liquidWaterKgPerM3).toFixed(2);

function waterText({ low, middle, high }: SeenAnswer['onWing']): string {
  return `${waterOf(middle)} g/m³ (${waterOf(low)} to ${waterOf(high)})`;
}

const wordOf = (wing: SeenOnWing) => (wing.kind === 'beyond' ? 'beyond the model' : wing.intensity);

/** "light (trace to moderate)"; none is said as such. */
function intensityText({ low, middle, high }: SeenAnswer['onWing']): string {
  const [least, most] = [wordOf(low), wordOf(high)];
  return least === most ? wordOf(middle) : `${wordOf(middle)} (${least} to ${most})`;
}

function FluidLine({ answer: { fluid } }: { readonly answer: SeenAnswer }) {
  if (fluid === undefined) return null;
  const lasts =
    fluid.lastsS === undefined
      ? `lasts ${UNKNOWN_WORD}: say what is left`
      : `lasts ${Math.floor(fluid.lastsS / 60)} min before the reserve`;
  return (
    <p>
      Fluid on <strong>{fluid.setting}</strong>, {lasts}
    </p>
  );
}

function WayLine({
  here: { way },
  answer: { untilOutM },
}: {
  readonly here: Here;
  readonly answer: SeenAnswer;
}) {
  if (way === undefined)
    return (
      <p>Way out {UNKNOWN_WORD} from here: none was looked for where no ice was forecast, or none is known</p>
    );
  const minutes = way.minutes === null ? '' : `, ${Math.max(1, Math.ceil(way.minutes))} min`;
  const built =
    untilOutM === undefined
      ? ''
      : `, up to ${amountText(String(Math.ceil(untilOutM.high * 1000)), 'mm')} more at this rate`;
  return (
    <p>
      Out: <strong>{wayOrder(way)}</strong>
      {minutes}
      {built}
    </p>
  );
}
