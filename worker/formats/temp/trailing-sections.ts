/**
 * What stands behind the levels of a part: the instrument and its release (31313), cloud (41414), regional groups
 * (51515) and national ones. Read are the time of release and, of Region IV, the levels that the observer doubts; and
 * the signs of a part that has lost its name and with it its levels are told.
 *
 * @source  WMO-No. 306, Manual on Codes, volume I.1, FM 35, section 7 (8GGgg); volume II, Region IV, 101AA 0PPPP: that
 *          codes 65 to 72 doubt or miss what lies between the two pressures is from memory, so all of them cost both.
 */
import type { Rejection } from '../sounding.ts';
import type { ReportHeader } from './header.ts';
import { badGroup } from './level-values.ts';
import type { Group } from './reports.ts';

const INSTRUMENT_SECTION = '31313';
const REGIONAL_SECTION = '51515';
/** 101AA: additional data, or the reason why there are none. */
const REGION_IV_NOTE = /^101(\d\d)$/;
const DOUBT_CODES = { first: 65, last: 72 } as const;
/** The ends of a doubt are told in tens of hPa. */
const ROUNDING_HPA = 10;

/** Levels that the report itself calls doubtful or missing. */
export interface DoubtfulRange {
  readonly bottomPa: number;
  readonly topPa: number;
  readonly rejection: Rejection;
}

export interface TrailingSections {
  /** Time of release, minutes after 00 UTC of its day; NaN where not given. */
  readonly releaseMinute: number;
  readonly doubts: readonly DoubtfulRange[];
  readonly rejected: readonly Rejection[];
  /** Regional notes that no level belongs to, with the section's mark: where there are no levels, the reason for it. */
  readonly notes: string;
}

/**
 * @param groups  from the first section after the levels to the end of the report; empty where there is none.
 * @returns       beside what is read, a rejection for each group with letters, at most one a line, and for each
 *                repetition of the report's own time and station: there another part begins whose name is missing.
 *                Never throws.
 */
export function readTrailingSections(groups: readonly Group[], header: ReportHeader): TrailingSections {
  const regional = regionalGroups(groups, header.stationId);
  return {
    releaseMinute: releaseMinute(groups),
    doubts: doubtfulRanges(regional),
    rejected: lostParts(groups, header),
    notes: regional
      .slice(0, 3)
      .map(({ text }) => text)
      .join(' '),
  };
}

/** 8GGgg, the second or third group of its section: the radiosonde's own figures come first. */
function releaseMinute(groups: readonly Group[]): number {
  const at = groups.findIndex(({ text }) => text === INSTRUMENT_SECTION);
  if (at < 0) return Number.NaN;
  const found = groups
    .slice(at + 2, at + 4)
    .map(({ text }) => /^8([01]\d|2[0-3])([0-5]\d)$/.exec(text))
    .find((match) => match !== null);
  return found ? 60 * Number(found[1]) + Number(found[2]) : Number.NaN;
}

/** The regional section with its mark, of stations of Region IV (blocks 70 to 79); empty elsewhere. */
function regionalGroups(groups: readonly Group[], stationId: string): readonly Group[] {
  const at = groups.findIndex(({ text }) => text === REGIONAL_SECTION);
  return at < 0 || !/^7\d{4}$/.test(stationId) ? [] : groups.slice(at);
}

/** 0PnPnPnPn after a note, once or more: lower and upper end in tens of hPa, 00 for 1000; taken with their rounding. */
function doubtfulRanges(groups: readonly Group[]): DoubtfulRange[] {
  return groups.flatMap(({ text }, index) => {
    const code = Number(REGION_IV_NOTE.exec(text)?.[1] ?? Number.NaN);
    if (!(code >= DOUBT_CODES.first && code <= DOUBT_CODES.last)) return [];
    const ranges: DoubtfulRange[] = [];
    for (let at = index + 1; at < groups.length; at += 1) {
      const figures = /^0(\d\d)(\d\d)$/.exec(groups[at]!.text);
      if (figures === null) break;
      ranges.push(doubtfulRange(text, groups[at]!, [tensOfHPa(figures[1]!), tensOfHPa(figures[2]!)]));
    }
    return ranges;
  });
}

function doubtfulRange(
  note: string,
  { text, line }: Group,
  [bottomHPa, topHPa]: readonly [bottom: number, top: number],
): DoubtfulRange {
  const reason = `regional note ${note} ${text}: read with caution as temperature, dew point and height doubtful or missing from ${bottomHPa} to ${topHPa} hPa; the air there is unknown`;
  return {
    bottomPa: (bottomHPa + ROUNDING_HPA) * 100,
    topPa: (topHPa - ROUNDING_HPA) * 100,
    rejection: { line, reason },
  };
}

function tensOfHPa(figures: string): number {
  return figures === '00' ? 1000 : 10 * Number(figures);
}

function lostParts(groups: readonly Group[], header: ReportHeader): Rejection[] {
  const rejected: Rejection[] = [];
  groups.forEach((group, index) => {
    const station = groups[index + 1];
    const isHeader = group.text.slice(0, 4) === header.timeFigures && station?.text === header.stationId;
    const isLettered = /[A-Z]/i.test(group.text) && rejected.at(-1)?.line !== group.line;
    if (isHeader)
      rejected.push(
        badGroup({ ...group, text: `${group.text} ${station.text}` }, 'the name of a part before it'),
      );
    else if (isLettered) rejected.push(badGroup(group, 'five figures or the name of a part'));
  });
  return rejected;
}
