/** When crew and occupants of an unpressurized aeroplane need oxygen. */
import { ftFromM } from '../science/units.ts';

export const OXYGEN_RULES = ['14 CFR 135.89(a)', '14 CFR 91.211(a)'] as const;
export type OxygenRule = (typeof OXYGEN_RULES)[number];

/** crew-after-30-minutes: for the part of the time beyond 30 minutes. */
export type OxygenNeed = 'none' | 'crew-after-30-minutes' | 'crew' | 'crew-and-occupants';

/** Cabin pressure altitudes above which each need starts, ft. */
const LIMITS_FT = {
  '14 CFR 91.211(a)': { longStayFt: 12500, crewFt: 14000, occupantsFt: 15000 },
  '14 CFR 135.89(a)': { longStayFt: 10000, crewFt: 12000, occupantsFt: Number.POSITIVE_INFINITY },
} as const satisfies Record<OxygenRule, Record<string, number>>;

/** Above the first after a while, above the second all the time. */
export const oxygenLimitsFt = (rule: OxygenRule): { readonly longStayFt: number; readonly crewFt: number } =>
  LIMITS_FT[rule];

const LONG_STAY_S = 1800;
/** Feet turned to meters and back differ by less than this, ft. */
const EQUAL_FT = 1e-6;

/**
 * @param pressureAltitudeM  Of the cabin, which is that of the aeroplane when it is not pressurized.
 * @param durationS          Time above the lower limit of the rule.
 * @source 14 CFR 91.211(a), 135.89(a); the passengers' rule of 135.157 is not judged.
 */
export function oxygenNeed(rule: OxygenRule, pressureAltitudeM: number, durationS: number): OxygenNeed {
  const altitudeFt = ftFromM(pressureAltitudeM) - EQUAL_FT;
  const limits = LIMITS_FT[rule];
  if (altitudeFt > limits.occupantsFt) return 'crew-and-occupants';
  if (altitudeFt > limits.crewFt) return 'crew';
  if (altitudeFt > limits.longStayFt && durationS > LONG_STAY_S) return 'crew-after-30-minutes';
  return 'none';
}
