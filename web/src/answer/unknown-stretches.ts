/** Where the considered altitude lies in air that is not known, and why, for the headline. */
import { capitalized } from '../../../worker/flight/words.ts';
import { levelAtFt } from '../considered.ts';
import { type Brief, type BriefMember, type Candidate, type CurtainAnswer, featuresOf } from '../contract.ts';
import { cellAt, stretchOfPoint } from '../curtain.ts';
import { gapsNm } from '../section/gaps.ts';
import { STATE_WORDS } from '../words.ts';

type CellState = CurtainAnswer['stateWords'][number];

export interface UnknownStretch {
  readonly fromNm: number;
  readonly toNm: number;
  readonly state: CellState;
}

/** Neighboring points of one cause, joined. */
export function unknownStretches(curtain: CurtainAnswer, candidate: Candidate): UnknownStretch[] {
  const stretches: UnknownStretch[] = [];
  for (const [index, distanceNm] of curtain.distanceNm.entries()) {
    const { state } = cellAt(curtain, index, levelAtFt(candidate, distanceNm));
    if (state === 'known') continue;
    const { fromNm, toNm } = stretchOfPoint(curtain.distanceNm, index);
    const last = stretches.at(-1);
    if (last !== undefined && last.state === state && Math.abs(last.toNm - fromNm) < 0.01) {
      stretches[stretches.length - 1] = { ...last, toNm };
    } else stretches.push({ fromNm, toNm, state });
  }
  return stretches;
}

/** "No data 547–770 NM"; '' where the level is known all along, or the answer carries no cells. */
export function unknownWords(
  { curtain }: Pick<BriefMember, 'curtain'>,
  candidate: Candidate | undefined,
): string {
  if (curtain === undefined || candidate === undefined || candidate.exposure === null) return '';
  const places = new Map<string, string[]>();
  for (const { state, fromNm, toNm } of unknownStretches(curtain, candidate)) {
    if (state === 'known') continue;
    const words = capitalized(STATE_WORDS[state]);
    const at = stretchText({ fromNm, toNm });
    places.set(words, [...(places.get(words) ?? []), at]);
  }
  return [...places].map(([words, at]) => `${words} ${at.join(', ')} NM`).join('; ');
}

/** "Minimum altitude unknown 29–83, 108–186 NM"; '' where one is known all along. */
export function unknownMinimumWords(brief: Brief): string {
  const known = featuresOf(brief, 'minimum-altitude')
    .map(({ properties }) => properties)
    .filter(({ altitudeFt }) => altitudeFt !== null);
  const gaps = gapsNm(known, brief.brief.leg.distanceNm);
  return gaps.length === 0 ? '' : `Minimum altitude unknown ${gaps.map(stretchText).join(', ')} NM`;
}

/** "29–83", which no line breaks. */
export function stretchText({ fromNm, toNm }: { readonly fromNm: number; readonly toNm: number }): string {
  return `${Math.round(fromNm)}\u2060–\u2060${Math.round(toNm)}`;
}
