/** What stands at the cursor, in words and figures. */
import { type RoundedQuantity, rounded } from '../../../worker/flight/rounding.ts';
import type { Brief } from '../contract.ts';
import { airOfCell, type Cell, cellAt, nearestPointIndex } from '../curtain.ts';
import { timeAt } from '../leg-time.ts';
import { lookOf } from '../look.ts';
import { celsiusText, feetText } from '../numbers.ts';
import { iceWords, stateSentence } from '../words.ts';

export interface ReadoutValue {
  readonly label: string;
  readonly text: string;
}

export type Readout =
  /** The answer carries no cells. */
  | { readonly kind: 'no-cells' }
  /** The cell is not known: its word stands instead of values. */
  | { readonly kind: 'unknown'; readonly place: string; readonly words: string }
  | {
      readonly kind: 'values';
      readonly place: string;
      readonly headline: string;
      readonly values: readonly ReadoutValue[];
    };

export function readoutAt({ brief }: Brief, distanceNm: number, altitudeFt: number): Readout {
  const { curtain, leg } = brief;
  if (curtain === undefined) return { kind: 'no-cells' };
  const place = `${feetText(altitudeFt)} ft at ${Math.round(distanceNm)} NM, ${timeAt(leg.points, distanceNm)} UTC`;
  const cell = cellAt(curtain, nearestPointIndex(curtain.distanceNm, distanceNm), altitudeFt);
  if (cell.state !== 'known') return { kind: 'unknown', place, words: stateSentence(cell.state) };
  return { kind: 'values', place, headline: headlineOf(cell), values: valuesOf(cell) };
}

/** The cell's ice in one phrase; the amounts beside it hold where there is liquid. */
function headlineOf(cell: Cell): string {
  const air = airOfCell(cell);
  const look = lookOf(air);
  if (look.kind === 'unknown') return stateSentence(look.state);
  if (look.kind === 'no-ice') return 'no ice found';
  return iceWords(air);
}

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
  return [
    figure('temperature', cell.value('temperature'), celsiusText),
    figure('humidity over water', cell.value('relativeHumidityWater'), (pct) => `${Math.round(pct)} %`),
    figure('chance of ice', cell.value('icingProbability'), chanceText),
    figure('light or worse', cell.value('lightOrWorseProbability'), drawnChanceText),
    figure('moderate or worse', cell.value('moderateOrWorseProbability'), drawnChanceText),
    figure(
      'growth, if in it',
      cell.value('wingGrowth'),
      (mmPerMin) => `${onScreen(mmPerMin, 'growthMmPerMin').toFixed(1)} mm/min`,
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

/** One spoken sentence with everything at the cursor. */
export function readoutSentence(readout: Readout): string {
  if (readout.kind === 'no-cells') return 'This answer carries no values along the leg.';
  if (readout.kind === 'unknown') return `${readout.place}: ${readout.words}.`;
  const values = readout.values.map(({ label, text }) => `${label} ${text}`).join(', ');
  return `${readout.place}: ${readout.headline}; ${values}.`;
}
