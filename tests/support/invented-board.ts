/** A board with as many flights as wanted, all invented, of every kind that a board has: verdicts, failures, marks, unknown weather. */
import type {
  BoardAnswer,
  BoardFlight,
  Evaluation,
  TailState,
  WeatherStanding,
} from '../../worker/schema/board.ts';
import type { VerdictCode } from '../../worker/schema/choice-words.ts';

export const INVENTED_BOARD_ID = 'InventedBoard000000000';
export const INVENTED_KEY = 'invented-key-of-no-board-at-all-0123456789';
export const AS_OF_UTC = '2026-01-14T10:12:00Z';
const AS_OF_MS = Date.parse(AS_OF_UTC);
const MINUTE_MS = 60_000;

const PLACES: readonly (readonly [string, number, number])[] = [
  ['KBTV', -73.15, 44.47],
  ['KBGR', -68.83, 44.81],
  ['KALB', -73.8, 42.75],
  ['KMSS', -74.85, 44.94],
  ['KPWM', -70.31, 43.65],
  ['CYGK', -76.6, 44.23],
  ['KSYR', -76.11, 43.11],
  ['KPQI', -68.04, 46.69],
];
const VERDICTS: readonly VerdictCode[] = [
  'no-ice-found',
  'within-limits',
  'no-ice-found',
  'within-limits',
  'unknown',
  'within-limits',
  'no-ice-found',
  'outside-limits',
  'within-limits',
];

const SAYS: Readonly<Record<VerdictCode, { readonly why: string; readonly radio: string }>> = {
  'no-ice-found': {
    why: 'No ice was found along the leg at 9,000 ft: above the tops by 2,000 ft, known all the way.',
    radio: 'No ice found at niner thousand, tops seven.',
  },
  'within-limits': {
    why: 'Light rime up to 10 min in the climb and descent through the deck, fluid covers it with 30 L to spare.',
    radio: 'Eleven thousand, light rime in climb, fluid covers it.',
  },
  'outside-limits': {
    why: 'Freezing drizzle from 2,000 to 5,500 ft on every way down: large drops are outside what the aeroplane is certified for.',
    radio: 'No altitude: freezing drizzle on every way down.',
  },
  unknown: {
    why: 'The last 60 NM lie more than 300 km from any ascent and no forecast reaches them; the next run is expected by 11:00 UTC.',
    radio: 'Unknown past sixty miles, no data, ask again eleven.',
  },
};

const REASONS: Readonly<Record<VerdictCode, string[]>> = {
  'no-ice-found': ['no-ice-found'],
  'within-limits': ['icing'],
  'outside-limits': ['large-drops'],
  unknown: ['unknown-air'],
};

/** @param at  Minutes after the board's instant. */
export const utcAt = (at: number) => `${new Date(AS_OF_MS + at * MINUTE_MS).toISOString().slice(0, 19)}Z`;

function weather(aerodrome: string, atUtc: string, kind: number): WeatherStanding {
  const standing = (['above', 'above', 'below', 'unknown'] as const)[kind % 4]!;
  if (standing === 'unknown')
    return {
      aerodrome,
      atUtc,
      standing,
      sentence: 'No forecast of this aerodrome was read',
      ceilingFt: null,
      visibilityM: null,
      issuedUtc: null,
    };
  const isBelow = standing === 'below';
  return {
    aerodrome,
    atUtc,
    standing,
    sentence: isBelow ? 'TAF 09 UTC: 200 ft, 800 m in snow' : 'TAF 09 UTC: 2,500 ft, 9,000 m',
    ceilingFt: isBelow ? 200 : 2500,
    visibilityM: isBelow ? 800 : 9000,
    issuedUtc: utcAt(-60),
  };
}

function evaluation(index: number, verdict: VerdictCode, departureUtc: string): Evaluation {
  const [from, lonFrom, latFrom] = PLACES[index % PLACES.length]!;
  const [to, lonTo, latTo] = PLACES[(index * 3 + 1) % PLACES.length]!;
  const hasAltitude = verdict !== 'outside-limits';
  const altitudeFt = 7000 + 1000 * (index % 6);
  const arrivalUtc = new Date(Date.parse(departureUtc) + 62 * MINUTE_MS).toISOString();
  const onBoardL = 40 + (index % 5) * 10;
  const neededHighL = 15 + (index % 7) * 8;
  return {
    atUtc: utcAt(-20 - (index % 30)),
    request: {
      route: `${from} DCT ${to}`,
      departure: { atUtc: departureUtc },
      aircraft: 'generic-fluid-turboprop',
      options: { altimeterSettingHPa: 1017, fluidOnBoardL: onBoardL },
    },
    methodVersion: '1',
    verdict,
    sentence: SAYS[verdict].why,
    radio: SAYS[verdict].radio,
    reasonCodes: REASONS[verdict],
    altitudeFt: hasAltitude ? altitudeFt : null,
    acceptFt: hasAltitude ? { lowerFt: altitudeFt - 1000, upperFt: altitudeFt + 2000 } : null,
    exposure: {
      altitudeFt,
      timeMinutes: 62,
      icingMinutesHigh: verdict === 'no-ice-found' ? 0 : 5 + (index % 8) * 5,
      unknownMinutes: verdict === 'unknown' ? 18 : 0,
      builtMmHigh: verdict === 'no-ice-found' ? 0 : 2 + (index % 9),
      worstIntensity: verdict === 'no-ice-found' ? 'none' : verdict === 'outside-limits' ? 'severe' : 'light',
      worstLargeDrops: verdict === 'outside-limits' ? 'freezing-drizzle' : 'none',
      fluidTripHighL: neededHighL,
    },
    fluid: index % 6 === 4 ? null : { onBoardL, neededHighL, coversHighEstimate: neededHighL <= onBoardL },
    fluidUnknownWhy: index % 6 === 4 ? 'nobody entered what is on board' : '',
    destination: weather(to, arrivalUtc, index),
    alternate: index % 3 === 0 ? null : weather('KPSM', arrivalUtc, index + 1),
    arrivalUtc,
    newestDataUtc: utcAt(-72),
    oldestDataUtc: utcAt(-250),
    staleAtUtc: utcAt(110),
    hasInventedData: true,
    line: Array.from({ length: 40 }, (_, point): [number, number] => [
      Number((lonFrom + ((lonTo - lonFrom) * point) / 39).toFixed(3)),
      Number((latFrom + ((latTo - latFrom) * point) / 39).toFixed(3)),
    ]),
  };
}

