/** The choice over a test curtain, and what of it tests read. */
import { chooseAltitude } from '../../worker/flight/choose-altitude.ts';
import type { CandidateResult, Choice, ChooseInput } from '../../worker/flight/types.ts';
import { ftFromM } from '../../worker/science/units.ts';
import { type CellAt, LIGHT_ICE, layer, makeChooseInput } from './make-curtain.ts';

export const SEVERE_ICE = { ...LIGHT_ICE, intensity: 4, growthMmPerMin: 2 };
export const deckToTheGround = layer(0, 9000, LIGHT_ICE);

export const choose = (cellAt: CellAt, change: Partial<ChooseInput> = {}): Choice =>
  chooseAltitude(makeChooseInput(cellAt, change));

export const ftOf = (altitudeM: number): number => Math.round(ftFromM(altitudeM));

export function at(choice: Choice, altitudeFt: number): CandidateResult {
  const found = choice.candidates.find((candidate) => ftOf(candidate.indicatedAltitudeM) === altitudeFt);
  if (found === undefined) throw new Error(`no candidate at ${altitudeFt}`);
  return found;
}

export const filed = ({ file }: Choice) =>
  file && {
    altitudeFt: ftOf(file.altitudeM),
    accept: [ftOf(file.acceptLowerM), ftOf(file.acceptUpperM)],
    refuse: file.refuse.map(({ altitudeM, reason }) => `${ftOf(altitudeM)} ${reason}`),
  };

export const codesOf = (reasons: readonly { readonly code: string }[]): string[] =>
  reasons.map(({ code }) => code);
