/** The cue card: what to expect on the rod part by part, from when it is worse than forecast, when to leave, and which way. */
import type { IceWatch } from '../../../worker/flight/rod-growth.ts';
import { capitalized } from '../../../worker/flight/words.ts';
import { legAircraft } from '../aircraft-of-leg.ts';
import { answerAgeWords, inventedWords, staleFromWords, staleWords } from '../answer/age-line.ts';
import { fluidPlanSentences, fluidSpare } from '../answer/fluid-words.ts';
import { levelsText } from '../considered.ts';
import type { BriefMember, Candidate } from '../contract.ts';
import { ceilTo, celsiusText, datedText, feetText, floorTo } from '../numbers.ts';
import { nowMs } from '../state.ts';
import { amountText, figureText, unitText } from '../units.ts';
import { UNKNOWN_WORD } from '../words.ts';
import { type CueRow, cueRows, grownMm, highSettingFrom, watchFigures } from './cue-rows.ts';
import { PART_WORDS } from './part-words.ts';
import { printCueCard } from './print-cue-card.ts';
import { chooseRod, LEAST_ROD_MM, MOST_ROD_MM, rodDiameterMm } from './rod.ts';

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
          : {leg.from} → {leg.to}, {datedText(leg.departureUtc)}
        </span>
      </h2>
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
          <FluidCues brief={brief} candidate={candidate!} highFrom={highSettingFrom(rows, brief, figures)} />
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

function RodChoice({ diameterMm }: { readonly diameterMm: number | undefined }) {
  return (
    <p class="rod-choice">
      <label for="rod-diameter">Rod that you watch, diameter in mm</label>{' '}
      <input
        id="rod-diameter"
        type="number"
        inputmode="numeric"
        min={LEAST_ROD_MM}
        max={MOST_ROD_MM}
        step={1}
        value={diameterMm ?? ''}
        onChange={(event) => chooseRod(event.currentTarget.valueAsNumber)}
      />
      <b class="print-only">{diameterMm ?? UNKNOWN_WORD}</b>
    </p>
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
      {cue.growthMps === undefined || cue.worse === undefined ? (
        <p class="readout-unknown">
          <span>
            {UNKNOWN_WORD}: growth near 0 °C hangs on less than is known; any that sticks is worse than
            forecast
          </span>
        </p>
      ) : (
        <>
          <GrownTable growth={cue.growthMps} />
          <p>
            Worse than forecast: <strong>more than {watchWords(cue.worse)}</strong>
          </p>
        </>
      )}
      {cue.severe !== undefined && (
        <p>
          Severe on the wing, leave at once: <strong>{watchWords(cue.severe)}</strong>
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
        {fluidPlanSentences(fluidPlan, fluidSpare(brief, candidate)).map((sentence) => (
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

/** At landing with the hold and the alternate flown, the reserve not counted as used. */
function leavesWords({ exposure }: Candidate, onBoardL: number | null, burstL: number): string {
  const needed = exposure?.fluidTripL ?? null;
  if (exposure === null || needed === null) return '';
  if (onBoardL === null) return '; what it leaves is unknown, the quantity on board is not given';
  if (exposure.unknownMinutes > 0) return '; what it leaves is unknown, part of the air is';
  const leftL = onBoardL - needed.high - burstL;
  return `, one leaves about ${amountText(String(Math.max(0, floorTo(leftL, 1))), 'L')} after the trip`;
}
