/** The two or three facts that would change the decision, each tried on the curtain at hand. */
import { FREEZING_K } from '../science/constants.ts';
import { ftFromM, mFromFt } from '../science/units.ts';
import type { ChoiceContext, FlownCandidate } from './candidate.ts';
import { type CellFacts, CLOUD_EXPECTED, FACT } from './cell-facts.ts';
import { cellNumber } from './cells.ts';
import { isAcceptable } from './file-advice.ts';
import { icingMiddleS } from './ranking.ts';
import { rounded } from './rounding.ts';
import type { FlightReason } from './types.ts';
import { isBeyondLimits } from './verdict-rules.ts';
import {
  apiFeet,
  apiLiters,
  feet,
  hazardMinutes,
  levelsWords,
  litersOf,
  reason,
  withThousands,
} from './words.ts';

const MOST_FACTS = 3;
/** Shifts tried: tops up to so much higher, and air up to so much colder. */
const SHIFT_M = mFromFt(500);
const MOST_SHIFTS = 8;
const MOST_COLDER_K = 4;
/** So much of the cruise in ice makes it another flight, s. */
const MATTERS_S = 300;
/** Fluid this near to what is carried is worth saying, part of it. */
const FLUID_NEAR = 0.25;

/** @param others  Flown single altitudes, best first. */
export function changesOf(
  context: ChoiceContext,
  best: FlownCandidate,
  others: readonly FlownCandidate[],
): FlightReason[] {
  if (best.isUnderColdMinimum) return [];
  const found = isAcceptable(best.verdict)
    ? [higherTops(context, best), colderAir(context, best), fluidLeft(best), nextBest(best, others)]
    : [moreFluid(context, best)];
  return found.filter((each) => each !== undefined).slice(0, MOST_FACTS);
}

/** Ice below that would reach the cruise if its tops were higher. */
function higherTops({ facts }: ChoiceContext, best: FlownCandidate): FlightReason | undefined {
  const downS = secondsByDepth(facts, best);
  let moreS = 0;
  for (let shifts = 1; shifts <= MOST_SHIFTS; shifts += 1) {
    moreS += downS[shifts]!;
    if (moreS < MATTERS_S) continue;
    const upFt = Math.round(ftFromM(shifts * SHIFT_M));
    const altitude = feet(best.indicatedAltitudeM);
    return reason(
      'if-tops-are-higher',
      `If tops are ${withThousands(upFt)} ft higher, ${altitude} is in ice for ${hazardMinutes(moreS)} more`,
      {
        higherFt: upFt,
        moreMinutes: Math.round(moreS / 60),
        altitudeFt: apiFeet(best.indicatedAltitudeM),
      },
    );
  }
  return undefined;
}

/** Level time, s, by how many cells under the aeroplane the nearest expected ice lies; 0 is inside it. */
function secondsByDepth(facts: CellFacts, { path }: FlownCandidate): Float64Array {
  const downS = new Float64Array(MOST_SHIFTS + 1);
  for (const { isLevel, pointIndex, pressureAltitudeM, durationS } of path.steps) {
    if (!isLevel) continue;
    const cell = cellNumber(facts, pressureAltitudeM);
    let down = 0;
    while (down <= MOST_SHIFTS && !expectsIce(facts, pointIndex, cell - down)) down += 1;
    if (down <= MOST_SHIFTS) downS[down]! += durationS;
  }
  return downS;
}

/** Cloud on the cruise that is too warm to freeze by a little. */
function colderAir({ facts, input }: ChoiceContext, best: FlownCandidate): FlightReason | undefined {
  const { icing, weather } = input;
  for (let colderK = 1; colderK <= MOST_COLDER_K; colderK += 1) {
    const moreS = cruiseSeconds(facts, best, (point, cell) => {
      const index = point * facts.cellCount + cell;
      if (cell < 0 || cell >= facts.cellCount || (facts.answers[index]! & FACT.known) === 0) return false;
      const overK = weather.temperatureK[index]! - FREEZING_K;
      return icing.cloudProbability[index]! >= CLOUD_EXPECTED && overK >= 0 && overK < colderK;
    });
    if (moreS < MATTERS_S) continue;
    return reason(
      'if-air-is-colder',
      `If it is ${colderK} °C colder, ${hazardMinutes(moreS)} of cloud on the cruise is below freezing`,
      { colderC: colderK, moreMinutes: Math.round(moreS / 60) },
    );
  }
  return undefined;
}

function fluidLeft({ fluid }: FlownCandidate): FlightReason | undefined {
  if (fluid?.onBoardM3 === undefined || fluid.neededM3.high === 0) return undefined;
  const spareM3 = fluid.onBoardM3 - fluid.neededM3.high;
  if (spareM3 > FLUID_NEAR * fluid.onBoardM3) return undefined;
  const spareL = rounded(litersOf(Math.max(0, spareM3)), 'spareL', 'screen');
  return reason(
    'if-more-fluid-is-used',
    `Only ${spareL} L of fluid to spare: with less on board, refill first`,
    {
      spareL: apiLiters(spareM3),
    },
  );
}

/** A fuller tank, where it is all that is missing and the tank holds so much. */
function moreFluid(
  { input: { aircraft } }: ChoiceContext,
  { fluid, limitsBroken, verdictReasons }: FlownCandidate,
): FlightReason | undefined {
  const fluidRules = verdictReasons.filter(({ code }) => isBeyondLimits(code) && code.startsWith('fluid-'));
  if (fluid === undefined || limitsBroken === 0 || fluidRules.length < limitsBroken) return undefined;
  const leastM3 = Math.max(fluid.neededM3.high, fluid.minimumDispatchM3);
  const { protection } = aircraft;
  const leastL = rounded(litersOf(leastM3), 'fluidL', 'screen');
  if (protection.kind !== 'fluid' || leastL > litersOf(protection.usableM3)) return undefined;
  return reason('with-more-fluid', `With ${leastL} L on board the fluid would last: refill first`, {
    neededL: apiLiters(leastM3),
  });
}

/** What it costs not to be given the best altitude. */
function nextBest(best: FlownCandidate, others: readonly FlownCandidate[]): FlightReason | undefined {
  const other = others.find((each) => each !== best);
  if (other === undefined) return undefined;
  const moreS = icingMiddleS(other) - icingMiddleS(best);
  if (isAcceptable(other.verdict) && moreS < MATTERS_S) return undefined;
  const altitude = feet(other.indicatedAltitudeM);
  const sentence = isAcceptable(other.verdict)
    ? `If ${levelsWords(best.levels)} is not given, ${altitude} is next, with ${hazardMinutes(moreS)} more ice`
    : `If ${levelsWords(best.levels)} is not given, no other altitude is within limits`;
  return reason('if-not-given', sentence, {
    nextAltitudeFt: apiFeet(other.indicatedAltitudeM),
    moreMinutes: Math.round(moreS / 60),
  });
}

function cruiseSeconds(
  facts: CellFacts,
  { path }: FlownCandidate,
  isMet: (point: number, cell: number) => boolean,
): number {
  let sumS = 0;
  for (const step of path.steps) {
    if (!step.isLevel) continue;
    if (isMet(step.pointIndex, cellNumber(facts, step.pressureAltitudeM))) sumS += step.durationS;
  }
  return sumS;
}

function expectsIce(facts: CellFacts, point: number, cell: number): boolean {
  if (cell < 0 || cell >= facts.cellCount) return false;
  return (facts.answers[point * facts.cellCount + cell]! & FACT.expectsIce) !== 0;
}
