/** The cue card: what to expect on the rod part by part, from when it is worse than forecast, when to leave, and which way. */
import { useSignal } from '@preact/signals';
import type { IceWatch } from '../../../worker/flight/rod-growth.ts';
import { capitalized } from '../../../worker/flight/words.ts';
import { legAircraft } from '../aircraft-of-leg.ts';
import { answerAgeWords, inventedWords, staleFromWords, staleWords } from '../answer/age-line.ts';
import { type FluidSpare, fluidPlanSentences, fluidSpare } from '../answer/fluid-words.ts';
import { levelsText } from '../considered.ts';
import type { BriefMember, Candidate } from '../contract.ts';
import { LabelledInput } from '../labelled-input.tsx';
import { ceilTo, celsiusText, datedText, feetText, floorTo } from '../numbers.ts';
import { nowMs } from '../state.ts';
import { amountText, figureText, unitText } from '../units.ts';
import { UNKNOWN_WORD, VERDICT_WORDS } from '../words.ts';
import { type CueRow, cueRows, grownMm, highSettingFrom, watchFigures } from './cue-rows.ts';
import { figureOf } from './figures.ts';
import { PART_WORDS } from './part-words.ts';
import { printCueCard } from './print-cue-card.ts';
import { chooseRod, isRod, LEAST_ROD_MM, MOST_ROD_MM, rodDiameterMm } from './rod.ts';

const MINUTES = [1, 5, 10] as const;

interface CueCardProps {
  readonly brief: BriefMember;
  readonly candidate: Candidate | undefined;
}

export function CueCard({ brief, candidate }: CueCardProps) {
  const diameterMm = rodDiameterMm.value;
  const aircraft = legAircraft.value;
  const figures =
    aircraft === undefined || diameterMm === undefined ? undefined : { aircraft, rodDiameterMm: diameterMm };
  const rows = figures && candidate && cueRows(brief, candidate, figures);
  const { leg } = brief;
  return (
    <section class="flight-card cue-card" aria-labelledby="cue-title">
      <h2 id="cue-title">
        Cue card{candidate === undefined ? '' : `, ${levelsText(candidate)} ft`}
        <span class="print-only">
          {leg.from} → {leg.to}, {datedText(leg.departureUtc)}
          {onBoardWords(brief)}
        </span>
      </h2>
      {candidate !== undefined && <VerdictLine candidate={candidate} />}
      <RodChoice diameterMm={diameterMm} />
      {rows === undefined || figures === undefined ? (
        <p class="readout-unknown">
          <span>
            {UNKNOWN_WORD}:{' '}
            {aircraft === undefined
              ? 'the figures of the aircraft are not here'
              : 'this altitude was not flown'}
          </span>
        </p>
      ) : (
        <>
          <div class="cue-rows">
            {rows.map((row) => (
              <CuePart key={row.part} row={row} />
            ))}
          </div>
          <FluidCues brief={brief} candidate={candidate!} highFrom={highSettingFrom(rows)} />
        </>
      )}
      <ul class="cue-signs">
        {brief.cues.map(({ code, sentence }) => (
          <li key={code}>{sentence}</li>
        ))}
      </ul>
      <p class="print-only">
        Data: {answerAgeWords(brief, nowMs.value)}
        {staleFromWords(brief)}. {staleWords(brief, nowMs.value)} {inventedWords(brief)}. Printed{' '}
        {datedText(nowMs.value)}
      </p>
      <p class="quiet">
        Growth at the front of an unprotected rod while in ice, mean of the part: low, middle and high of the
        draws. Advice only: the flight manual decides.
      </p>
      <button type="button" class="cue-print" onClick={printCueCard}>
        Print this card, half a page
      </button>
    </section>
  );
}

function onBoardWords({ limits: { fluidOnBoardL } }: BriefMember): string {
  return fluidOnBoardL === null ? '' : `, fluid ${amountText(String(Math.round(fluidOnBoardL)), 'L')}`;
}

