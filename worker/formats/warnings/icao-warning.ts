/**
 * SIGMET and AIRMET in the form of ICAO: `YUDD SIGMET 2 VALID 101200/101600 YUSO-`, then region, phenomenon, area,
 * levels, movement, change, and where it is expected later.
 *
 * @source ICAO Annex 3, appendix 6, table A6-1A (from memory), read beside a national rule that copies its columns.
 */
import type { RefusedText } from '../pilot-reports/bulletin.ts';
import { quoted } from '../pilot-reports/bulletin.ts';
import type { UnreadText } from '../pilot-reports/report.ts';
import { takeArea } from './areas.ts';
import { type AreaContext, geometryOf } from './geometry.ts';
import { type FoundIcing, freezingIn, icingIn, takeFreezing, takeIcing } from './icing-words.ts';
import { takeLevels } from './levels.ts';
import { takeChange, takeMovement } from './movement.ts';
import { Scanner } from './scanner.ts';
import { nearestTimeOfDayMs, periodOf, type Validity } from './validity.ts';
import type {
  AreaStatement,
  FreezingPrecipitation,
  Phenomenon,
  Warning,
  WarningArea,
  WarningRegion,
} from './warning.ts';

/** What a warning does not say itself. */
export interface WarningContext extends AreaContext {
  /** Epoch ms UTC near which the warning was issued: it gives month and year. */
  readonly referenceMs: number;
}

