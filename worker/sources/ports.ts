/** What the brief needs from the outside, as interfaces: real stores implement them, tests give small ones. */
import type { StretchGround, TerrainStretch } from '../flight/terrain-stretch.ts';
import type { Grib2GridDefinition } from '../formats/grib2/field.ts';
import type { ReportText, Sounding } from '../formats/sounding.ts';
import type { CondensateBasis } from '../science/columns.ts';
import type { AlarmRepository, ServiceFacts } from './alarms.ts';
import type { BoardRepository, BoardRooms, DueMessage, FollowMessage, PushSender } from './boards.ts';
import type { BulletinRepository } from './bulletins.ts';
import type { HoldoverRepository } from './holdover-tables.ts';
import type { RangedHttp } from './ranged-http.ts';
import type { ReportRepository } from './reports.ts';
import type { ScoreRepository } from './scores.ts';
import type { SharedBriefRepository, WriteCounts } from './shared-briefs.ts';
import type { SignInKeys } from './sign-in-keys.ts';
import type { SupplyRepository } from './supply.ts';

/**
 * Quantities a grid hour may hold: at the surface and at screen height (2 m, wind 10 m), then on levels. The order is that of
 * the slices of an hour.
 */
export const GRID_QUANTITIES = [
  'surfaceHeightM',
  'surfacePressurePa',
  'screenTemperatureK',
  'screenRelativeHumidityRatio',
  'screenWindEastMps',
  'screenWindNorthMps',
  // Which kinds of precipitation fall: 1 or 0 at a grid point, between grid points the share that has it.
  'rainRatio',
  'freezingRainRatio',
  'icePelletsRatio',
  'snowRatio',
  // Of a model's own level, whose pressure is not the same everywhere.
  'pressurePa',
  'temperatureK',
  'relativeHumidityRatio',
  'geopotentialHeightM',
  'windEastMps',
  'windNorthMps',
  'verticalVelocityPaPerS',
  // Cloud water, or all condensate: see GridManifest.condensateBasis.
  'condensateKgPerKg',
  'rainKgPerKg',
  'cloudIceKgPerKg',
  'snowKgPerKg',
  'graupelKgPerKg',
  'cloudFractionRatio',
] as const;
export type GridQuantity = (typeof GRID_QUANTITIES)[number];

/** An ascent of the store; its `reports` are not read back. */
export interface StoredSounding extends Sounding {
  readonly operator: string;
  readonly ingestedMs: number;
}

/**
 * One field of an hour: which quantity, on which level, Pa (null at the surface). A level of the model's own is named by its mean
 * pressure; where it lies is told by the slice of `pressurePa` that has the same name.
 */
export interface GridSlice {
  readonly quantity: GridQuantity;
  readonly levelPa: number | null;
}

/** How a slice's codes are turned into values: code * scaleFactor + addOffset, in the quantity's unit. */
export interface StoredSlice extends GridSlice {
  readonly scaleFactor: number;
  readonly addOffset: number;
  /** Greatest difference that storing made to any of its values. */
  readonly greatestError: number;
}

/** One object of an hour: chunks one behind the other from its first byte on, each with every slice; see grid-chunks.ts. */
export interface GridShard {
  readonly key: string;
  /** Of each chunk, row by row; those before a chunk tell where it lies. */
  readonly lengthBytes: readonly number[];
  /** CRC-32 of each chunk's codes. */
  readonly crc32: readonly number[];
}

/** What a published hour holds. A slice or chunk not named here is unknown. */
export interface GridManifest {
  /** Of the layout; an hour of another one does not read. */
  readonly version: 3;
  readonly model: string;
  readonly attribution: string;
  readonly runMs: number;
  readonly validMs: number;
  readonly definition: Grib2GridDefinition;
  /** Cropped part of the grid kept: first column and row, and how many. */
  readonly crop: { readonly i0: number; readonly j0: number; readonly nx: number; readonly ny: number };
  readonly wrapsEast: boolean;
  readonly condensateBasis: CondensateBasis;
  /** What the file's relative humidity was over, before it was turned to liquid water. */
  readonly humidityBasis: string;
  /** What the model's own clouds are saturated over: see CloudSaturation. */
  readonly cloudBasis: string;
  /** In the order they have in each chunk. */
  readonly slices: readonly StoredSlice[];
  /** Points along a side of a chunk and of a shard. */
  readonly chunkSide: number;
  readonly shardSide: number;
  /** Row by row over the cropped grid. */
  readonly shards: readonly GridShard[];
  /** Messages of the file that were refused, with the reason. */
  readonly rejected: readonly { readonly offsetBytes: number; readonly reason: string }[];
}

