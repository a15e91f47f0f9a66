/**
 * Layers of intensity, as icing and turbulence are reported: `LGT-MOD RIME 060-090`, `CONT LGT CHOP FL240-340`.
 * One machine reads both; only the words differ.
 */
import { ABOVE, BELOW, bandAt, tokensOf } from './altitudes.ts';
import type { AltitudeBand, Frequency, ReportedLayer } from './report.ts';

export interface LayerWords<Intensity extends string, Kind extends string> {
  /** Codes of each intensity, weakest first: the order decides which end of a range is the lighter. */
  readonly intensities: readonly (readonly [Intensity, readonly string[]])[];
  readonly kinds: ReadonlyMap<string, Kind>;
  /** Words that say what the element's own code says already. */
  readonly plain: ReadonlySet<string>;
}

export interface ReadLayers<Intensity, Kind> {
  readonly layers: readonly ReportedLayer<Intensity | 'unstated', Kind | 'unstated'>[];
  readonly phase: Phase | undefined;
  /** Words that no rule reads. */
  readonly unread: readonly string[];
}

export type Phase = 'climb' | 'descent';

const FREQUENCIES: ReadonlyMap<string, Frequency> = new Map([
  ['CONT', 'continuous'],
  ['CONS', 'continuous'],
  ['FRQ', 'frequent'],
  ['INTMT', 'intermittent'],
  ['INTER', 'intermittent'],
  ['ISOL', 'isolated'],
  ['ISOLD', 'isolated'],
  ['OCNL', 'occasional'],
  ['OCN', 'occasional'],
]);
/** DURC and DURD of the manual, with the spellings seen in bulletins. */
const PHASES: ReadonlyMap<string, Phase> = new Map([
  ['DURC', 'climb'],
  ['DURGC', 'climb'],
  ['DURD', 'descent'],
  ['DURGD', 'descent'],
]);
const SILENT = new Set(['-', 'TO', '/', '&', 'UNKN']);
/** Ends what belongs together: `LGT ; MOD` is two layers, `LGT-MOD` is one. */
const STOPS = new Set(['.', ',', ';', ':']);
/** What such a word takes back cannot be told, so the whole element is not used; `NO ICE` is read before. */
const DENIALS = new Set(['NO', 'NOT', 'WO', 'WITHOUT', 'EXCEPT']);

/** What may stand between `ABV` and `BLO` that name no height. */
const BETWEEN_RELATIONS = new Set(['AND', '&', '/', 'OR']);
const UNKNOWN_BAND: AltitudeBand = { kind: 'unknown' };

interface Draft<Intensity, Kind> {
  levels: readonly Intensity[];
  kind: Kind | undefined;
  frequency: Frequency;
  band: AltitudeBand | undefined;
}

/** Climb or descent by one of the words of the manual; undefined when none stands in the text. */
export function phaseIn(text: string): Phase | undefined {
  return tokensOf(text)
    .map((token) => PHASES.get(token))
    .find((phase) => phase !== undefined);
}

/**
 * Reads an element. An intensity opens a layer; kind and altitudes follow it, or altitudes come first throughout. A
 * second stretch of altitudes repeats the layer. Two intensities side by side are the ends of a range. `ABV` and `BLO`
 * without a height are those of the layer told before.
 *
 * @param missingBand  what stands for altitudes that are not given. Those of a layer are unknown instead where a height
 *                     was not read, and where it says "none" beside another layer.
 * @returns            no layer when nothing was read, or when a word denies something that cannot be made out.
 * @checked            tests/formats/pilot-reports/layers.test.ts
 */
export function readLayers<Intensity extends string, Kind extends string>(
  text: string,
  words: LayerWords<Intensity, Kind>,
  missingBand: AltitudeBand,
): ReadLayers<Intensity, Kind> {
  const tokens = tokensOf(text);
  const reader = new LayerReader(words, tokens);
  for (let index = 0; index < tokens.length; ) index = reader.step(index);
  if (reader.isDoubtful) return { layers: [], phase: reader.phase, unread: tokens };
  const drafts = reader.drafts.filter(({ levels, kind }) => levels.length > 0 || kind !== undefined);
  const lost = reader.drafts.filter((draft) => !drafts.includes(draft) && draft.band !== undefined);
  const isHeightUnread = reader.unread.some(
    (token) => /\d/.test(token) || ABOVE.has(token) || BELOW.has(token),
  );
  const isNone = ({ levels }: (typeof drafts)[number]) =>
    levels.every((level) => level === words.intensities[0]![0]);
  const bandFor = (draft: (typeof drafts)[number]) =>
    isHeightUnread || (drafts.length > 1 && isNone(draft)) ? UNKNOWN_BAND : missingBand;
  return {
    layers: drafts.map((draft) => layerOf(draft, words, bandFor(draft))),
    phase: reader.phase,
    unread: lost.length > 0 ? tokens : reader.unread,
  };
}