const IDENTIFICATION = '[A-Z]{0,2}\\d{1,3}|[A-Z]{4,8} \\d{1,2}';
/** Figures of the validity, in the order of the template or in one that is kept as it stands: `14/1300 14/1700`. */
const VALIDITY = '\\d{4,6}Z? ?/ ?\\d{4,6}Z?|\\d{1,2}/\\d{2,6}Z?(?: TO | ?[-/] ?| )\\d{1,2}/\\d{2,6}Z?';
/** The region's indicator is left out in Canada's older form. */
const START = `\\b(?:([A-Z]{4}) )?(SIGMET|AIRMET)(?: SST)? (${IDENTIFICATION}) VALID (${VALIDITY}) ([A-Z]{4}) ?-?`;
/** Where a warning of this form begins. */
export const ICAO_START = new RegExp(START, 'g');
const ICAO_HEAD = new RegExp(`^${START}`);
const REGION =
  /(?:-)? ?([A-Z]{4}) ([A-Z][A-Z0-9 .'/-]{0,50}?)? ?(FIR\/UIR|FIR\/\d|FIR|UIR|CTA|OCA)(?![A-Z/])(?:\/\d)?/y;
const STATUS = /(TEST|EXER(?:CISE)?)(?![A-Z])/y;
const CANCEL = new RegExp(
  `(?:CNL|CNCL|CANCEL) (?:SIGMET|AIRMET) (${IDENTIFICATION})(?: VALID)?(?: (\\d{6}) ?/ ?(\\d{6}))?(?![0-9])`,
  'y',
);
/** Phenomena whose words are enough by themselves; others end where OBS or FCST stands. */
const KNOWN_PHENOMENON =
  /AND (?=(?:SEV|MOD) )|(?:SEV|MOD) (?:TURB|MTW)(?![A-Z])|(?:OBSC|EMBD|FRQ|SQL|ISOL|OCNL) (?:TSGR|TS|CB|TCU)(?![A-Z])/y;
/** Older forms tell where before what. */
const AREA_FIRST = /(?=(?:WI|WTN|WITHIN) )/y;
const PHENOMENON = /[^=]{2,120}?(?= (?:OBS|FCST)(?![A-Z]))/y;
const BASIS = /(OBS|FCST)(?![A-Z])(?: (?:AT )?(\d{4})Z)?(?: AND FCST(?![A-Z]))?/y;
const LATER = /FCST (?:AT )?(\d{4})Z/y;
const AND = /AND(?![A-Z])/y;
const REMARK = /RMK ?:?.*/y;

/**
 * Reads one warning.
 *
 * @param text  from its first word on, on one line, upper case, single blanks.
 * @returns     a refusal for text that does not begin as a warning does, or has nothing after its first line.
 * @checked     tests/formats/warnings/icao-warning.test.ts
 */
export function readIcaoWarning(text: string, line: number, context: WarningContext): Warning | RefusedText {
  const start = ICAO_HEAD.exec(text);
  if (start === null || text.length === start[0].length) {
    const reason = `warning: found ${quoted(text)}, expected an indicator, SIGMET or AIRMET, VALID and a text`;
    return { kind: 'refused', line, text, reason };
  }
  const [all, indicator, form, identification, validity, office] = start as unknown as readonly string[];
  const period = validityOf(validity!, context.referenceMs);
  const reader = new IcaoReader(text.slice(all!.length), indicator, { ...context, ...period });
  const unread = [...reader.unread];
  if (period.validFromMs === undefined || period.validToMs === undefined) {
    const reason = `validity: found ${validity}, expected two groups of day, hour and minute, as 141300/141700, at most a day apart`;
    unread.unshift({ element: 'validity', text: validity!, reason });
  }
  return {
    kind: 'warning',
    form: form === 'SIGMET' ? 'sigmet' : 'airmet',
    style: 'icao',
    line,
    text,
    identification: identification!,
    office,
    region: reader.region,
    places: undefined,
    status: reader.status,
    isOutlook: false,
    action: reader.action,
    ...period,
    phenomenon: reader.phenomenon,
    freezingPrecipitation: reader.freezing,
    basis: reader.basis,
    areas: reader.areas,
    levels: reader.levels,
    movement: reader.movement,
    change: reader.change,
    later: reader.later,
    conditions: undefined,
    unread,
  };
}

/** Both groups; a Z behind them says what holds anyway. */
function validityOf(text: string, referenceMs: number): Validity {
  const match = /^(\d{4,6})Z? ?\/ ?(\d{4,6})Z?$/.exec(text);
  return periodOf(match?.[1] ?? '', match?.[2] ?? '', referenceMs);
}

type Mutable<Type> = { -readonly [Key in keyof Type]: Type[Key] };

class IcaoReader {
  readonly region: WarningRegion | undefined;
  readonly status: Warning['status'];
  readonly action: Warning['action'];
  readonly freezing: readonly FreezingPrecipitation[];
  phenomenon: Phenomenon = { kind: 'not-stated' };
  basis: Warning['basis'] = { kind: 'unstated', atMs: undefined };
  readonly areas: WarningArea[] = [];
  levels: Warning['levels'];
  movement: Warning['movement'];
  change: Warning['change'];
  later: Mutable<NonNullable<Warning['later']>> | undefined;
  readonly unread: UnreadText[] = [];
  private readonly scanner: Scanner;
  private readonly indicator: string | undefined;
  private readonly context: WarningContext & { readonly validFromMs: number | undefined };

  constructor(
    text: string,
    indicator: string | undefined,
    context: WarningContext & { readonly validFromMs: number | undefined },
  ) {
    this.scanner = new Scanner(text);
    this.indicator = indicator;
    this.context = context;
    this.freezing = freezingIn(text);
    this.region = this.takeRegion();
    const status = this.scanner.take(STATUS)?.[1];
    if (status === undefined) this.status = 'operational';
    else this.status = status === 'TEST' ? 'test' : 'exercise';
    this.action = this.takeAction();
    if (this.action.kind === 'warn') this.takePhenomenon();
    while (!this.scanner.isDone) this.step();
  }

  private takeRegion(): WarningRegion | undefined {
    const match = this.scanner.take(REGION);
    return match === undefined ? undefined : { indicator: match[1]!, name: match[2] ?? '', type: match[3]! };
  }

  private takeAction(): Warning['action'] {
    const match = this.scanner.take(CANCEL);
    if (match === undefined) return { kind: 'warn' };
    const { referenceMs } = this.context;
    const period = periodOf(match[2] ?? '', match[3] ?? '', referenceMs);
    return { kind: 'cancel', identification: match[1]!, ...period };
  }

  private takePhenomenon(): void {
    if (this.scanner.take(AREA_FIRST) !== undefined) return;
    const text = this.takeKnown() ?? this.scanner.take(PHENOMENON)?.[0] ?? '';
    const found = icingIn(text);
    if (found !== undefined) this.setIcing(found.icing, found.rest);
    else if (text !== '') this.phenomenon = { kind: 'other', text };
    this.takeBasis();
  }

  /** Words of phenomena that need nothing behind them; undefined when none stand here. */
  private takeKnown(): string | undefined {
    const start = this.scanner.offset;
    while (this.takeOneKnown());
    return this.scanner.offset === start
      ? undefined
      : this.scanner.text.slice(start, this.scanner.offset).trim();
  }

  private takeOneKnown(): boolean {
    return (
      takeIcing(this.scanner) !== undefined ||
      takeFreezing(this.scanner) ||
      this.scanner.take(KNOWN_PHENOMENON) !== undefined
    );
  }

  /** Other words of the phenomenon, before it or beside it, are kept. */
  private setIcing(icing: FoundIcing, others: string): void {
    this.phenomenon = { ...icing, cause: this.freezing[0] ?? 'unstated' };
    if (others !== '') this.note(others, 'icing alone, as SEV ICE, SEV ICE (FZRA) or MOD ICE');
  }

  /** Icing that stands behind the area, or in a sentence of its own, counts before any other phenomenon. */
  private takeLateIcing(): boolean {
    if (this.action.kind !== 'warn' || this.phenomenon.kind === 'icing') return takeFreezing(this.scanner);
    const icing = takeIcing(this.scanner);
    if (icing === undefined) return takeFreezing(this.scanner);
    this.setIcing(icing, this.phenomenon.kind === 'other' ? this.phenomenon.text : '');
    return true;
  }

  /** The first OBS or FCST, as long as no area stands before it; a later one opens what is expected later. */
  private takeBasis(): boolean {
    const isFirst = this.basis.kind === 'unstated' && this.areas.length === 0;
    const basis = isFirst ? this.scanner.take(BASIS) : undefined;
    if (basis === undefined) return false;
    this.basis = { kind: basis[1] === 'OBS' ? 'observed' : 'forecast', atMs: this.timeMs(basis[2]) };
    return true;
  }

  private timeMs(group: string | undefined): number | undefined {
    const { validFromMs, referenceMs } = this.context;
    if (group === undefined) return undefined;
    const timeMs = nearestTimeOfDayMs(group, validFromMs ?? referenceMs);
    if (timeMs === undefined) this.note(`${group}Z`, 'hours and minutes');
    return timeMs;
  }

  /** Takes whatever stands here; the offset of the scanner always grows. */
  private step(): void {
    if (this.takeBasis()) return;
    const later = this.scanner.take(LATER);
    if (later !== undefined) {
      this.later = { atMs: this.timeMs(later[1]), areas: [] };
      return;
    }
    if (this.takeElement() || this.takeLateIcing() || this.scanner.take(AND) !== undefined) return;
    const remark = this.scanner.take(REMARK);
    if (remark !== undefined) this.note(remark[0], 'no remarks');
    else this.note(this.scanner.takeWord(), 'area, levels, movement or change');
  }

  private takeElement(): boolean {
    const area = takeArea(this.scanner);
    if (area !== undefined) {
      this.addArea(area);
      return true;
    }
    if (this.levels === undefined) {
      this.levels = takeLevels(this.scanner);
      if (this.levels !== undefined) return true;
    }
    if (this.movement === undefined) {
      this.movement = takeMovement(this.scanner);
      if (this.movement !== undefined) return true;
    }
    if (this.change !== undefined) return false;
    this.change = takeChange(this.scanner);
    return this.change !== undefined;
  }

  private addArea(statement: AreaStatement): void {
    const geometry = geometryOf(statement, this.region?.indicator ?? this.indicator, this.context);
    const area = { statement, geometry };
    if (this.later === undefined) this.areas.push(area);
    else this.later.areas = [...this.later.areas, area];
  }

  private note(text: string, expected: string): void {
    const last = this.unread.at(-1);
    const isSame = last?.element === 'report' && last.reason.endsWith(expected);
    const words = isSame ? `${last.text} ${text}` : text;
    const reason = `warning: found ${quoted(words)}, expected ${expected}`;
    if (isSame) this.unread.pop();
    this.unread.push({ element: 'report', text: words, reason });
  }
}
