/**
 * The PIREP of the United States and Canada, element by element as on FAA Form 7110-2.
 *
 * @source FAA Order JO 7110.10, pilot weather reports; AIM 7-1, table 7-1-7.
 */
import { altitudeFtOf, bandAt, tokensOf } from './altitudes.ts';
import { quoted, type RefusedText } from './bulletin.ts';
import { type ElementCode, type PirepElements, pirepElements } from './elements.ts';
import type { FixContext } from './fix-places.ts';
import { freezingAmong, icingMentions } from './icing-mentions.ts';
import { timeOfDayMs } from './instants.ts';
import { type Phase, phaseIn } from './layers.ts';
import { readLocation } from './location.ts';
import { readPirepLayers } from './pirep-layers.ts';
import { placeOf } from './place.ts';
import type { AltitudeBand, LayerElement, PilotReport, ReportLevel, UnreadText } from './report.ts';
import { readSky } from './sky.ts';
import { readTemperature, readWind } from './temperature-wind.ts';
import { readWeather } from './weather.ts';

/** What a report does not say itself. */
export interface ReportContext extends FixContext {
  /** Epoch ms UTC at which the report was sent: it was made in the day before that, or up to 30 minutes after. */
  readonly referenceMs: number;
}

/** Station and type, the station sometimes left out. */
export const PIREP_START = /^(?:([A-Z0-9]{3,4}) )?(UUA|UA)(?=[ /]|$)/;
/** Elements of which a report may hold several. */
const REPEATED: ReadonlySet<ElementCode> = new Set(['SK', 'TB', 'IC']);

/**
 * Reads one report. Every word that no rule reads stands in `unread` with its reason.
 *
 * @param text  the report on one line, upper case, single blanks.
 * @param line  line at which it starts.
 * @returns     a refusal for text that does not begin with a station and UA or UUA, or has no element. Never throws.
 * @checked     tests/formats/pilot-reports/pirep.test.ts, tests/data/pilot-reports.test.ts
 */
export function readPirep(text: string, line: number, context: ReportContext): PilotReport | RefusedText {
  const start = PIREP_START.exec(text);
  if (start === null)
    return refused(text, line, `report: found ${quoted(text)}, expected a station and UA or UUA`);
  const reader = new ElementReader(pirepElements(text.slice(start[0].length)));
  if (reader.isEmpty)
    return refused(text, line, `report: found ${quoted(text)}, expected elements as /OV /TM /FL`);
  const station = start[1];
  const location = readLocation(reader.text('OV') ?? '');
  const place = placeOf(location, station, context);
  if (location.kind === 'unreadable' && place.kind === 'unknown')
    reader.note('OV', location.text, place.reason);
  const { level, phase } = readLevel(reader);
  const layers = readPirepLayers(reader.text('IC'), reader.text('TB'), bandOf(level));
  for (const { element, text: words, reason } of layers.unread)
    reader.note(element as ElementCode, words, reason);
  const sky = readSky(reader.text('SK') ?? '');
  reader.noteWords('SK', sky.unread, 'amount, base and TOP of layers');
  const weather = readWeather(reader.text('WX') ?? '');
  reader.noteWords('WX', weather.unread, 'FVnnSM or groups of present weather');
  return {
    kind: 'pilot-report',
    form: 'pirep',
    urgency: start[2] === 'UUA' ? 'urgent' : 'routine',
    line,
    text,
    station,
    aircraft: undefined,
    aircraftType: reader.value('TP', readType, 'a type designator'),
    timeMs: readTime(reader, context.referenceMs),
    location,
    place,
    level,
    phase: phase ?? layers.phase ?? phaseIn(reader.remarks ?? ''),
    sky: reader.orAbsent('SK', sky.sky),
    isInCloud: sky.isInCloud,
    weather: weather.weather,
    temperatureK: reader.value('TA', readTemperature, 'M08, -08 or 15'),
    wind: reader.value('WV', (words) => readWind(words, 'magnetic'), 'dddff or dddfff'),
    icing: reader.orAbsent('IC', layers.icing),
    icingMentions: icingMentions([
      ['RM', reader.remarks],
      ['TB', layers.isMistyped ? undefined : reader.text('TB')],
      ['SK', reader.text('SK')],
      ['WX', freezingAmong(weather.weather.phenomena)],
      ...reader.unread.flatMap(({ element, text: words }) =>
        ['IC', 'TB', 'SK'].includes(element) ? [] : [[element, words] as const],
      ),
    ]),
    turbulence: reader.orAbsent('TB', layers.turbulence),
    remarks: reader.remarks,
    unread: reader.unread,
  };
}

function refused(text: string, line: number, reason: string): RefusedText {
  return { kind: 'refused', line, text, reason };
}

