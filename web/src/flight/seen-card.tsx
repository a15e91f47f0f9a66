/** What I see: ice on a part of known size and the minutes it took, judged against the brief, with no word to the service. */
import { type Signal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type {
  LargeDropSign,
  SeenAnswer,
  SeenEstimates,
  SeenOnWing,
} from '../../../worker/flight/seen-ice.ts';
import { gPerM3FromKgPerM3, mmPerMinFromMps } from '../../../worker/science/units.ts';
import { wayOrder } from '../answer/file-line.ts';
import { BigChoice } from '../big-choice.tsx';
import { placeCursorAt } from '../consider.ts';
import type { Brief, BriefMember } from '../contract.ts';
import { LabelledInput } from '../labelled-input.tsx';
import { placeAtNm } from '../leg-time.ts';
import { celsiusText, feetText } from '../numbers.ts';
import { cursorNm, nowMs } from '../state.ts';
import { amountText, clockText, zoneWord } from '../units.ts';
import { UNKNOWN_WORD } from '../words.ts';
import { firstIceMs, noteFirstIce } from './first-ice.ts';
import { usedFluid, usedGauge } from './readings.ts';
import { rodDiameterMm } from './rod.ts';
import { type Here, judgeHere, type SeenEntry } from './seen-here.ts';
import { entryOf, forgetSeen, readFrom, type SeenState, tankOf, USUAL_ROD_MM } from './seen-state.ts';
import { Stepper } from './stepper.tsx';

const SIGN_WORDS: Readonly<Record<LargeDropSign, string>> = {
  'rain-or-splash': 'rain or splashes below 0 °C',
  'ice-aft': 'ice farther aft than usual',
  'side-window': 'ice on side windows',
  spinner: 'ice far back on the spinner',
};

const MOST_MM = 60;
const MOST_MINUTES = 60;
const MINUTE_WORDS: Readonly<Record<string, string>> = Object.fromEntries(
  [1, 2, 5, 10, 15, 20, 30].map((minutes) => [minutes, String(minutes)]),
);

interface SeenCardProps {
  readonly brief: Brief;
  readonly here: Here | undefined;
  readonly state: SeenState;
}

/** Signs count wherever one is: the card is there without a place, too. */
export function SeenCard({ brief, here, state }: SeenCardProps) {
  return (
    <section class="flight-card seen-card" aria-labelledby="seen-title">
      <h2 id="seen-title">What I see</h2>
      {here === undefined ? (
        <p class="readout-unknown">
          <span>{UNKNOWN_WORD}: this altitude was not flown, or its air or aircraft is not here</span>
        </p>
      ) : (
        <HereLine brief={brief.brief} here={here} />
      )}
      <SeenForm state={state} here={here} />
      <SeenResult brief={brief.brief} here={here} entry={entryOf(state, here, nowMs.value)} />
    </section>
  );
}

/** By so many miles a key moves the cursor. */
const KEY_NM = 5;

/** Once asked for, the cursor goes with the clock until somebody moves it. */
function HereLine({ brief: { leg }, here }: { readonly brief: BriefMember; readonly here: Here }) {
  const followed = useSignal<number | undefined>(undefined);
  const nowNm = placeAtNm(leg.points, nowMs.value);
  useEffect(() => {
    if (followed.value === undefined || nowNm === undefined) return;
    if (Math.abs(cursorNm.peek() - followed.value) > FOLLOWED_NM) followed.value = undefined;
    else if (nowNm !== followed.value) {
      followed.value = nowNm;
      placeCursorAt(nowNm);
    }
  }, [nowNm]);
  const move = (byNm: number) => placeCursorAt(Math.min(leg.distanceNm, Math.max(0, cursorNm.peek() + byNm)));
  return (
    <div class="seen-here">
      <p>
        At {Math.round(here.distanceNm)} NM, {feetText(Math.round(here.altitudeFt / 100) * 100)} ft by the
        plan,{' '}
        {here.temperatureC === undefined
          ? `air ${UNKNOWN_WORD}`
          : `${celsiusText(here.temperatureC)} forecast`}
      </p>
      <p class="seen-keys">
        <button type="button" onClick={() => move(-KEY_NM)}>
          −{KEY_NM} NM
        </button>
        <button type="button" onClick={() => move(KEY_NM)}>
          +{KEY_NM} NM
        </button>
        {nowNm !== undefined && (
          <button
            type="button"
            aria-pressed={followed.value !== undefined}
            onClick={() => {
              followed.value = nowNm;
              placeCursorAt(nowNm);
            }}
          >
            Where the plan has us now
          </button>
        )}
      </p>
    </div>
  );
}
/** Nearer, nobody moved the cursor since. */
const FOLLOWED_NM = 0.01;

function SeenForm({ state, here }: { readonly state: SeenState; readonly here: Here | undefined }) {
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
      <BigChoice
        label={`Grown in ${minutes.value} min in cloud`}
        words={MINUTE_WORDS}
        value={String(minutes.value)}
        onChoose={(value) => (minutes.value = Number(value))}
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
      <fieldset class="big-choice seen-signs">
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
      <Readings state={state} here={here} />
      <button type="button" onClick={() => forgetSeen(state)}>
        New look: forget what was entered
      </button>
    </div>
  );
}

