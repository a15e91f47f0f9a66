import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { AerodromeReport } from '../../../worker/formats/aerodrome-reports/report.ts';
import { mayBePrecipitation } from '../../../worker/formats/precipitation-words.ts';
import { assertClose } from '../../support/assert-close.ts';
import { metar, taf, textsOf } from './read-one.ts';
import {
  altimeter,
  remarks,
  seaLevelPressure,
  sky,
  temperatures,
  visibility,
  type Written,
  weather,
  wind,
} from './written-groups.ts';

/** The member at a path with dots. */
function memberOf(value: unknown, path: string): unknown {
  return path.split('.').reduce<unknown>((each, name) => (each as Record<string, unknown>)[name], value);
}

/** Compares every expected member; numbers that were converted within rounding. */
function assertWritten(report: unknown, written: Written): number {
  for (const [path, expected] of Object.entries(written.expected)) {
    const found = memberOf(report, path);
    if (typeof expected === 'number' && typeof found === 'number') {
      assertClose(found, expected, { rel: 1e-12, abs: 1e-12, why: `${path} of ${written.text}` });
    } else expect(found, `${path} of ${written.text}`).toEqual(expected);
  }
  return Object.keys(written.expected).length;
}

const unreadOf = (report: AerodromeReport) =>
  report.kind === 'taf'
    ? [...report.unread, ...report.changes.flatMap(({ unread }) => unread)]
    : [...report.unread, ...(report.remarks?.unread ?? [])];

/** Nothing falls from a clear sky: a forecast that says so has lost the word of a change. */
const canHold = (falls: Written, clouds: Written) =>
  !/^(?:SKC|CLR|CAVOK)$/.test(clouds.text) || !/DZ|RA|SN|SG|PL|GR|GS|UP/.test(falls.text);

const OPTIONS = { seed: 306, numRuns: 2000 };

describe('reports written from numbers come back as these numbers, with nothing left over', () => {
  test('METAR with its groups in any order', () => {
    let compared = 0;
    const groups = fc.tuple(wind, visibility, weather, sky, temperatures, altimeter);
    // The remarks come last; the extreme directions of the wind stand in the wind's own text.
    const property = fc.property(
      groups.chain((each) => fc.shuffledSubarray(each, { minLength: 1 })),
      fc.option(remarks, { nil: undefined }),
      (body, tail) => {
        const all = tail === undefined ? body : [...body, tail];
        const report = metar(`METAR KZZZ 151453Z ${all.map(({ text }) => text).join(' ')}=`);
        for (const each of all) compared += assertWritten(report, each);
        expect(unreadOf(report)).toEqual([]);
      },
    );
    fc.assert(property, OPTIONS);
    expect(compared).toBeGreaterThan(15_000);
  });

  test('sea level pressures, whose hundreds are not sent', () => {
    let compared = 0;
    const property = fc.property(seaLevelPressure, (written) => {
      const report = metar(`METAR KZZZ 151453Z ${written.text}=`);
      compared += assertWritten(report, written);
      expect(unreadOf(report)).toEqual([]);
    });
    fc.assert(property, OPTIONS);
    expect(compared).toBe(OPTIONS.numRuns);
  });

  test('TAF with change groups', () => {
    let compared = 0;
    const part = fc.record({
      groups: fc
        .tuple(wind, visibility, weather, sky)
        .filter(([, , falls, clouds]) => canHold(falls, clouds)),
      change: fc.constantFrom('BECMG', 'TEMPO', 'FM', 'PROB30', 'PROB40 TEMPO'),
      fromHour: fc.integer({ min: 13, max: 22 }),
      hours: fc.integer({ min: 1, max: 8 }),
    });
    const property = fc.property(fc.array(part, { minLength: 1, maxLength: 5 }), (parts) => {
      const textOf = ({ groups }: (typeof parts)[number]) => groups.map(({ text }) => text).join(' ');
      const at = (hour: number) => `${15 + Math.floor(hour / 24)}${String(hour % 24).padStart(2, '0')}`;
      const changes = parts.slice(1).map((each) => {
        const period = `${at(each.fromHour)}/${at(each.fromHour + each.hours)}`;
        const head = each.change === 'FM' ? `FM${at(each.fromHour)}00` : `${each.change} ${period}`;
        return `${head} ${textOf(each)}`;
      });
      const report = taf(`TAF KZZZ 151130Z 1512/1618 ${[textOf(parts[0]!), ...changes].join(' ')}=`);
      expect(report.changes).toHaveLength(parts.length - 1);
      parts.forEach((each, index) => {
        const read = index === 0 ? report.base : report.changes[index - 1]!;
        for (const written of each.groups) compared += assertWritten(read, written);
        if (index === 0) return;
        const change = report.changes[index - 1]!;
        expect(change.fromMs).toBe(Date.UTC(2026, 0, 15, each.fromHour));
        if (each.change !== 'FM')
          expect(change.untilMs).toBe(Date.UTC(2026, 0, 15, each.fromHour + each.hours));
      });
      expect(unreadOf(report)).toEqual([]);
    });
    fc.assert(property, { ...OPTIONS, numRuns: 500 });
    expect(compared).toBeGreaterThan(10_000);
  });
});

describe('what is added to a report stays in it', () => {
  test('a group of no code, at any place, is unread and changes nothing else', () => {
    const groups = ['02012KT', '3SM', '-FZDZ', 'OVC008', 'M02/M03', 'A2990', 'RMK', 'AO2', 'T10221028'];
    const plain = metar(`METAR KZZZ 151453Z ${groups.join(' ')}=`);
    const junk = fc.stringMatching(/^[A-Z]{1,3}#[0-9A-Z/]{0,6}$/).filter((each) => !mayBePrecipitation(each));
    const property = fc.property(junk, fc.nat(groups.length), (group, at) => {
      const text = [...groups.slice(0, at), group, ...groups.slice(at)].join(' ');
      const read = metar(`METAR KZZZ 151453Z ${text}=`);
      expect([...textsOf(read.unread), ...read.remarks!.unread]).toEqual([group]);
      expect({ ...read, text: '', unread: [], remarks: { ...read.remarks, unread: [] } }).toEqual({
        ...plain,
        text: '',
      });
    });
    fc.assert(property, { seed: 306, numRuns: 1000 });
  });
});
