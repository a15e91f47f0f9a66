/** Windows of a holdover table, cell by cell against the table as it was printed, and what has no time whatever a table says. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type HoldoverQuestion, holdoverOf } from '../../worker/ground/holdover.ts';
import { holdoverTable } from '../../worker/ground/holdover-table.ts';
import { type Mix, RAMP_CONDITIONS, type RampCondition } from '../../worker/schema/ground-words.ts';
import { holdoverTableSchema } from '../../worker/schema/holdover.ts';

const text = JSON.parse(readFileSync(new URL('type-iv-2003-04.json', import.meta.url), 'utf8'));
const table = holdoverTable(holdoverTableSchema.parse(text));
const IN_SEASON = '2004-01-14';

function ask(
  temperatureC: number,
  conditions: readonly RampCondition[] | undefined,
  mix: Mix = '100/0',
  more: Partial<HoldoverQuestion> = {},
) {
  const temperature = { warmestC: temperatureC, coldestC: temperatureC };
  const isSkinColder = false;
  return holdoverOf(table, { temperature, conditions, mix, isSkinColder, onDay: IN_SEASON, ...more });
}

const inMinutes = (clock: string) => Number(clock.split(':')[0]) * 60 + Number(clock.split(':')[1]);

/** Typed anew from the reference, row by row, h:mm: frost, freezing fog, snow, freezing drizzle, light freezing rain, cold-soaked rain. */
const PRINTED = `
  5    100/0  18:00  1:05-2:15  0:35-1:05  0:40-1:10  0:25-0:40  0:10-0:50
  0.1  75/25  6:00   1:05-1:45  0:30-1:05  0:35-0:50  0:15-0:30  0:05-0:35
  1    50/50  4:00   0:15-0:35  0:05-0:20  0:10-0:20  0:05-0:10  none
  0    100/0  12:00  1:05-2:15  0:30-0:55  0:40-1:10  0:25-0:40  none
  -3   75/25  5:00   1:05-1:45  0:25-0:50  0:35-0:50  0:15-0:30  none
  -1   50/50  3:00   0:15-0:35  0:05-0:15  0:10-0:20  0:05-0:10  none
  -3.1 100/0  12:00  0:20-1:20  0:20-0:40  0:20-0:45  0:10-0:25  none
  -10  100/0  12:00  0:20-1:20  0:20-0:40  0:20-0:45  0:10-0:25  none
  -10  75/25  5:00   0:25-0:50  0:20-0:35  0:15-0:30  0:10-0:20  none
  -11  100/0  12:00  0:20-1:20  0:20-0:40  none       none       none
  -14  75/25  5:00   0:25-0:50  0:20-0:35  none       none       none
  -25  100/0  12:00  0:15-0:40  0:15-0:30  none       none       none
  -4   50/50  none   none       none       none       none       none
  -15  75/25  none   none       none       none       none       none
  -26  100/0  none   none       none       none       none       none
`;
const COLUMNS: readonly (readonly RampCondition[])[] = [
  ['frost'],
  ['freezing-fog'],
  ['very-light-snow', 'light-snow', 'moderate-snow'],
  ['freezing-drizzle'],
  ['light-freezing-rain'],
  ['rain-on-cold-soaked-wing'],
];
const cells = PRINTED.trim()
  .split('\n')
  .flatMap((line) => {
    const [temperature, mix, ...printed] = line.trim().split(/\s+/);
    return printed.flatMap((cell, column) =>
      COLUMNS[column]!.map((condition) => ({
        temperatureC: Number(temperature),
        mix: mix as Mix,
        condition,
        cell,
      })),
    );
  });

describe('the table of Type IV fluids of 2003-04 (Transport Canada, looked up)', () => {
  it.each(cells)(
    '$mix at $temperatureC °C in $condition: $cell',
    ({ temperatureC, mix, condition, cell }) => {
      const found = ask(temperatureC, [condition], mix);
      if (cell === 'none') return expect(found.kind).toBe('none');
      const [shortest = '', longest = shortest] = cell.split('-');
      expect(found).toEqual({
        kind: 'window',
        minimumMinutes: inMinutes(shortest),
        maximumMinutes: inMinutes(longest),
      });
    },
  );
});

/** Written out from the footnotes of the tables, with what this project adds: not read from the code. */
const UNTIMED: readonly RampCondition[] = [
  'heavy-snow',
  'snow-pellets',
  'ice-pellets',
  'hail',
  'freezing-rain',
  'blowing-snow',
  'rain-and-snow',
  'rain-near-freezing',
  'unknown-precipitation',
];

