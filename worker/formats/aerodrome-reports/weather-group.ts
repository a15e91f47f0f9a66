/** Groups w'w' and REw'w': code table 4678, read two letters at a time. */
import type { Descriptor, Phenomenon, Weather } from './conditions.ts';

const DESCRIPTORS: ReadonlySet<string> = new Set(['MI', 'BC', 'PR', 'DR', 'BL', 'SH', 'TS', 'FZ']);
const PHENOMENA: ReadonlySet<string> = new Set(
  'DZ RA SN SG IC PL GR GS UP BR FG FU VA DU SA HZ PY PO SQ FC SS DS'.split(' '),
);
/** Ice pellets before 1998. */
const OLDER: Readonly<Record<string, Phenomenon>> = { PE: 'PL' };

const SIGN_BEHIND = /^([A-Z]*FZ[A-Z]+)([-+])$/;

/** The longest that the table lets grow: sign, VC, and more descriptors and phenomena than any report has. */
const MOST_LETTERS = 15;

/**
 * @returns  undefined when some of the group is not of the table, or when it names neither a phenomenon nor one of the
 *           descriptors that stand alone (TS, and SH in the vicinity or in the recent past). A sign behind a group that
 *           freezes (`FZRA-`) is taken for the one that should stand before it.
 */
export function readWeather(group: string): Weather | undefined {
  if (group.length > MOST_LETTERS) return undefined;
  const turned = SIGN_BEHIND.exec(group);
  if (turned !== null) {
    const weather = readWeather(`${turned[2]}${turned[1]}`);
    return weather && { ...weather, text: group };
  }
  const sign = group[0] === '+' || group[0] === '-' ? group[0] : '';
  const isInVicinity = group.startsWith('VC', sign.length);
  const descriptors: Descriptor[] = [];
  const phenomena: Phenomenon[] = [];
  for (let at = sign.length + (isInVicinity ? 2 : 0); at < group.length; at += 2) {
    const pair = group.slice(at, at + 2);
    if (DESCRIPTORS.has(pair)) descriptors.push(pair as Descriptor);
    else if (PHENOMENA.has(pair)) phenomena.push(pair as Phenomenon);
    else if (OLDER[pair] !== undefined) phenomena.push(OLDER[pair]);
    else return undefined;
  }
  const standsAlone = descriptors.includes('TS') || descriptors.includes('SH');
  if (phenomena.length === 0 && !standsAlone) return undefined;
  // Only fog is shallow: MISG is the word for missing.
  if (descriptors.includes('MI') && !phenomena.includes('FG')) return undefined;
  return { text: group, intensity: intensityOf(sign), isInVicinity, descriptors, phenomena };
}

/** `-FZ RA`: rain, drizzle or fog that freezes, with a blank inside the group. Undefined for others. */
export function readPartedWeather(first: string, second: string): Weather | undefined {
  if (!/^[-+]?FZ$/.test(first) || !/^(?:RA|DZ|FG|UP)/.test(second)) return undefined;
  const weather = readWeather(`${first}${second}`);
  return weather && { ...weather, text: `${first} ${second}` };
}

/** REw'w': weather of the time since the last report, gone now. */
export function readRecentWeather(group: string): Weather | undefined {
  if (!group.startsWith('RE')) return undefined;
  const weather = readWeather(group.slice(2));
  return weather && { ...weather, text: group };
}

function intensityOf(sign: string): Weather['intensity'] {
  if (sign === '') return 'moderate';
  return sign === '+' ? 'heavy' : 'light';
}