/** One flight; the same index gives the same flight. */
export function inventedFlight(index: number, changes: Partial<BoardFlight> = {}): BoardFlight {
  const legId = `leg${String(index).padStart(19, '0')}`;
  const verdict = VERDICTS[index % VERDICTS.length]!;
  // Some have left by now, one or two are overdue, most are to come.
  const departureUtc = utcAt(-90 + ((index * 37) % 700));
  const isNeverWorkedOut = index % 27 === 4;
  const hasDeparted = Date.parse(departureUtc) < AS_OF_MS - 5 * MINUTE_MS && index % 4 !== 0;
  const hasArrived = hasDeparted && Date.parse(departureUtc) < AS_OF_MS - 70 * MINUTE_MS;
  const said = SAYS[verdict];
  return {
    id: `${legId}.2026-01-14`,
    legId,
    seq: 100 + (index % 50),
    label: `ZZ-${101 + index}`,
    tail: index % 11 === 10 ? null : `ZZ-A${String.fromCharCode(65 + (index % 20))}`,
    from: PLACES[index % PLACES.length]![0],
    to: PLACES[(index * 3 + 1) % PLACES.length]![0],
    routeText: `${PLACES[index % PLACES.length]![0]} DCT ${PLACES[(index * 3 + 1) % PLACES.length]![0]}`,
    departureUtc,
    verdict,
    holdsUntilUtc: null,
    why: isNeverWorkedOut ? 'Not worked out yet.' : said.why,
    evaluation: isNeverWorkedOut ? null : evaluation(index, verdict, departureUtc),
    failure: isNeverWorkedOut
      ? { atUtc: utcAt(-8), sentence: 'No source of air could be read for the route.' }
      : null,
    inoperative: index % 8 === 7 ? ['wing-fluid', 'pitot-heat'] : index % 13 === 5 ? ['ice-light'] : [],
    change:
      index % 3 === 2
        ? null
        : {
            seq: 100 + (index % 50),
            atUtc: utcAt(-12 - index),
            kind: verdict === 'outside-limits' || verdict === 'unknown' ? 'worse' : 'other',
            sentence:
              verdict === 'outside-limits'
                ? 'Outside limits: freezing drizzle on every way down; was within limits at 9,000 ft.'
                : '11,000 ft to file, was 9,000 ft: the deck’s top came up by 1,500 ft.',
          },
    acknowledged: index % 6 === 1 ? { seq: 100 + (index % 50), by: 'Robin', atUtc: utcAt(-5) } : null,
    shared:
      index % 5 === 1
        ? {
            id: 'SharedInvented00000000',
            atUtc: utcAt(-50),
            since: index % 2 === 1 ? ['11,000 ft to file, 9,000 ft then'] : [],
          }
        : null,
    departed: hasDeparted ? { atUtc: departureUtc, by: 'Robin' } : null,
    arrived: hasArrived ? { atUtc: utcAt(-3), by: 'Robin' } : null,
    overdueAtUtc: hasArrived ? null : new Date(Date.parse(departureUtc) + 85 * MINUTE_MS).toISOString(),
    cancelled: index % 23 === 22,
    ...changes,
  };
}

const TAILS: readonly TailState[] = [
  {
    tail: 'ZZ-AB',
    fluidOnBoardL: 60,
    inoperative: ['ice-light'],
    note: 'Topped up at the gate',
    enteredUtc: utcAt(-40),
    fluidEnteredUtc: utcAt(-190),
    by: 'Robin',
  },
];

export function inventedBoard(count: number, changes: Partial<BoardAnswer> = {}): BoardAnswer {
  return {
    board: {
      id: INVENTED_BOARD_ID,
      name: 'Invented winter network',
      timeZone: 'America/New_York',
      standsAtUtc: AS_OF_UTC,
    },
    access: 'edit',
    asOfUtc: AS_OF_UTC,
    seq: 150,
    flights: Array.from({ length: count }, (_, index) => inventedFlight(index)),
    tails: [...TAILS],
    waiting: 3,
    cautions: [],
    ...changes,
  };
}
