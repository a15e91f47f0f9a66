/** The columns of a schedule as CSV: what each holds of a leg, in both directions. */
import * as z from 'zod/mini';
import { minimaSchema, type ScheduleLeg, scheduleLegSchema } from '../schema/board.ts';
import { minimumAltitudeSchema } from '../schema/request.ts';
import { weekdaysOfWords, wordsOfWeekdays } from './weekday-words.ts';

export interface LegColumn {
  readonly isRequired?: true;
  /** What stands in it, for reasons of refusal. */
  readonly expected: string;
  /** Of a cell that is not empty; undefined where it cannot be read. */
  readonly read: (cell: string) => unknown;
  /** What it must fit; undefined leaves that to the columns that it belongs with. */
  readonly schema: z.ZodMiniType;
  readonly write: (leg: ScheduleLeg) => string | number | null;
}

const legShape = scheduleLegSchema.shape;
const optionShape = legShape.options.def.innerType.shape;
const minimaShape = minimaSchema.shape;
const asText = (cell: string) => cell;

/** Plain figures alone: Number() takes "" for 0 and "0x10" for 16. */
const figure = (cell: string) => (/^-?\d+(?:\.\d+)?(?:e[+-]?\d+)?$/i.test(cell) ? Number(cell) : undefined);

/** Spreadsheets write back "5:40" and "05:40:00". */
function clock(cell: string): string | undefined {
  const parts = /^(\d{1,2}):(\d{2})(?::00)?$/.exec(cell);
  return parts === null ? undefined : `${parts[1]!.padStart(2, '0')}:${parts[2]}`;
}

const STRETCH = /^(\d+(?:\.\d+)?)-(\d+(?:\.\d+)?):(-?\d+(?:\.\d+)?)$/;

function stretches(cell: string): unknown {
  return cell.split(/[\s;]+/).map((word) => {
    const [, fromNm, toNm, altitudeFt] = STRETCH.exec(word) ?? [];
    return altitudeFt === undefined
      ? undefined
      : { fromNm: Number(fromNm), toNm: Number(toNm), altitudeFt: Number(altitudeFt) };
  });
}

function json(cell: string): unknown {
  try {
    return JSON.parse(cell);
  } catch {
    return undefined;
  }
}

/** Options of a leg that have columns of their own. */
const OWN_OPTIONS = ['minimumAltitudes', 'takeoffWeightKg'] as const;

function otherOptions({ options = {} }: ScheduleLeg): string | null {
  const others = Object.entries(options).filter(([name]) => !OWN_OPTIONS.some((own) => own === name));
  return others.length === 0 ? null : JSON.stringify(Object.fromEntries(others));
}

const ceiling = (side: 'destination' | 'alternate'): LegColumn => ({
  expected: '0 to 5000 ft, with a visibility beside it',
  read: figure,
  schema: minimaShape.ceilingFt,
  write: (leg) => leg[`${side}Minima`]?.ceilingFt ?? null,
});
const visibility = (side: 'destination' | 'alternate'): LegColumn => ({
  expected: '0 to 16000 m',
  read: figure,
  schema: minimaShape.visibilityM,
  write: (leg) => leg[`${side}Minima`]?.visibilityM ?? null,
});
const date = (name: 'fromDate' | 'untilDate'): LegColumn => ({
  expected: 'a date such as 2026-01-14',
  read: asText,
  schema: legShape[name],
  write: (leg) => leg[name],
});

export const LEG_COLUMNS = {
  label: {
    isRequired: true,
    expected: '1 to 20 characters',
    read: asText,
    schema: legShape.label,
    write: ({ label }) => label,
  },
  tail: {
    expected: 'at most 12 characters',
    read: asText,
    schema: legShape.tail,
    write: ({ tail }) => tail,
  },
  route: {
    isRequired: true,
    expected: '3 to 500 characters of route',
    read: asText,
    schema: legShape.route,
    write: ({ route }) => route,
  },
  weekdays: {
    isRequired: true,
    expected: 'daily, mon-fri or mon tue wed',
    read: weekdaysOfWords,
    schema: legShape.weekdays,
    write: ({ weekdays }) => wordsOfWeekdays(weekdays),
  },
  departureLocal: {
    isRequired: true,
    expected: '00:00 to 23:59',
    read: clock,
    schema: legShape.departureLocal,
    write: ({ departureLocal }) => departureLocal,
  },
  timeZone: {
    expected: 'an IANA time zone such as America/New_York',
    read: asText,
    schema: legShape.timeZone,
    write: ({ timeZone }) => timeZone,
  },
  fromDate: date('fromDate'),
  untilDate: date('untilDate'),
  aircraft: {
    isRequired: true,
    expected: 'the id of an aircraft profile, or a whole profile as JSON',
    read: (cell) => (cell.startsWith('{') ? json(cell) : cell),
    schema: legShape.aircraft,
    write: ({ aircraft }) => (typeof aircraft === 'string' ? aircraft : JSON.stringify(aircraft)),
  },
  plannedMinutes: {
    expected: '1 to 1440 minutes',
    read: figure,
    schema: legShape.plannedMinutes,
    write: ({ plannedMinutes }) => plannedMinutes,
  },
  alternate: {
    expected: 'an identifier of at most 10 characters',
    read: asText,
    schema: legShape.alternate,
    write: ({ alternate }) => alternate,
  },
  destinationCeilingFt: ceiling('destination'),
  destinationVisibilityM: visibility('destination'),
  alternateCeilingFt: ceiling('alternate'),
  alternateVisibilityM: visibility('alternate'),
  takeoffWeightKg: {
    expected: 'more than 0 kg',
    read: figure,
    schema: optionShape.takeoffWeightKg,
    write: ({ options }) => options?.takeoffWeightKg ?? null,
  },
  minimumAltitudes: {
    expected: 'at most 50 of fromNm-toNm:altitudeFt, as 0-45:6500 45-130:6200',
    read: stretches,
    schema: z.array(minimumAltitudeSchema).check(z.minLength(1), z.maxLength(50)),
    write: ({ options }) =>
      options?.minimumAltitudes
        ?.map(({ fromNm, toNm, altitudeFt }) => `${fromNm}-${toNm}:${altitudeFt}`)
        .join(' ') ?? null,
  },
  otherOptions: {
    expected: 'JSON of further options of a brief, each as the API has it',
    read: json,
    schema: z.omit(legShape.options.def.innerType, { minimumAltitudes: true, takeoffWeightKg: true }),
    write: otherOptions,
  },
} as const satisfies Record<string, LegColumn>;

export type LegColumnName = keyof typeof LEG_COLUMNS;
export const LEG_COLUMN_NAMES = Object.keys(LEG_COLUMNS) as readonly LegColumnName[];
