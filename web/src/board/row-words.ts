/** What a leg's line says, cell by cell. What is not known says so and is marked, never left out. */
import { rounded } from '../../../worker/flight/rounding.ts';
import type {
  BoardFlight,
  Change,
  IceEquipment,
  Minima,
  WeatherStanding,
} from '../../../worker/schema/board.ts';
import { feetText, fluidSpreadText } from '../numbers.ts';
import { amountText } from '../units.ts';
import { LARGE_DROP_WORDS, UNKNOWN_WORD, VERDICT_WORDS } from '../words.ts';
import { beforeFlight, heldEvaluation } from './held-evaluation.ts';
import { agoWords, utcClock } from './leg-times.ts';

/** plain: as it is; strong: against the flight; unknown: hatched; quiet: nothing to say. */
export type Weight = 'plain' | 'strong' | 'unknown' | 'quiet';

export interface Said {
  readonly text: string;
  readonly weight: Weight;
}

const said = (text: string, weight: Weight = 'plain'): Said => ({ text, weight });

export const EQUIPMENT_WORDS: Readonly<Record<IceEquipment, string>> = {
  'wing-fluid': 'wing fluid',
  'tail-fluid': 'tail fluid',
  'propeller-fluid': 'propeller fluid',
  windshield: 'windshield',
  'pitot-heat': 'pitot heat',
  'stall-warning-heat': 'stall warning heat',
  'inlet-separator': 'inlet separator',
  'ice-light': 'ice light',
};

/** "Inoperative: wing fluid, pitot heat"; '' for nothing. */
export function inoperativeWords(inoperative: readonly IceEquipment[]): string {
  if (inoperative.length === 0) return '';
  return `Inoperative: ${inoperative.map((each) => EQUIPMENT_WORDS[each]).join(', ')}`;
}

/** To file: "11,000 ft". */
export function altitudeSaid(flight: BoardFlight): Said {
  const evaluation = heldEvaluation(flight);
  if (evaluation === undefined) return said(`altitude ${UNKNOWN_WORD}`, 'unknown');
  if (evaluation.altitudeFt === null)
    return evaluation.verdict === 'unknown'
      ? said(`altitude ${UNKNOWN_WORD}`, 'unknown')
      : said('none to file', 'strong');
  return said(`${feetText(evaluation.altitudeFt)} ft`);
}

/** "accept 10,000–13,000"; '' where there is no range. */
export function acceptWords(flight: BoardFlight): string {
  const range = heldEvaluation(flight)?.acceptFt ?? null;
  if (range === null || range.lowerFt === range.upperFt) return '';
  return `accept ${feetText(range.lowerFt)}–${feetText(range.upperFt)}`;
}

/** Minutes in ice and the worst of it. */
export function iceSaid(flight: BoardFlight): Said {
  const evaluation = heldEvaluation(flight);
  if (evaluation === undefined) return said(`ice ${UNKNOWN_WORD}`, 'unknown');
  const { exposure } = evaluation;
  if (exposure === null) return said('no altitude can be flown', 'strong');
  const { icingMinutesHigh, worstIntensity, worstLargeDrops } = exposure;
  if (worstIntensity === null) return said(`worst ice ${UNKNOWN_WORD}`, 'unknown');
  const drops = worstLargeDrops === 'none' ? '' : `, ${LARGE_DROP_WORDS[worstLargeDrops]}`;
  const weight = drops !== '' || worstIntensity === 'severe' ? 'strong' : 'plain';
  const minutes = rounded(icingMinutesHigh, 'mostMinutes', 'screen');
  if (minutes === 0) return said(`0 min in ice${drops}`, weight);
  const worst = worstIntensity === 'none' ? 'little ice' : `worst ${worstIntensity}`;
  return said(`ice up to ${minutes} min, ${worst}${drops}`, weight);
}

/** What of the way is not known; undefined where all is. */
export function unknownStretchSaid(flight: BoardFlight): Said | undefined {
  const evaluation = heldEvaluation(flight);
  const minutes = rounded(evaluation?.exposure?.unknownMinutes ?? 0, 'hazardMinutes', 'screen');
  return minutes === 0 ? undefined : said(`${minutes} min ${UNKNOWN_WORD}`, 'unknown');
}

/** "builds up to 12 mm"; '' for none. */
export function builtWords(flight: BoardFlight): string {
  const built = rounded(heldEvaluation(flight)?.exposure?.builtMmHigh ?? 0, 'builtMm', 'screen');
  return built === 0 ? '' : `builds up to ${amountText(String(built), 'mm')}`;
}

/** "least bad 9,000 ft", where the figures are not of an altitude to file; '' elsewhere. */
export function leastBadWords(flight: BoardFlight): string {
  const evaluation = heldEvaluation(flight);
  if (evaluation === undefined || evaluation.exposure === null) return '';
  const { altitudeFt, exposure } = evaluation;
  return altitudeFt === exposure.altitudeFt ? '' : `at ${feetText(exposure.altitudeFt)} ft`;
}

