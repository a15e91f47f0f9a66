/**
 * Composes a pilot report (PIREP) from entered values, element by element as on FAA Form 7110-2: what `readPirep`
 * reads, written. It needs nothing of a platform, so that the page composes without the service.
 *
 * @source AIM 7-1, table 7-1-7 (order, codes, when a report is urgent). `SFC` for the ground and the signs that a
 *         telegraph carries are from memory.
 */
import type {
  ComposedReport,
  EntryFault,
  EntryLayer,
  EntryPlace,
  EntrySkyLayer,
  ReportEntry,
} from './report-entry.ts';

export type * from './report-entry.ts';

interface Figures {
  readonly least: number;
  readonly most: number;
  readonly step: number;
  /** Figures that the form has for it, at least. */
  readonly digits: number;
  readonly unit: string;
}

const MS_PER_MINUTE = 60_000;
const MINUTES_PER_DAY = 1440;
/** The last instant of ECMAScript, ms from the epoch, and with its sign the first. */
const LAST_TIME_MS = 8.64e15;

/** No aeroplane reports from higher. */
const ALTITUDE: Figures = { least: 100, most: 60_000, step: 100, digits: 3, unit: 'ft' };
const HEIGHT: Figures = { ...ALTITUDE, least: 0 };
const DIRECTION: Figures = { least: 1, most: 360, step: 1, digits: 3, unit: 'degrees' };
const DISTANCE: Figures = { least: 1, most: 999, step: 1, digits: 3, unit: 'NM' };
const SPEED: Figures = { least: 0, most: 300, step: 1, digits: 2, unit: 'kt' };
/** 99 is "unrestricted". */
const VISIBILITY: Figures = { least: 0, most: 98, step: 1, digits: 2, unit: 'SM' };
const TEMPERATURE: Figures = { least: -99, most: 60, step: 1, digits: 2, unit: 'degrees Celsius' };

const PHASES: ReadonlyMap<string, string> = new Map([
  ['climb', 'DURC'],
  ['descent', 'DURD'],
]);
/** Words of the phase, and where a reader sees one. */
const PHASE_WORD = /(?:(?<![A-Z])|(?<=UNKN))DURG?[CD](?=UNKN|FL\d|[^A-Z]|$)/;
/** Each list of codes is in order, the least first. */
const AMOUNTS: ReadonlyMap<string, string> = new Map([
  ['few', 'FEW'],
  ['scattered', 'SCT'],
  ['broken', 'BKN'],
  ['overcast', 'OVC'],
]);
const ICING: ReadonlyMap<string, string> = new Map([
  ['trace', 'TRACE'],
  ['light', 'LGT'],
  ['moderate', 'MOD'],
  ['severe', 'SEV'],
]);
const TURBULENCE: ReadonlyMap<string, string> = new Map([
  ['light', 'LGT'],
  ['moderate', 'MOD'],
  ['severe', 'SEV'],
  ['extreme', 'EXTRM'],
]);
const ICE_KINDS: ReadonlyMap<string, string> = new Map([
  ['unstated', ''],
  ['rime', ' RIME'],
  ['clear', ' CLR'],
  ['mixed', ' MX'],
]);
const TURBULENCE_KINDS: ReadonlyMap<string, string> = new Map([
  ['unstated', ''],
  ['clear-air', ' CAT'],
  ['chop', ' CHOP'],
]);
const URGENT_TURBULENCE: ReadonlySet<string> = new Set(['severe', 'extreme']);

/** ZCZC begins a transmission. */
const STATION = /^(?!ZCZC$)(?=\d*[A-Z])[A-Z0-9]{3,4}$/;
const IDENTIFIER = /^(?!UNKN$)(?=\d{0,4}[A-Z])[A-Z0-9]{2,5}$/;
/** Identifiers that, alone, are words of the location. */
const LOCATION_WORDS = /^(?:OVR|OVER|OVHD|FINAL|FNL|ILS|LOC|RWY|RY|BASE|APCH|DEP|ARPT|FIELD)$/;
const TYPE = /^[A-Z][A-Z0-9]{1,3}$/;
/** Intensity, descriptor and phenomena of FM 15, code table 4678. */
const PRESENT_WEATHER =
  /^(?:-|\+|VC)?(?:(?:MI|BC|PR|DR|BL|SH|TS|FZ)?(?:DZ|RA|SN|SG|IC|PL|GR|GS|UP|BR|FG|FU|VA|DU|SA|HZ|PY|PO|SQ|FC|SS|DS){1,3}|TS)$/;
