/**
 * Heights of the standard levels, chosen among those their figures may mean and held against the hypsometric
 * thickness. Station elevation and heights form a chain from the ground up in which every step must fit the thickness
 * between its ends within 30 m and 3 %; the chain with most members stands, what is outside it is refused.
 */
import type { Rejection } from '../sounding.ts';
import type { TempLevel } from './level-values.ts';
import { thicknessAbove } from './thickness.ts';

/** Rounding of two coded heights and of the pressures between them, m. */
const TOLERANCE_M = 30;
/** A mean temperature wrong by 8 K: more than straight lines between an ascent's levels can miss. */
const TOLERANCE_RATIO = 0.03;
/** The elevation decides between two equal chains; a height by the code's rule goes before its neighbors. */
const WEIGHTS = { surface: 1.5, byRule: 1, byNeighbor: 0.9 } as const;
/** Surface pressures weighed against each other: part A gives one, part B one with the temperature and one with the wind. */
const MOST_SURFACES = 3;

export interface HeightResult {
  /** Height of a standard pressure (Pa), gpm, where one stands. */
  readonly standardHeightM: ReadonlyMap<number, number>;
  /** Surface pressures, Pa, that do not fit the elevation and the heights above. */
  readonly refusedSurfacesPa: ReadonlySet<number>;
  readonly rejected: readonly Rejection[];
}

/** A pressure at a height: one member of a chain. */
interface Member {
  readonly level: TempLevel;
  readonly pressurePa: number;
  readonly heightM: number;
  readonly weight: number;
}

type Thickness = ReturnType<typeof thicknessAbove>;

/**
 * Chooses the heights of one ascent.
 *
 * @param levels      all levels of all parts in order of precedence; of one pressure the first height counts.
 * @param elevationM  of the surface levels, m; NaN leaves the surface out of the check.
 */
export function chooseHeights(levels: readonly TempLevel[], elevationM: number): HeightResult {
  const members = candidates(levels, elevationM);
  const thickness = thicknessAbove(levels.map(({ record }) => record));
  const chain = heaviestChain(members, thickness);
  const standardHeightM = new Map<number, number>();
  for (const { level, pressurePa, heightM } of chain) {
    if (level.kind === 'standard') standardHeightM.set(pressurePa, heightM);
  }
  const placed = new Set(chain.map(({ pressurePa }) => pressurePa));
  const refused = new Map<number, Member>();
  for (const member of members) {
    const isFirst = !placed.has(member.pressurePa) && !refused.has(member.pressurePa);
    if (isFirst) refused.set(member.pressurePa, member);
  }
  const refusedMembers = [...refused.values()];
  return {
    standardHeightM,
    refusedSurfacesPa: new Set(
      refusedMembers.filter(({ level }) => level.kind === 'surface').map(({ pressurePa }) => pressurePa),
    ),
    rejected: refusedMembers.map((member) => misfit(member, chain, thickness)),
  };
}

/** Possible members, highest pressure first; of one pressure the surface or the rule's height first. */
function candidates(levels: readonly TempLevel[], elevationM: number): Member[] {
  const members: Member[] = [];
  const seen = new Set<string>();
  let surfaces = 0;
  for (const level of levels) {
    const { pressurePa } = level.record;
    const key = `${level.kind} ${pressurePa}`;
    if (seen.has(key)) continue;
    if (level.kind === 'surface' && Number.isFinite(elevationM) && surfaces < MOST_SURFACES) {
      seen.add(key);
      surfaces += 1;
      members.push({ level, pressurePa, heightM: elevationM, weight: WEIGHTS.surface });
    } else if (level.heightChoices.length > 0) {
      seen.add(key);
      for (const { heightM, isByRule } of level.heightChoices) {
        const weight = isByRule ? WEIGHTS.byRule : WEIGHTS.byNeighbor;
        members.push({ level, pressurePa, heightM, weight });
      }
    }
  }
  return members.sort((a, b) => b.pressurePa - a.pressurePa);
}

/** The chain of greatest weight; of equal ones the one that ends lowest. */
function heaviestChain(members: readonly Member[], thickness: Thickness): Member[] {
  const weights: number[] = [];
  const belows: number[] = [];
  members.forEach((member, index) => {
    let bestBelow = -1;
    for (let below = 0; below < index; below += 1) {
      const isHeavier = bestBelow < 0 || weights[below]! > weights[bestBelow]!;
      if (isHeavier && fits(members[below]!, member, thickness)) bestBelow = below;
    }
    belows.push(bestBelow);
    weights.push(member.weight + (bestBelow < 0 ? 0 : weights[bestBelow]!));
  });
  const chain: Member[] = [];
  let top = weights.reduce((best, weight, index) => (best < 0 || weight > weights[best]! ? index : best), -1);
  for (; top >= 0; top = belows[top]!) chain.unshift(members[top]!);
  return chain;
}

/** True when one member can stand above another. Without temperatures between them only their order is checked. */
function fits(lower: Member, upper: Member, thickness: Thickness): boolean {
  if (lower.level === upper.level) return false;
  const stepM = upper.heightM - lower.heightM;
  const expectedM = stepBetween(lower, upper, thickness);
  if (expectedM === undefined) {
    const isPlain = lower.weight >= WEIGHTS.byRule && upper.weight >= WEIGHTS.byRule;
    return isPlain && stepM >= 0;
  }
  return Math.abs(stepM - expectedM) <= TOLERANCE_M + TOLERANCE_RATIO * expectedM;
}

function stepBetween(lower: Member, upper: Member, thickness: Thickness): number | undefined {
  const lowerM = thickness(lower.pressurePa);
  const upperM = thickness(upper.pressurePa);
  return lowerM === undefined || upperM === undefined ? undefined : upperM - lowerM;
}

/** Says what was expected, reckoned from the nearest member of the chain. */
function misfit(member: Member, chain: readonly Member[], thickness: Thickness): Rejection {
  const distance = (other: Member) => Math.abs(Math.log(other.pressurePa / member.pressurePa));
  const nearest = chain.toSorted((a, b) => distance(a) - distance(b))[0];
  const stepM = nearest === undefined ? undefined : stepBetween(nearest, member, thickness);
  const what = member.level.kind === 'surface' ? 'surface level' : 'height';
  const found = `${what} at ${member.pressurePa / 100} hPa: found ${Math.round(member.heightM)} m`;
  const from =
    nearest === undefined ? '' : ` from ${nearest.pressurePa / 100} hPa at ${Math.round(nearest.heightM)} m`;
  const expected =
    nearest === undefined || stepM === undefined
      ? `a height in order${from}`
      : `about ${Math.round(nearest.heightM + stepM)} m by the thickness${from}`;
  const advice = member.level.kind === 'surface' ? "; check the station's elevation" : '';
  return { line: member.level.record.line, reason: `${found}, expected ${expected}${advice}` };
}
