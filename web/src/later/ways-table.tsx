/** The other ways: the filed route, others, waiting, not going; each with what it meets and costs. */
import { rounded } from '../../../worker/flight/rounding.ts';
import { VerdictShape } from '../answer/verdict-shape.tsx';
import { besideUnknown } from '../known-amounts.ts';
import { feetText, hourMinuteText, spreadText } from '../numbers.ts';
import { clockText, figureText, unitText, zoneWord } from '../units.ts';
import { VERDICT_WORDS } from '../words.ts';
import { type Way, wayName } from './later-words.ts';

export function WaysTable({ ways }: { readonly ways: readonly Way[] }) {
  if (ways.length === 0) return null;
  return (
    <section class="ways" aria-labelledby="ways-title">
      <h2 id="ways-title">Other ways</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">way</th>
            {FIGURES.map(({ head }) => (
              <th key={head()} scope="col">
                {head()}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {ways.map((way) => (
            <WayRow key={way.id} way={way} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

function WayRow({ way }: { readonly way: Way }) {
  return (
    <tr class={way.isBest ? 'way-best' : ''} data-way-id={way.id}>
      <th scope="row">
        <span class="way-name">
          {way.verdict !== null && <VerdictShape code={way.verdict} sizePx={17} />}
          <b>{wayName(way)}</b>
          {way.isBest && <span class="way-mark">best</span>}
        </span>
        <span class="way-sentence">
          {way.verdict !== null && <span class="for-ears">{VERDICT_WORDS[way.verdict]}. </span>}
          {way.sentence}
        </span>
      </th>
      {FIGURES.map(({ head, text }) => (
        <td key={head()} data-head={head()} class={text(way) === '' ? 'way-nothing' : ''}>
          {text(way)}
        </td>
      ))}
    </tr>
  );
}

/** Cells of a way; '' where there is none to say. */
const FIGURES: readonly { readonly head: () => string; readonly text: (way: Way) => string }[] = [
  {
    head: () => `arrive ${zoneWord()}`,
    text: ({ arrivalUtc }) => (arrivalUtc === null ? '' : clockText(arrivalUtc)),
  },
  { head: () => 'altitude ft', text: ({ altitudeFt }) => (altitudeFt === null ? '' : feetText(altitudeFt)) },
  { head: () => 'ice min', text: (way) => spreadOf(way, way.icingMinutes, 'hazardMinutes', 'mostMinutes') },
  {
    head: () => 'unknown min',
    text: ({ unknownMinutes }) =>
      unknownMinutes === null ? '' : String(rounded(unknownMinutes, 'hazardMinutes', 'screen')),
  },
  {
    head: () => `built ${unitText('mm')}`,
    text: (way) => figureText(spreadOf(way, way.builtMm, 'builtMm'), 'mm'),
  },
  {
    head: () => `fluid ${unitText('L')}`,
    text: ({ fluidL, unknownMinutes }) =>
      fluidL === null
        ? ''
        : `${figureText(spreadText(fluidL, 'fluidL'), 'L')}${isPartUnknown(unknownMinutes) ? '+' : ''}`,
  },
  {
    head: () => 'time h:min',
    text: ({ timeMinutes, unknownMinutes }) =>
      timeMinutes === null ? '' : `${about(unknownMinutes)}${hourMinuteText(timeMinutes)}`,
  },
  {
    head: () => 'fuel kg',
    text: ({ fuelKg, unknownMinutes }) =>
      fuelKg === null ? '' : `${about(unknownMinutes)}${rounded(fuelKg, 'fuelKg', 'screen')}`,
  },
];

const isPartUnknown = (unknownMinutes: number | null) => unknownMinutes !== null && unknownMinutes > 0;
/** In unknown air the wind is not known either. */
const about = (unknownMinutes: number | null) => (isPartUnknown(unknownMinutes) ? '≈' : '');

/** Of the known air alone: unknown air may hold more, and without known air there is nothing to say but that. */
function spreadOf(
  { unknownMinutes, timeMinutes, altitudeFt }: Way,
  spread: Way['icingMinutes'],
  quantity: 'hazardMinutes' | 'builtMm',
  high?: 'mostMinutes',
): string {
  if (spread === null) return altitudeFt === null ? '' : 'unknown';
  const text = spreadText(spread, quantity, high);
  return unknownMinutes === null || timeMinutes === null
    ? text
    : besideUnknown(text, { unknownMinutes, minutes: timeMinutes });
}
