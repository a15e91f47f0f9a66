/**
 * Weather of an aerodrome at a time against minima. That forecasts for the estimated time of arrival are to be at or above the minima
 * is 14 CFR 135.219 (destination) and 135.221 (alternate), from memory.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type MinimaQuestion, weatherStanding } from '../../worker/board/minima.ts';
import { readAerodromeText } from '../../worker/formats/aerodrome-reports/read-aerodrome-reports.ts';
import type { AerodromeReport } from '../../worker/formats/aerodrome-reports/report.ts';
import { weatherStandingSchema } from '../../worker/schema/board.ts';

const atMs = (clock: string, day = 14) =>
  Date.UTC(2026, 0, day, Number(clock.slice(0, 2)), Number(clock.slice(3)));
const NOW_MS = atMs('12:00');

function reportsOf(...texts: string[]): AerodromeReport[] {
  return texts.flatMap((text) =>
    readAerodromeText(text, { nearMs: NOW_MS }).map((item) => {
      if (item.kind === 'refused') throw new Error(`${item.text}: ${item.reason}`);
      return item.report;
    }),
  );
}

/** Arrival at 12:45 with minima of 600 ft and 1,600 m, asked at noon. */
function asked(texts: string | string[], given: Partial<MinimaQuestion> = {}) {
  return weatherStanding({
    ...{ aerodrome: 'BBBB', atMs: atMs('12:45'), nowMs: NOW_MS },
    minima: { ceilingFt: 600, visibilityM: 1600 },
    reports: reportsOf(...[texts].flat()),
    ...given,
  });
}
const said = (...args: Parameters<typeof asked>) => {
  const { standing, sentence } = asked(...args);
  return `${standing}: ${sentence}`;
};

const TAF = 'TAF BBBB 141130Z 1412/1512 02010KT';

