/** Forecasts of aerodromes as facts that bear on legs: what each group tells, for as long as it may hold. */
import type { HazardLevel } from '../../flight/hazard-levels.ts';
import type {
  ForecastConditions,
  TafChangeGroup,
  TafReport,
} from '../../formats/aerodrome-reports/report.ts';
import { readWeather } from '../../formats/aerodrome-reports/weather-group.ts';
import type { UnreadText } from '../../formats/pilot-reports/report.ts';
import { mayBePrecipitation } from '../../formats/precipitation-words.ts';
import { mFromFt } from '../../science/units.ts';
import type { ReportedIce } from '../reports.ts';
import { clockWords, type FactContext, MS_PER_HOUR, type NewReport, OPEN } from './make-report.ts';
import { stationAreas } from './station-areas.ts';
import { iceOfWeather, mayHoldIce, type WeatherIce } from './weather-ice.ts';

/** No forecast is made for longer. */
const LONGEST_MS = 36 * MS_PER_HOUR;
/** Layers of ice are told in steps of a thousand feet. */
const LAYER_MARGIN_M = mFromFt(1000);

/** The base or a change, with its groups that were not understood. */
type Part = ForecastConditions & Pick<TafChangeGroup, 'unread'>;

interface Period {
  readonly part: Part;
  readonly fromMs: number;
  readonly toMs: number;
  /** ", 30 %" or nothing. */
  readonly chance: string;
}

export function tafFacts(report: TafReport, context: FactContext): NewReport {
  const { station, text } = report;
  const issuedMs = report.issuedMs ?? report.validFromMs ?? context.nowMs;
  const validFromMs = report.validFromMs ?? issuedMs;
  // A cancellation takes back all that was forecast, however short the period that it names.
  const statedToMs = report.isCancellation ? null : report.validUntilMs;
  const validToMs = statedToMs ?? validFromMs + LONGEST_MS;
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
  for (const { part, fromMs, toMs, chance } of periodsOf(report, validity)) {
    const found = [
      ...iceOfWeather(part.weather, elevationM),
      ...layersOf(part, elevationM),
      ...(hasUnreadIce(part) ? [UNREAD] : []),
    ];
    for (const { words, severity, lower, upper } of found) {
      const hours = `${clockWords(fromMs).slice(0, 5)} to ${clockWords(toMs)}`;
      const sentence = `${report.station} forecasts ${words} ${hours}${chance}`;
      yield { severity, sentence, fromMs, toMs, lower, upper };
    }
  }
  const lost = report.unread.filter(isLost);
  if (!mayHoldIce(lost) && !lost.some(hasUnreadWeather)) return;
  const { words, ...unstated } = UNREAD;
  yield {
    ...unstated,
    sentence: `${report.station} forecasts ${words} until ${clockWords(validity.validToMs)}`,
    fromMs: validity.validFromMs,
    toMs: validity.validToMs,
  };
}

const UNREAD: WeatherIce = {
  severity: 'unstated',
  words: 'weather that cannot be read',
  lower: OPEN,
  upper: OPEN,
};

/** A change that could not be read: nobody can tell when it holds. */
const isLost = ({ element }: UnreadText) => element === 'change';

const hasUnreadWeather = ({ text }: UnreadText) =>
  text.split(' ').some((group) => mayBePrecipitation(group) && readWeather(group) === undefined);

/** A forecast tells no temperature: whatever cannot be read may freeze. */
const hasUnreadIce = (part: Part) => part.hasUnreadWeather || mayHoldIce(part.unread);

/**
 * From when to when each group holds. FM ends all before it. BECMG with weather, or with the end of weather, ends what held
 * before when it is done; without a word on weather it ends nothing. Neither ends anything while its own weather cannot be
 * read. TEMPO, INTER and PROB stand beside the others.
 */
function periodsOf(
  { base, changes, unread }: TafReport,
  { validFromMs, validToMs }: { readonly validFromMs: number; readonly validToMs: number },
): Period[] {
  const periods: Period[] = [];
  // A change that could not be read may be the one that a later group seems to end.
  const isUncertain = unread.some(isLost);
  const ofBase = unread.filter((each) => !isLost(each));
  let open: { part: Part; fromMs: number }[] = [{ part: { ...base, unread: ofBase }, fromMs: validFromMs }];
  const close = (atMs: number) => {
    periods.push(...open.map((each) => ({ ...each, toMs: atMs, chance: '' })));
    open = [];
  };
  for (const change of changes) {
    if (change.change === 'FM' || change.change === 'BECMG') {
      const isFrom = change.change === 'FM';
      const isEnding = (isFrom || tellsWeather(change)) && !hasUnreadIce(change);
      if (isEnding && !isUncertain) close(isFrom ? change.fromMs : change.untilMs);
      open.push({ part: change, fromMs: change.fromMs });
    } else {
      const chance = change.probabilityPct === null ? '' : `, ${change.probabilityPct} %`;
      periods.push({ part: change, fromMs: change.fromMs, toMs: change.untilMs, chance });
    }
  }
  close(validToMs);
  return periods.filter(({ fromMs, toMs }) => fromMs <= toMs);
}

function tellsWeather({ weather, isWeatherEnding }: TafChangeGroup): boolean {
  return weather.length > 0 || isWeatherEnding;
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
