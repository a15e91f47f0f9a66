/**
 * Network boards as they are stored, and the ports of what keeps, tells and publishes them. A board has a sequence number; everything
 * that changes on it gets the next one in the same transaction, so that "since" always means the same to everybody.
 */
import type {
  BoardAccess,
  Change,
  Evaluation,
  IceEquipment,
  LiveMessage,
  Mark,
  PushSubscriptionEntry,
  PutTail,
  ScheduleLeg,
  StoredLeg,
} from '../schema/board.ts';

export interface Board {
  /** 22 characters of base64url; names the board, opens nothing. */
  readonly id: string;
  readonly operator: string;
  readonly name: string;
  readonly timeZone: string;
  /** A board for training stands at this instant; undefined goes with the clock. */
  readonly standsMs: number | undefined;
  readonly createdMs: number;
  readonly seq: number;
  /** Viewers were told of everything up to this. */
  readonly publishedSeq: number;
}

/** The board's own clock. */
export function boardNowMs({ standsMs }: Pick<Board, 'standsMs'>, nowMs: number): number {
  return standsMs ?? nowMs;
}

/** A capability link: its secret is kept as a hash alone. */
export interface BoardKey {
  readonly keyId: string;
  readonly boardId: string;
  readonly access: BoardAccess;
  readonly label: string;
  /** Of the secret, lower-case hex. */
  readonly sha256: string;
  readonly createdMs: number;
  readonly revokedMs: number | undefined;
}

/** A flight that the schedule calls for. */
export interface WantedFlight {
  /** "{leg}.{local day}". */
  readonly id: string;
  readonly legId: string;
  readonly leg: ScheduleLeg;
  readonly departureMs: number;
}

export interface MadeMark {
  readonly atMs: number;
  readonly by: string;
}

/** What was shared of a flight, and what it said then. */
export interface SharedOfFlight {
  readonly id: string;
  readonly atMs: number;
  readonly evaluation: Pick<
    Evaluation,
    'verdict' | 'altitudeFt' | 'acceptFt' | 'exposure' | 'reasonCodes' | 'destination' | 'alternate'
  >;
}

export interface StoredFlight extends WantedFlight {
  readonly boardId: string;
  readonly seq: number;
  readonly isRemoved: boolean;
  /** The last evaluation that succeeded; its atUtc is when its reading began. */
  readonly evaluation: Evaluation | undefined;
  /** The last attempt, where it failed. */
  readonly failure: { readonly atMs: number; readonly sentence: string } | undefined;
  readonly change: Change | undefined;
  readonly acknowledged: { readonly seq: number; readonly by: string; readonly atMs: number } | undefined;
  readonly shared: SharedOfFlight | undefined;
  readonly departed: MadeMark | undefined;
  readonly arrived: MadeMark | undefined;
  readonly cancelled: MadeMark | undefined;
}

/** When something is entered. */
export interface EntryTimes {
  /** The service's clock. */
  readonly nowMs: number;
  /** The board's. */
  readonly boardMs: number;
}

export interface StoredTail {
  readonly tail: string;
  readonly fluidOnBoardL: number | undefined;
  /** By the board's clock; undefined where no fluid is known. */
  readonly fluidEnteredMs: number | undefined;
  readonly inoperative: readonly IceEquipment[];
  readonly note: string;
  /** Of anything of it, by the service's clock. */
  readonly enteredMs: number;
  readonly by: string;
}

/** Where and when data bear on a flight: what comes in later within it has the flight worked out again. */
export interface Reach {
  readonly southDeg: number;
  readonly northDeg: number;
  /** West may exceed east across the antimeridian. */
  readonly westDeg: number;
  readonly eastDeg: number;
  readonly fromMs: number;
  readonly toMs: number;
}

/** A flight that one consumer works out; the token proves that it still may. */
export interface FlightClaim {
  readonly board: Board;
  readonly flight: StoredFlight;
  readonly token: string;
}

/** What a consumer found. */
export interface FlightOutcome {
  /** When its reading began: data that came later have it worked out again. */
  readonly startedMs: number;
  readonly evaluation?: Evaluation;
  readonly reach?: Reach;
  readonly failure?: string;
  /** Without its number, which the store gives; undefined where nothing is worth telling. */
  readonly change?: Omit<Change, 'seq'>;
}