/** Who carries the card alone carries this with it. */
export function VerdictLine({ candidate }: { readonly candidate: Candidate }) {
  const { verdict, inWords } = candidate;
  return (
    <p
      class={
        verdict === 'outside-limits' || verdict === 'unknown'
          ? 'card-verdict card-verdict-bad'
          : 'card-verdict'
      }
    >
      <strong>{VERDICT_WORDS[verdict]}</strong>: {inWords}
    </p>
  );
}

/** What was typed stays to be seen, and is said to be no rod where it is none. */
function RodChoice({ diameterMm }: { readonly diameterMm: number | undefined }) {
  const typed = useSignal<string | undefined>(undefined);
  const figure = typed.value === undefined ? undefined : figureOf(typed.value);
  const isWrong = typed.value !== undefined && typed.value.trim() !== '' && !isRod(figure ?? Number.NaN);
  return (
    <div class="rod-choice">
      <LabelledInput
        id="rod-diameter"
        label="Rod that you watch, diameter in mm"
        inputMode="numeric"
        value={typed.value ?? String(diameterMm ?? '')}
        isWrong={isWrong}
        words={
          isWrong ? `${LEAST_ROD_MM} to ${MOST_ROD_MM} mm: counted as ${diameterMm ?? UNKNOWN_WORD}` : ''
        }
        onText={(text) => {
          typed.value = text;
          const millimeters = figureOf(text);
          if (text.trim() === '') chooseRod(undefined);
          else if (millimeters !== undefined && isRod(millimeters)) chooseRod(millimeters);
        }}
      />
      <p class="print-only">
        Rod of <b>{diameterMm ?? UNKNOWN_WORD}</b> mm
      </p>
    </div>
  );
}

function CuePart({ row }: { readonly row: CueRow }) {
  return (
    <div class="cue-part" data-part={row.part} data-air={row.air.kind}>
      <h3>{capitalized(PART_WORDS[row.part])}</h3>
      <PartAir row={row} />
      {row.unknownMinutes > 0 && row.air.kind !== 'unknown' && (
        <p class="readout-unknown">
          <span>
            {UNKNOWN_WORD} air for {Math.ceil(row.unknownMinutes)} min more: any ice there is worse than
            forecast
          </span>
        </p>
      )}
      {row.reported.map((sentence) => (
        <p key={sentence} class="cue-reported">
          {sentence}
        </p>
      ))}
      {row.ways.length > 0 && (
        <p>
          Out: <strong>{row.ways.join('; ')}</strong>
        </p>
      )}
    </div>
  );
}

function PartAir({ row: { air, iceMinutes, unknownMinutes } }: { readonly row: CueRow }) {
  if (air.kind === 'unknown')
    return (
      <p class="readout-unknown">
        <span>
          {UNKNOWN_WORD} air for {Math.ceil(unknownMinutes)} min: any ice is worse than forecast
        </span>
      </p>
    );
  if (air.kind === 'no-ice')
    return (
      <p>
        No ice expected: <strong>any is worse than forecast</strong>
      </p>
    );
  if (air.kind === 'reported')
    return (
      <p>
        No ice forecast, <strong>but it is reported</strong>: any is to be left
      </p>
    );
  const where = `${rangeFt(air.ice)}, ${celsiusText(air.ice.temperatureC)}`;
  if (air.kind === 'large-drops')
    return (
      <p>
        {where}: <strong>large drops forecast, leave at their first sign</strong>, no figure holds
      </p>
    );
  const { cue } = air;
  return (
    <>
      <p>
        {where}, up to {Math.ceil(iceMinutes)} min in ice
      </p>
      {cue.showsLittle ? (
        <p>
          Near 0 °C the rod shows little of the water:{' '}
          <strong>any ice on it, or water that runs back, is reason to leave</strong>
        </p>
      ) : (
        <GrownTable growth={cue.growthMps} />
      )}
      {cue.worse !== undefined && (
        <p>
          Worse than forecast: <strong>{watchWords(cue.worse)} or more</strong>
        </p>
      )}
      {cue.severe !== undefined && (
        <p>
          {cue.worse === undefined && 'Worse than forecast and severe'}
          {cue.worse !== undefined && 'Severe'} on the wing, leave at once:{' '}
          <strong>{watchWords(cue.severe)}</strong>
        </p>
      )}
    </>
  );
}

