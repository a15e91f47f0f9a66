/** Pilots' notes on the page: in words, in the cross-section and in the plan, and never in the way of what warns. */
import { describe, expect, it } from 'vitest';
import type { Brief } from '../../web/src/contract.ts';
import { hazardsAt, hazardsOf } from '../../web/src/hazards.ts';
import { offWords } from '../../web/src/off-words.ts';
import { apart, markBox, marksOf, noteLabel } from '../../web/src/pilot-notes/note-places.ts';
import { noteAge, type PilotNote, saidWords } from '../../web/src/pilot-notes/note-words.ts';
import { noteMarks, reportMarks } from '../../web/src/plan/report-marks.ts';
import { boxAround, type LabelBox } from '../../web/src/section/label-places.ts';
import { makeSheet } from '../../web/src/section/scales.ts';

const NOW_MS = Date.parse('2026-01-14T12:25:00Z');
const note = (change: Partial<PilotNote['properties']> = {}, coordinates: number[] | null = [-72, 44.7]) =>
  ({
    type: 'Feature',
    id: 'note-1',
    geometry: coordinates && { type: 'Point', coordinates },
    properties: {
      kind: 'pilot-note',
      reportKind: 'pirep',
      noIce: true,
      clouds: [],
      temperatureC: null,
      sentence: 'Pilot report at 11:50 UTC: no ice met 8,000 ft',
      issuedUtc: '2026-01-14T11:50:00Z',
      fromRouteNm: 12.2,
      fromNm: 50,
      toNm: 50,
      lowerFt: 8000,
      upperFt: 8000,
      ...change,
    },
  }) as PilotNote;
const layer = (baseFt: number | null, topFt: number | null) => {
  const at = (feet: number | null) => (feet === null ? null : { lowerFt: feet, upperFt: feet });
  return { base: at(baseFt), top: at(topFt) };
};

const SHEET_OF = {
  widthPx: 800,
  rowPx: 24,
  range: { lowestFt: 0, highestFt: 12000, stepFt: 1000 },
  lengthNm: 100,
  margins: { left: 60, right: 40, top: 40, bottom: 46 },
};
const sheet = makeSheet(SHEET_OF);
const marksFor = (one: PilotNote) => marksOf(one, sheet, NOW_MS);
const isOver = (a: LabelBox, b: LabelBox) =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

describe('in words', () => {
  it.each<[Partial<PilotNote['properties']>, string]>([
    [{}, 'no ice met, 8,000 ft'],
    [{ temperatureC: -8, lowerFt: 6000 }, 'no ice met, −8 °C, 6,000–8,000 ft'],
    [{ lowerFt: null, upperFt: 6000 }, 'no ice met, below 6,000 ft'],
    [{ upperFt: null }, 'no ice met, above 8,000 ft'],
    [{ lowerFt: null, upperFt: null }, 'no ice met'],
    [{ noIce: false, temperatureC: -8 }, '−8 °C, 8,000 ft'],
    [
      { noIce: false, clouds: [layer(10000, null), layer(3000, 6000)] },
      'bases 10,000 ft, tops 6,000 ft, bases 3,000 ft',
    ],
  ])('%j says "%s"', (change, words) => {
    expect(saidWords(note(change).properties)).toBe(words);
  });

  it.each([
    ['2026-01-14T11:50:00Z', '35 min'],
    ['2026-01-14T12:25:10Z', 'just now'],
    ['2026-01-14T12:30:00Z', '5 min ahead'],
  ])('of %s is %s old at 12:25', (issuedUtc, words) => {
    expect(noteAge(issuedUtc, NOW_MS)).toBe(words);
  });

  it.each([
    [null, ''],
    [0.4, 'on the route'],
    [12.2, '12 NM off'],
  ])('%j NM from the route is "%s"', (fromRouteNm, words) => {
    expect(offWords(fromRouteNm)).toBe(words);
  });
});

