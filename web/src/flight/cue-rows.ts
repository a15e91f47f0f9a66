/** The parts of a flight as the cue card tells them: what grows on the rod, from when it is worse than forecast, and the way out. */
import {
  type IceWatch,
  type RodAir,
  type RodCue,
  rodCue,
  type WingAir,
} from '../../../worker/flight/rod-growth.ts';
import type { AircraftProfile } from '../../../worker/schema/aircraft.ts';
import { kFromC, mmPerMinFromMps, mpsFromKt, paFromHPa } from '../../../worker/science/units.ts';
import { wayOrder, wayStretches } from '../answer/file-line.ts';
import { stretchText } from '../answer/unknown-stretches.ts';
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
    /** Nothing in the air, yet somebody reports or warns of it. */
    | { readonly kind: 'reported' }
    | { readonly kind: 'no-ice' }
    | { readonly kind: 'unknown' };
  /** At the high estimate. */
  readonly iceMinutes: number;
  readonly unknownMinutes: number;
  /** Sentences of reports and warnings on the part. */
  readonly reported: readonly string[];
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
  const { unknownMinutes, icingMinutes, reported } = part;
  return { air: airOf(part, brief, figures), iceMinutes: icingMinutes.high, unknownMinutes, reported };
}

function airOf(part: PartAnswer, brief: BriefMember, figures: CueFigures): CueRow['air'] {
  const { ice, catchGPerM2S, unknownMinutes, reported } = part;
  if (ice?.hasLargeDrops) return { kind: 'large-drops', ice };
  if (ice !== null && catchGPerM2S !== null) {
    const air: RodAir = {
      ...wingAirOf(ice, brief, figures.aircraft),
      flownMps: mpsFromKt(flownKt(part.part, ice.trueAirspeedKt, figures.aircraft)),
    };
    return { kind: 'ice', ice, cue: rodCue(catchOf(catchGPerM2S), air, figures.rodDiameterMm / 2000) };
  }
  if (unknownMinutes > 0) return { kind: 'unknown' };
  return { kind: reported.length > 0 ? 'reported' : 'no-ice' };
}

/** The growth of the forecast is that of the cruise; a climb is slower. */
export function flownKt(part: string, cruiseKt: number, aircraft: AircraftProfile): number {
  if (part === 'climb') return aircraft.climbTrueAirspeedKt;
  return ['descent', 'approach', 'hold'].includes(part) ? aircraft.descentTrueAirspeedKt : cruiseKt;
}

const G_PER_KG = 1000;
export const catchOf = ({ low, middle, high }: SpreadAnswer) => ({
  low: low / G_PER_KG,
  middle: middle / G_PER_KG,
  high: high / G_PER_KG,
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

/** So much on the rod asks for the high setting, on the part with most ice; undefined without any, and where the rod shows little. */
export function highSettingFrom(rows: readonly CueRow[]): IceWatch | undefined {
  const withIce = rows.flatMap(({ air, iceMinutes }) =>
    air.kind === 'ice' ? [{ high: air.cue.high, iceMinutes }] : [],
  );
  return withIce.sort((one, other) => other.iceMinutes - one.iceMinutes)[0]?.high;
}

const MOST_WAYS = 3;

function waysIn({ ice }: PartAnswer, { leg }: BriefMember, candidate: Candidate): string[] {
  if (ice === null || ice.alongNm === null) return [];
  const [fromNm, toNm] = ice.alongNm;
  const orders = wayStretches(waysOf(candidate, leg.points))
    .filter((stretch) => stretch.toNm >= fromNm && stretch.fromNm <= toNm && stretch.way !== 'not-needed')
    .map((stretch) => {
      const minutes = stretch.minutes === null ? '' : `, ${Math.max(1, Math.ceil(stretch.minutes))} min`;
      return `${stretchText(stretch)} NM ${wayOrder(stretch)}${minutes}`;
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
