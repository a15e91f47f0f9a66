import { type IMetar, type Phenomenon, parseMetar } from 'metar-taf-parser';
import { describe, expect, test } from 'vitest';
import type { MetarReport } from '../../worker/formats/aerodrome-reports/report.ts';
import { assertClose } from '../support/assert-close.ts';
import { CONTEXT, readCollective, say } from './metar-collective.ts';

const { reports, unique } = readCollective();

describe('values, against a second reading by patterns of its own', () => {
  /** The observation without trends and remarks. */
  const bodyOf = (text: string) =>
    text.split(/ (?:RMK\S*|TEMPO|BECMG|NOSIG|INTER|FM\d{4}|PROB\d\d)(?= |$)/)[0]!;
  const number = (text: string | undefined) =>
    text === undefined || text === '' ? null : Number(text.replace('M', '-'));

  function compare(
    name: string,
    expected: (text: string) => number | null,
    found: (report: MetarReport) => number | null,
  ) {
    let numbers = 0;
    let nulls = 0;
    for (const report of reports) {
      const value = expected(report.text);
      if (value === null) {
        expect(found(report), report.text).toBeNull();
        nulls += 1;
        continue;
      }
      assertClose(found(report) ?? Number.NaN, value, { abs: 1e-9, why: `${name} of ${report.text}` });
      numbers += 1;
    }
    say(`${name}: ${numbers} numbers and ${nulls} gaps agree`);
    return numbers;
  }

  const PAIR = / (M?\d\d)\/(M?\d\d)?(?:\/\/|XX)?(?= |$)/;

  test('temperature and dew point', () => {
    const temperatures = compare(
      'temperature',
      (text) => number(PAIR.exec(bodyOf(text))?.[1]),
      (report) => report.temperatureC,
    );
    const dewPoints = compare(
      'dew point',
      (text) => number(PAIR.exec(bodyOf(text))?.[2]),
      (report) => report.dewPointC,
    );
    expect([temperatures, dewPoints]).toEqual([17_653, 17_525]);
  });

  test('wind', () => {
    const WIND = / (VRB|\d{3}|\/\/\/)(\d\d\d?)(?:G(\d\d\d?))?(KT|MPS)(?= |$|\d{4} )/;
    const factor = (unit: string) => (unit === 'MPS' ? 3600 / 1852 : 1);
    const speed = (index: 2 | 3) => (text: string) => {
      const match = WIND.exec(bodyOf(text));
      return match?.[index] === undefined ? null : Number(match[index]) * factor(match[4]!);
    };
    const speeds = compare('wind speed', speed(2), ({ wind }) => wind?.speedKt ?? null);
    const gusts = compare('gust', speed(3), ({ wind }) => wind?.gustKt ?? null);
    const directions = compare(
      'wind direction',
      (text) => {
        const figures = WIND.exec(bodyOf(text))?.[1];
        return figures === undefined || /\D/.test(figures) ? null : Number(figures);
      },
      ({ wind }) => wind?.directionDeg ?? null,
    );
    expect([speeds, gusts, directions]).toEqual([17_601, 2220, 16_981]);
  });

  test('altimeter setting', () => {
    const hPa = compare(
      'altimeter, hPa',
      (text) => number(/ Q(\d{4})(?= |$)/.exec(bodyOf(text))?.[1]),
      (report) => (/ Q\d{4}/.test(bodyOf(report.text)) ? report.altimeterHPa : null),
    );
    const inHg = compare(
      'altimeter, inHg',
      (text) => {
        const figures = / A(\d{4})(?= |$)/.exec(text.split(' RMK')[0]!)?.[1];
        return figures === undefined ? null : Number(figures) / 100;
      },
      (report) => report.altimeterInHg,
    );
    expect([hPa, inHg]).toEqual([5869, 11_414]);
  });

  test('tenths of the remarks', () => {
    const TENTHS = / T([01])(\d{3})(?:([01])(\d{3}))?(?= |$)/;
    const value = (sign: 1 | 3) => (text: string) => {
      const match = TENTHS.exec(/ RMK.*/.exec(text)?.[0] ?? '');
      const figures = match?.[sign + 1];
      return figures === undefined ? null : ((match![sign] === '1' ? -1 : 1) * Number(figures)) / 10;
    };
    const temperatures = compare('T group', value(1), ({ remarks }) => remarks?.temperatureC ?? null);
    compare('T group, dew point', value(3), ({ remarks }) => remarks?.dewPointC ?? null);
    expect(temperatures).toBe(7062);
    // Half up, as FMH-1 rounds: 2.5 is 3, -2.5 is -2.
    const apart = reports.filter(({ temperatureC, remarks }) => {
      const tenths = remarks?.temperatureC ?? null;
      return tenths !== null && temperatureC !== null && Math.abs(tenths - temperatureC) > 0.5 + 1e-9;
    });
    say(`reports whose tenths do not round to their whole degrees: ${apart.length}`);
    // Four automatic stations whose two thermometers differ by up to 1.3 degrees: both values are kept.
    expect([...new Set(apart.map(({ station }) => station))].sort()).toEqual([
      'KBYY',
      'KC62',
      'KJSO',
      'KPSN',
    ]);
    expect(apart).toHaveLength(20);
  });

  test('times lie within half a day of the bulletins, but for two stations that give another', () => {
    const far = reports.filter(({ timeMs }) => Math.abs(timeMs - CONTEXT.nearMs) > 12 * 3_600_000);
    expect(far.map(({ text }) => text)).toEqual([
      'CWND 061226Z M01/M02 RMK T10111015',
      'METAR UTSA 080030Z 26006KT 4600 -RA BR OVC003 01/00 Q1016 R25/2///63 NOSIG RMK BASE300',
    ]);
  });
});