export interface GridHour {
  readonly operator: string;
  readonly model: string;
  readonly runMs: number;
  readonly validMs: number;
  readonly manifestKey: string;
  readonly ingestedMs: number;
  /** Between neighboring grid points, m. */
  readonly spacingM: number;
  /** It says how much of the water in cloud is liquid, or all condensate. */
  readonly hasCloudWater: boolean;
}

export interface ByteRange {
  readonly offsetBytes: number;
  readonly lengthBytes: number;
}

export interface ListedObject {
  readonly key: string;
  readonly writtenMs: number;
}

/** Bytes under a key. Absence is undefined, failure throws. */
export interface ObjectStore {
  get(key: string): Promise<ArrayBuffer | undefined>;
  /** Exactly the bytes asked for; undefined too when the object ends before they do. */
  getRange(key: string, range: ByteRange): Promise<ArrayBuffer | undefined>;
  put(key: string, bytes: ArrayBuffer | Uint8Array | string): Promise<void>;
  delete(keys: readonly string[]): Promise<void>;
  /** Keys under a prefix, at most 1000. */
  list(prefix: string): Promise<readonly string[]>;
  /** In the order of their keys those under a prefix that come after one, '' for the first of all, at most 1000. */
  listBehind(prefix: string, afterKey: string, limit: number): Promise<readonly ListedObject[]>;
}

/** What reads objects and changes none. */
export type ObjectReader = Pick<ObjectStore, 'get' | 'getRange'>;

export interface SoundingQuery {
  readonly operators: readonly string[];
  readonly fromMs: number;
  readonly toMs: number;
  /** Box around the route, degrees; lon as a list of ranges so that it may cross the antimeridian. */
  readonly southDeg: number;
  readonly northDeg: number;
  readonly lonRanges: readonly (readonly [number, number])[];
}

export interface SoundingRepository {
  put(operator: string, soundings: readonly Sounding[], nowMs: number): Promise<void>;
  /** Keeps the parts of TEMP ascents beside those kept before, and gives them as `reports` does. */
  keepReports(operator: string, soundings: readonly Sounding[]): Promise<readonly (readonly ReportText[])[]>;
  /** Ascent by ascent, every part kept of it in the order in which they came; none of other formats. */
  reports(operator: string, soundings: readonly Sounding[]): Promise<readonly (readonly ReportText[])[]>;
  find(query: SoundingQuery): Promise<readonly StoredSounding[]>;
  /** Newest first, without levels. */
  list(operators: readonly string[], limit: number): Promise<readonly SoundingRow[]>;
}

export interface SoundingRow {
  readonly operator: string;
  readonly stationId: string;
  readonly format: string;
  readonly timeMs: number;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly levelCount: number;
  readonly ingestedMs: number;
}

export interface GridRepository {
  /** To be called before the first object is written: what a crash leaves behind is found by it. */
  begin(write: { readonly prefix: string; readonly operator: string; readonly nowMs: number }): Promise<void>;
  /** Makes an hour visible; returns the manifest key it replaced, if any, whose objects are retired. */
  publish(hour: GridHour): Promise<string | undefined>;
  /** Hides an operator's hours valid before an instant, and of each model and valid time all but the newest runs; gives how many. */
  retire(
    operator: string,
    rule: { readonly validBeforeMs: number; readonly keepRuns: number; readonly nowMs: number },
  ): Promise<number>;
  /** Prefixes of objects that nothing reads any more: begun or retired before these instants. */
  leftovers(
    before: { readonly writingBeforeMs: number; readonly retiredBeforeMs: number },
    limit: number,
  ): Promise<readonly string[]>;
  forgetPrefix(prefix: string): Promise<void>;
  find(operators: readonly string[], fromMs: number, toMs: number): Promise<readonly GridHour[]>;
  list(operators: readonly string[], limit: number): Promise<readonly GridHour[]>;
}

