/** What a forecast or an observation tells of an aerodrome at a time: every ceiling and visibility that may hold then. */
import type { Conditions, Sky, Visibility, Weather } from '../formats/aerodrome-reports/conditions.ts';
import type { ChangeGroup, MetarReport, TafReport } from '../formats/aerodrome-reports/report.ts';

const MS_PER_HOUR = 3_600_000;
/** What comes and goes counts from an hour before the arrival to an hour after, what begins and stays to an hour after. */
const AROUND_MS = MS_PER_HOUR;
/** A trend of an observation is made for so long. */
const TREND_MS = 2 * MS_PER_HOUR;

/** One that may hold at the time; null where the report does not give it. */
export interface Told<Element> {
  readonly element: Element | null;
  /** Of the same group. */
  readonly weather: readonly Weather[];
  /** "at times", "30 %", "from 12:35"; empty for what prevails. */
  readonly chance: string;
}

export interface WeatherAt {
  readonly skies: readonly Told<Sky>[];
  readonly visibilities: readonly Told<Visibility>[];
  /** Something of it could not be read. */
  readonly hasUnread: boolean;
}

interface Draft {
  skies: Told<Sky>[];
  visibilities: Told<Visibility>[];
  hasUnread: boolean;
}

/**
 * FM replaces all before it. BECMG may hold from its begin and has replaced what it gives at its end. TEMPO, INTER and PROB stand
 * beside what prevails, and so does what begins to prevail within the hour after: an arrival may be late. A change that could not be read leaves in doubt what holds, whenever it is.
 */
export function tafAt({ base, changes, unread }: TafReport, atMs: number): WeatherAt {
  const hasLost = unread.some(({ element }) => element === 'change');
  let draft = begun({ ...base, unread: unread.filter(({ element }) => element !== 'change') });
  for (const change of [...changes].filter(isLasting).sort((a, b) => a.fromMs - b.fromMs)) {
    if (change.fromMs > atMs + AROUND_MS) continue;
    if (change.fromMs > atMs) addSoon(draft, change);
    else if (change.change === 'FM') draft = begun(change);
    else become(draft, change, atMs >= change.untilMs);
  }
  for (const change of changes) {
    const isNear = change.fromMs <= atMs + AROUND_MS && change.untilMs >= atMs - AROUND_MS;
    if (!isLasting(change) && isNear) add(draft, change, chanceWords(change));
  }
  return { ...draft, hasUnread: draft.hasUnread || hasLost };
}

/** With what its trend adds: whatever of it may hold around the time. */
export function metarAt(report: MetarReport, atMs: number): WeatherAt {
  const draft = begun(report);
  for (const trend of report.trends) {
    const fromMs = trend.atMs ?? trend.fromMs ?? report.timeMs;
    const untilMs = isLasting(trend) ? Infinity : (trend.untilMs ?? report.timeMs + TREND_MS);
    const chance = isLasting(trend) && fromMs > atMs ? fromWords(fromMs) : chanceWords(trend);
    if (fromMs <= atMs + AROUND_MS && untilMs >= atMs - AROUND_MS) add(draft, trend, chance);
  }
  return draft;
}

const isLasting = ({ change }: Pick<ChangeGroup, 'change'>) => change === 'FM' || change === 'BECMG';

type Part = Conditions & Pick<ChangeGroup, 'unread'>;

/** Of a part that stands alone, what it does not give is not known. */
function begun({ sky, visibility, weather, unread }: Part): Draft {
  return {
    skies: [{ element: sky, weather, chance: '' }],
    visibilities: [{ element: visibility, weather, chance: '' }],
    hasUnread: unread.length > 0,
  };
}

function become(draft: Draft, change: Part, isDone: boolean): void {
  if (isDone && change.sky !== null) draft.skies = [];
  if (isDone && change.visibility !== null) draft.visibilities = [];
  add(draft, change, '');
}

/** What the part does not give stays as it is. */
function add(draft: Draft, { sky, visibility, weather, unread }: Part, chance: string): void {
  if (sky !== null) draft.skies.push({ element: sky, weather, chance });
  if (visibility !== null) draft.visibilities.push({ element: visibility, weather, chance });
  if (unread.length > 0) draft.hasUnread = true;
}

/** Of FM, what it does not give is not known then. */
function addSoon(draft: Draft, change: TafReport['changes'][number]): void {
  const chance = fromWords(change.fromMs);
  add(draft, change, chance);
  if (change.change !== 'FM') return;
  const { sky, visibility, weather } = change;
  if (sky === null) draft.skies.push({ element: null, weather, chance });
  if (visibility === null) draft.visibilities.push({ element: null, weather, chance });
}

const fromWords = (fromMs: number) => `from ${new Date(fromMs).toISOString().slice(11, 16)}`;

function chanceWords({ change, probabilityPct }: Pick<ChangeGroup, 'change' | 'probabilityPct'>): string {
  if (probabilityPct !== null) return `${probabilityPct} %`;
  return change === 'TEMPO' || change === 'INTER' ? 'at times' : '';
}
