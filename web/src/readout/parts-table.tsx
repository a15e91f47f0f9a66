/** The considered altitude phase by phase; what is planned for beyond the trip is marked. */

import { rounded } from '../../../worker/flight/rounding.ts';
import type { BriefMember, PartAnswer } from '../contract.ts';
import { PART_WORDS } from '../flight/part-words.ts';
import { besideUnknown, UNKNOWN_TEXT } from '../known-amounts.ts';
import { feetText, spreadText } from '../numbers.ts';
import { figureText, unitText } from '../units.ts';

type Parts = NonNullable<BriefMember['alternatives'][number]['exposure']>['parts'];

const TRIP: ReadonlySet<PartAnswer['part']> = new Set(['taxi', 'climb', 'cruise', 'descent']);

interface PartsTableProps {
  readonly parts: Parts;
  /** What the tank is held to beyond the parts. */
  readonly fluid: BriefMember['fluid'];
}

export function PartsTable({ parts, fluid }: PartsTableProps) {
  if (parts.length === 0) return null;
  const hasFluid = parts.some((part) => part.fluidL !== null);
  return (
    <table class="parts">
      <caption class="for-ears">The flight phase by phase</caption>
      <thead>
        <tr>
          <th scope="col">part</th>
          <th scope="col">min</th>
          <th scope="col">ice min</th>
          <th scope="col">built {unitText('mm')}</th>
          {hasFluid && <th scope="col">fluid {unitText('L')}</th>}
        </tr>
      </thead>
      <tbody>
        {parts.map((part) => (
          <PartRow key={part.part} part={part} hasFluid={hasFluid} />
        ))}
        {hasFluid && fluid !== null && (
          <>
            <BeyondRow words="windshield" liters={fluid.windshieldL} />
            <BeyondRow words="reserve" liters={fluid.reserveL} />
          </>
        )}
      </tbody>
    </table>
  );
}

function BeyondRow({ words, liters }: { readonly words: string; readonly liters: number }) {
  return (
    <tr class="part-planned part-beyond">
      <th scope="row">
        {words}
        <span class="planned-mark">planned</span>
      </th>
      <td />
      <td />
      <td />
      <td>{figureText(String(rounded(liters, 'fluidL', 'screen')), 'L')}</td>
    </tr>
  );
}

function PartRow({ part, hasFluid }: { readonly part: PartAnswer; readonly hasFluid: boolean }) {
  const isPlanned = !TRIP.has(part.part);
  const known = (text: string) => {
    const beside = besideUnknown(text, part);
    return beside === UNKNOWN_TEXT ? (
      <span class="parts-unknown">
        <span aria-hidden="true">{UNKNOWN_TEXT}</span>
        <span class="for-ears">unknown</span>
      </span>
    ) : (
      beside
    );
  };
  return (
    <tr class={isPlanned ? 'part-planned' : ''}>
      <th scope="row">
        {PART_WORDS[part.part]}
        {part.altitudeFt !== null && ` ${feetText(Math.round(part.altitudeFt / 100) * 100)} ft`}
        {isPlanned && <span class="planned-mark">planned</span>}
      </th>
      <td>{rounded(part.minutes, 'timeMinutes', 'screen')}</td>
      <td>{known(spreadText(part.icingMinutes, 'hazardMinutes', 'mostMinutes'))}</td>
      <td>{known(figureText(spreadText(part.builtMm, 'builtMm'), 'mm'))}</td>
      {hasFluid && (
        <td>{part.fluidL === null ? '' : known(figureText(spreadText(part.fluidL, 'fluidL'), 'L'))}</td>
      )}
    </tr>
  );
}