export interface Place {
  readonly ident: string;
  readonly name: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** NaN for a fix without elevation. */
  readonly elevationM: number;
  readonly kind: 'aerodrome' | 'fix';
}

export interface SpotHeight {
  readonly name: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly heightM: number;
}

/** Degrees; lon as in SoundingQuery. */
export interface PlaceBox {
  readonly southDeg: number;
  readonly northDeg: number;
  readonly lonRanges: readonly (readonly [number, number])[];
}

export interface PlaceRepository {
  /** An aerodrome of the bundled list, which no fix may shadow, else the first of the operators that has the fix. */
  byIdent(operators: readonly string[], ident: string): Promise<Place | undefined>;
  /** The same for many; what nobody knows is left out. */
  byIdents(operators: readonly string[], idents: readonly string[]): Promise<ReadonlyMap<string, Place>>;
  search(operators: readonly string[], text: string, limit: number): Promise<readonly Place[]>;
  /** Aerodromes of the bundled list with a known elevation within a box. */
  aerodromesIn(box: PlaceBox): readonly Place[];
  putFixes(operator: string, places: readonly Place[]): Promise<void>;
  putSpotHeights(operator: string, spots: readonly SpotHeight[]): Promise<void>;
  spotHeights(operators: readonly string[], box: PlaceBox): Promise<readonly SpotHeight[]>;
}

/** A model of the ground. What it does not know is NaN, never low, and no failure of it throws. */
export interface TerrainSource {
  /** Who made the heights. */
  readonly attribution: string;
  /** @returns one a stretch, in order. A wider corridor never has lower ground. */
  highestGround(stretches: readonly TerrainStretch[], halfWidthM: number): Promise<readonly StretchGround[]>;
}

/**
 * All that a brief reads. It takes no other call, so that what is recorded of these is everything it was made from: see
 * recorded-inputs.ts.
 */
export interface BriefReads {
  readonly soundings: Pick<SoundingRepository, 'find'>;
  readonly grids: Pick<GridRepository, 'find'>;
  readonly objects: ObjectReader;
  readonly reports: Pick<ReportRepository, 'find' | 'findNotes' | 'ofAerodrome'>;
  readonly holdoverTables: Pick<HoldoverRepository, 'list'>;
  readonly places: Pick<PlaceRepository, 'byIdent' | 'aerodromesIn' | 'spotHeights'>;
  /** undefined where no elevation tiles are set. */
  readonly terrain: TerrainSource | undefined;
}

/** The page's own document, as the build made it. */
export interface PageSource {
  html(origin: string): Promise<string>;
  /** The document of a board. */
  board(origin: string): Promise<string>;
}

/** Everything a request handler may reach. */
export interface Dependencies {
  readonly soundings: SoundingRepository;
  readonly reports: ReportRepository;
  readonly scores: ScoreRepository;
  readonly bulletins: BulletinRepository;
  readonly alarms: AlarmRepository;
  readonly facts: ServiceFacts;
  readonly grids: GridRepository;
  readonly objects: ObjectStore;
  readonly holdoverTables: HoldoverRepository;
  readonly sharedBriefs: SharedBriefRepository;
  readonly writeCounts: WriteCounts;
  readonly boards: BoardRepository;
  readonly live: BoardRooms;
  /** undefined where this instance sends no push messages. */
  readonly push: PushSender | undefined;
  /** Tells a board's viewers whatever they were not told yet. */
  readonly publishBoard: (boardId: string) => Promise<void>;
  /** The same for every board; one that fails keeps nothing from the others. */
  readonly publishAll: () => Promise<void>;
  /** Puts boards whose schedules are to be followed into the boards' queue. */
  readonly sendFollowing: (messages: readonly FollowMessage[]) => Promise<void>;
  /** Puts flights that are due into the boards' queue. */
  readonly sendFlights: (messages: readonly DueMessage[]) => Promise<void>;
  /** Public keys of who signs people in. */
  readonly signInKeys: SignInKeys;
  readonly page: PageSource;
  readonly places: PlaceRepository;
  readonly supply: SupplyRepository;
  /** undefined where no elevation tiles are set. */
  readonly terrain: TerrainSource | undefined;
  /** Fetches from the allowed buckets alone. */
  readonly http: RangedHttp;
  readonly nowMs: () => number;
}
