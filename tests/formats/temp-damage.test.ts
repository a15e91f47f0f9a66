import { describe, expect, test } from 'vitest';
import { type InspectedLevel, inspectSounding } from '../../worker/formats/inspect-sounding.ts';
import type { SoundingFile } from '../../worker/formats/sounding.ts';
import { readTemp } from '../../worker/formats/temp/read-temp.ts';
import { only, row, rows } from '../support/sounding-levels.ts';
import { SAMPLE, SAMPLE_PLACE } from '../support/sounding-sample.ts';
import { checkSanity } from '../support/sounding-sanity.ts';
import { writeTemp } from '../support/sounding-writer.ts';
import { damaged, seededRandom } from '../support/text-damage.ts';

const TEXT = writeTemp(SAMPLE, { tropopauseHPa: 262, maximumWindHPa: 300 });
const GROUPS = TEXT.replaceAll('=', ' =').split(/\s+/).filter(Boolean);
const read = (text: string): SoundingFile =>
  readTemp(text, {
    nearMs: Date.UTC(2026, 0, 16),
    stations: (number) => (number === '00901' ? SAMPLE_PLACE : undefined),
  });

const TRUTH = new Map(
  inspectSounding(only(read(TEXT))).levels.map((level): [number, InspectedLevel] => [
    level.pressureHPa,
    level,
  ]),
);

interface Outcome {
  /** Values that the clean text does not have at that level. */
  readonly wrong: string[];
  /** Values of the clean text that are missing. */
  readonly lostCount: number;
  readonly rejectedCount: number;
  /** Levels up to 300 hPa that lost their air, where a straight line runs between the levels around all the same. */
  readonly bridged: string[];
}

const hasValue = (level: InspectedLevel) =>
  Object.entries(level).some(([name, value]) => name !== 'pressureHPa' && value !== null);
const hasAir = (level: InspectedLevel) => level.temperatureC !== null && level.dewPointC !== null;

/** Significant levels alone: they give the standard ones by the code's own rule. Without part B see sounding-profile.ts. */
function bridgedLevels(levels: readonly InspectedLevel[]): string[] {
  const isSignificant = ({ pressureHPa }: InspectedLevel) =>
    pressureHPa >= 300 && !STANDARD_HPA.has(pressureHPa) && pressureHPa !== 987;
  if (!levels.some((level) => hasAir(level) && isSignificant(level))) return [];
  const lost = [...TRUTH.values()].filter(
    (truth) =>
      hasAir(truth) &&
      isSignificant(truth) &&
      !levels.some((level) => level.pressureHPa === truth.pressureHPa && hasAir(level)),
  );
  return lost
    .filter(({ pressureHPa }) => {
      const below = levels.findLastIndex((level) => hasAir(level) && level.pressureHPa > pressureHPa);
      const above = levels.findIndex((level) => hasAir(level) && level.pressureHPa < pressureHPa);
      if (below < 0 || above < 0) return false;
      return !levels
        .slice(below + 1, above)
        .some((level) => level.temperatureC === null && !isWindAlone(level));
    })
    .map(({ pressureHPa }) => `${pressureHPa} hPa`);
}

/** A level that was never meant to have air: see the physics' rule of lost values. */
const isWindAlone = (level: InspectedLevel) =>
  level.windSpeedKt !== null && level.heightM === null && !STANDARD_HPA.has(level.pressureHPa);
const STANDARD_HPA = new Set([1000, 925, 850, 700, 500, 400, 300]);

function outcome(groups: readonly string[]): Outcome {
  const file = read(groups.join(' '));
  const wrong: string[] = [];
  const kept = new Set<string>();
  for (const sounding of file.soundings) {
    for (const level of inspectSounding(sounding).levels.filter(hasValue)) {
      const truth = TRUTH.get(level.pressureHPa);
      for (const [name, value] of Object.entries(level)) {
        const expected: unknown = truth?.[name as keyof InspectedLevel];
        if (value === null) continue;
        if (value === expected) kept.add(`${level.pressureHPa} ${name}`);
        else wrong.push(`${level.pressureHPa} hPa ${name}: ${value}`);
      }
    }
  }
  const known = [...TRUTH.values()].flatMap((level) =>
    Object.entries(level)
      .filter(([, value]) => value !== null)
      .map(([name]) => `${level.pressureHPa} ${name}`),
  );
  const rejectedCount =
    file.rejected.length + file.soundings.reduce((sum, { rejected }) => sum + rejected.length, 0);
  return {
    wrong,
    lostCount: known.filter((name) => !kept.has(name)).length,
    rejectedCount,
    bridged: file.soundings.flatMap((sounding) => bridgedLevels(inspectSounding(sounding).levels)),
  };
}

/** All outcomes that a change of one group can have, with the group it was made at. */
function outcomesOf(change: (groups: string[], index: number) => void): (Outcome & { group: string })[] {
  return GROUPS.map((group, index) => {
    const groups = [...GROUPS];
    change(groups, index);
    return { ...outcome(groups), group: `${index} ${group}` };
  });
}

const isSilent = ({ lostCount, rejectedCount }: Outcome) => lostCount > 0 && rejectedCount === 0;