describe('from a forecast', () => {
  it('gives the figures, when it was issued, and for which time', () => {
    const standing = asked(`${TAF} 1600 SN OVC004`);
    expect(standing).toEqual({
      aerodrome: 'BBBB',
      atUtc: '2026-01-14T12:45:00.000Z',
      standing: 'below',
      sentence: 'TAF of 11:30 UTC: 400 ft, 1,600 m in snow',
      ceilingFt: 400,
      visibilityM: 1600,
      issuedUtc: '2026-01-14T11:30:00.000Z',
    });
    expect(weatherStandingSchema.parse(standing)).toEqual(standing);
  });

  it.each([
    ['at the minima is above them', '1600 OVC006', 'above: TAF of 11:30 UTC: 600 ft, 1,600 m'],
    ['a ceiling below', '9999 BKN005 OVC020', 'below: TAF of 11:30 UTC: 500 ft, 10 km or more'],
    ['a visibility below', '1500 BR SCT004 OVC010', 'below: TAF of 11:30 UTC: 1,000 ft, 1,500 m in mist'],
    [
      'few and scattered are no ceiling',
      '9999 FEW001 SCT003',
      'above: TAF of 11:30 UTC: no ceiling, 10 km or more',
    ],
    [
      'vertical visibility is a ceiling',
      '0400 FZFG VV001',
      'below: TAF of 11:30 UTC: 100 ft, 400 m in freezing fog',
    ],
    ['one mile is above 1,600 m', '1SM -SN OVC006', 'above: TAF of 11:30 UTC: 600 ft, 1,600 m in light snow'],
    [
      'three quarters of a mile is not',
      '3/4SM -SN OVC006',
      'below: TAF of 11:30 UTC: 600 ft, 1,200 m in light snow',
    ],
    ['more than six miles', 'P6SM SKC', 'above: TAF of 11:30 UTC: no ceiling, more than 9,600 m'],
    [
      'less than a quarter of a mile',
      'M1/4SM FG SKC',
      'below: TAF of 11:30 UTC: no ceiling, less than 400 m in fog',
    ],
    [
      'less than a mile, whatever is less than that',
      'M1SM BR SKC',
      'below: TAF of 11:30 UTC: no ceiling, less than 1,600 m in mist',
    ],
    ['CAVOK', 'CAVOK', 'above: TAF of 11:30 UTC: no ceiling below 5,000 ft, 10 km or more'],
    ['NSC', '9999 NSC', 'above: TAF of 11:30 UTC: no ceiling below 5,000 ft, 10 km or more'],
    ['no sky', '9999', 'unknown: TAF of 11:30 UTC: ceiling not given, 10 km or more'],
    ['no visibility', 'OVC010', 'unknown: TAF of 11:30 UTC: 1,000 ft, visibility not given'],
    ['no visibility, and a ceiling below', 'OVC003', 'below: TAF of 11:30 UTC: 300 ft, visibility not given'],
    [
      'a vertical visibility not observed',
      '9999 VV///',
      'unknown: TAF of 11:30 UTC: vertical visibility not observed, 10 km or more',
    ],
    [
      'a group that cannot be read',
      '9999 SKC OVX003',
      'unknown: TAF of 11:30 UTC: no ceiling, 10 km or more, part of it cannot be read',
    ],
    [
      'a group that cannot be read beside a ceiling below',
      '9999 OVC003 OVX003',
      'below: TAF of 11:30 UTC: 300 ft, 10 km or more, part of it cannot be read',
    ],
    [
      'weather in the vicinity hinders no view',
      '9999 VCSH SKC',
      'above: TAF of 11:30 UTC: no ceiling, 10 km or more',
    ],
    [
      'heavy showers and mist',
      '1600 +SHSN BR BKN010',
      'above: TAF of 11:30 UTC: 1,000 ft, 1,600 m in heavy showers of snow and mist',
    ],
  ])('%s', (_, groups, expected) => {
    expect(said(`${TAF} ${groups}`)).toBe(expected);
  });

  const GOOD = `${TAF} 9999 SKC`;
  it.each([
    ['FM replaces all before it', `${TAF} 0400 FG OVC001 FM141240 02010KT 9999 SKC`, 'above'],
    ['FM later than the arrival does not', `${TAF} 0400 FG OVC001 FM141246 02010KT 9999 SKC`, 'below'],
    ['what FM does not give is not known', `${GOOD} FM141240 02010KT 9999`, 'unknown'],
    ['BECMG under way may be either: it worsens', `${GOOD} BECMG 1412/1414 OVC003`, 'below'],
    ['BECMG under way may be either: it improves', `${TAF} 9999 OVC003 BECMG 1412/1414 OVC030`, 'below'],
    ['BECMG that is over has replaced what it gives', `${TAF} 9999 OVC003 BECMG 1411/1412 OVC030`, 'above'],
    ['and leaves what it does not give', `${TAF} 0400 FG OVC003 BECMG 1411/1412 OVC030`, 'below'],
    ['FM within the hour after', `${GOOD} FM141315 02010KT 0400 FG OVC001`, 'below'],
    ['FM a whole hour after', `${GOOD} FM141345 02010KT 0400 FG OVC001`, 'below'],
    ['FM later than that', `${GOOD} FM141346 02010KT 0400 FG OVC001`, 'above'],
    ['what FM within the hour after does not give is not known', `${GOOD} FM141315 02010KT 9999`, 'unknown'],
    ['neither is a visibility', `${GOOD} FM141315 02010KT SKC`, 'unknown'],
    ['nor a group of it that cannot be read', `${GOOD} FM141315 02010KT 9999 SKC OVX003`, 'unknown'],
    ['BECMG that begins within the hour after', `${GOOD} BECMG 1413/1414 OVC003`, 'below'],
    ['the same to the better', `${TAF} 9999 OVC003 BECMG 1413/1414 OVC030`, 'below'],
    ['BECMG that begins later', `${GOOD} BECMG 1414/1415 OVC003`, 'above'],
    [
      'BECMG to CAVOK ends low cloud and poor visibility',
      `${TAF} 0400 FG OVC003 BECMG 1411/1412 CAVOK`,
      'above',
    ],
    ['TEMPO at the time', `${GOOD} TEMPO 1412/1416 OVC003`, 'below'],
    ['TEMPO that ends an hour before', `${GOOD} TEMPO 1408/1411 OVC003`, 'above'],
    ['TEMPO that ended within the hour', `${GOOD} TEMPO 1410/1412 OVC003`, 'below'],
    ['TEMPO that begins within the hour', `${GOOD} TEMPO 1413/1416 OVC003`, 'below'],
    ['TEMPO that begins later', `${GOOD} TEMPO 1414/1416 OVC003`, 'above'],
    ['PROB30', `${GOOD} PROB30 1412/1416 0800 SN`, 'below'],
    ['PROB40 TEMPO', `${GOOD} PROB40 TEMPO 1412/1416 0800 SN`, 'below'],
    ['TEMPO that is better than what prevails', `${TAF} 9999 OVC003 TEMPO 1412/1416 OVC030`, 'below'],
    ['a TEMPO with a group that cannot be read', `${GOOD} TEMPO 1412/1416 OVX003`, 'unknown'],
    ['the same at another time', `${GOOD} TEMPO 1418/1420 OVX003`, 'above'],
    ['a change whose time cannot be read', `${GOOD} TEMPO 14/16 OVC003`, 'unknown'],
    [
      'unread groups before a FM that replaced them',
      `${TAF} 9999 OVX003 SKC FM141200 02010KT 9999 SKC`,
      'above',
    ],
    [
      'FM groups in whatever order',
      `${TAF} 9999 SKC FM141240 02010KT 0400 FG OVC001 FM141210 02010KT 9999 SKC`,
      'below',
    ],
  ])('%s', (_, text, standing) => {
    expect(asked(text).standing).toBe(standing);
  });

  it('says what is only at times, and how likely', () => {
    expect(said(`${GOOD} TEMPO 1412/1416 0800 SN OVC003`)).toBe(
      'below: TAF of 11:30 UTC: 300 ft, 800 m in snow at times',
    );
    expect(said(`${GOOD} PROB30 1412/1416 0800 FG`)).toBe(
      'below: TAF of 11:30 UTC: no ceiling, 800 m in fog 30 %',
    );
    expect(said(`${TAF} 3000 BR OVC020 TEMPO 1412/1416 OVC003`)).toBe(
      'below: TAF of 11:30 UTC: 300 ft at times, 3,000 m in mist',
    );
  });

  it('says from when on what has not begun at the arrival', () => {
    const atMs1215 = { atMs: atMs('12:15') };
    expect(said(`${GOOD} FM141235 02010KT 0400 FG OVC001`, atMs1215)).toBe(
      'below: TAF of 11:30 UTC: 100 ft, 400 m in fog from 12:35',
    );
    expect(said(`${TAF} 3000 BR OVC020 BECMG 1413/1414 OVC003`, atMs1215)).toBe(
      'below: TAF of 11:30 UTC: 300 ft from 13:00, 3,000 m in mist',
    );
    expect(said(`${GOOD} FM141235 02010KT 0400 FG OVC001`)).toBe(
      'below: TAF of 11:30 UTC: 100 ft, 400 m in fog',
    );
  });

  it('requires no ceiling where none is given, and no visibility where that is nought', () => {
    expect(asked(`${TAF} 1600 OVC001`, { minima: { ceilingFt: null, visibilityM: 1600 } }).standing).toBe(
      'above',
    );
    expect(asked(`${TAF} 1600`, { minima: { ceilingFt: null, visibilityM: 1600 } }).standing).toBe('above');
    expect(asked(`${TAF} 0000 OVC010`, { minima: { ceilingFt: 600, visibilityM: 0 } }).standing).toBe(
      'above',
    );
  });

  it('does not know against a figure that more than it may reach', () => {
    const minima = { ceilingFt: 600, visibilityM: 9999 };
    expect(asked(`${TAF} P6SM SKC`, { minima }).standing).toBe('unknown');
    expect(asked(`${TAF} 9999 NSC`, { minima: { ceilingFt: 5000, visibilityM: 0 } }).standing).toBe('above');
  });

  it('is unknown without minima, and says what is forecast', () => {
    expect(said(`${TAF} 0400 FG OVC001`, { minima: null })).toBe(
      'unknown: No minima entered. TAF of 11:30 UTC: 100 ft, 400 m in fog',
    );
    expect(said(`${TAF} 9999 SKC`, { minima: null })).toBe(
      'unknown: No minima entered. TAF of 11:30 UTC: no ceiling, 10 km or more',
    );
  });
});

