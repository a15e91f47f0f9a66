/**
 * Air-reports: routine (ARP) and special (ARS), in the sequence of the ICAO model, in the shorter forms that are relayed
 * and in the form that is sent up to other aircraft (`ARS TST123 SEV ICE OBS AT 1210Z N2020W07005 FL180/210`).
 *
 * @source ICAO Doc 4444 appendix 1, Annex 3 appendices 4 and 6 (table A6-1B), from memory; examples of the latter as in
 *         Regulation (EU) 2017/373, annex V, appendix 5B.
 */
import { ftFromM } from '../../science/units.ts';
import { mayBePrecipitation } from '../precipitation-words.ts';
import { intensityPhrases } from './airep-phrases.ts';
import { quoted, type RefusedText } from './bulletin.ts';
import { coordinatesAt } from './coordinates.ts';
import { ICING_WORDS } from './icing.ts';
import { freezingAmong, icingMentions } from './icing-mentions.ts';
import { timeOfDayMs } from './instants.ts';
import { readLayers } from './layers.ts';
import { readLocation } from './location.ts';
import { bandOf, type ReportContext } from './pirep.ts';
import { readElement } from './pirep-layers.ts';
import { placeOf } from './place.ts';
import type { PilotReport, ReportedWind, ReportLevel, ReportLocation, UnreadText } from './report.ts';
import { readTemperature, readWind } from './temperature-wind.ts';
import { TURBULENCE_WORDS } from './turbulence.ts';
import { readWeather } from './weather.ts';

/** `ARS`, `ARP`, `AIREP` or `AIREP SPECIAL`, then the aircraft. */
export const AIREP_START = /^(?:AIREP )?(ARP|ARS|AIREP(?: SPECIAL)?) ([A-Z0-9-]{2,8})(?= |$)/;
const REMARKS = / (?:RM|RMK) (.*)$/;
const TIME = /^(\d\d)(\d\d)Z?$/;
const LEVEL = /^(?:(?:FL|F|A)(\d{3})(?:\/(\d{3}))?|(\d{3,5})(M|FT))$/;
const TEMPERATURE = /^(?:MS|PS|M|P)\d{1,2}$/;
const WIND = /^\d{3}\/\d{2,3}(?:KT|KTS|KMH|MPS)?$/;
const HIGHEST_FT = 60_000;
const OVER = new Set(['OVER', 'OVR', 'OVHD']);
/** What an aid is, behind its name. */
const AID = /^(?:VOR|VORTAC|VOR\/DME|DME|TACAN|NDB|WPT|FIX|INT)$/;

/**
 * Reads one air-report. Values are taken by their form wherever they stand, each once; a second position, level or time
 * is of the next point of the route and stays unread.
 *
 * @param text  the report on one line, upper case, single blanks.
 * @returns     a refusal for text without an aircraft, or of which nothing was read. Never throws.
 * @checked     tests/formats/pilot-reports/airep.test.ts
 */
export function readAirep(text: string, line: number, context: ReportContext): PilotReport | RefusedText {
  const start = AIREP_START.exec(text);
  const remarks = REMARKS.exec(text);
  const body = text.slice(start?.[0].length ?? 0, remarks?.index ?? text.length).trim();
  const reader = new AirepReader(body.replace(/[()]/g, ' '), context.referenceMs);
  if (start === null || reader.isEmpty) {
    const reason = `air-report: found ${quoted(text)}, expected an aircraft, a position, a time and a level`;
    return { kind: 'refused', line, text, reason };
  }
  const band = bandOf(reader.level);
  const icing = readElement(
    reader.icingText,
    'ICE',
    (words) => readLayers(words, ICING_WORDS, band),
    'LGT, MOD or SEV',
  );
  const turbulence = readElement(
    reader.turbulenceText,
    'TURB',
    (words) => readLayers(words, TURBULENCE_WORDS, band),
    'LGT, MOD or SEV',
  );
  return {
    kind: 'pilot-report',
    form: 'airep',
    urgency: /^(?:ARS|AIREP SPECIAL)$/.test(start[1]!) ? 'urgent' : 'routine',
    line,
    text,
    station: undefined,
    aircraft: start[2],
    aircraftType: undefined,
    timeMs: reader.timeMs,
    location: reader.location,
    place: placeOf(reader.location, undefined, context),
    level: reader.level,
    phase: icing.phase ?? turbulence.phase,
    sky: { kind: 'not-reported' },
    isInCloud: false,
    weather: {
      visibilityM: undefined,
      phenomena: reader.phenomena,
      isWhole: !reader.unread.some(({ text: word }) => mayBePrecipitation(word)),
    },
    temperatureK: reader.temperatureK,
    wind: reader.wind,
    icing: icing.element,
    icingMentions: icingMentions([
      ['RM', remarks?.[1]],
      ['TURB', reader.turbulenceText],
      ['WX', freezingAmong(reader.phenomena)],
      ...reader.unread.map(({ element, text: word }) => [element, word] as const),
    ]),
    turbulence: turbulence.element,
    remarks: remarks?.[1],
    unread: [...reader.unread, ...icing.unread, ...turbulence.unread],
  };
}

