/** `VIS 1/2V2`, `VIS NE 2 1/2`, `VIS 2 RWY11`, `SFC VIS 1`, `TWR VIS 1 1/2`, `VIS MIN 9999` in remarks. */
import type { RemarksDraft, RemarkVisibility } from './remarks.ts';
import { M_PER_STATUTE_MILE } from './visibility-group.ts';

/** Whole miles, a fraction, or both in two groups; meters in four figures, as military stations abroad report. */
const LENGTH = String.raw`(?:M?\d\/\d{1,2}|\d{1,2}(?: \d\/\d{1,2})?|\d{4})`;
const VARIABLE = new RegExp(`^VIS (${LENGTH})V(${LENGTH})$`);
const OF_TOWER_OR_SURFACE = new RegExp(`^(TWR|SFC) VIS (${LENGTH})$`);
const OF_SECTOR = new RegExp(`^VIS ((?:[NS]?[EW]|[NS])(?:-(?:[NS]?[EW]|[NS]))*) (${LENGTH})$`);
const OF_RUNWAY = new RegExp(`^VIS (${LENGTH}) (RWY\\d{2}[LCR]?(?:\\/\\d{2})?)$`);
const MINIMUM = /^VIS MIN (\d{4})$/;

/** The longest form has so many groups. */
const MOST_GROUPS = 5;

/** Takes the longest run of groups that is one of the forms. */
export function takeRemarkVisibility(draft: RemarksDraft, groups: readonly string[], index: number): number {
  const most = Math.min(MOST_GROUPS, groups.length - index);
  for (let count = most; count >= 2; count -= 1) {
    const visibility = readForm(groups.slice(index, index + count).join(' '));
    if (visibility === undefined) continue;
    draft.visibilities.push(visibility);
    return count;
  }
  return 0;
}

function readForm(text: string): RemarkVisibility | undefined {
  const variable = VARIABLE.exec(text);
  if (variable !== null) return formOf('variable', '', [variable[1]!, variable[2]!]);
  const placed = OF_TOWER_OR_SURFACE.exec(text);
  if (placed !== null) return formOf(placed[1] === 'TWR' ? 'tower' : 'surface', '', [placed[2]!]);
  const sector = OF_SECTOR.exec(text);
  if (sector !== null) return formOf('sector', sector[1]!, [sector[2]!]);
  const runway = OF_RUNWAY.exec(text);
  if (runway !== null) return formOf('runway', runway[2]!, [runway[1]!]);
  const minimum = MINIMUM.exec(text);
  return minimum === null ? undefined : formOf('minimum', '', [minimum[1]!]);
}

function formOf(
  kind: RemarkVisibility['kind'],
  where: string,
  lengths: readonly string[],
): RemarkVisibility | undefined {
  const meters = lengths.map(metersOf);
  if (meters.some((each) => !Number.isFinite(each))) return undefined;
  return { kind, where, lowestM: meters[0]!, highestM: meters.at(-1)! };
}

function metersOf(text: string): number {
  if (/^\d{4}$/.test(text)) return Number(text);
  const parts = text.replace('M', '').split(' ');
  const miles = parts.map((part) => {
    const [over, under = '1'] = part.split('/');
    return Number(over) / Number(under);
  });
  return miles.reduce((sum, each) => sum + each, 0) * M_PER_STATUTE_MILE;
}