function GrownTable({ growth }: { readonly growth: { low: number; middle: number; high: number } }) {
  return (
    <table class="cue-grown">
      <thead>
        <tr>
          <th scope="col">{unitText('mm')} after</th>
          {MINUTES.map((minutes) => (
            <th key={minutes} scope="col">
              {minutes} min
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {(['low', 'middle', 'high'] as const).map((estimate) => (
          <tr key={estimate}>
            <th scope="row">{estimate}</th>
            {MINUTES.map((minutes) => (
              <td key={minutes}>{figureText(String(grownMm(growth[estimate], minutes)), 'mm')}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** The edges are cell middles: what may be up to the next 500 ft is told so. */
function rangeFt({ lowerFt, upperFt }: { readonly lowerFt: number; readonly upperFt: number }): string {
  const [lower, upper] = [floorTo(lowerFt, 500), ceilTo(upperFt, 500)];
  return lower === upper ? `${feetText(lower)} ft` : `${feetText(lower)} to ${feetText(upper)} ft`;
}

function watchWords(watch: IceWatch): string {
  const { mm, minutes } = watchFigures(watch);
  return `${amountText(String(mm), 'mm')} in ${minutes} min`;
}

interface FluidCuesProps {
  readonly brief: BriefMember;
  readonly candidate: Candidate;
  readonly highFrom: IceWatch | undefined;
}

/** When to have it at which setting, and what that leaves. */
function FluidCues({ brief, candidate, highFrom }: FluidCuesProps) {
  const protection = legAircraft.value?.protection;
  const { fluidPlan } = candidate;
  if (protection?.kind !== 'fluid' || fluidPlan === null) return null;
  const onBoardL = brief.limits.fluidOnBoardL;
  const burstL =
    protection.maximumFlowLPerMin === undefined
      ? undefined
      : (protection.maximumFlowLPerMin * (protection.maximumBurstS ?? 120)) / 60;
  return (
    <div class="cue-fluid">
      <h3>Fluid</h3>
      <ul>
        {fluidPlanSentences(fluidPlan, spareOf(brief, candidate)).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
        <li>Normal from before the entry until out</li>
        {highFrom !== undefined && (
          <li>High where ice makes {watchWords(highFrom)} on the rod, or where an edge does not come free</li>
        )}
        {burstL !== undefined && (
          <li>
            Timed burst only on the way out of ice: each takes {amountText(burstL.toFixed(1), 'L')}
            {leavesWords(candidate, onBoardL, burstL)}
          </li>
        )}
      </ul>
    </div>
  );
}

/** Outside limits, or in air that nobody knows, nothing is to spare. */
function spareOf(brief: BriefMember, candidate: Candidate): FluidSpare {
  const isWithin = candidate.verdict === 'within-limits' || candidate.verdict === 'no-ice-found';
  return isWithin ? fluidSpare(brief, candidate) : { isTold: false, spareL: 0 };
}

/** At landing with the hold and the alternate flown, the reserve not counted as used. */
function leavesWords({ exposure }: Candidate, onBoardL: number | null, burstL: number): string {
  const needed = exposure?.fluidTripL ?? null;
  if (exposure === null || needed === null) return '';
  if (onBoardL === null) return '; what it leaves is unknown, the quantity on board is not given';
  if (exposure.unknownMinutes > 0) return '; what it leaves is unknown, part of the air is';
  const leftL = onBoardL - needed.high - burstL;
  return `, one leaves about ${amountText(String(Math.max(0, floorTo(leftL, 1))), 'L')} after the trip, before hold, alternate and reserve`;
}
