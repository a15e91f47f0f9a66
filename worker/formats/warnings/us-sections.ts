/** The paragraph of one area in the bulletins of the United States: places, icing, levels, and how long it lasts. */
import { quoted } from '../pilot-reports/bulletin.ts';
import type { UnreadText } from '../pilot-reports/report.ts';
import { takeArea } from './areas.ts';
import { type AreaContext, geometryOf } from './geometry.ts';
import { type FoundIcing, freezingIn, takeFreezing, takeIcing } from './icing-words.ts';
import { type FreezingRange, takeFreezingRange, takeLevels, withFreezingRange } from './levels.ts';
import { takeChange, takeMovement } from './movement.ts';
import { Scanner } from './scanner.ts';
import type { AreaStatement, FreezingPrecipitation, LevelBand, Warning, WarningArea } from './warning.ts';

const CONDITIONS = /CONDS? [^.]*/y;
const WIDE = /(?:LINE )?(?:(?:SEV|DMSHG|DVLPG|INTSFYG) )?(?:LINE )?TS ([1-9]\d{0,2}) ?NM WIDE/y;
const DIAMETER = /(?:(?:ISOL|SEV|DMSHG|DVLPG|INTSFYG) )*TS D([1-9]\d{0,2})(?!\d)/y;
const STOP = /[.,]+/y;
/** Ceilings and visibilities: heights above the ground, which are no levels of the warning. */
const SURFACE = /(?:CIGS?|VIS|VSBY) (?:BLW|BLO|ABV|AOB|AOA|NEAR) \d[\d/]*(?:SM|FT|KFT)?(?![A-Z0-9])\/?/y;
const PLACES =
  /[A-Z]{2}(?: [A-Z]{2})*(?: (?:AND )?(?:(?:ADJ )?CSTL WTRS|ADJ WTRS))?(?= (?:FROM|BOUNDED|AREA BOUNDED|WI)\b)/y;
const M_PER_NM = 1852;

export interface Paragraph {
  readonly places: string | undefined;
  readonly icing: FoundIcing | undefined;
  readonly freezingPrecipitation: readonly FreezingPrecipitation[];
  readonly areas: readonly WarningArea[];
  readonly levels: LevelBand | undefined;
  readonly movement: Warning['movement'];
  readonly change: Warning['change'];
  readonly conditions: string | undefined;
  readonly unread: readonly UnreadText[];
}

/**
 * Reads the paragraph of one area: states, `FROM … TO …`, what is expected, between which levels and for how long.
 *
 * @checked tests/formats/warnings/us-warning.test.ts
 */
export function readParagraph(text: string, context: AreaContext): Paragraph {
  return new ParagraphReader(text, context).paragraph();
}

class ParagraphReader {
  private readonly scanner: Scanner;
  private readonly context: AreaContext;
  private readonly places: string | undefined;
  private icing: FoundIcing | undefined;
  private readonly statements: AreaStatement[] = [];
  private levels: LevelBand | undefined;
  private freezing: FreezingRange | undefined;
  private movement: Warning['movement'];
  private change: Warning['change'];
  private conditions: string | undefined;
  private readonly words: string[] = [];

  constructor(text: string, context: AreaContext) {
    this.scanner = new Scanner(text);
    this.context = context;
    this.places = this.scanner.take(PLACES)?.[0];
    while (!this.scanner.isDone) {
      if (!this.takeElement() && this.scanner.take(STOP) === undefined)
        this.words.push(this.scanner.takeWord());
    }
  }

  paragraph(): Paragraph {
    const { places, movement, change, conditions, icing } = this;
    const text = this.words.join(' ');
    return {
      places,
      icing,
      freezingPrecipitation: freezingIn(this.scanner.text),
      areas: this.statements.map((statement) => ({
        statement,
        geometry: geometryOf(statement, undefined, this.context),
      })),
      levels: withFreezingRange(this.levels, this.freezing),
      movement,
      change,
      conditions,
      unread: text === '' ? [] : [unreadOf(text)],
    };
  }

  private takeElement(): boolean {
    return (
      this.takeIcing() || this.takePlace() || this.takeSurface() || this.takeHeights() || this.takeCourse()
    );
  }

  private takeIcing(): boolean {
    if (takeFreezing(this.scanner)) return true;
    const icing = this.icing === undefined ? takeIcing(this.scanner) : undefined;
    this.icing ??= icing;
    return icing !== undefined;
  }

  /** Kept in its words. */
  private takeSurface(): boolean {
    const match = this.scanner.take(SURFACE);
    if (match !== undefined) this.words.push(match[0]);
    return match !== undefined;
  }

  private takePlace(): boolean {
    const area = takeArea(this.scanner);
    if (area !== undefined) this.statements.push(area);
    return area !== undefined || this.takeWidth();
  }

  /** Thunderstorms along a line, or about a point: the width and diameter stand behind the points. */
  private takeWidth(): boolean {
    const [width, diameter] = [this.scanner.take(WIDE), this.scanner.take(DIAMETER)];
    const last = this.statements.at(-1);
    if (last?.kind === 'polygon' && width !== undefined) {
      const halfWidthM = (Number(width[1]) * M_PER_NM) / 2;
      this.statements.splice(-1, 1, { kind: 'line', points: last.points, halfWidthM });
    } else if (last?.kind === 'polygon' && last.points.length === 1 && diameter !== undefined) {
      const radiusM = (Number(diameter[1]) * M_PER_NM) / 2;
      this.statements.splice(-1, 1, { kind: 'circle', center: last.points[0]!, radiusM });
    }
    return width !== undefined || diameter !== undefined;
  }

  private takeHeights(): boolean {
    const freezing = this.freezing === undefined ? takeFreezingRange(this.scanner) : undefined;
    this.freezing ??= freezing;
    if (freezing !== undefined) return true;
    const levels = this.levels === undefined ? takeLevels(this.scanner) : undefined;
    this.levels ??= levels;
    return levels !== undefined;
  }

  private takeCourse(): boolean {
    const conditions = this.scanner.take(CONDITIONS)?.[0].trim();
    if (conditions !== undefined) {
      this.conditions = [this.conditions, conditions].filter((each) => each !== undefined).join('. ');
      return true;
    }
    const movement = this.movement === undefined ? takeMovement(this.scanner) : undefined;
    this.movement ??= movement;
    if (movement !== undefined) return true;
    const change = this.change === undefined ? takeChange(this.scanner) : undefined;
    this.change ??= change;
    return change !== undefined;
  }
}

function unreadOf(text: string): UnreadText {
  const reason = `warning: found ${quoted(text)}, expected an area, icing, levels, movement or conditions`;
  return { element: 'report', text, reason };
}