/** Gives each element's text once, and gathers what is left unread. */
class ElementReader {
  readonly unread: UnreadText[] = [];
  readonly isEmpty: boolean;
  readonly remarks: string | undefined;
  private readonly elements: PirepElements;

  constructor(elements: PirepElements) {
    this.elements = elements;
    this.isEmpty = elements.texts.size === 0;
    this.remarks = elements.texts.get('RM')?.[0];
    if (elements.head !== '')
      this.note('report', elements.head, `report: found ${quoted(elements.head)}, expected /OV`);
  }

  /** Text of an element: several of one code together where that makes sense, else the first of them. */
  text(code: ElementCode): string | undefined {
    const texts = this.elements.texts.get(code);
    if (texts === undefined) return this.elements.afterRemarks.get(code);
    if (REPEATED.has(code)) return texts.join(code === 'SK' ? '/' : ' ; ');
    for (const again of texts.slice(1).filter((each) => each !== '')) {
      this.note(code, again, `${code}: found ${quoted(again)}, expected the element once`);
    }
    return texts[0];
  }

  /** The value of an element; undefined when it is missing, unknown or not readable. */
  value<Value>(
    code: ElementCode,
    read: (text: string) => { readonly value: Value | undefined; readonly unread: readonly string[] },
    expected: string,
  ): Value | undefined {
    const { value, unread } = read(this.text(code) ?? '');
    this.noteWords(code, unread, expected);
    return value;
  }

  /** An element typed into the remarks counts only when it can be read: else it is remark. */
  orAbsent<Layer>(code: ElementCode, element: LayerElement<Layer>): LayerElement<Layer> {
    const isRemark = element.kind === 'unreadable' && !this.elements.texts.has(code);
    return isRemark ? { kind: 'not-reported' } : element;
  }

  noteWords(code: ElementCode, words: readonly string[], expected: string): void {
    const text = words.join(' ');
    if (text !== '') this.note(code, text, `${code}: found ${quoted(text)}, expected ${expected}`);
  }

  /** Words after the remarks are kept in the remarks. */
  note(element: ElementCode | 'report', text: string, reason: string): void {
    if (element === 'report' || this.elements.texts.has(element)) this.unread.push({ element, text, reason });
  }
}

function readType(text: string): { value: string | undefined; unread: readonly string[] } {
  const [type, ...unread] = text.split(' ').filter((word) => word !== '');
  return { value: type === 'UNKN' ? undefined : type, unread };
}

function readTime(reader: ElementReader, referenceMs: number): number | undefined {
  const text = reader.text('TM') ?? '';
  if (text === '' || text === 'UNKN') return undefined;
  const match = /^(\d\d)(\d\d)Z?(?: (.*))?$/.exec(text);
  const timeMs = match === null ? undefined : timeOfDayMs(Number(match[1]), Number(match[2]), referenceMs);
  if (timeMs === undefined) reader.noteWords('TM', [text], 'hours and minutes, as 1412');
  else reader.noteWords('TM', [match?.[3] ?? ''], 'hours and minutes alone');
  return timeMs;
}

function readLevel(reader: ElementReader): { level: ReportLevel; phase: Phase | undefined } {
  const text = reader.text('FL') ?? '';
  const phase = phaseIn(text);
  const tokens = tokensOf(text).filter((token) => phaseIn(token) === undefined && token !== 'FL');
  if (tokens.length === 0 || tokens[0] === 'UNKN') {
    reader.noteWords('FL', tokens.slice(1), 'UNKN alone');
    return { level: { kind: 'unknown' }, phase };
  }
  const found = bandAt(tokens, 0) ?? twoFigures(tokens);
  reader.noteWords('FL', tokens.slice(found?.next ?? 0), 'hundreds of feet, UNKN, DURC or DURD');
  if (found?.band.kind !== 'layer') return { level: { kind: 'unknown' }, phase };
  const { lowerFt, upperFt } = found.band;
  const level: ReportLevel =
    lowerFt === upperFt ? { kind: 'altitude', altitudeFt: lowerFt } : { kind: 'layer', lowerFt, upperFt };
  return { level, phase };
}

/** /FL80 for /FL080. */
function twoFigures(tokens: readonly string[]): { band: AltitudeBand; next: number } | undefined {
  const altitudeFt = /^\d\d$/.test(tokens[0]!) ? altitudeFtOf(`0${tokens[0]}`) : undefined;
  if (altitudeFt === undefined) return undefined;
  return { band: { kind: 'layer', lowerFt: altitudeFt, upperFt: altitudeFt, isStated: true }, next: 1 };
}

/** Where an element gives no altitude, the report's own holds. */
export function bandOf(level: ReportLevel): AltitudeBand {
  if (level.kind === 'unknown') return { kind: 'unknown' };
  if (level.kind === 'layer') return { ...level, isStated: false };
  return { kind: 'layer', lowerFt: level.altitudeFt, upperFt: level.altitudeFt, isStated: false };
}