export interface DueFlight {
  readonly boardId: string;
  readonly flightId: string;
}

/** Of one board: what a message of the queue holds. */
export interface DueMessage {
  readonly boardId: string;
  readonly flightIds: readonly string[];
}

/** Boards whose flights are to be brought into agreement with their legs. */
export interface FollowMessage {
  readonly follow: readonly string[];
}

/** How old an evaluation may get before it is made again without new data, by how long before departure. Ascending. */
export interface AgeRule {
  readonly withinMs: number;
  readonly mostMs: number;
}

export interface LogEntry {
  readonly boardId: string;
  readonly flightId: string;
  /** "KBTV-KBGR 123", kept because flights go. */
  readonly flightName: string;
  readonly seq: number;
  readonly sentence: string;
  readonly by: string;
  readonly atMs: number;
}

export interface AuditEntry {
  readonly boardId: string;
  readonly atMs: number;
  /** "operator local", "key {keyId}", "sign-in {subject}": never a secret. */
  readonly principal: string;
  /** Name of the call. */
  readonly action: string;
  readonly target: string;
  /** HTTP status of its answer. */
  readonly status: number;
}

/** Boards, the links that open them, and their legs. */
export interface BoardRegister {
  create(board: Board, keys: readonly BoardKey[]): Promise<void>;
  find(boardId: string): Promise<Board | undefined>;
  list(operator: string): Promise<readonly Board[]>;
  all(): Promise<readonly Board[]>;
  /** With everything that belongs to it. */
  remove(boardId: string): Promise<void>;
  putKey(key: BoardKey): Promise<void>;
  keys(boardId: string): Promise<readonly BoardKey[]>;
  /** undefined for none of this board, and for one that was revoked. */
  findKey(boardId: string, sha256: string): Promise<BoardKey | undefined>;
  /** True where there was one to revoke. */
  revokeKey(boardId: string, keyId: string, nowMs: number): Promise<boolean>;
  legs(boardId: string): Promise<readonly StoredLeg[]>;
  /** All of it or nothing; with `replace` in the place of all legs before. */
  putLegs(boardId: string, legs: readonly StoredLeg[], replace: boolean): Promise<void>;
  removeLeg(boardId: string, legId: string): Promise<boolean>;
}

export interface BoardFlights {
  /** Not removed, departing within these instants, by departure. */
  flights(boardId: string, fromMs: number, toMs: number): Promise<readonly StoredFlight[]>;
  flight(boardId: string, flightId: string): Promise<StoredFlight | undefined>;
  /** Of one aeroplane, not removed, departing within these instants, by departure. */
  flightsOfTail(
    boardId: string,
    tail: string,
    fromMs: number,
    toMs: number,
  ): Promise<readonly StoredFlight[]>;
  /** Flights (removed ones too) and tails with a greater number, at most `limit` flights, lowest number first. */
  changedSince(
    boardId: string,
    seq: number,
    limit: number,
  ): Promise<{ readonly flights: readonly StoredFlight[]; readonly tails: readonly StoredTail[] }>;
  /** On boards that go with the clock, flights near departure that stand as unknown since nobody worked them out in time. */
  behind(nowMs: number): Promise<number>;
  /** Not evaluated since they became due. */
  waiting(boardId: string, fromMs: number): Promise<number>;
  /**
   * Brings the flights departing within the window into agreement with the schedule: adds those that are missing, changes undeparted
   * ones whose leg or time is another now, removes undeparted ones that nobody wants. Nothing to do takes no number.
   */
  agree(
    boardId: string,
    wanted: readonly WantedFlight[],
    window: { readonly fromMs: number; readonly toMs: number; readonly nowMs: number },
  ): Promise<void>;
  /**
   * Flights to be worked out, the next departure first, marked as asked for: never worked out or marked due, older than the rules
   * allow, or with data within their reach that came in since. Not those that arrived, are cancelled, are asked for already within the
   * lease, or whose end is past. A board that stands at an instant knows no age.
   */
  takeDue(rule: {
    readonly nowMs: number;
    readonly leaseMs: number;
    readonly ages: readonly AgeRule[];
    readonly openOperators: readonly string[];
    readonly limit: number;
    /** Of one board alone. */
    readonly boardId?: string;
  }): Promise<readonly DueFlight[]>;
  /** Marks it due and as asked for, so that a message may be sent of it; false where there is nothing to work out. */
  ask(due: DueFlight, nowMs: number): Promise<boolean>;
  /** undefined while another consumer has it, and for one that is gone, removed or not due any more. */
  claim(
    due: DueFlight,
    times: { readonly leaseMs: number; readonly nowMs: number },
  ): Promise<FlightClaim | undefined>;
  /** False where the claim was lost: then nothing is written. Outcome, number and change are one transaction. */
  settle(claim: FlightClaim, outcome: FlightOutcome): Promise<boolean>;
  tails(boardId: string): Promise<readonly StoredTail[]>;
  /** Its flights that have not arrived are due again. */
  putTail(boardId: string, tail: string, state: PutTail, times: EntryTimes): Promise<StoredTail>;
  /** It, and later flights of its aeroplane, are due again. @returns the flight as it is then; undefined for none. */
  mark(boardId: string, flightId: string, mark: Mark): Promise<StoredFlight | undefined>;
  setShared(boardId: string, flightId: string, shared: SharedOfFlight): Promise<void>;
  /** Deletes flights that departed before an instant; gives how many. */
  forgetFlights(departedBeforeMs: number): Promise<number>;
}

