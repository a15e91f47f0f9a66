/** What a pilot's report can be compared with, read by eye from invented texts. */
import { describe, expect, it } from 'vitest';
import { readPilotReports } from '../../../worker/formats/pilot-reports/read-pilot-reports.ts';
import {
  type PilotObservation,
  pilotObservation,
} from '../../../worker/sources/report-facts/pilot-observation.ts';
import { INVENTED_PLACES, NOW_MS } from '../../support/invented-reports.ts';

function observed(text: string, receivedMs = NOW_MS): PilotObservation {
  const fixes = (ident: string) => INVENTED_PLACES.filter((place) => place.ident === ident);
  const [item] = [...readPilotReports(text, { referenceMs: NOW_MS, fixes })];
  if (item?.kind !== 'pilot-report') throw new Error(`no report: ${text}`);
  return pilotObservation(item, receivedMs);
}

const said = ({ said: words, band, whyUnscored }: PilotObservation) => ({ words, band, whyUnscored });

describe('where and when', () => {
  it('are those of the report', () => {
    const { timeMs, points, placeWords, whyUnplaced } = observed(
      'AAAA UA /OV AAAA/TM 1130/FL080/TP ZZZZ/IC LGT RIME',
    );
    expect(timeMs).toBe(Date.UTC(2026, 0, 14, 11, 30));
    expect(points).toEqual([{ latDeg: 44.5, lonDeg: -73 }]);
    expect([placeWords, whyUnplaced]).toEqual(['AAAA', undefined]);
  });

  it('of a leg are its ends, up to 100 NM in all: 86 NM are a place, 171 are none (4 x 60 x cos 44.5)', () => {
    const leg = observed('AAAA UA /OV AAAA-BBBB/TM 1130/FL080/TP ZZZZ/IC LGT RIME');
    expect(leg.points.map(({ lonDeg }) => lonDeg)).toEqual([-73, -71]);
    expect([leg.placeWords, leg.whyUnplaced]).toEqual(['AAAA-BBBB', undefined]);
    const far = observed('AAAA UA /OV 4430N07300W-4430N06900W/TM 1130/FL080/TP ZZZZ/IC LGT RIME');
    expect(far.whyUnplaced).toBe('a leg of 171 NM is no place');
    // There and back: each leg may be, both together not.
    const chain = observed('AAAA UA /OV AAAA-BBBB-AAAA/TM 1130/FL080/TP ZZZZ/IC LGT RIME');
    expect(chain.whyUnplaced).toBe('a chain of 2 legs of 171 NM is no place');
  });

  it.each([
    ['no time', 'AAAA UA /OV AAAA/FL080/TP ZZZZ/IC LGT RIME', 'no time that can be read'],
    [
      'no place',
      'AAAA UA /TM 1130/FL080/TP ZZZZ/IC LGT RIME',
      'no place: location: found none, expected /OV',
    ],
    ['a place nobody knows', 'AAAA UA /OV QQQ/TM 1130/FL080/TP ZZZZ/IC LGT RIME', 'no place: fix: found QQQ'],
  ])('a report with %s is kept and says so', (_, text, why) => {
    const observation = observed(text);
    expect(observation.whyUnplaced).toContain(why);
    expect(observation.said).toBe('ice');
  });

  it('a time ahead of its own arrival is a wrong time, ten minutes are a clock', () => {
    const text = 'AAAA UA /OV AAAA/TM 1200/FL080/TP ZZZZ/IC LGT RIME';
    expect(observed(text, NOW_MS - 11 * 60_000).whyUnplaced).toContain('later than the report came in');
    expect(observed(text, NOW_MS - 9 * 60_000).whyUnplaced).toBeUndefined();
  });
});

describe('what is said of ice', () => {
  const text = (elements: string, level = 'FL080') => `AAAA UA /OV AAAA/TM 1130/${level}/TP ZZZZ${elements}`;

  it.each([
    ['/IC LGT RIME 060-080', 'ice', { lowerFt: 6000, upperFt: 8000 }],
    ['/IC MOD MXD', 'ice', { lowerFt: 8000, upperFt: 8000 }],
    ['/IC NEG', 'no-ice', { lowerFt: 8000, upperFt: 8000 }],
    ['/IC NEG 040-090', 'no-ice', { lowerFt: 4000, upperFt: 9000 }],
    ['/IC MOD BLO 070', 'ice', { lowerFt: 0, upperFt: 7000 }],
  ])('%s is %s in its band', (elements, words, band) => {
    expect(said(observed(text(elements)))).toEqual({ words, band, whyUnscored: undefined });
  });

  it.each([
    ['/SK OVC030-TOP065', 'nothing', 'it says nothing of icing'],
    ['/TA M05', 'nothing', 'it says nothing of icing'],
    ['/IC 4FF?X', 'nothing', 'its words on icing cannot be read'],
    ['/IC NEG/RM MOD RIME ON DESCENT', 'nothing', 'it denies icing and names it'],
    ['/IC LGT ABV 070', 'ice', 'no altitude of what it says of icing'],
    ['/WX TSRA/IC LGT RIME', 'ice', 'in a thunderstorm'],
  ])('%s says %s and scores nothing: %s', (elements, words, whyUnscored) => {
    expect(said(observed(text(elements)))).toMatchObject({ words, whyUnscored });
  });

  it('without any altitude scores nothing', () => {
    expect(said(observed(text('/IC LGT RIME', 'FLUNKN')))).toMatchObject({
      words: 'ice',
      band: undefined,
      whyUnscored: 'no altitude of what it says of icing',
    });
  });

  it('above FL300 scores nothing, at FL300 it does', () => {
    expect(observed(text('/IC LGT', 'FL310')).whyUnscored).toBe('above FL300');
    expect(observed(text('/IC LGT', 'FL300')).whyUnscored).toBeUndefined();
  });

  it('of several layers is the heaviest', () => {
    const { heaviest, band } = observed(text('/IC LGT RIME 040-050 MOD MXD 060-070'));
    expect([heaviest, band]).toEqual(['moderate', { lowerFt: 6000, upperFt: 7000 }]);
  });
});

describe('tops and large drops', () => {
  const of = (elements: string) => observed(`AAAA UA /OV AAAA/TM 1130/FL080/TP ZZZZ${elements}`);

  it.each([
    ['/SK OVC030-TOP065', 6500],
    ['/SK BKN020-TOP040/OVC060-TOP085', 8500],
    ['/SK OVC030-TOPUNKN', undefined],
    ['/SK OVC030', undefined],
    ['/SK SKC', undefined],
    ['/IC NEG', undefined],
  ])('%s has a highest top of %s ft', (elements, topFt) => {
    expect(of(elements).topFt).toBe(topFt);
  });

  it.each([
    ['/WX FV03SM FZRA/IC MOD CLR', true],
    ['/IC MOD CLR/RM SLD', true],
    ['/IC MOD CLR', false],
  ])('%s names large drops: %s', (elements, isLargeDrops) => {
    expect(of(elements).isLargeDrops).toBe(isLargeDrops);
  });
});