/** Tornado, funnel cloud and waterspout; hail; volcanic ash. */
const URGENT_WEATHER = new Set(['FC', 'GR', 'VA']);
const MOST_GROUPS = 6;
const MOST_LAYERS = 6;
const LONGEST_REMARKS = 200;
const UNCARRIED = /[^A-Z0-9 .,:?()'+/-]/u;

/**
 * The report on one line, or all that keeps it from being written; never a report with something left out.
 *
 * Urgent (UUA) are severe icing or the heavier end of a range of it, severe and extreme turbulence, FC (tornado, funnel
 * cloud, waterspout), hail (GR) and volcanic ash (VA). Freezing rain and GS are not in the table's list: like wind shear,
 * which only remarks can tell of, they are urgent where the pilot judges them hazardous.
 *
 * Remarks cannot become an element: a solidus stays between two figures only. They are read for words of ice, which make
 * a null report none, and of the phase, which has a member of its own.
 *
 * Never throws for an entry of its type; numbers and words out of range are faults.
 *
 * @checked tests/formats/pilot-reports/compose.test.ts, compose-faults.test.ts, compose-round-trip.test.ts
 */
export function composePirep(entry: ReportEntry): ComposedReport {
  const checks = new Checks();
  const station = checks.word('station', entry.station, STATION, 'three or four letters and figures');
  const remarks = remarksText(checks, entry);
  const elements = [
    `/OV ${placeText(checks, entry.place)}`,
    `/TM ${timeText(checks, entry.timeMs)}`,
    `/FL${entry.altitudeFt === undefined ? 'UNKN' : checks.figures('altitudeFt', entry.altitudeFt, ALTITUDE)}`,
    `/TP ${typeText(checks, entry.aircraftType)}`,
    optional('SK', skyText(checks, entry.sky)),
    optional('WX', weatherText(checks, entry)),
    optional('TA', temperatureText(checks, entry.temperatureC)),
    optional('WV', windText(checks, entry.wind)),
    optional('TB', turbulenceText(checks, entry)),
    optional('IC', icingText(checks, entry)),
    optional('RM', remarks),
  ];
  if (checks.faults.length > 0) return { kind: 'faults', faults: checks.faults };
  const isUrgent = isUrgentEntry(entry);
  return { kind: 'composed', text: `${station} ${isUrgent ? 'UUA' : 'UA'} ${elements.join('')}`, isUrgent };
}

const optional = (code: string, text: string) => (text === '' ? '' : `/${code} ${text}`);

/** Gathers faults; what a faulty entry gives is not used. */
class Checks {
  readonly faults: EntryFault[] = [];

  refuse(field: string, found: unknown, expected: string): string {
    this.faults.push({ field, found: foundText(found), expected });
    return '';
  }

  word(field: string, text: string, pattern: RegExp, expected: string): string {
    const word = text.trim().toUpperCase();
    return pattern.test(word) ? word : this.refuse(field, text, expected);
  }

  code(field: string, word: string, codes: ReadonlyMap<string, string>): string {
    return codes.get(word) ?? this.refuse(field, word, `one of ${[...codes.keys()].join(', ')}`);
  }

  /** One code, or two for a range, which are in order. */
  range(
    ends: readonly (readonly [field: string, word: string])[],
    codes: ReadonlyMap<string, string>,
  ): string {
    const [least, most] = ends.map(([field, word]) => this.code(field, word, codes));
    const [[, from], [field, to]] = ends as [(typeof ends)[0], (typeof ends)[0]];
    const order = [...codes.keys()];
    if (least && most && order.indexOf(from) > order.indexOf(to)) this.refuse(field, to, `${from} or more`);
    return least === most ? least! : `${least}-${most}`;
  }

  /** Steps, without sign, in as many figures as the form has. */
  figures(field: string, value: number, { least, most, step, digits, unit }: Figures): string {
    const isFit = Number.isInteger(value) && value % step === 0 && value >= least && value <= most;
    const steps = step === 1 ? 'a whole number' : `whole ${step}s`;
    if (!isFit) return this.refuse(field, value, `${steps} from ${least} to ${most} ${unit}`);
    return String(Math.abs(value / step)).padStart(digits, '0');
  }
}

function foundText(found: unknown): string {
  if (typeof found !== 'string') return Number.isNaN(found) ? 'no number' : String(found);
  return JSON.stringify(found.length > 40 ? `${found.slice(0, 40)}…` : found);
}

/** An identifier with a figure is parted from those of its radial. */
function placeText(checks: Checks, place: EntryPlace): string {
  const field = 'place.identifier';
  const identifier = checks.word(field, place.identifier, IDENTIFIER, 'two to five letters and figures');
  if (place.kind === 'fix') {
    if (!LOCATION_WORDS.test(identifier)) return identifier;
    return checks.refuse(field, identifier, 'no word of the location: give a radial and distance');
  }
  if (place.kind !== 'radial')
    return checks.refuse('place.kind', (place as EntryPlace).kind, 'fix or radial');
  const radial = checks.figures('place.radialDeg', place.radialDeg, DIRECTION);
  const distance = checks.figures('place.distanceNm', place.distanceNm, DISTANCE);
  return `${identifier}${/\d/.test(identifier) ? ' ' : ''}${radial}${distance}`;
}

function timeText(checks: Checks, timeMs: number): string {
  if (!(Math.abs(timeMs) <= LAST_TIME_MS)) return checks.refuse('timeMs', timeMs, 'an instant, ms UTC');
  const minutes = Math.floor(timeMs / MS_PER_MINUTE) % MINUTES_PER_DAY;
  const ofDay = (minutes + MINUTES_PER_DAY) % MINUTES_PER_DAY;
  return [Math.floor(ofDay / 60), ofDay % 60].map((figure) => String(figure).padStart(2, '0')).join('');
}

function typeText(checks: Checks, type: string | undefined): string {
  if (type === undefined) return 'UNKN';
  return checks.word('aircraftType', type, TYPE, 'two to four letters and figures, a letter first');
}

function skyText(checks: Checks, sky: readonly EntrySkyLayer[]): string {
  if (sky.length > MOST_LAYERS) return checks.refuse('sky', `${sky.length} layers`, `at most ${MOST_LAYERS}`);
  return sky
    .map((layer, index) => {
      const field = `sky.${index}`;
      const isBare = layer.baseFt === undefined && layer.topFt === undefined;
      if (layer.thinnest === 'clear' && layer.thickest === 'clear') {
        if (isBare && index === sky.length - 1) return 'SKC';
        return checks.refuse(field, 'clear', 'clear without heights, and last');
      }
      if (layer.thinnest !== 'unstated' || layer.thickest !== 'unstated')
        return layerText(checks, field, layer);
      if (layer.baseFt === undefined && typeof layer.topFt === 'number')
        return `TOP${checks.figures(`${field}.topFt`, layer.topFt, ALTITUDE)}`;
      return checks.refuse(field, 'no amount', 'an amount, or a top alone');
    })
    .join('/');
}

function layerText(checks: Checks, field: string, layer: EntrySkyLayer): string {
  const { thinnest, thickest, baseFt, topFt } = layer;
  const ends = [
    [`${field}.thinnest`, thinnest],
    [`${field}.thickest`, thickest],
  ] as const;
  const amount = checks.range(ends, AMOUNTS);
  const base = heightText(checks, `${field}.baseFt`, baseFt, HEIGHT);
  const top = heightText(checks, `${field}.topFt`, topFt, ALTITUDE);
  if (typeof baseFt === 'number' && typeof topFt === 'number' && baseFt > topFt)
    checks.refuse(`${field}.topFt`, topFt, `the base, ${baseFt} ft, or higher`);
  return `${amount}${base}${topFt === undefined ? '' : `-TOP${top}`}`;
}

function heightText(
  checks: Checks,
  field: string,
  heightFt: number | 'unknown' | undefined,
  figures: Figures,
): string {
  if (heightFt === undefined) return '';
  return heightFt === 'unknown' ? 'UNKN' : checks.figures(field, heightFt, figures);
}

function weatherText(checks: Checks, { visibilitySm, weather }: ReportEntry): string {
  if (weather.length > MOST_GROUPS)
    return checks.refuse('weather', `${weather.length} groups`, `at most ${MOST_GROUPS}`);
  const groups = weather.map((group, index) =>
    checks.word(`weather.${index}`, group, PRESENT_WEATHER, 'a group of present weather, as -FZRA'),
  );
  if (visibilitySm === undefined) return groups.join(' ');
  const miles =
    visibilitySm === 'unrestricted' ? '99' : checks.figures('visibilitySm', visibilitySm, VISIBILITY);
  return [`FV${miles}SM`, ...groups].join(' ');
}

function temperatureText(checks: Checks, temperatureC: number | undefined): string {
  if (temperatureC === undefined) return '';
  return `${temperatureC < 0 ? 'M' : ''}${checks.figures('temperatureC', temperatureC, TEMPERATURE)}`;
}

function windText(checks: Checks, wind: ReportEntry['wind']): string {
  if (wind === undefined) return '';
  const from = checks.figures('wind.directionDeg', wind.directionDeg, DIRECTION);
  return `${from}${checks.figures('wind.speedKt', wind.speedKt, SPEED)}KT`;
}

function turbulenceText(checks: Checks, { turbulence, altitudeFt }: ReportEntry): string {
  if (turbulence.kind !== 'met') return unmetText(checks, 'turbulence', turbulence.kind);
  const words = metText(checks, 'turbulence', turbulence, [TURBULENCE, TURBULENCE_KINDS]);
  return `${words}${bandText(checks, 'turbulence', turbulence, altitudeFt)}`;
}

function icingText(checks: Checks, { icing, altitudeFt }: ReportEntry): string {
  if (icing.kind !== 'met') return unmetText(checks, 'icing', icing.kind);
  const words = metText(checks, 'icing', icing, [ICING, ICE_KINDS]);
  return `${words}${bandText(checks, 'icing', icing, altitudeFt)}`;
}

/** Only what says "none" is NEG. */
function unmetText(checks: Checks, field: string, kind: 'not-reported' | 'none'): string {
  if (kind === 'none') return 'NEG';
  return kind === 'not-reported' ? '' : checks.refuse(`${field}.kind`, kind, 'not-reported, none or met');
}

function metText(
  checks: Checks,
  field: string,
  { lightest, heaviest, what }: EntryLayer<string, string>,
  [intensities, kinds]: readonly [ReadonlyMap<string, string>, ReadonlyMap<string, string>],
): string {
  const ends = [
    [`${field}.lightest`, lightest],
    [`${field}.heaviest`, heaviest],
  ] as const;
  return `${checks.range(ends, intensities)}${checks.code(`${field}.what`, what, kinds)}`;
}

/** Altitudes stand in an element only where they differ from the report's own. */
function bandText(
  checks: Checks,
  field: string,
  { lowerFt, upperFt }: Pick<EntryLayer<string, string>, 'lowerFt' | 'upperFt'>,
  altitudeFt: number | undefined,
): string {
  const lower = lowerFt === 0 ? 'SFC' : heightText(checks, `${field}.lowerFt`, lowerFt, HEIGHT);
  const upper = heightText(checks, `${field}.upperFt`, upperFt, ALTITUDE);
  if (lowerFt === undefined) return upperFt === undefined ? '' : ` BLO ${upper}`;
  if (upperFt === undefined) return ` ABV ${lower}`;
  if (lowerFt > upperFt)
    checks.refuse(`${field}.upperFt`, upperFt, `the lower end, ${lowerFt} ft, or higher`);
  if (lowerFt !== upperFt) return ` ${lower}-${upper}`;
  return lowerFt === altitudeFt ? '' : ` ${lower}`;
}

/** The phase, then the remarks in characters that the form carries; what it cannot carry is never left out unsaid. */
function remarksText(checks: Checks, { remarks, phase }: ReportEntry): string {
  const phaseCode = phase === undefined ? '' : checks.code('phase', phase, PHASES);
  const words = remarks.length > LONGEST_REMARKS ? remarks : carriedText(remarks);
  if (words.length > LONGEST_REMARKS)
    return checks.refuse('remarks', `${words.length} characters`, `at most ${LONGEST_REMARKS}`);
  const uncarried = UNCARRIED.exec(words)?.[0];
  if (uncarried !== undefined)
    return checks.refuse('remarks', uncarried, "letters, figures, blanks and . , : ? ( ) ' + - /");
  const phaseWord = phase === undefined ? PHASE_WORD.exec(words)?.[0] : undefined;
  if (phaseWord !== undefined) return checks.refuse('remarks', phaseWord, 'climb or descent as the phase');
  return [phaseCode, words].filter((each) => each !== '').join(' ');
}

/**
 * Capitals without accents, plain hyphens and apostrophes, single blanks. A solidus stays between figures (`1/2`), is a
 * hyphen between other letters and figures (`LGT/MOD`), else a blank.
 */
function carriedText(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[\p{Pd}\u2212]/gu, '-')
    .replace(/[\u2018\u2019`]/g, "'")
    .toUpperCase()
    .replace(/(?<!\d)\/|\/(?!\d)/g, (_, offset: number, all: string) =>
      /^[A-Z0-9]\/[A-Z0-9]/.test(all.slice(Math.max(0, offset - 1), offset + 2)) ? '-' : ' ',
    )
    .replace(/[\s\p{Cc}\p{Cf}]+/gu, ' ')
    .trim();
}

function isUrgentEntry({ icing, turbulence, weather, isJudgedHazardous }: ReportEntry): boolean {
  const isIcingUrgent = icing.kind === 'met' && icing.heaviest === 'severe';
  const isTurbulenceUrgent = turbulence.kind === 'met' && URGENT_TURBULENCE.has(turbulence.heaviest);
  return isIcingUrgent || isTurbulenceUrgent || weather.some(isUrgentWeather) || isJudgedHazardous;
}

function isUrgentWeather(group: string): boolean {
  const phenomena = group.toUpperCase().match(/[A-Z]{2}/g) ?? [];
  return phenomena.some((phenomenon) => URGENT_WEATHER.has(phenomenon));
}