describe('readTemp on one damaged group', () => {
  test('the clean text loses nothing', () => {
    expect(outcome(GROUPS)).toEqual({ wrong: [], lostCount: 0, rejectedCount: 0, bridged: [] });
    expect(TRUTH.size).toBe(SAMPLE.levels.length);
  });

  test('a lost group moves no value to another level, is never silent, and draws no line over a lost level', () => {
    const outcomes = outcomesOf((groups, index) => groups.splice(index, 1));
    expect(outcomes.filter(({ wrong, bridged }) => wrong.length + bridged.length > 0)).toEqual([]);
    // Id 1 means winds to 150 or to 100 hPa: without its wind the 100 hPa level is whole, and nobody can tell.
    expect(outcomes.filter(isSilent).map(({ group }) => group)).toEqual(['38 27052']);
    expect(outcomes.filter(({ lostCount }) => lostCount > 0).length).toBeGreaterThan(60);
  });

  test('a doubled group moves no value to another level, is never silent, and draws no line over a lost level', () => {
    const outcomes = outcomesOf((groups, index) => groups.splice(index, 0, groups[index]!));
    expect(outcomes.filter(({ wrong, bridged }) => wrong.length + bridged.length > 0)).toEqual([]);
    expect(outcomes.filter(isSilent)).toEqual([]);
  });

  test.each([0, 1, 2, 3, 4])(
    'a letter in place %i costs no more than its own level, over which no line is drawn',
    (place) => {
      const outcomes = outcomesOf((groups, index) => {
        const group = groups[index]!;
        if (/^[\d/]{5}$/.test(group)) groups[index] = `${group.slice(0, place)}X${group.slice(place + 1)}`;
      });
      expect(outcomes.filter(({ wrong, bridged }) => wrong.length + bridged.length > 0)).toEqual([]);
      expect(outcomes.filter(isSilent)).toEqual([]);
      const isHeader = ({ group }: { group: string }) => /6512|00901|21212/.test(group);
      const body = outcomes.filter((one) => !isHeader(one));
      // A level has a pressure, a height, a temperature, a dew point and a wind of two numbers.
      expect(body.filter(({ lostCount }) => lostCount > 6)).toEqual([]);
      expect(body.length).toBeGreaterThan(90);
    },
  );

  test('levels around a garbled indicator are read and the group is told with its line', () => {
    const sounding = only(read(TEXT.replace('85398', '8X398')));
    expect(rows(sounding).map(([hPa]) => hPa)).not.toContain(850);
    expect(row(sounding, 925)).toEqual([925, 722, -4.9, -5.4, 80, 19]);
    expect(row(sounding, 700)[1]).toBe(2942);
    expect(sounding.rejected).toEqual([
      { line: 2, reason: 'groups: found "8X398 01230 15030", expected level 850 hPa' },
    ]);
  });

  test.each([
    ['85398 01230', '85398 012X0', 'group: found "012X0", expected temperature at 850 hPa, TTTDD'],
    ['85398 01230', '85398 01252', 'group: found "01252", expected temperature at 850 hPa, TTTDD'],
    ['01230 15030', '01230 1503', 'group: found "1503", expected wind at 850 hPa, dddff'],
    ['01230 15030', '01230 37030', 'group: found "37030", expected wind at 850 hPa, dddff'],
    ['01230 15030', '01230 15330', 'group: found "15330", expected wind at 850 hPa, at most 150 m/s'],
    ['85398 01230', '85398 70030', 'temperature: found 70 degC, expected -100 to 60 degC'],
    ['85398 01230', '85/98 01230', 'group: found "85/98", expected a height at 850 hPa, PPhhh'],
    ['99987', '999/7', 'group: found "999/7", expected a surface pressure 99PPP'],
    ['88262', '88062', 'group: found "88062", expected a pressure of 100 to 998 hPa'],
    [
      '88262 56964 26632',
      '88262 26632',
      'group: found "88262 26632", expected tropopause 88PPP TTTDD dddff or wind 77PPP dddff',
    ],
  ])('%s sent as %s is told', (right, wrong, reason) => {
    const [told] = only(read(GROUPS.join(' ').replace(right, wrong))).rejected;
    expect(told?.reason).toBe(reason);
  });
});

describe('readTemp on any text', () => {
  test('4000 damaged bulletins throw nothing and give nothing absurd', () => {
    const random = seededRandom(20_260_115);
    let levels = 0;
    for (let run = 0; run < 4000; run += 1) {
      const text = damaged(TEXT, random);
      levels += checkSanity(read(text), text);
    }
    // Most damage leaves most levels.
    expect(levels).toBeGreaterThan(4000 * 10);
  });

  test.each([
    ['one unbroken line of figures', '99887766'.repeat(60_000)],
    ['part names alone', 'TTAA TTBB '.repeat(50_000)],
    ['a part of figures without order', `TTAA 65121 00901 ${'88210 50184 '.repeat(50_000)}`],
    ['a part of unreadable groups', `TTBB 6512/ 00901 ${'11X00 '.repeat(80_000)}`],
    ['a station sent again and again', `${TEXT}\n`.repeat(800)],
    ['equals signs', '='.repeat(500_000)],
  ])('half a megabyte of %s is read in a few seconds', (_name, text) => {
    const start = performance.now();
    checkSanity(read(text), text);
    expect(performance.now() - start).toBeLessThan(10_000);
  });
});
