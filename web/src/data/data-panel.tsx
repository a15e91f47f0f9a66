/** Where the answer comes from: every sounding and grid, its time and age, who made it. */
import { durationWords } from '../../../worker/flight/words.ts';
import { dataAgeWords } from '../age.ts';
import type { BriefMember, DataUsed } from '../contract.ts';
import { feetText, instantText, settingText } from '../numbers.ts';
import { nowMs } from '../state.ts';
import { attributionsOf, type DataGroup, groupedByName } from './stations.ts';

export function DataPanel({ brief }: { readonly brief: BriefMember }) {
  const departureMs = Date.parse(brief.leg.departureUtc);
  return (
    <section class="data" aria-labelledby="data-title">
      <h2 id="data-title">Data</h2>
      {brief.data.length === 0 && (
        <p class="readout-unknown">
          <span>unknown: no data reaches this leg</span>
        </p>
      )}
      <ul class="sources">
        {oldestFirst(groupedByName(brief.data)).map((group) => (
          <Source key={group.name} group={group} departureMs={departureMs} />
        ))}
      </ul>
      {brief.limits.groundAttribution !== null && (
        <p class="quiet">Ground: {brief.limits.groundAttribution}.</p>
      )}
      <p class="quiet">{limitsWords(brief)}</p>
      <p class="quiet">
        Altitudes are indicated on {settingText(brief.limits.altimeterSettingHPa)}. Aircraft{' '}
        {brief.limits.aircraftName}; corridor {brief.limits.corridorHalfWidthNm} NM either side; method{' '}
        {brief.method.version}.
        {brief.staleAtUtc !== null && ` Newer data may be due from ${instantText(brief.staleAtUtc)}.`}
      </p>
    </section>
  );
}

/** What a narrow paper leaves out is then the freshest. */
function oldestFirst(groups: readonly DataGroup[]): DataGroup[] {
  const oldestMs = ({ uses }: DataGroup) =>
    Math.min(...uses.map(({ runUtc, validUtc }) => Date.parse(runUtc ?? validUtc)));
  return [...groups].sort((a, b) => oldestMs(a) - oldestMs(b));
}

/** What the answer was held against, in one line. */
function limitsWords({ limits }: BriefMember): string {
  const { planned } = limits;
  const hold = `hold ${Math.round(planned.holdMinutes)} min at ${hundredsText(planned.holdAltitudeFt)} ft`;
  const alternate = planned.alternate === null ? 'no alternate' : `alternate ${planned.alternate}`;
  const ceilings = `ceiling ${feetText(limits.ceilingFt)} ft, ${feetText(limits.icedCeilingFt)} ft with ice`;
  return `Held against: ${ceilings}; ${hold}; ${alternate}; levels by ${limits.directionRule}; oxygen by ${limits.oxygenRule}.`;
}

const hundredsText = (altitudeFt: number) => feetText(Math.round(altitudeFt / 100) * 100);

function Source({ group, departureMs }: { readonly group: DataGroup; readonly departureMs: number }) {
  const first = group.uses[0]!;
  return (
    <li>
      <p>
        <b>{group.name}</b>{' '}
        {group.uses.every((one) => one.invented) && <span class="invented">invented</span>}{' '}
        <span class="quiet">{first.kind === 'grid' ? 'model' : `${Math.round(first.nearestNm)} NM off`}</span>
      </p>
      {group.uses.map((one) => (
        <p key={one.id} class="source-use">
          {timeWords(one)}: {dataAgeWords(one, departureMs, nowMs.value)}
          <span class="quiet"> {useWords(one)}</span>
          {one.lacks.map((lack) => (
            <span key={lack} class="source-lacks">
              {lack}
            </span>
          ))}
        </p>
      ))}
      <p class="quiet">{attributionsOf(group)}</p>
    </li>
  );
}

/** The age of a forecast hour is that of its run. */
function timeWords({ runUtc, validUtc }: DataUsed): string {
  return runUtc === null
    ? instantText(validUtc)
    : `For ${instantText(validUtc)} by the run of ${instantText(runUtc)}`;
}

function useWords({ usedUpToMinutes, ...where }: DataUsed): string {
  return `(for ${whereWords(where)}, up to ${durationWords(usedUpToMinutes * 60_000)} from its time)`;
}

/** More stretches than these are told by their share. */
const MOST_STRETCHES = 2;

/** Where along the leg a source is used. */
function whereWords({ share, alongNm }: Pick<DataUsed, 'share' | 'alongNm'>): string {
  if (share === 1) return 'the whole leg';
  if (alongNm.length > MOST_STRETCHES) return `${Math.round(share * 100)} % of the leg`;
  return alongNm.map(([fromNm, toNm]) => `${Math.round(fromNm)} to ${Math.round(toNm)} NM`).join(' and ');
}
