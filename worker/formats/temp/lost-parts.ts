/** Signs, among the groups of sections that are not read, of a part that has lost its name and with it its levels. */
import type { Rejection } from '../sounding.ts';
import type { ReportHeader } from './header.ts';
import { badGroup } from './level-values.ts';
import type { Group } from './reports.ts';

/**
 * @param groups  from the first section that is not read (31313, 41414, 51515 ...) to the end of the report.
 * @returns       a rejection for each group with letters, at most one a line, and for each repetition of the report's
 *                own time and station: there another part begins whose name is missing. Never throws.
 */
export function lostParts(groups: readonly Group[], header: ReportHeader): Rejection[] {
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
