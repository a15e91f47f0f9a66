/**
 * Groups of one runway: visual range (15.7) and state (15.13.6, code tables 0366, 0519, 0919, 1079). The tables stand from
 * memory (M) but for their codes 1, 5 and 90, which published examples show.
 */
import { mFromFt } from '../../science/units.ts';
import type { Bound } from './conditions.ts';

export interface RunwayVisualRange {
  /** Two figures with L, C or R. */
  readonly runway: string;
  /** Null when not observed; the lowest where the range varies. */
  readonly visualRangeM: number | null;
  readonly bound: Bound;
  /** The highest of a varying range; null of a steady one. */
  readonly highestM: number | null;
  readonly highestBound: Bound;
  readonly tendency: 'up' | 'down' | 'none' | null;
}

export interface RunwayState {
  /** Two figures with L, C or R; 88 all runways, 99 the last report once more; empty for the aerodrome (R/SNOCLO). */
  readonly runway: string;
  readonly state: 'cleared' | 'closed-by-snow' | 'contaminated';
  /** Code table 0919: 0 dry, 1 damp, 2 wet, 3 rime or frost, 4 dry snow, 5 wet snow, 6 slush, 7 ice, 8 rolled snow, 9 ruts. */
  readonly depositCode: number | null;
  /** Code table 0519: 1 at most 10 %, 2 to 25 %, 5 to 50 %, 9 to 100 %. */
  readonly extentCode: number | null;
  /** Code table 1079, 0 for less than 1 mm; null when not reported or not significant. */
  readonly depthMm: number | null;
  /** 99 in code table 1079: out of use for what lies on it, or for its clearance. */
  readonly isOutOfUse: boolean;
  /** Code table 0366 up to 90; null when not reported. */
  readonly frictionCoefficient: number | null;
  /** Code table 0366 from 91. */
  readonly braking: 'poor' | 'medium-poor' | 'medium' | 'medium-good' | 'good' | 'unreliable' | null;
}

const RANGE = /^R(\d{2}[LCR]{0,2})\/(?:([MP])?(\d{4})(?:V([MP])?(\d{4}))?(FT)?\/?([UDN])?|\/{4}(?:FT)?)$/;
const STATE = /^R(\d{2}[LCR]{0,2})\/(?:(CLRD)|(\d|\/)(\d|\/)(\d{2}|\/{2}))(\d{2}|\/{2})$/;
const SNOW_CLOSED = /^R(\d{2}[LCR]{0,2})?\/SNOCLO$/;

export function readRunwayVisualRange(group: string): RunwayVisualRange | undefined {
  const match = RANGE.exec(group);
  if (match === null) return undefined;
  const [, runway, bound, range, highestBound, highest, unit, tendency] = match;
  const meters = (figures: string | undefined) => {
    if (figures === undefined) return null;
    return unit === 'FT' ? mFromFt(Number(figures)) : Number(figures);
  };
  return {
    runway: runway!,
    visualRangeM: meters(range),
    bound: boundOf(bound),
    highestM: meters(highest),
    highestBound: boundOf(highestBound),
    tendency: tendency === undefined ? null : TENDENCIES[tendency]!,
  };
}

const TENDENCIES: Readonly<Record<string, RunwayVisualRange['tendency']>> = { U: 'up', D: 'down', N: 'none' };

function boundOf(sign: string | undefined): Bound {
  if (sign === undefined) return 'exact';
  return sign === 'P' ? 'above' : 'below';
}

export function readRunwayState(group: string): RunwayState | undefined {
  const closed = SNOW_CLOSED.exec(group);
  if (closed !== null) return { ...NOTHING_SAID, runway: closed[1] ?? '', state: 'closed-by-snow' };
  const match = STATE.exec(group);
  if (match === null) return undefined;
  const [, runway, cleared, deposit, extent, depth, braking] = match;
  const depthCode = figure(depth);
  return {
    runway: runway!,
    state: cleared === undefined ? 'contaminated' : 'cleared',
    depositCode: figure(deposit),
    extentCode: figure(extent),
    depthMm: depthCode === null ? null : (depthMmOf(depthCode) ?? null),
    isOutOfUse: depthCode === 99,
    ...brakingOf(figure(braking)),
  };
}

const NOTHING_SAID = {
  depositCode: null,
  extentCode: null,
  depthMm: null,
  isOutOfUse: false,
  frictionCoefficient: null,
  braking: null,
} as const;

/** Code table 1079: millimeters to 90, then steps of 5 cm from 10 cm (92) to 40 cm or more (98). */
function depthMmOf(code: number): number | undefined {
  if (code <= 90) return code;
  return code >= 92 && code <= 98 ? 100 + 50 * (code - 92) : undefined;
}

/** Code table 0366. */
const BRAKING: Readonly<Record<number, RunwayState['braking']>> = {
  91: 'poor',
  92: 'medium-poor',
  93: 'medium',
  94: 'medium-good',
  95: 'good',
  99: 'unreliable',
};

function brakingOf(code: number | null): Pick<RunwayState, 'frictionCoefficient' | 'braking'> {
  if (code === null) return { frictionCoefficient: null, braking: null };
  if (code <= 90) return { frictionCoefficient: code / 100, braking: null };
  return { frictionCoefficient: null, braking: BRAKING[code] ?? null };
}

function figure(text: string | undefined): number | null {
  return text === undefined || text.startsWith('/') ? null : Number(text);
}