export interface BoardRecords {
  /** Append-only: the log and the flight in one transaction. undefined where the flight has no change of that number. */
  acknowledge(entry: Omit<LogEntry, 'flightName' | 'sentence'>): Promise<LogEntry | undefined>;
  log(boardId: string): Promise<readonly LogEntry[]>;
  /** Whatever bears a person's name on a board loses it: log entries go, marks and tails stay without it. Gives how many rows. */
  forgetPerson(boardId: string, name: string): Promise<number>;
  audit(entry: AuditEntry): Promise<void>;
  /** Newest first. */
  auditOf(boardId: string, limit: number): Promise<readonly AuditEntry[]>;
  forgetAudit(beforeMs: number): Promise<void>;
}

export interface PushSubscriber extends PushSubscriptionEntry {
  readonly boardId: string;
  readonly keyId: string;
}

/** What is still to be told to viewers. */
export interface BoardOutbox {
  /** Boards whose viewers were not told of everything. */
  unpublished(): Promise<readonly Board[]>;
  /** Never goes back. */
  published(boardId: string, seq: number): Promise<void>;
  subscribe(subscriber: PushSubscriber, nowMs: number): Promise<void>;
  unsubscribe(boardId: string, endpoint: string): Promise<void>;
  /** Of links that still open the board. */
  subscribers(boardId: string): Promise<readonly PushSubscriber[]>;
}

export type BoardRepository = BoardRegister & BoardFlights & BoardRecords & BoardOutbox;

/** The live connections of each board. */
export interface BoardRooms {
  /** The WebSocket upgrade of one viewer; whose key it is was checked before. */
  connect(boardId: string, keyId: string, request: Request): Promise<Response>;
  publish(boardId: string, message: LiveMessage): Promise<void>;
  /** Ends the connections that a revoked key opened. */
  close(boardId: string, keyId: string): Promise<void>;
  viewers(boardId: string): Promise<number>;
}

/** gone: the browser took the subscription back. */
export type PushOutcome = 'sent' | 'gone' | 'failed';

export interface PushMessage {
  readonly title: string;
  readonly body: string;
  /** Opens at a touch; no secret in it. */
  readonly path: string;
  /** A later message of the same topic takes an earlier one's place. At most 32 characters of base64url. */
  readonly topic: string;
}

export interface PushSender {
  readonly publicKey: string;
  /** An address that it may send to. */
  takes(endpoint: string): boolean;
  send(subscriber: PushSubscriber, message: PushMessage): Promise<PushOutcome>;
}
