/** What stands of the reports found, in whatever order they came; the texts are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type StoredReport, standingReports } from '../../worker/sources/reports.ts';
import { readInvented } from '../support/invented-reports.ts';

function stored(text: string, operator = 'open'): StoredReport[] {
  const { reports, rejected } = readInvented(text);
  expect(rejected).toEqual([]);
  return reports.map((report) => ({
    ...report,
    operator,
    ingestedMs: 0,
    id: `${operator} ${report.series} ${report.text}`,
  }));
}

/** Sentences of the ice that stands, with the end of each. */
const standing = (reports: StoredReport[]) =>
  standingReports(reports)
    .flatMap(({ ice }) =>
      ice.map(({ sentence, toMs }) => `${sentence} | ${new Date(toMs).toISOString().slice(8, 16)}`),
    )
    .toSorted();

const SIGMET =
  'CZUL SIGMET 2 VALID 141100/141500 CWUL-\nCZUL MONTREAL FIR SEV ICE FCST WI N44 W074 - N44 W070 - N46 W070 FL080/140 STNR NC=';
const CANCEL = 'CZUL SIGMET 3 VALID 141230/141500 CWUL-\nCZUL MONTREAL FIR CNL SIGMET 2 141100/141500=';
const METAR = 'METAR BBBB 141150Z 09010KT 2000 FZRA OVC010 M02/M03 Q1010=';
const CORRECTED = 'METAR COR BBBB 141150Z 09010KT 2000 RA OVC010 02/01 Q1010=';
const TAF = 'TAF BBBB 141100Z 1412/1512 09010KT 9999 -FZRA BKN015=';
const AMENDED = 'TAF AMD BBBB 141230Z 1413/1512 09010KT 9999 BKN015=';

describe('standingReports', () => {
  it('a warning that was taken back does nothing, whichever came first', () => {
    expect(standing(stored(SIGMET))).toHaveLength(1);
    expect(standing([...stored(SIGMET), ...stored(CANCEL)])).toEqual([]);
    expect(standing([...stored(CANCEL), ...stored(SIGMET)])).toEqual([]);
  });

  it.each([
    ['of another number', CANCEL.replace('SIGMET 2', 'SIGMET 1')],
    ['of another period', CANCEL.replace('141100/141500', '141100/141400')],
    ['of another region', CANCEL.replaceAll('CZUL', 'CZQM')],
    ['of the other form', CANCEL.replace('CNL SIGMET', 'CNL AIRMET').replace('SIGMET 3', 'AIRMET 3')],
  ])('a cancellation %s takes nothing back', (_, cancel) => {
    expect(standing([...stored(SIGMET), ...stored(cancel)])).toHaveLength(1);
  });

  it('nobody takes back what another operator wrote', () => {
    expect(standing([...stored(SIGMET, 'own'), ...stored(CANCEL, 'open')])).toHaveLength(1);
    expect(standing([...stored(METAR, 'own'), ...stored(CORRECTED, 'open')])).toHaveLength(1);
    expect(standing([...stored(TAF, 'own'), ...stored(AMENDED, 'open')])[0]).toMatch(/15T12:00$/);
  });

  it('without a period a cancellation takes back the warning of its name that holds when it is issued', () => {
    const warning = (issued: string, until: string) =>
      `WSUS01 KKCI ${issued}\nWS1P\nBOSP WS ${issued}\nSIGMET PAPA 2 VALID UNTIL ${until}\nME NH\nFROM AAAA TO BBBB TO CCC TO AAAA\nOCNL SEV ICE BTN 040 AND FL220.=`;
    const cancel = 'WSUS01 KKCI 141300\nWS1P\nBOSP WS 141300\nCANCEL SIGMET PAPA 2. CONDS HAVE ENDED.=';
    expect(standing([...stored(warning('141110', '141510')), ...stored(cancel)])).toEqual([]);
    expect(standing([...stored(warning('141310', '141710')), ...stored(cancel)])).toHaveLength(1);
  });

  it('a corrected observation takes the place of the first', () => {
    expect(standing(stored(METAR))).toHaveLength(1);
    expect(standing([...stored(CORRECTED), ...stored(METAR)])).toEqual([]);
  });

  it('a correction that was not understood takes nothing away', () => {
    const odd = CORRECTED.replace(' RA ', ' RAXX ');
    expect(standing([...stored(METAR), ...stored(odd)]).join()).toMatch(/freezing rain/);
  });

  it('a later report without freezing rain does not take an earlier one away', () => {
    const later = CORRECTED.replace('COR ', '').replace('141150Z', '141220Z');
    expect(standing([...stored(METAR), ...stored(later)])).toHaveLength(1);
  });

  it('a forecast holds until the amendment begins', () => {
    expect(standing([...stored(TAF), ...stored(AMENDED)])).toEqual([
      'BBBB forecasts freezing rain 12:00 to 12:00 UTC | 14T13:00',
    ]);
  });

  it('after a later forecast that ends sooner an earlier one goes on', () => {
    const shorter = AMENDED.replace('1413/1512', '1413/1418');
    const rain = 'BBBB forecasts freezing rain 12:00 to 12:00 UTC';
    const periods = standingReports([...stored(shorter), ...stored(TAF)]).flatMap(({ ice }) =>
      ice.map(({ sentence, fromMs, toMs }) => [
        sentence,
        new Date(fromMs).getUTCHours(),
        new Date(toMs).getUTCHours(),
      ]),
    );
    expect(periods).toEqual([
      [rain, 12, 13],
      [rain, 18, 12],
    ]);
  });

  it.each(['1413/1512', '1413/1418'])(
    'a forecast that was taken back for %s holds no longer at all',
    (period) => {
      const cancelled = `TAF AMD BBBB 141230Z ${period} CNL=`;
      expect(standing([...stored(TAF), ...stored(cancelled)])).toEqual([
        'BBBB forecasts freezing rain 12:00 to 12:00 UTC | 14T13:00',
      ]);
    },
  );

  it.each([
    ['was not understood', AMENDED.replace('BKN015', 'BKN015 TEMPO 1499/1416 SN')],
    ['is NIL', 'TAF BBBB 141230Z NIL='],
  ])('a later forecast that %s does not end an earlier one', (_, later) => {
    expect(standing([...stored(TAF), ...stored(later)])[0]).toMatch(/15T12:00$/);
  });

  it('is the same in every order', () => {
    const all = [
      SIGMET,
      CANCEL,
      METAR,
      CORRECTED,
      TAF,
      AMENDED,
      SIGMET.replace('SIGMET 2', 'SIGMET 4'),
    ].flatMap((text) => stored(text));
    const expected = standing(all);
    expect(expected).toHaveLength(2);
    fc.assert(
      fc.property(fc.shuffledSubarray(all, { minLength: all.length }), (shuffled) => {
        expect(standing(shuffled)).toEqual(expected);
      }),
    );
  });
});