describe('there is no time', () => {
  it.each(UNTIMED)(
    'in %s, at any temperature and in any mix, though a table should give one',
    (condition) => {
      // Past the form's own check: a table that has minutes for it.
      const columns = [...table.columns];
      columns[2] = [...columns[2]!, condition];
      for (const temperatureC of [5, 0, -3, -10, -20])
        for (const mix of ['100/0', '75/25', '50/50'] as const) {
          const temperature = { warmestC: temperatureC, coldestC: temperatureC };
          const question = {
            temperature,
            conditions: [condition],
            mix,
            isSkinColder: false,
            onDay: IN_SEASON,
          };
          expect(holdoverOf({ ...table, columns }, question).kind).toBe('none');
        }
    },
  );

  it('in snow with freezing drizzle below the limit of the drizzle: the worse of both decides', () => {
    expect(ask(-11, ['light-snow', 'freezing-drizzle']).kind).toBe('none');
  });
});

describe('nobody knows', () => {
  it.each([
    ['what falls', { conditions: undefined }],
    ['the temperature', { temperature: undefined }],
    ['the skin is colder', { isSkinColder: true }],
    ['out of season', { onDay: '2004-07-01' }],
    ['not issued yet', { onDay: '2003-06-30' }],
  ] as const)('%s', (words, more) => {
    expect(ask(-2, ['light-snow'], '100/0', more)).toMatchObject({
      kind: 'unknown',
      why: expect.stringContaining(words),
    });
  });
});

it('the last day of the season counts', () => {
  expect(ask(-2, ['light-snow'], '100/0', { onDay: '2004-06-30' }).kind).toBe('window');
});

it('a report in whole degrees at the edge of a row takes the colder row', () => {
  const temperature = { warmestC: -2.5, coldestC: -3.5 };
  expect(ask(-3, ['light-snow'], '100/0', { temperature })).toEqual({
    kind: 'window',
    minimumMinutes: 20,
    maximumMinutes: 40,
  });
});

it('more that falls never lengthens the time, and colder air never does in one mix', () => {
  const condition = fc.constantFrom(...RAMP_CONDITIONS);
  const temperature = fc.double({ min: -30, max: 10, noNaN: true });
  const minutesOf = (found: ReturnType<typeof ask>) =>
    found.kind === 'window' ? [found.minimumMinutes, found.maximumMinutes] : [0, 0];
  const isNoLonger = (a: ReturnType<typeof ask>, b: ReturnType<typeof ask>) =>
    minutesOf(a).every((minutes, end) => minutes <= minutesOf(b)[end]!);
  fc.assert(
    fc.property(
      fc.array(condition, { minLength: 1, maxLength: 3 }),
      condition,
      temperature,
      (some, more, at) => {
        expect(isNoLonger(ask(at, [...some, more]), ask(at, some))).toBe(true);
      },
    ),
  );
  fc.assert(
    fc.property(
      condition,
      temperature,
      fc.double({ min: 0, max: 20, noNaN: true }),
      (falls, at, colderBy) => {
        expect(isNoLonger(ask(at - colderBy, [falls]), ask(at, [falls]))).toBe(true);
      },
    ),
  );
});

describe('a table is refused', () => {
  const broken = (change: (table: typeof text) => void) => {
    const made = structuredClone(text);
    change(made);
    return holdoverTableSchema
      .safeParse(made)
      .error?.issues.map(({ path, message }) => `${path.join('.')} ${message}`)
      .join('; ');
  };

  it.each<[string, (table: typeof text) => void, RegExp]>([
    ['whose longer time comes first', (one) => (one.rows[0].cells[1] = [135, 65]), /rows\.0\.cells\.1/],
    ['with more than two hours in snow', (one) => (one.rows[0].cells[2] = [35, 121]), /120 min/],
    [
      'with hours of frost in a column of snow too',
      (one) => (one.columns[0].covers = ['frost', 'snow-grains']),
      /120 min/,
    ],
    ['of another season than its dates', (one) => (one.season = '2004-2005'), /season/],
    ['without the name of its fluid', (one) => delete one.fluidName, /fluidName/],
    ['with more than four hours in fog', (one) => (one.rows[0].cells[1] = [35, 241]), /240 in freezing fog/],
    [
      'that gives a time in ice pellets',
      (one) => (one.columns[2].covers = ['ice-pellets']),
      /columns\.2\.covers/,
    ],
    ['with a condition in two columns', (one) => (one.columns[0].covers = ['freezing-fog']), /one column/],
    ['with a cell too few', (one) => one.rows[3].cells.pop(), /one cell a column/],
    ['whose rows are not in order', (one) => one.rows.reverse(), /colder than the one before/],
    ['that expires before it is issued', (one) => (one.expiresOn = '2003-06-30'), /expiresOn/],
    ['that is good for two winters', (one) => (one.expiresOn = '2004-08-10'), /expiresOn/],
    ['of a day that is not', (one) => (one.issuedOn = '2003-02-30'), /issuedOn/],
    ['of a season of two years', (one) => (one.season = '2003-2005'), /season/],
    ['with a time in words', (one) => (one.rows[0].cells[1] = ['1:05', '2:15']), /rows\.0\.cells\.1/],
    ['of a fluid that is none', (one) => (one.fluidType = 'V'), /fluidType/],
  ])('%s', (_, change, words) => {
    expect(broken(change)).toMatch(words);
  });
});
