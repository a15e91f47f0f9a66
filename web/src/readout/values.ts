/** What stands at the cursor, in words and figures. */
import { type RoundedQuantity, rounded } from '../../../worker/flight/rounding.ts';
import type { Brief } from '../contract.ts';
import { airOfCell, type Cell, cellAt, nearestPointIndex } from '../curtain.ts';
import { type Hazard, hazardSentence, hazardsAt, isUnreadNotice } from '../hazards.ts';
import { timeAt } from '../leg-time.ts';
import { lookOf } from '../look.ts';
import { celsiusText, feetText } from '../numbers.ts';
import { amountText, zoneWord } from '../units.ts';
import { iceWords, stateSentence, UNKNOWN_WORD } from '../words.ts';

export interface ReadoutValue {
  readonly label: string;
  readonly text: string;
}

export type Readout = {
  /** What was reported or warned of here, the most serious first. */
  readonly reported: readonly string[];
} & (
  | { readonly kind: 'no-cells' }
  /** The cell is not known: its word stands instead of values. */
  | { readonly kind: 'unknown'; readonly place: string; readonly words: string }
  | {
      readonly kind: 'values';
      readonly place: string;
      readonly headline: string;
      readonly values: readonly ReadoutValue[];
    }
);

export function readoutAt(answer: Brief, distanceNm: number, altitudeFt: number): Readout {
  const { curtain, leg } = answer.brief;
  const hazards = hazardsAt(answer, distanceNm, altitudeFt);
  const reported = hazards.map(hazardSentence);
  if (curtain === undefined) return { kind: 'no-cells', reported };
  const place = `${feetText(altitudeFt)} ft at ${Math.round(distanceNm)} NM, ${timeAt(leg.points, distanceNm)} ${zoneWord()}`;
  const cell = cellAt(curtain, nearestPointIndex(curtain.distanceNm, distanceNm), altitudeFt);
  if (cell.state !== 'known') return { kind: 'unknown', place, words: stateSentence(cell.state), reported };
  return { kind: 'values', place, headline: headlineOf(cell, hazards), values: valuesOf(cell), reported };
}

/** The cell's ice in one phrase; the amounts beside it hold where there is liquid. */
function headlineOf(cell: Cell, hazards: readonly Hazard[]): string {
  const air = airOfCell(cell);
  const look = lookOf({ ...air, probability: chanceOfIce(cell) ?? null });
  if (look.kind === 'unknown') return stateSentence(look.state);
  if (look.kind !== 'no-ice') return iceWords(air);
  if (hazards.length === 0) return 'no ice found';
  const isReported = hazards.some(({ properties }) => !isUnreadNotice(properties));
  return isReported ? 'ice reported, not in the figures' : `${UNKNOWN_WORD}: reports could not be read`;
}

/** The whole is never less than a part of it, which is counted over draws and may round above it. */
function chanceOfIce(cell: Cell): number | undefined {
  const whole = cell.value('icingProbability');
  if (whole === undefined) return undefined;
  return Math.max(whole, ...PARTS_OF_CHANCE.map((name) => cell.value(name) ?? 0));
}

const PARTS_OF_CHANCE = [
  'lightOrWorseProbability',
  'moderateOrWorseProbability',
  'largeDropProbability',
] as const;

function valuesOf(cell: Cell): ReadoutValue[] {
  const figure = (
    label: string,
    value: number | undefined,
    text: (known: number) => string,
  ): ReadoutValue => ({
    label,
    text: value === undefined ? 'unknown' : text(value),
  });
  const windFrom = cell.value('windFrom');
  const light = cell.value('lightOrWorseProbability');
  const lightOrWorse =
    light === undefined ? undefined : Math.max(light, cell.value('moderateOrWorseProbability') ?? 0);
  return [
    figure('temperature', cell.value('temperature'), celsiusText),
    figure('humidity over water', cell.value('relativeHumidityWater'), (pct) => `${Math.round(pct)} %`),
    figure('chance of ice', chanceOfIce(cell), drawnChanceText),
    figure('light or worse', lightOrWorse, drawnChanceText),
    figure('moderate or worse', cell.value('moderateOrWorseProbability'), drawnChanceText),
    figure('growth, if in it', cell.value('wingGrowth'), (mmPerMin) =>
      amountText(onScreen(mmPerMin, 'growthMmPerMin').toFixed(1), 'mm/min'),
    ),
    figure('large drops', cell.value('largeDropProbability'), chanceText),
    figure('liquid water, if in it', cell.value('liquidWater'), (gPerM3) => `${gPerM3.toFixed(2)} g/m³`),
    figure('wind', windFrom === undefined ? undefined : cell.value('windSpeed'), (kt) =>
      windText(windFrom ?? 0, kt),
    ),
  ];
}

/** None of 64 draws is not none at all. */
const drawnChanceText = (ratio: number) => (ratio === 0 ? 'under 2 %' : chanceText(ratio));

const chanceText = (ratio: number) => `${Math.round(onScreen(ratio, 'probability') * 100)} %`;

const onScreen = (value: number, quantity: RoundedQuantity) => rounded(value, quantity, 'screen');

/** "270° 35 kt", direction it comes from. */
export function windText(fromDeg: number, speedKt: number): string {
  const direction = Math.round(fromDeg / 10) * 10;
  return `${String(direction === 0 ? 360 : direction).padStart(3, '0')}° ${onScreen(speedKt, 'speedKt')} kt`;
}

/** One spoken sentence with everything at the cursor, what was reported first. */
export function readoutSentence(readout: Readout): string {
  return [...readout.reported.map((words) => `${words}.`), cellSentence(readout)].join(' ');
}

function cellSentence(readout: Readout): string {
  if (readout.kind === 'no-cells') return 'This answer carries no values along the leg.';
  if (readout.kind === 'unknown') return `${readout.place}: ${readout.words}.`;
  const values = readout.values.map(({ label, text }) => `${label} ${text}`).join(', ');
  return `${readout.place}: ${readout.headline}; ${values}.`;
}