class AirepReader {
  location: ReportLocation = { kind: 'not-reported' };
  timeMs: number | undefined;
  level: ReportLevel = { kind: 'unknown' };
  temperatureK: number | undefined;
  wind: ReportedWind | undefined;
  readonly phenomena: string[] = [];
  readonly icingText: string | undefined;
  readonly turbulenceText: string | undefined;
  readonly unread: UnreadText[] = [];
  private readonly words: readonly string[];
  private readonly referenceMs: number;

  constructor(body: string, referenceMs: number) {
    const phrases = intensityPhrases(body.split(' ').filter((word) => word !== ''));
    this.icingText = phrases.icing;
    this.turbulenceText = phrases.turbulence;
    this.words = phrases.rest;
    this.referenceMs = referenceMs;
    for (let index = 0; index < this.words.length; ) index += this.readAt(index);
  }

  get isEmpty(): boolean {
    const isPlaced = this.location.kind !== 'not-reported' || this.level.kind !== 'unknown';
    const isTold = this.icingText !== undefined || this.turbulenceText !== undefined;
    return !isPlaced && !isTold && this.timeMs === undefined;
  }

  /** Reads what starts at a word and gives the count of words that it took, at least one. */
  private readAt(index: number): number {
    const word = this.words[index]!;
    if (word === 'OBS' || word === 'AT') return 1;
    if (OVER.has(word) && this.location.kind === 'not-reported') return 1;
    const positionCount = this.positionAt(index);
    if (positionCount > 0) return positionCount;
    const isRead =
      this.readTime(word) || this.readLevel(word) || this.readAir(word) || this.readPhenomenon(word);
    if (!isRead) {
      const reason = `air-report: found ${quoted(word)}, expected position, time, level, temperature, wind, TURB or ICE`;
      this.unread.push({ element: 'report', text: word, reason });
    }
    return 1;
  }

  /** Coordinates in one word or two, or the name of a fix, perhaps with what it is, that a time follows. */
  private positionAt(index: number): number {
    if (this.location.kind !== 'not-reported') return 0;
    const word = this.words[index]!;
    const next = this.words[index + 1] ?? '';
    const pair = `${word} ${next}`;
    const found = coordinatesAt(pair, 0);
    if (found !== undefined && (found.end === word.length || found.end === pair.length)) {
      const { latDeg, lonDeg, end } = found;
      this.location = { kind: 'points', points: [{ kind: 'coordinates', latDeg, lonDeg }] };
      return end === word.length ? 1 : 2;
    }
    const count = AID.test(next) ? 2 : 1;
    const named = TIME.test(this.words[index + count] ?? '') ? readLocation(word) : undefined;
    if (named?.kind !== 'points') return 0;
    this.location = named;
    return count;
  }

  private readTime(word: string): boolean {
    const match = TIME.exec(word);
    if (match === null || this.timeMs !== undefined) return false;
    this.timeMs = timeOfDayMs(Number(match[1]), Number(match[2]), this.referenceMs);
    return this.timeMs !== undefined;
  }

  private readLevel(word: string): boolean {
    const match = LEVEL.exec(word);
    if (match === null || this.level.kind !== 'unknown') return false;
    const [, first, second, figures, unit] = match;
    const ends =
      first === undefined
        ? [unit === 'M' ? Math.round(ftFromM(Number(figures))) : Number(figures)]
        : [first, second ?? first].map((hundreds) => Number(hundreds) * 100);
    const [lowerFt, upperFt] = [Math.min(...ends), Math.max(...ends)];
    if (upperFt > HIGHEST_FT) return false;
    this.level =
      lowerFt === upperFt ? { kind: 'altitude', altitudeFt: lowerFt } : { kind: 'layer', lowerFt, upperFt };
    return true;
  }

  private readAir(word: string): boolean {
    if (TEMPERATURE.test(word) && this.temperatureK === undefined) {
      this.temperatureK = readTemperature(word).value;
      return this.temperatureK !== undefined;
    }
    if (!WIND.test(word) || this.wind !== undefined) return false;
    this.wind = readWind(word, 'true').value;
    return this.wind !== undefined;
  }

  private readPhenomenon(word: string): boolean {
    const { phenomena } = readWeather(word).weather;
    this.phenomena.push(...phenomena);
    return phenomena.length > 0;
  }
}