/**
 * metar-taf-parser on npm, written by others from the same manuals. Where the two differ it is at fault, and each kind of
 * difference is named here with the reports that may show it: DEVELOPERS.md has the list.
 */
describe('values, against the npm parser', () => {
  const KT_PER_UNIT: Readonly<Record<string, number>> = { KT: 1, MPS: 3600 / 1852, 'KM/H': 1 / 1.852 };
  const FROM_TREND = / FM\d{4} /;

  const kinds: readonly {
    readonly name: string;
    readonly ours: (report: MetarReport) => number | string | null | undefined;
    readonly theirs: (report: IMetar) => number | string | null | undefined;
    /** Reports that the other cannot read rightly. */
    readonly except: RegExp;
  }[] = [
    {
      name: 'temperature',
      ours: ({ temperatureC }) => temperatureC,
      theirs: ({ temperature }) => temperature,
      // A dew point that is missing loses it the temperature.
      except: / M?\d\d\/(?:\/\/|XX)?(?: |$)/,
    },
    {
      name: 'dew point',
      ours: ({ dewPointC }) => dewPointC,
      theirs: ({ dewPoint }) => dewPoint,
      except: /^$/,
    },
    {
      name: 'wind speed',
      ours: ({ wind }) => wind?.speedKt,
      theirs: ({ wind }) => wind && wind.speed * KT_PER_UNIT[wind.unit]!,
      // It takes the wind of a part that begins later for the observed one, and a wind without its unit for knots.
      except: new RegExp(`${FROM_TREND.source}|\\d{5}KI|\\///\\d\\dKT`),
    },
    {
      name: 'gust',
      ours: ({ wind }) => wind?.gustKt,
      theirs: ({ wind }) => wind?.gust && wind.gust * KT_PER_UNIT[wind.unit]!,
      except: FROM_TREND,
    },
    {
      name: 'altimeter setting',
      ours: ({ altimeterHPa, altimeterInHg }) => altimeterInHg ?? altimeterHPa,
      theirs: ({ altimeter }) => altimeter?.value,
      // Of a Q and an A group it keeps the last.
      except: / Q\d{4} A\d{4}| A\d{4} Q\d{4}/,
    },
    {
      name: 'present weather',
      ours: ({ weather }) =>
        weather
          .map(({ intensity, isInVicinity, descriptors, phenomena }) =>
            [
              isInVicinity ? 'VC' : { light: '-', heavy: '+', moderate: '' }[intensity],
              ...descriptors,
              ...phenomena,
            ].join(''),
          )
          .join(' '),
      theirs: ({ weatherConditions }) =>
        weatherConditions
          .map(({ intensity, descriptive, phenomenons }) =>
            [intensity ?? '', descriptive ?? '', ...(phenomenons as Phenomenon[])].join(''),
          )
          .join(' '),
      // Groups joined to the visibility, and the weather of a later part.
      except: new RegExp(`${FROM_TREND.source}| \\d{4}(?:BR|RA) |KT\\d{4} |-VCTSSN`),
    },
    {
      name: 'cloud layers with their heights',
      ours: ({ sky }) =>
        (sky?.layers ?? [])
          .filter(({ amount, baseAglFt }) => amount !== null && baseAglFt !== null)
          .map(({ amount, baseAglFt }) => `${amount}${baseAglFt}`)
          .join(' '),
      theirs: ({ clouds }) =>
        clouds
          .filter(({ height }) => height !== undefined)
          .map(({ quantity, height }) => `${quantity}${height}`)
          .join(' '),
      // A height of 000 is none to it; joined layers and those of a later part.
      except: new RegExp(`${FROM_TREND.source}|(?:FEW|SCT|BKN|OVC)000|\\d{3}(?:CB)?(?:FEW|BKN)\\d{3}`),
    },
  ];

  test.each(kinds)('$name', ({ name, ours, theirs, except }) => {
    let agree = 0;
    let gaps = 0;
    let excepted = 0;
    for (const report of unique) {
      if (report.isNil) continue;
      const other = parsed(report.text);
      if (other === undefined || except.test(report.text)) {
        excepted += 1;
        continue;
      }
      const found = ours(report) ?? null;
      const expected = theirs(other) ?? null;
      if (expected === null || expected === '') {
        expect(found === '' ? null : found, report.text).toBeNull();
        gaps += 1;
        continue;
      }
      if (typeof expected === 'number') {
        assertClose(Number(found ?? Number.NaN), expected, { abs: 1e-9, why: `${name} of ${report.text}` });
      } else expect(found, report.text).toBe(expected);
      agree += 1;
    }
    say(`${name}: ${agree} agree with the npm parser, ${gaps} gaps, ${excepted} excepted`);
    expect(agree).toBeGreaterThan(1000);
    expect(excepted).toBeLessThan(150);
  });

  const cache = new Map<string, IMetar | undefined>();

  function parsed(text: string): IMetar | undefined {
    if (!cache.has(text)) cache.set(text, tryParse(text));
    return cache.get(text);
  }

  /** It throws on a visibility that is given for one direction alone. */
  function tryParse(text: string): IMetar | undefined {
    try {
      return parseMetar(text);
    } catch {
      expect(text).toMatch(/ \d{4}[NSEW]{1,2} /);
      return undefined;
    }
  }
});
