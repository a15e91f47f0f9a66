/** The parts of a flight as the cue card tells them: what grows on the rod, from when it is worse than forecast, and the way out. */
import {
  type IceWatch,
  limitOf,
  type RodCue,
  rodCue,
  rodGrowthMps,
  type WingAir,
} from '../../../worker/flight/rod-growth.ts';
import type { AircraftProfile } from '../../../worker/schema/aircraft.ts';
import {
  kFromC,
  mmPerMinFromMps,
  mpsFromInPerH,
  mpsFromKt,
  mpsFromMmPerMin,
  paFromHPa,
} from '../../../worker/science/units.ts';
import { wayOrder, wayStretches } from '../answer/file-line.ts';
import { waysOf } from '../considered.ts';
import type { BriefMember, Candidate, PartAnswer, SpreadAnswer } from '../contract.ts';

/** Early descent and vectors are flown in the air that the approach begins in. */
const TOLD_PARTS = ['climb', 'cruise', 'descent', 'approach', 'hold', 'alternate'] as const;
type ToldPart = (typeof TOLD_PARTS)[number];
/** Beyond the trip: told where there is ice or nobody knows. */
const PLANNED: ReadonlySet<string> = new Set(['approach', 'hold', 'alternate']);

export interface CueRow {
  readonly part: ToldPart;
  readonly air:
    | { readonly kind: 'ice'; readonly ice: NonNullable<PartAnswer['ice']>; readonly cue: RodCue }
    /** Their growth is left at its first sign, and not measured. */
    | { readonly kind: 'large-drops'; readonly ice: NonNullable<PartAnswer['ice']> }
    | { readonly kind: 'no-ice' }
    | { readonly kind: 'unknown' };
  /** At the high estimate. */
  readonly iceMinutes: number;
  readonly unknownMinutes: number;
  /** Orders, each once, with how long each takes; empty where none was worked out. */
  readonly ways: readonly string[];
}

export interface CueFigures {
  readonly aircraft: AircraftProfile;
  readonly rodDiameterMm: number;
}

/** undefined for an altitude that cannot be flown. */
export function cueRows(brief: BriefMember, candidate: Candidate, figures: CueFigures): CueRow[] | undefined {
  const { exposure } = candidate;
  if (exposure === null) return undefined;
  return TOLD_PARTS.flatMap((name) => {
    const part = exposure.parts.find((each) => each.part === name);
    if (part === undefined) return [];
    const row = { part: name, ...rowOf(part, brief, figures), ways: waysIn(part, brief, candidate) };
    return PLANNED.has(name) && row.air.kind === 'no-ice' ? [] : [row];
  });
}

function rowOf(part: PartAnswer, brief: BriefMember, figures: CueFigures): Omit<CueRow, 'part' | 'ways'> {
  const { unknownMinutes, icingMinutes } = part;
  return { air: airOf(part, brief, figures), iceMinutes: icingMinutes.high, unknownMinutes };
}

function airOf(
  { ice, growthMmPerMin, unknownMinutes }: PartAnswer,
  brief: BriefMember,
  figures: CueFigures,
): CueRow['air'] {
  if (ice?.hasLargeDrops) return { kind: 'large-drops', ice };
  if (ice === null || growthMmPerMin === null)
    return unknownMinutes > 0 ? { kind: 'unknown' } : { kind: 'no-ice' };
  const air = wingAirOf(ice, brief, figures.aircraft);
  return { kind: 'ice', ice, cue: rodCue(growthMps(growthMmPerMin), air, radiusM(figures)) };
}

const radiusM = ({ rodDiameterMm }: CueFigures) => rodDiameterMm / 2000;
export const growthMps = ({ low, middle, high }: SpreadAnswer) => ({
  low: mpsFromMmPerMin(low),
  middle: mpsFromMmPerMin(middle),
  high: mpsFromMmPerMin(high),
});

export function wingAirOf(
  ice: { readonly temperatureC: number; readonly pressureHPa: number; readonly trueAirspeedKt: number },
  { method }: Pick<BriefMember, 'method'>,
  { wingNoseRadiusMm }: AircraftProfile,
): WingAir {
  return {
    temperatureK: kFromC(ice.temperatureC),
    pressurePa: paFromHPa(ice.pressureHPa),
    trueAirspeedMps: mpsFromKt(ice.trueAirspeedKt),
    dropletNumberPerM3: Number(method.settings.dropletsPerCm3) * 1e6,
    wingNoseRadiusM: wingNoseRadiusMm / 1000,
  };
}

/** Where the high setting begins: moderate on the wing, AIM 7-1-19. */
const HIGH_FROM_MPS = mpsFromInPerH(1);

/** So much on the rod asks for the high setting, in the air of the part with most ice; undefined without any. */
export function highSettingFrom(
  rows: readonly CueRow[],
  brief: BriefMember,
  figures: CueFigures,
): IceWatch | undefined {
  const most = rows
    .flatMap(({ air, iceMinutes }) => (air.kind === 'ice' ? [{ ice: air.ice, iceMinutes }] : []))
    .sort((a, b) => b.iceMinutes - a.iceMinutes)[0];
  if (most === undefined) return undefined;
  const onRod = rodGrowthMps(HIGH_FROM_MPS, wingAirOf(most.ice, brief, figures.aircraft), radiusM(figures));
  return onRod === undefined ? undefined : limitOf(onRod);
}

const MOST_WAYS = 3;

function waysIn({ ice }: PartAnswer, { leg }: BriefMember, candidate: Candidate): string[] {
  if (ice === null || ice.alongNm === null) return [];
  const [fromNm, toNm] = ice.alongNm;
  const orders = wayStretches(waysOf(candidate, leg.points))
    .filter((stretch) => stretch.toNm >= fromNm && stretch.fromNm <= toNm && stretch.way !== 'not-needed')
    .map((stretch) => {
      const minutes = stretch.minutes === null ? '' : `, ${Math.max(1, Math.ceil(stretch.minutes))} min`;
      return `${wayOrder(stretch)}${minutes}`;
    });
  return [...new Set(orders)].slice(0, MOST_WAYS);
}

const S_PER_MIN = 60;

/** "3 mm in 5 min" without its unit: mm and min. */
export function watchFigures({ thicknessM, durationS }: IceWatch): { mm: number; minutes: number } {
  return { mm: Math.round(thicknessM * 1000), minutes: durationS / S_PER_MIN };
}

/** Millimeters after so many minutes, to a tenth, and to whole ones from ten on. */
export function grownMm(growth: number, minutes: number): number {
  const mm = mmPerMinFromMps(growth) * minutes;
  return mm < 10 ? Math.round(mm * 10) / 10 : Math.round(mm);
}