describe('which report', () => {
  const OLD = 'TAF BBBB 140530Z 1406/1506 02010KT 9999 SKC';
  const BAD = `${TAF} 0400 FG OVC001`;
  it.each([
    ['the forecast issued latest', [OLD, BAD], 'below: TAF of 11:30 UTC: 100 ft, 400 m in fog'],
    ['in whatever order they come', [BAD, OLD], 'below: TAF of 11:30 UTC: 100 ft, 400 m in fog'],
    [
      'the amendment',
      [OLD, 'TAF AMD BBBB 140530Z 1406/1506 02010KT 0400 FG OVC001'],
      'below: TAF of 05:30 UTC: 100 ft, 400 m in fog',
    ],
    [
      'the correction',
      ['TAF COR BBBB 140530Z 1406/1506 02010KT 0400 FG OVC001', OLD],
      'below: TAF of 05:30 UTC: 100 ft, 400 m in fog',
    ],
    [
      'an earlier one where the latest begins later',
      [OLD, 'TAF BBBB 141130Z 1418/1518 02010KT 0400 FG OVC001'],
      'above: TAF of 05:30 UTC: no ceiling, 10 km or more',
    ],
    [
      'none that was cancelled',
      [OLD, 'TAF AMD BBBB 141000Z 1410/1506 CNL'],
      'unknown: No TAF for 12:45 UTC, and no METAR within 90 minutes of it',
    ],
    [
      'nor one from before the cancelled one',
      [OLD, 'TAF BBBB 140800Z 1408/1508 9999 SKC', 'TAF AMD BBBB 141000Z 1410/1506 CNL'],
      'unknown: No TAF for 12:45 UTC, and no METAR within 90 minutes of it',
    ],
    [
      'one that was made after a cancellation',
      [OLD, 'TAF AMD BBBB 141000Z 1410/1506 CNL', BAD],
      'below: TAF of 11:30 UTC: 100 ft, 400 m in fog',
    ],
    [
      'the one before NIL says above: unknown',
      [OLD, 'TAF BBBB 141130Z NIL'],
      'unknown: TAF of 11:30 UTC says NIL: no forecast was made',
    ],
    [
      'the one before NIL says below: below',
      ['TAF BBBB 140530Z 1406/1506 02010KT 0400 FG OVC001', 'TAF BBBB 141130Z NIL'],
      'below: TAF of 05:30 UTC: 100 ft, 400 m in fog',
    ],
    [
      'none of another aerodrome',
      [BAD.replace('BBBB', 'CCCC')],
      'unknown: No TAF and no METAR of BBBB at hand',
    ],
    [
      'none that is issued later',
      ['TAF BBBB 141205Z 1412/1512 02010KT 9999 SKC'],
      'unknown: No TAF for 12:45 UTC, and no METAR within 90 minutes of it',
    ],
    [
      'none that has ended',
      ['TAF BBBB 140530Z 1406/1412 02010KT 9999 SKC'],
      'unknown: No TAF for 12:45 UTC, and no METAR within 90 minutes of it',
    ],
    [
      'one of the day before, with its day',
      ['TAF BBBB 132330Z 1400/1506 02010KT 0400 FG SKC'],
      'below: TAF of 13 Jan 23:30 UTC: no ceiling, 400 m in fog',
    ],
    ['none at all', [], 'unknown: No TAF and no METAR of BBBB at hand'],
  ])('%s', (_, texts, expected) => {
    expect(said(texts)).toBe(expected);
  });

  it('has the forecast for an arrival at its begin, none for one at its end', () => {
    const taf = 'TAF BBBB 141130Z 1412/1418 02010KT 9999 SKC';
    expect(asked(taf, { atMs: atMs('12:00') }).standing).toBe('above');
    expect(asked(taf, { atMs: atMs('18:00') }).standing).toBe('unknown');
  });

  // That routine forecasts come every six hours is common practice, from memory; eight leave room for a late one.
  const aged = (issued: string, groups = '9999 SKC') => `TAF BBBB 14${issued}Z 1403/1506 02010KT ${groups}`;
  it.each([
    ['above', [aged('0400')], 'above: TAF of 04:00 UTC: no ceiling, 10 km or more'],
    ['above, a minute older', [aged('0359')], 'unknown: TAF of 03:59 UTC is old, no newer one came'],
    ['below', [aged('0230', '0400 FG SKC')], 'below: TAF of 02:30 UTC: no ceiling, 400 m in fog'],
    ['open', [aged('0230', '9999')], 'unknown: TAF of 02:30 UTC is old, no newer one came'],
    [
      'above, and the newer one begins after the arrival',
      [aged('0230'), 'TAF BBBB 141130Z 1418/1518 02010KT 9999 SKC'],
      'unknown: TAF of 02:30 UTC is old, no newer one is for 12:45 UTC',
    ],
    [
      'above, not saying when it was issued',
      ['TAF BBBB 1403/1506 02010KT 9999 SKC'],
      'unknown: TAF of 03:00 UTC is old, no newer one came',
    ],
    ['above, and a newer one is there', [aged('0230'), BAD], 'below: TAF of 11:30 UTC: 100 ft, 400 m in fog'],
  ])('relies on no forecast of more than eight hours ago: %s', (_, texts, expected) => {
    expect(said(texts)).toBe(expected);
  });

  it('carries no figures of one that is too old, and does not know whatever minima', () => {
    expect(asked(aged('0230'))).toMatchObject({ ceilingFt: null, visibilityM: null });
    expect(asked(aged('0230')).issuedUtc).toBe('2026-01-14T02:30:00.000Z');
    expect(said(aged('0230'), { minima: null })).toBe(
      'unknown: No minima entered. TAF of 02:30 UTC is old, no newer one came',
    );
  });
});