/** "fluid 50 of 80 L": what the flight may need, of what is on board; where it is short both in words. */
export function fluidSaid(flight: BoardFlight): Said {
  const evaluation = heldEvaluation(flight);
  if (evaluation === undefined) return said(`fluid ${UNKNOWN_WORD}`, 'unknown');
  const { fluid, fluidUnknownWhy } = evaluation;
  if (fluid === null) {
    if (fluidUnknownWhy !== '') return said(`fluid ${UNKNOWN_WORD}`, 'unknown');
    return said('no fluid counted', 'quiet');
  }
  const needed = fluidSpreadText(
    { low: fluid.neededHighL, middle: fluid.neededHighL, high: fluid.neededHighL },
    fluid.onBoardL,
  );
  const aboard = rounded(fluid.onBoardL, 'fluidOnBoardL', 'screen');
  if (fluid.coversHighEstimate) return said(`fluid ${amountText(`${needed} of ${aboard}`, 'L')}`);
  const [needs, has] = [amountText(needed, 'L'), amountText(String(aboard), 'L')];
  return said(`fluid short: needs ${needs}, has ${has}`, 'strong');
}

/** Destination and alternate; of an evaluation that holds no more only that both are unknown. */
export function weathersSaid(flight: BoardFlight): readonly Said[] {
  const evaluation = heldEvaluation(flight);
  if (evaluation === undefined) return [said(`${flight.to} ${UNKNOWN_WORD}`, 'unknown')];
  return [weatherSaid(evaluation.destination, ''), weatherSaid(evaluation.alternate, 'no alternate')];
}

/** "Before: at 11:00 UTC within limits, 11,000 ft, up to 10 min, worst light": what holds no more; '' while it holds. */
export function beforeWords(flight: BoardFlight): string {
  const before = beforeFlight(flight);
  if (before === undefined) return '';
  const verdict = VERDICT_WORDS[before.verdict].toLowerCase();
  const figures = [altitudeSaid(before), iceSaid(before), fluidSaid(before), ...weathersSaid(before)];
  const words = figures.map(({ text }) => text).filter((text) => text !== '');
  return `Before, not to be held to: at ${utcClock(before.evaluation.atUtc)} UTC ${[verdict, ...words].join(', ')}`;
}

/** "KBGR above minima", with its figures where they are against it. */
export function weatherSaid(standing: WeatherStanding | null, none: string): Said {
  if (standing === null) return said(none, 'quiet');
  const { aerodrome } = standing;
  if (standing.standing === 'unknown') return said(`${aerodrome} ${UNKNOWN_WORD}`, 'unknown');
  if (standing.standing === 'above') return said(`${aerodrome} above minima`);
  const figures = weatherFigures(standing);
  return said(`${aerodrome} below minima${figures === '' ? '' : `, ${figures}`}`, 'strong');
}

function weatherFigures({
  ceilingFt,
  visibilityM,
}: Pick<WeatherStanding, 'ceilingFt' | 'visibilityM'>): string {
  const parts: string[] = [];
  if (ceilingFt !== null) parts.push(`${feetText(ceilingFt)} ft`);
  if (visibilityM !== null) parts.push(`${feetText(seenM(visibilityM))} m`);
  return parts.join(' ');
}

/** As reports have it: steps of 50 m below 800 m, of 100 m below 5,000 m, of 1,000 m above; never more than is seen. */
function seenM(visibilityM: number): number {
  const stepM = visibilityM < 800 ? 50 : visibilityM < 5000 ? 100 : 1000;
  return Math.floor(visibilityM / stepM) * stepM;
}

/** "200 ft, 800 m"; what is required of an aerodrome. */
export function minimaWords({ ceilingFt, visibilityM }: Minima): string {
  return weatherFigures({ ceilingFt, visibilityM });
}

const CHANGE_WORDS: Readonly<Record<Change['kind'], string>> = {
  first: 'New',
  worse: 'Worse',
  better: 'Better',
  other: 'Changed',
  mark: 'Marked',
  tail: 'Aeroplane',
  schedule: 'Schedule',
};

/** "Worse 12 min ago". */
export function changeWords({ kind, atUtc }: Change, nowMs: number): string {
  return `${CHANGE_WORDS[kind]} ${agoWords(atUtc, nowMs)}`;
}

/** Who has seen the change that the leg has now; undefined for nobody. */
export function acknowledgedBy({ change, acknowledged }: BoardFlight): string | undefined {
  if (change === null || acknowledged === null || acknowledged.seq < change.seq) return undefined;
  return acknowledged.by;
}

/** What differs from the brief that was shared; undefined where none was. */
export function sharedSaid({ shared }: BoardFlight): Said | undefined {
  if (shared === null) return undefined;
  if (shared.since.length === 0) return said('as shared: verdict and altitude', 'quiet');
  return said(`since shared: ${shared.since.join('; ')}`, 'strong');
}
