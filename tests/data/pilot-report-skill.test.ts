/** Real pilots' reports of ice scored against the real ascents of their month: none is near enough, and that is what must be said. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { csvParse } from 'd3-dsv';
import { beforeAll, describe, expect, test } from 'vitest';
import { type PlacedObservation, scoreReport } from '../../worker/brief/score-report.ts';
import { skillRows } from '../../worker/brief/skill-answer.ts';
import { readBufr } from '../../worker/formats/bufr/read-bufr.ts';
import { readPilotReports } from '../../worker/formats/pilot-reports/read-pilot-reports.ts';
import { skillOf, volumeEfficiency } from '../../worker/science/skill.ts';
import {
  type PilotObservation,
  pilotObservation,
} from '../../worker/sources/report-facts/pilot-observation.ts';
import type { Score, ScoreTally } from '../../worker/sources/scores.ts';
import { fixesOf, NORTH_AMERICA } from '../formats/pilot-reports/navaids.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const directory = process.env.RIMEWAY_DATA_DIR;
if (directory === undefined) throw new Error('RIMEWAY_DATA_DIR: set it to the folder of real files');

const fixes = fixesOf(join(directory, 'places'));
const rows = csvParse(
  readFileSync(join(directory, 'reports/pirep/pireps-icing-200812.csv'), 'utf8'),
) as unknown as readonly { readonly valid_utc: string; readonly report: string }[];

const observations = rows.map(({ report, valid_utc: validUtc }): PilotObservation => {
  const referenceMs = Date.parse(validUtc);
  const [item] = [...readPilotReports(report, { referenceMs, fixes, area: NORTH_AMERICA })];
  if (item?.kind !== 'pilot-report') throw new Error(`no report: ${report}`);
  return pilotObservation(item, referenceMs);
});
const placed = observations.filter(
  (each): each is PlacedObservation => each.whyUnplaced === undefined && each.timeMs !== undefined,
);

/** Of each report that has a place, in their order. */
let scores: (readonly Score[])[];
beforeAll(async () => {
  const stores = createMemoryStores();
  const bytes = readFileSync(join(directory, 'soundings/bufr/temp-global-2008120812.bufr'));
  const ascents = [...readBufr(new Uint8Array(bytes))].flatMap((item) =>
    item.kind === 'ascent' ? [item.sounding] : [],
  );
  expect(ascents.length).toBeGreaterThan(100);
  await stores.soundings.put('demo', ascents, 0);
  scores = [];
  for (const each of placed) scores.push(await scoreReport(stores, each, ['demo']));
});

describe('the reports of December 2008', () => {
  test('are 27, of which 13 of ice and 9 of none can be scored, as read by eye', () => {
    const scorable = placed.filter(({ whyUnscored }) => whyUnscored === undefined);
    expect(observations).toHaveLength(27);
    expect(scorable.filter(({ said }) => said === 'ice')).toHaveLength(13);
    expect(scorable.filter(({ said }) => said === 'no-ice')).toHaveLength(9);
  });

  test('that cannot be scored say why, none is left out', () => {
    const whys = observations.flatMap(({ whyUnplaced, whyUnscored }) => whyUnplaced ?? whyUnscored ?? []);
    // CPR, whose leg from POY to beyond DDY is long, TUP, VIH, EMP and the one at FL340, in the order of the file.
    expect(whys).toEqual([
      'a leg of 124 NM is no place',
      expect.stringMatching(/^no place: fix: found TUP/),
      'its words on icing cannot be read',
      'it says nothing of icing',
      'above FL300',
    ]);
  });

  test('have five cloud tops: 8,000, 26,000, 15,500, 27,000 and 14,000 ft', () => {
    expect(observations.flatMap(({ topFt }) => topFt ?? [])).toEqual([8000, 26_000, 15_500, 27_000, 14_000]);
  });

  test('meet no ascent within reach: all are unknown, none a hit, a miss, a false alarm or a correct no', () => {
    const counts: Partial<Record<Score['outcome'], number>> = {};
    for (const { outcome } of scores.flat()) counts[outcome] = (counts[outcome] ?? 0) + 1;
    process.stdout.write(`pilot reports of 2008-12 against ascents: ${JSON.stringify(counts)}\n`);
    expect(counts).toEqual({ unknown: 22, unscored: 3 });
    expect(scores.flat().every(({ top, madeMs }) => top.kind === 'unknown' && madeMs === undefined)).toBe(
      true,
    );
  });

  test('so no share has any ground, and the answer says that they are too few', () => {
    const [row] = skillRows(scores.flat().map((score) => tallyOf(score)));
    expect(row).toMatchObject({
      ...{ podYes: null, podNo: null, trueSkill: null, rocArea: null, volumePct: null },
      caution: 'Too few to claim skill: 0 of ice and 0 of no ice, 50 of each are the least',
    });
  });
});

function tallyOf({ kind, name, leadBucket, outcome, probability, flaggedShare }: Score): ScoreTally {
  return {
    ...{ kind, name, leadBucket, outcome, count: 1 },
    probabilityPct: probability === undefined ? undefined : 100 * probability,
    ...{ flaggedSum: flaggedShare ?? 0, flaggedCount: Number(flaggedShare !== undefined) },
  };
}

describe('a forecast of ice always and everywhere, declared and no forecast at all', () => {
  const scorable = placed.filter(({ whyUnscored }) => whyUnscored === undefined);
  const always: Score[] = scorable.map(({ said }) => ({
    ...{ kind: 'brief', name: 'always ice', leadBucket: 0, madeMs: 0, station: '', probability: 1 },
    ...{ flaggedShare: 1, outcome: said === 'ice' ? 'hit' : 'false', top: { kind: 'unknown' } },
  }));

  test('finds all 13 of 13 reports of ice in 100 % of the volume, an efficiency of 1, and 0 of 9 nulls', () => {
    const [row] = skillRows(always.map((score) => tallyOf(score)));
    expect(row).toMatchObject({
      podYes: { value: 1, reports: 13 },
      podNo: { value: 0, reports: 9 },
      ...{ trueSkill: 0, rocArea: 0.5, volumePct: 100, volumeEfficiency: 1 },
      caution: 'Too few to claim skill: 13 of ice and 9 of no ice, 50 of each are the least',
    });
  });

  test('on the reports of ice alone has no share of nulls and no true skill: that a sample holds none is no skill', () => {
    const { iceFound, nullsFound, trueSkill } = skillOf({
      ...{ hits: 13, misses: 0, falseAlarms: 0, correctNulls: 0 },
    });
    expect([iceFound?.value, nullsFound, trueSkill]).toEqual([1, undefined, undefined]);
    expect(volumeEfficiency(iceFound?.value, 1)).toBe(1);
  });
});
