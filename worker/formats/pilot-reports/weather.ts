/** The weather element, /WX: flight visibility, then groups of present weather as in aerodrome reports. */
import type { WeatherElement } from './report.ts';

/** International statute mile, m. */
const M_PER_STATUTE_MILE = 1609.344;
/** FV99SM is "unrestricted"; from memory. */
const UNRESTRICTED_MILES = 99;
const VISIBILITY = /^FV(\d{1,2})(?:SM)?$/;
/** Intensity, descriptor and phenomena of FM 15, code table 4678. */
const PRESENT_WEATHER =
  /^(?:-|\+|VC)?(?:(?:MI|BC|PR|DR|BL|SH|TS|FZ)?(?:DZ|RA|SN|SG|IC|PL|PE|GR|GS|UP|BR|FG|FU|VA|DU|SA|HZ|PY|PO|SQ|FC|SS|DS){1,3}|TS)$/;

/** Freezing rain, drizzle and fog in plain words, in contractions of them, or parted by a blank. */
const FREEZING =
  /(?<![A-Z])(?:(LGT|LIGHT|MOD|MDT|MODERATE|HVY|HEAVY) )?([-+]?)(?:FREEZING|FRZG|FRZNG|FRZ|FZG|FZ) ?(RAIN|RA|DRIZZLE|DRZL|DZ|FOG|FG)([-+]?)(?![A-Z])/g;
const SIGNS: Readonly<Record<string, string>> = { L: '-', H: '+' };
const CODES: Readonly<Record<string, string>> = { RAIN: 'RA', DRIZZLE: 'DZ', DRZL: 'DZ', FOG: 'FG' };

export interface ReadWeather {
  readonly weather: WeatherElement;
  readonly unread: readonly string[];
}

/** @checked tests/formats/pilot-reports/elements.test.ts */
export function readWeather(text: string): ReadWeather {
  const phenomena: string[] = [];
  const unread: string[] = [];
  let visibilityM: number | undefined;
  for (const word of text
    .replace(FREEZING, freezingGroup)
    .split(' ')
    .filter((each) => each !== '' && each !== 'UNKN')) {
    const visibility = VISIBILITY.exec(word);
    if (visibility !== null && visibilityM === undefined) {
      const miles = Number(visibility[1]);
      visibilityM = miles === UNRESTRICTED_MILES ? Number.POSITIVE_INFINITY : miles * M_PER_STATUTE_MILE;
    } else if (PRESENT_WEATHER.test(word)) phenomena.push(word);
    else unread.push(word);
  }
  return { weather: { visibilityM, phenomena, isWhole: unread.length === 0 }, unread };
}

/** The group of the code; the sign is that before it, behind it or in words. */
function freezingGroup(...[, words = '', before, what, behind]: string[]): string {
  return `${before || behind || (SIGNS[words[0] ?? ''] ?? '')}FZ${CODES[what!] ?? what}`;
}
