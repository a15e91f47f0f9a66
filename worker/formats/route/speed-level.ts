/** Cruising speed and level of item 15: N0160F090, K0300M0840, M082S1130, N0150VFR. */
import { mFromFt, mFromNm } from '../../science/units.ts';
import { type RouteWord, refuseWord } from './route-words.ts';

/** True airspeed, or Mach number to the hundredth. */
export type CruisingSpeed =
  | { readonly kind: 'true-airspeed'; readonly trueAirspeedMps: number }
  | { readonly kind: 'mach'; readonly mach: number };

export type CruisingLevel =
  /** F in hundreds of feet, S in tens of metres: over the standard pressure 1013.25 hPa. */
  | { readonly kind: 'pressure-altitude'; readonly pressureAltitudeM: number }
  /** A in hundreds of feet, M in tens of metres: above mean sea level. */
  | { readonly kind: 'altitude'; readonly altitudeM: number }
  /** An uncontrolled VFR flight, no level named. */
  | { readonly kind: 'vfr' };

export interface SpeedLevel {
  /** As written, upper case. */
  readonly text: string;
  readonly speed: CruisingSpeed;
  readonly level: CruisingLevel;
}

/** A layer to climb through while cruising; `upper` is undefined for PLUS: no upper end is planned. */
export interface CruiseClimb {
  readonly text: string;
  readonly speed: CruisingSpeed;
  readonly lower: CruisingLevel;
  readonly upper: CruisingLevel | undefined;
}

const SPEED = '(N\\d{4}|K\\d{4}|M\\d{3})';
const MEASURED_LEVEL = '(F\\d{3}|A\\d{3}|S\\d{4}|M\\d{4})';
const SPEED_LEVEL = new RegExp(`^${SPEED}(?:${MEASURED_LEVEL}|(VFR))$`);
const CRUISE_CLIMB = new RegExp(`^${SPEED}${MEASURED_LEVEL}(?:${MEASURED_LEVEL}|PLUS)$`);
const SECONDS_PER_HOUR = 3600;

export function isSpeedLevel(text: string): boolean {
  return SPEED_LEVEL.test(text);
}

/**
 * @returns  undefined when the text has not the form of a speed and level.
 * @throws   InvalidRequestError, naming the word it stands in, for a speed of 0.
 */
export function readSpeedLevel(text: string, word: RouteWord): SpeedLevel | undefined {
  const match = SPEED_LEVEL.exec(text);
  if (match === null) return undefined;
  const [, speed, level] = match;
  return {
    text,
    speed: readSpeed(speed!, word),
    level: level === undefined ? { kind: 'vfr' } : readLevel(level),
  };
}

/** As readSpeedLevel, of M082F290F350 or M082F290PLUS; also refused where the second level is not above the first. */
export function readCruiseClimb(text: string, word: RouteWord): CruiseClimb | undefined {
  const match = CRUISE_CLIMB.exec(text);
  if (match === null) return undefined;
  const [, speed, from, to] = match;
  const lower = readLevel(from!);
  const upper = to === undefined ? undefined : readLevel(to);
  if (upper !== undefined) {
    if (upper.kind !== lower.kind) refuseWord(word, 'two levels measured from the same surface');
    if (heightOfM(upper) <= heightOfM(lower)) refuseWord(word, 'a second level above the first');
  }
  return { text, speed: readSpeed(speed!, word), lower, upper };
}

function readSpeed(text: string, word: RouteWord): CruisingSpeed {
  const figures = Number(text.slice(1));
  if (figures === 0) refuseWord(word, 'a speed above 0');
  if (text[0] === 'M') return { kind: 'mach', mach: figures / 100 };
  const metersPerHour = text[0] === 'N' ? mFromNm(figures) : figures * 1000;
  return { kind: 'true-airspeed', trueAirspeedMps: metersPerHour / SECONDS_PER_HOUR };
}

function readLevel(text: string): Exclude<CruisingLevel, { kind: 'vfr' }> {
  const figures = Number(text.slice(1));
  switch (text[0]) {
    case 'F':
      return { kind: 'pressure-altitude', pressureAltitudeM: mFromFt(figures * 100) };
    case 'S':
      return { kind: 'pressure-altitude', pressureAltitudeM: figures * 10 };
    case 'A':
      return { kind: 'altitude', altitudeM: mFromFt(figures * 100) };
    default:
      return { kind: 'altitude', altitudeM: figures * 10 };
  }
}

function heightOfM(level: Exclude<CruisingLevel, { kind: 'vfr' }>): number {
  return level.kind === 'altitude' ? level.altitudeM : level.pressureAltitudeM;
}