class LayerReader<Intensity extends string, Kind extends string> {
  readonly drafts: Draft<Intensity, Kind>[] = [];
  readonly unread: string[] = [];
  phase: Phase | undefined;
  isDoubtful = false;
  private isBesideIntensity = false;
  private readonly isBandFirst: boolean;
  private readonly words: LayerWords<Intensity, Kind>;
  private readonly tokens: readonly string[];

  constructor(words: LayerWords<Intensity, Kind>, tokens: readonly string[]) {
    this.words = words;
    this.tokens = tokens;
    this.isBandFirst = tokens[0] !== 'UNKN' && bandAt(tokens, 0) !== undefined;
  }

  /** Reads what starts at a token and gives the index of the next one, always greater. */
  step(index: number): number {
    const token = this.tokens[index]!;
    if (token === 'NO' && this.isPlainOrEnd(index + 1)) {
      this.addIntensity(this.words.intensities[0]![0]);
      return index + 2;
    }
    const intensity = this.words.intensities.find(([, codes]) => codes.includes(token))?.[0];
    if (intensity !== undefined) {
      this.addIntensity(intensity);
      return index + 1;
    }
    const relation = this.relationAt(index);
    if (relation !== undefined) {
      this.addBand(relation);
      return BETWEEN_RELATIONS.has(this.tokens[index + 1] ?? '') ? index + 2 : index + 1;
    }
    const found = bandAt(this.tokens, index);
    if (found !== undefined && (token !== 'UNKN' || this.current().levels.length > 0)) {
      this.addBand(found.band);
      return found.next;
    }
    if (index === 0 && token === '-') this.unread.push(token);
    else this.addWord(token);
    return index + 1;
  }

  /** `ABV` or `BLO` that no height follows: from the layer told before; undefined when there is none, or a word follows. */
  private relationAt(index: number): AltitudeBand | undefined {
    const token = this.tokens[index]!;
    const next = this.tokens[index + 1];
    const isAlone =
      next === undefined || [BETWEEN_RELATIONS, STOPS, ABOVE, BELOW].some((set) => set.has(next));
    if (!isAlone || !(ABOVE.has(token) || BELOW.has(token))) return undefined;
    const bands = this.drafts.slice(0, -1).flatMap(({ band }) => band ?? []);
    if (BELOW.has(token)) {
      const upperFt = bands.flatMap((band) => ('lowerFt' in band ? band.lowerFt : [])).at(-1);
      return upperFt === undefined ? undefined : { kind: 'below', upperFt };
    }
    const lowerFt = bands.flatMap((band) => ('upperFt' in band ? band.upperFt : [])).at(-1);
    return lowerFt === undefined ? undefined : { kind: 'above', lowerFt };
  }

  private isPlainOrEnd(index: number): boolean {
    const token = this.tokens[index];
    return token === undefined || this.words.plain.has(token);
  }

  private current(): Draft<Intensity, Kind> {
    return this.drafts.at(-1) ?? this.open();
  }

  private open(): Draft<Intensity, Kind> {
    const draft: Draft<Intensity, Kind> = {
      levels: [],
      kind: undefined,
      frequency: 'unstated',
      band: undefined,
    };
    this.drafts.push(draft);
    return draft;
  }

  private addIntensity(intensity: Intensity): void {
    const isNew = this.current().levels.length > 0 && !this.isBesideIntensity;
    const draft = isNew ? this.open() : this.current();
    draft.levels = [...draft.levels, intensity];
    this.isBesideIntensity = true;
  }

  private addBand(band: AltitudeBand): void {
    const before = this.current();
    const draft = before.band === undefined ? before : this.open();
    if (draft !== before && !this.isBandFirst) Object.assign(draft, before);
    draft.band = band;
    this.isBesideIntensity = false;
  }

  private addWord(token: string): void {
    if (SILENT.has(token)) return;
    const frequency = FREQUENCIES.get(token);
    if (frequency !== undefined) {
      const isNew = this.current().levels.length > 0 && !this.isBesideIntensity;
      (isNew ? this.open() : this.current()).frequency = frequency;
      return;
    }
    this.isBesideIntensity = false;
    const kind = this.words.kinds.get(token);
    if (STOPS.has(token)) return;
    if (DENIALS.has(token)) this.isDoubtful = true;
    else if (kind !== undefined && this.current().kind === undefined) this.current().kind = kind;
    else if (PHASES.has(token)) this.phase = PHASES.get(token);
    else if (!this.words.plain.has(token)) this.unread.push(token);
  }
}

function layerOf<Intensity extends string, Kind extends string>(
  draft: Draft<Intensity, Kind>,
  words: LayerWords<Intensity, Kind>,
  missingBand: AltitudeBand,
): ReportedLayer<Intensity | 'unstated', Kind | 'unstated'> {
  const inOrder = words.intensities
    .map(([intensity]) => intensity)
    .filter((each) => draft.levels.includes(each));
  return {
    lightest: inOrder[0] ?? 'unstated',
    heaviest: inOrder.at(-1) ?? 'unstated',
    what: draft.kind ?? 'unstated',
    frequency: draft.frequency,
    band: draft.band ?? missingBand,
  };
}