describe('in the cross-section', () => {
  it('stands at its place and height, with age and distance', () => {
    const [mark, ...others] = marksFor(note());
    expect(others).toEqual([]);
    expect(mark).toMatchObject({
      kind: 'note',
      words: ['no ice reported, 35 min, 12 NM off', 'no ice reported, 35 min'],
    });
    expect(sheet.nmAt(mark!.x)).toBeCloseTo(50, 6);
    expect(sheet.ftAt(mark!.y)).toBeCloseTo(8000, 6);
  });

  it('has a tick at each top and base, and no circle where no level was told', () => {
    const marks = marksFor(note({ noIce: false, clouds: [layer(4000, 9500)] }));
    expect(marks.map(({ kind, words }) => `${kind}: ${words[1]}`)).toEqual([
      'tops: tops 9,500 reported, 35 min',
      'bases: bases 4,000 reported, 35 min',
    ]);
  });

  it('of heights on one side stands at the edge that was told and says the side', () => {
    const [mark] = marksFor(note({ lowerFt: null, upperFt: 6000 }));
    expect(sheet.ftAt(mark!.y)).toBeCloseTo(6000, 6);
    expect(mark!.words[1]).toBe('no ice reported below, 35 min');
  });

  it.each<[string, PilotNote]>([
    ['without a place', note({ fromRouteNm: null }, null)],
    ['without a height', note({ lowerFt: null, upperFt: null })],
    ['of a height above the drawing', note({ lowerFt: 30000, upperFt: 30000 })],
  ])('one %s is in the list alone', (_, one) => {
    expect(marksFor(one)).toEqual([]);
  });

  it('is never called clear or safe', () => {
    const marks = marksFor(note({ temperatureC: -8, clouds: [layer(4000, 9500)] }));
    for (const { words } of marks) expect(words.join()).not.toMatch(/clear|safe|free/i);
  });

  it('covers no word and no other mark, and leaves out what finds no room', () => {
    const label = boxAround({ words: 'ice', x: sheet.x(50), y: sheet.y(8000) });
    const many = Array.from({ length: 30 }, () => marksFor(note())[0]!);
    const placed = apart(many, [label], sheet);
    expect(placed.length).toBeGreaterThan(0);
    expect(placed.length).toBeLessThan(30);
    const boxes = placed.map(markBox);
    for (const [at, box] of boxes.entries())
      for (const other of [label, ...boxes.slice(at + 1)]) expect(isOver(box, other)).toBe(false);
  });

  it('stays inside the drawing at both ends of the leg', () => {
    for (const nm of [0, 100]) {
      const marks = apart(marksFor(note({ fromNm: nm, toNm: nm, clouds: [layer(4000, null)] })), [], sheet);
      expect(marks).toHaveLength(2);
      for (const mark of marks) {
        expect(markBox(mark).left).toBeGreaterThanOrEqual(sheet.plot.left);
        expect(markBox(mark).right).toBeLessThanOrEqual(sheet.plot.right);
        // Half a tick, and no further from its place.
        expect(Math.abs(mark.x - sheet.x(nm))).toBeLessThanOrEqual(14);
      }
    }
  });

  it('says less where less has room, never without its age, and nothing where nothing has', () => {
    const mark = marksFor(note())[0]!;
    const narrow = (leftPx: number) => makeSheet({ ...SHEET_OF, widthPx: leftPx });
    const wide = noteLabel(mark, [markBox(mark)], sheet);
    expect(wide?.words).toBe('no ice reported, 35 min, 12 NM off');
    const small = narrow(290);
    const there = marksOf(note(), small, NOW_MS)[0]!;
    expect(noteLabel(there, [markBox(there)], small)?.words).toBe('no ice reported, 35 min');
    const least = narrow(180);
    expect(noteLabel(marksOf(note(), least, NOW_MS)[0]!, [], least)).toBeUndefined();
  });
});

describe('in the plan and beside hazards', () => {
  const briefOf = (...features: object[]) => ({ features }) as unknown as Brief;
  const report = {
    id: 'ice',
    geometry: { type: 'Point', coordinates: [-72, 44.7] },
    properties: {
      kind: 'report',
      severity: 'severe',
      reportKind: 'pirep',
      issuedUtc: '2026-01-14T11:00:00Z',
    },
  };

  it('marks a place once, and none where a report of ice is marked', () => {
    const there = { ...note({}, [-71, 44]), id: 'note-2' };
    const brief = briefOf(note(), there, { ...there, id: 'note-3' }, note({}, null), report);
    expect(noteMarks(brief, reportMarks(brief))).toEqual([{ id: 'note-2', lonDeg: -71, latDeg: 44 }]);
  });

  it('is no hazard, at its own place neither', () => {
    const brief = briefOf(note());
    expect(hazardsOf(brief)).toEqual([]);
    expect(hazardsAt(brief, 50, 8000)).toEqual([]);
    expect(reportMarks(brief)).toEqual([]);
  });
});
