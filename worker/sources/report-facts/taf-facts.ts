/** Forecasts of aerodromes as facts that bear on legs: what each group tells, for as long as it may hold. */
import type { HazardLevel } from '../../flight/hazard-levels.ts';
import type {
  ForecastConditions,
  TafChangeGroup,
  TafReport,
} from '../../formats/aerodrome-reports/report.ts';
import { mFromFt } from '../../science/units.ts';
import type { ReportedIce } from '../reports.ts';
import { clockWords, type FactContext, MS_PER_HOUR, type NewReport, OPEN } from './make-report.ts';
import { stationAreas } from './station-areas.ts';
import { iceOfWeather, mayHoldIce, type WeatherIce } from './weather-ice.ts';

/** No forecast is made for longer. */
const LONGEST_MS = 36 * MS_PER_HOUR;
/** Layers of ice are told in steps of a thousand feet. */
const LAYER_MARGIN_M = mFromFt(1000);

interface Period {
  readonly conditions: ForecastConditions;
  readonly fromMs: number;
  readonly toMs: number;
  /** ", 30 %" or nothing. */
  readonly chance: string;
}

export function tafFacts(report: TafReport, context: FactContext): NewReport {
  const { station, text } = report;
  const issuedMs = report.issuedMs ?? report.validFromMs ?? context.nowMs;
  const validFromMs = report.validFromMs ?? issuedMs;
  const validToMs = report.validUntilMs ?? validFromMs + LONGEST_MS;
  const place = stationAreas(station, context);
  const isEmpty = report.isNil || report.isCancellation;
  const ice = isEmpty ? [] : [...toldIce(report, { validFromMs, validToMs }, place.elevationM)];
  return {
    kind: 'taf',
    hazardKind: 'surface-forecast',
    series: `taf ${station}`,
    rank: Number(report.isAmendment) + Number(report.isCorrection),
    issuedMs,
    validFromMs,
    validToMs,
    text,
    areas: place.areas,
    ice: place.counted(ice),
    cancels: undefined,
    // Parts of it are not known: an earlier forecast that tells of ice may still be right.
    isDoubtful: report.isNil || hasUnread(report) || report.issuedMs === null,
  };
}

function hasUnread({ unread, base, changes }: TafReport): boolean {
  return (
    unread.length > 0 ||
    base.hasUnreadWeather ||
    changes.some((change) => change.unread.length > 0 || change.hasUnreadWeather)
  );
}

function* toldIce(
  report: TafReport,
  validity: { readonly validFromMs: number; readonly validToMs: number },
  elevationM: number,
): Generator<ReportedIce> {
  for (const { conditions, fromMs, toMs, chance } of periodsOf(report, validity)) {
    const found = [...iceOfWeather(conditions.weather, elevationM), ...layersOf(conditions, elevationM)];
    for (const { words, severity, lower, upper } of found) {
      const hours = `${clockWords(fromMs).slice(0, 5)} to ${clockWords(toMs)}`;
      const sentence = `${report.station} forecasts ${words} ${hours}${chance}`;
      yield { severity, sentence, fromMs, toMs, lower, upper };
    }
  }
  const texts = [report, ...report.changes].flatMap(({ unread }) => unread.map(({ text }) => text));
  if (!mayHoldIce(texts.join(' '))) return;
  yield {
    severity: 'unstated',
    sentence: `${report.station} forecasts weather that cannot be read until ${clockWords(validity.validToMs)}`,
    fromMs: validity.validFromMs,
    toMs: validity.validToMs,
    lower: OPEN,
    upper: OPEN,
  };
}

/**
 * From when to when each group holds. FM ends all before it. BECMG with weather, or with the end of weather, ends what held
 * before when it is done; without a word on weather it ends nothing. TEMPO, INTER and PROB stand beside the others.
 */
function periodsOf(
  { base, changes, unread }: TafReport,
  { validFromMs, validToMs }: { readonly validFromMs: number; readonly validToMs: number },
): Period[] {
  const periods: Period[] = [];
  // A change that could not be read may be the one that a later group seems to end.
  const isUncertain = unread.some(({ element }) => element === 'change');
  let open: { conditions: ForecastConditions; fromMs: number }[] = [
    { conditions: base, fromMs: validFromMs },
  ];
  const close = (atMs: number) => {
    periods.push(...open.map((each) => ({ ...each, toMs: atMs, chance: '' })));
    open = [];
  };
  for (const change of changes) {
    if (change.change === 'FM' || change.change === 'BECMG') {
      const isEnding = change.change === 'FM' || endsWeather(change);
      if (isEnding && !isUncertain) close(change.change === 'FM' ? change.fromMs : change.untilMs);
      open.push({ conditions: change, fromMs: change.fromMs });
    } else {
      const chance = change.probabilityPct === null ? '' : `, ${change.probabilityPct} %`;
      periods.push({ conditions: change, fromMs: change.fromMs, toMs: change.untilMs, chance });
    }
  }
  close(validToMs);
  return periods.filter(({ fromMs, toMs }) => fromMs <= toMs);
}

function endsWeather({ weather, isWeatherEnding, hasUnreadWeather }: TafChangeGroup): boolean {
  return (weather.length > 0 || isWeatherEnding) && !hasUnreadWeather;
}

function layersOf({ icing }: ForecastConditions, elevationM: number): WeatherIce[] {
  return icing
    .filter(({ intensity }) => intensity !== 'none-or-trace')
    .map(({ intensity, baseAglFt, thicknessFt }) => ({
      severity: intensity === 'moderate' || intensity === 'severe' ? intensity : 'unstated',
      words: `${intensity} icing`,
      lower: aboveGround(elevationM, baseAglFt),
      upper: thicknessFt === null ? OPEN : aboveGround(elevationM, baseAglFt + thicknessFt),
    }));
}

function aboveGround(elevationM: number, heightFt: number): HazardLevel {
  if (!Number.isFinite(elevationM)) return OPEN;
  return { kind: 'altitude', altitudeM: elevationM + mFromFt(heightFt), marginM: LAYER_MARGIN_M };
}