describe('from an observation, where no forecast is', () => {
  const METAR = 'METAR BBBB 141150Z 02010KT';
  const ENDS = 'M02/M03 Q1002';
  it.each([
    ['above', `${METAR} 9999 SKC ${ENDS}`, 'above: METAR of 11:50 UTC: no ceiling, 10 km or more'],
    ['below', `${METAR} 0800 -SN OVC004 ${ENDS}`, 'below: METAR of 11:50 UTC: 400 ft, 800 m in light snow'],
    [
      'a special one',
      `SPECI BBBB 141150Z 02010KT 0800 OVC010 ${ENDS}`,
      'below: SPECI of 11:50 UTC: 1,000 ft, 800 m',
    ],
    [
      'CLR of a machine',
      `METAR BBBB 141150Z AUTO 02010KT 10SM CLR ${ENDS}`,
      'above: METAR of 11:50 UTC: no ceiling below 12,000 ft, 16 km or more',
    ],
    [
      'NCD of a machine',
      `METAR BBBB 141150Z AUTO 02010KT 9999 NCD ${ENDS}`,
      'above: METAR of 11:50 UTC: no cloud detected by the machine, 10 km or more',
    ],
    [
      'cloud that was not observed',
      `METAR BBBB 141150Z AUTO 02010KT 9999 ////// ${ENDS}`,
      'unknown: METAR of 11:50 UTC: cloud not wholly observed, 10 km or more',
    ],
    [
      'cloud of unknown amount below the minima',
      `METAR BBBB 141150Z AUTO 02010KT 9999 ///003 ${ENDS}`,
      'unknown: METAR of 11:50 UTC: cloud of unknown amount at 300 ft, 10 km or more',
    ],
    [
      'the same above them',
      `METAR BBBB 141150Z AUTO 02010KT 9999 ///030 ${ENDS}`,
      'above: METAR of 11:50 UTC: cloud of unknown amount at 3,000 ft, 10 km or more',
    ],
    [
      'a layer of unknown height',
      `METAR BBBB 141150Z AUTO 02010KT 9999 BKN/// ${ENDS}`,
      'unknown: METAR of 11:50 UTC: cloud not wholly observed, 10 km or more',
    ],
    [
      'few of unknown height',
      `METAR BBBB 141150Z AUTO 02010KT 9999 FEW/// ${ENDS}`,
      'above: METAR of 11:50 UTC: no ceiling, 10 km or more',
    ],
    [
      'visibility that was not observed',
      `METAR BBBB 141150Z AUTO 02010KT //// SKC ${ENDS}`,
      'unknown: METAR of 11:50 UTC: no ceiling, visibility not observed',
    ],
    [
      'a lower visibility in one direction',
      `${METAR} 3000 1200N BR SKC ${ENDS}`,
      'below: METAR of 11:50 UTC: no ceiling, 1,200 m in mist',
    ],
    [
      'the trend',
      `${METAR} 9999 SKC ${ENDS} TEMPO 0800 SN`,
      'below: METAR of 11:50 UTC: no ceiling, 800 m in snow at times',
    ],
    [
      'a trend to the better',
      `${METAR} 0800 SN SKC ${ENDS} BECMG 9999 NSW`,
      'below: METAR of 11:50 UTC: no ceiling, 800 m in snow',
    ],
    [
      'an unread group',
      `${METAR} 9999 SKC OVX003 ${ENDS}`,
      'unknown: METAR of 11:50 UTC: no ceiling, 10 km or more, part of it cannot be read',
    ],
    ['NIL', 'METAR BBBB 141150Z NIL', 'unknown: METAR of 11:50 UTC: ceiling not given, visibility not given'],
    [
      'one of more than 90 minutes before',
      `METAR BBBB 141114Z 02010KT 9999 SKC ${ENDS}`,
      'unknown: No TAF for 12:45 UTC, and no METAR within 90 minutes of it',
    ],
    [
      'one of 90 minutes before',
      `METAR BBBB 141115Z 02010KT 9999 SKC ${ENDS}`,
      'above: METAR of 11:15 UTC: no ceiling, 10 km or more',
    ],
    [
      'one of the future',
      `METAR BBBB 141201Z 02010KT 9999 SKC ${ENDS}`,
      'unknown: No TAF for 12:45 UTC, and no METAR within 90 minutes of it',
    ],
  ])('%s', (_, text, expected) => {
    expect(said(text)).toBe(expected);
  });

  it('takes the latest, of one time the corrected one', () => {
    const good = `METAR BBBB 141120Z 02010KT 9999 SKC ${ENDS}`;
    const bad = `METAR BBBB 141150Z 02010KT 0400 FG VV001 ${ENDS}`;
    expect(asked([good, bad]).standing).toBe('below');
    expect(asked([bad, good]).standing).toBe('below');
    const corrected = `METAR COR BBBB 141150Z 02010KT 9999 SKC ${ENDS}`;
    expect(asked([bad, corrected]).standing).toBe('above');
  });

  describe('beside a forecast', () => {
    const GOOD = 'TAF BBBB 140530Z 1406/1506 02010KT 9999 SKC';
    const at = (clock: string, groups: string) => `METAR BBBB 14${clock}Z 02010KT ${groups} ${ENDS}`;
    const FOG = '0400 FG VV001';
    const BELOW = 'below: METAR of 11:53 UTC: 100 ft, 400 m in fog';
    it.each([
      ['seen below, forecast above', [GOOD, at('1153', FOG)], `${BELOW}; TAF of 05:30 UTC above`],
      [
        'the same of a special one',
        [GOOD, at('1153', FOG).replace('METAR', 'SPECI')],
        `${BELOW.replace('METAR', 'SPECI')}; TAF of 05:30 UTC above`,
      ],
      ['seen below, forecast open', [`${TAF} 9999`, at('1153', FOG)], BELOW],
      [
        'seen below, forecast below',
        [GOOD.replace('9999', '0800 BR'), at('1153', FOG)],
        'below: TAF of 05:30 UTC: no ceiling, 800 m in mist',
      ],
      ['seen below, forecast old', [GOOD.replace('0530Z', '0230Z'), at('1153', FOG)], BELOW],
      [
        'seen below 90 minutes before',
        [GOOD, at('1115', FOG)],
        'below: METAR of 11:15 UTC: 100 ft, 400 m in fog; TAF of 05:30 UTC above',
      ],
      [
        'seen below earlier than that',
        [GOOD, at('1114', FOG)],
        'above: TAF of 05:30 UTC: no ceiling, 10 km or more',
      ],
      ['seen in the future', [GOOD, at('1201', FOG)], 'above: TAF of 05:30 UTC: no ceiling, 10 km or more'],
      [
        'seen below, and above since',
        [GOOD, at('1123', FOG), at('1153', '9999 SKC')],
        'above: TAF of 05:30 UTC: no ceiling, 10 km or more',
      ],
      [
        'seen below, and not observed since',
        [GOOD, at('1123', FOG), 'METAR BBBB 141153Z NIL'],
        `${BELOW.replace('11:53', '11:23')}; TAF of 05:30 UTC above`,
      ],
      [
        'seen above, forecast open',
        [`${TAF} 9999`, at('1153', '9999 SKC')],
        'unknown: TAF of 11:30 UTC: ceiling not given, 10 km or more',
      ],
      [
        'seen above, forecast old',
        [GOOD.replace('0530Z', '0230Z'), at('1153', '9999 SKC')],
        'unknown: TAF of 02:30 UTC is old, no newer one came',
      ],
      [
        'seen below in a trend that begins after the arrival',
        [GOOD, at('1153', '9999 SKC').concat(' BECMG FM1315 0800 SN')],
        'below: METAR of 11:53 UTC: no ceiling, 800 m in snow from 13:15; TAF of 05:30 UTC above',
      ],
    ])('%s', (_, texts, expected) => {
      expect(said(texts)).toBe(expected);
      expect(said([...texts].reverse())).toBe(expected);
    });

    it('has the figures of what it tells of', () => {
      expect(asked([GOOD, at('1153', FOG)])).toMatchObject({
        ...{ ceilingFt: 100, visibilityM: 400, issuedUtc: '2026-01-14T11:53:00.000Z' },
      });
    });
  });

  it.each([
    ['10SM', '16 km or more'],
    ['15SM', '16 km or more'],
    ['9SM', '14,500 m'],
    ['P6SM', 'more than 9,600 m'],
    ['P10SM', 'more than 16,000 m'],
    ['9999', '10 km or more'],
  ])('says of %s %s', (group, words) => {
    expect(said(`${METAR} ${group} SKC ${ENDS}`)).toBe(`above: METAR of 11:50 UTC: no ceiling, ${words}`);
  });
});

