/** The best stepped profile of the lattice, flown like any other candidate. */
import { mFromFt } from '../science/units.ts';
import type { ChoiceContext, FlownCandidate, TriedCandidate } from './candidate.ts';
import type { PathStep } from './flight-path.ts';
import { tryCandidate } from './fly-candidate.ts';
import { COST, costPerS, type LatticeRequest, makeLattice } from './profile-lattice.ts';
import { bestSteppedProfile, type LevelEnds } from './stepped-profile.ts';
import type { ProfileLevel } from './types.ts';

const MOST_CHANGES = 2;
/** No altitude is kept for less (judgement): a change costs a call, a climb and attention. */
const LEAST_STAY_S = 900;
/** Without oxygen on board no stepped profile goes higher: time above would have to be counted along it. */
const WITHOUT_OXYGEN_M = mFromFt(10000);

/**
 * The best profile with one or two changes of altitude; undefined when the leg has room for none, when no single altitude shows
 * ice to step around, or when the profile found cannot be flown.
 *
 * @param singles  All single altitudes tried, ascending.
 * @param best     The best of those that can be flown.
 */
export function trySteppedProfile(
  context: ChoiceContext,
  singles: readonly TriedCandidate[],
  best: FlownCandidate | undefined,
): FlownCandidate | undefined {
  if (best?.verdict === 'no-ice-found') return undefined;
  const { input } = context;
  const usable = singles.filter(
    (single) =>
      single.path !== undefined &&
      single.pressureAltitudeM <= input.aircraft.ceilingM &&
      (input.aircraft.oxygen !== 'none' || single.pressureAltitudeM <= WITHOUT_OXYGEN_M),
  );
  if (usable.length < 2) return undefined;
  const request: LatticeRequest = {
    route: input.route,
    aircraft: input.aircraft,
    facts: context.facts,
    windAt: context.windAt,
    levelsM: usable.map(({ pressureAltitudeM }) => pressureAltitudeM),
    levelCost: usable.map(({ direction }) => (direction === 'ask' ? COST.perAskedLevel : 0)),
    minimumM: input.minimum.altitudeM.map((altitudeM) => altitudeM - input.indicatedMinusPressureM),
    crossings: (input.crossings ?? []).map((crossing) => ({
      ...crossing,
      altitudeM: crossing.altitudeM - input.indicatedMinusPressureM,
    })),
    iceM: (input.residualIceM ?? 0) + (best?.exposure.builtM.middle ?? 0),
  };
  const profile = bestSteppedProfile({
    lattice: makeLattice(request),
    ends: usable.map(({ path }, level) => endsOf(context, path!.steps, request.levelCost[level]!)),
    mostChanges: MOST_CHANGES,
    leastStayS: LEAST_STAY_S,
  });
  if (profile === undefined) return undefined;
  const levels: ProfileLevel[] = profile.levels.map(({ level, fromPoint }) => ({
    fromM: input.route.distanceM[fromPoint]!,
    altitudeM: usable[level]!.indicatedAltitudeM,
  }));
  const tried = tryCandidate(context, levels);
  return tried.kind === 'flown' ? tried : undefined;
}

/** Where the single altitude is reached and left, and what climb and descent cost. */
function endsOf(
  { facts }: ChoiceContext,
  steps: readonly PathStep[],
  levelCost: number,
): LevelEnds | undefined {
  const firstLevel = steps.findIndex(({ phase }) => phase === 'cruise');
  const lastLevel = steps.findLastIndex(({ phase }) => phase === 'cruise');
  if (firstLevel < 0) return undefined;
  const cost = (part: readonly PathStep[]) =>
    part.reduce(
      (sum, step) => sum + costPerS(facts, step.pointIndex, step.pressureAltitudeM) * step.durationS,
      0,
    );
  return {
    reachedM: steps[firstLevel]!.fromM,
    leftM: steps[lastLevel]!.toM,
    climbCost: cost(steps.slice(0, firstLevel)) + levelCost,
    descentCost: cost(steps.slice(lastLevel + 1)),
  };
}