/** What is read from the gauges: stamped with time and place, since neither holds for long. */
function Readings({ state, here }: { readonly state: SeenState; readonly here: Here | undefined }) {
  const at = readFrom(here, nowMs.value);
  const { gauge, fluid } = state;
  const [gaugeUse, fluidUse] = [usedGauge(gauge.value, at), usedFluid(fluid.value, at, tankOf(here))];
  const read = (into: typeof gauge, text: string) => {
    into.value = { text, atMs: Date.now(), distanceNm: at.distanceNm, altitudeFt: at.altitudeFt };
  };
  return (
    <>
      <LabelledInput
        id="seen-gauge"
        label="Gauge temperature, °C"
        inputMode="decimal"
        hint="forecast"
        value={gauge.value?.text ?? ''}
        words={gaugeUse.words}
        isWrong={gaugeUse.words !== '' && gaugeUse.value === undefined}
        onText={(text) => read(gauge, text)}
      />
      <button type="button" onClick={() => read(gauge, otherSign(gauge.value?.text ?? ''))}>
        ± of the gauge
      </button>
      {here?.profile.protection.kind === 'fluid' && (
        <LabelledInput
          id="seen-fluid"
          label="Fluid left, L"
          inputMode="decimal"
          hint={here.fluidLeftL === undefined ? UNKNOWN_WORD : `${Math.floor(here.fluidLeftL)} planned`}
          value={fluid.value?.text ?? ''}
          words={fluidUse.words}
          isWrong={fluidUse.words !== '' && fluidUse.value === undefined}
          onText={(text) => read(fluid, text)}
        />
      )}
    </>
  );
}

/** Keypads of some telephones have no minus. */
const otherSign = (text: string) => (/^[-−]/.test(text.trim()) ? text.trim().slice(1) : `-${text.trim()}`);

/** A tap at the first ice; another takes the minutes since. */
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
  const sinceMinutes = Math.max(1, Math.floor((nowMs.value - startMs) / 60_000));
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

interface SeenResultProps {
  readonly brief: BriefMember;
  readonly here: Here | undefined;
  readonly entry: SeenEntry;
}

function SeenResult({ brief, here, entry }: SeenResultProps) {
  const isEntered = entry.thicknessMm > 0 || entry.signs.length > 0 || entry.isProtectionBehind;
  if (!isEntered) return <p class="quiet">Enter how thick it is, or tap what you see.</p>;
  const answer = judgeHere(brief, here, entry);
  return (
    <div class="seen-result" aria-live="polite">
      {answer.leave.length > 0 ? (
        <ul class="seen-leave">
          {answer.leave.map(({ code, sentence }) => (
            <li key={code}>
              <strong>{sentence}</strong>
            </li>
          ))}
        </ul>
      ) : (
        <p>
          {AGAINST_WORDS[answer.againstForecast]}. Nothing entered asks to leave: what you see next decides
        </p>
      )}
      {here !== undefined && <WayLine here={here} answer={answer} />}
      <FluidLine answer={answer} />
      {entry.thicknessMm > 0 && <Amounts answer={answer} part={entry.part} />}
    </div>
  );
}

function Amounts({ answer, part }: { readonly answer: SeenAnswer; readonly part: SeenEntry['part'] }) {
  const { growthMps, onWing } = answer;
  const rate = rangeText(growthMps, (mps) => mmPerMinFromMps(mps).toFixed(1));
  if (onWing === undefined)
    return (
      <p class="readout-unknown">
        <span>
          {UNKNOWN_WORD}: the air here is not known, enter the gauge temperature. {rate} mm/min as read
        </span>
      </p>
    );
  return (
    <p>
      {rate} mm/min on {part === 'rod' ? 'the rod' : 'the edge'}; water {waterText(onWing)}; on the wing{' '}
      {intensityText(onWing)}
    </p>
  );
}

const AGAINST_WORDS = {
  more: 'More than the high estimate of the forecast',
  within: 'Within the forecast’s estimates',
  less: 'Less than the low estimate of the forecast, which takes nothing back',
  unknown: 'No forecast here to hold it against',
} as const;

function rangeText(
  { low, middle, high }: { readonly low: number; readonly middle: number; readonly high: number },
  text: (value: number) => string,
): string {
  return `${text(middle)} (${text(low)} to ${text(high)})`;
}

const waterOf = (wing: SeenOnWing) =>
  wing.kind === 'beyond' ? 'beyond the model' : gPerM3FromKgPerM3(wing.liquidWaterKgPerM3).toFixed(2);

function waterText({ low, middle, high }: SeenEstimates): string {
  return `${waterOf(middle)} g/m³ (${waterOf(low)} to ${waterOf(high)})`;
}

const wordOf = (wing: SeenOnWing) => (wing.kind === 'beyond' ? 'beyond the model' : wing.intensity);

/** "light (trace to moderate)"; none is said as such. */
function intensityText({ low, middle, high }: SeenEstimates): string {
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

const NO_WAY_WORDS: Readonly<Record<string, string>> = {
  none: 'Out: no way was found from here',
  'not-needed': 'Out: none was looked for, no ice was forecast here',
  stay: 'Out: none was looked for, no ice was forecast here',
};

function WayLine({
  here: { way, stretch },
  answer: { untilOutM, againstForecast },
}: {
  readonly here: Here;
  readonly answer: SeenAnswer;
}) {
  if (way === undefined) return <p>{NO_WAY_WORDS[stretch?.way ?? 'unknown'] ?? `Way out ${UNKNOWN_WORD}`}</p>;
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
      {againstForecast === 'more' && ', as forecast, which is wrong here already'}
    </p>
  );
}