describe('missing is never above', () => {
  const GROUPS = '9999 SCT004 BKN010 TEMPO 1412/1416 3000 -SN BKN008'.split(' ');

  it('whichever group of a forecast in force cannot be read', () => {
    expect(asked(`${TAF} ${GROUPS.join(' ')}`).standing).toBe('above');
    for (let index = 0; index < GROUPS.length; index += 1) {
      const poisoned = GROUPS.map((group, at) => (at === index ? 'Q/!X' : group)).join(' ');
      expect(asked(`${TAF} ${poisoned}`).standing, poisoned).not.toBe('above');
    }
  });

  it('and a sky or visibility that is left out of what prevails is not', () => {
    expect(asked(`${TAF} SCT004 BKN010`).standing).toBe('unknown');
    expect(asked(`${TAF} 9999 TEMPO 1412/1416 BKN008`).standing).toBe('unknown');
  });

  const groups = fc.constantFrom(
    ...['9999', '3000', '0800', 'P6SM', '1/2SM', 'M1/4SM', '////', 'CAVOK', 'SKC', 'NSC', 'NCD', 'CLR'],
    ...[
      'OVC003',
      'BKN010',
      'SCT001',
      '///002',
      '//////',
      'VV001',
      'VV///',
      'SN',
      'FZFG',
      'NSW',
      '-RA',
      'OVX',
    ],
    ...['FM141200', 'FM141240', 'BECMG 1412/1414', 'BECMG 1410/1412', 'TEMPO 1412/1416', 'PROB30 1412/1413'],
    ...['TEMPO', 'INTER 1412/1415', '02010KT', 'RMK'],
  );
  const tafs = fc.array(groups, { maxLength: 14 }).map((each) => `${TAF} ${each.join(' ')}`);
  const minima = fc.record({
    ceilingFt: fc.option(fc.integer({ min: 0, max: 50 }).map((step) => step * 100)),
    visibilityM: fc.integer({ min: 0, max: 160 }).map((step) => step * 100),
  });
  const order = ['above', 'unknown', 'below'];

  it('higher minima never make anything better, of any forecast', () => {
    fc.assert(
      fc.property(tafs, minima, minima, (text, one, other) => {
        const lower = {
          ceilingFt:
            one.ceilingFt === null ? null : Math.min(one.ceilingFt, other.ceilingFt ?? one.ceilingFt),
          visibilityM: Math.min(one.visibilityM, other.visibilityM),
        };
        const [a, b] = [lower, one].map((each) => asked(text, { minima: each }));
        expect(order.indexOf(b!.standing)).toBeGreaterThanOrEqual(order.indexOf(a!.standing));
        expect(b!.sentence).not.toMatch(/undefined|NaN|null|safe|clear/);
      }),
      { numRuns: 1500 },
    );
  });

  it('an observation beside a forecast never makes anything better', () => {
    fc.assert(
      fc.property(tafs, fc.array(groups, { maxLength: 6 }), (text, seen) => {
        const before = asked(text);
        // Where no forecast is for the time, the observation alone answers.
        fc.pre(before.sentence.startsWith('TAF '));
        const after = asked([text, `METAR BBBB 141150Z 02010KT ${seen.join(' ')}`]);
        expect(order.indexOf(after.standing)).toBeGreaterThanOrEqual(order.indexOf(before.standing));
      }),
      { numRuns: 1000 },
    );
  });

  it('a further TEMPO never makes anything better', () => {
    fc.assert(
      fc.property(
        tafs,
        fc.array(
          groups.filter((each) => !/[FBTPIR][A-Z]+\d* ?\d*\/?|RMK|TEMPO/.test(each)),
          { maxLength: 3 },
        ),
        (text, added) => {
          fc.pre(!text.includes('RMK'));
          const before = asked(text);
          const after = asked(`${text} TEMPO 1412/1416 ${added.join(' ')}`);
          expect(order.indexOf(after.standing)).toBeGreaterThanOrEqual(order.indexOf(before.standing));
        },
      ),
      { numRuns: 1000 },
    );
  });
});
