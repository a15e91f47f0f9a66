/** What bears on legs in texts of every kind; the texts are invented. */
import { describe, expect, it } from 'vitest';
import { ftFromM, mFromFt, nmFromM } from '../../worker/science/units.ts';
import { identifiersIn } from '../../worker/sources/report-facts/read-reports.ts';
import { iceLines, NOW_MS, onlyReport, READING, readInvented } from '../support/invented-reports.ts';

const metar = (weather: string, rest = 'OVC010 M02/M03 Q1010') =>
  `METAR BBBB 141150Z 09010KT 2000 ${weather} ${rest}=`;
const HOURS = '14 11:50-14 13:50';

describe('observations of aerodromes', () => {
  it.each([
    ['-FZRA', `large-drops ${HOURS} BBBB reports freezing rain at 11:50 UTC`],
    ['FZUP', `large-drops ${HOURS} BBBB reports freezing precipitation at 11:50 UTC`],
    ['-FZDZ', `large-drops ${HOURS} BBBB reports freezing drizzle at 11:50 UTC`],
    ['PL', `large-drops ${HOURS} BBBB reports ice pellets at 11:50 UTC`],
    ['SNPL', `large-drops ${HOURS} BBBB reports ice pellets at 11:50 UTC`],
    ['FZFG', `unstated ${HOURS} BBBB reports freezing fog at 11:50 UTC`],
    ['-RA', `unstated ${HOURS} BBBB reports rain below freezing at 11:50 UTC`],
  ])('%s counts for two hours', (weather, expected) => {
    expect(iceLines(metar(weather))).toEqual([expected]);
  });

  it.each(['-SN', 'FG', 'BR', 'SG'])('%s is no ice in the air', (weather) => {
    expect(iceLines(metar(weather))).toEqual([]);
  });

  it('rain at a temperature above freezing is none', () => {
    expect(iceLines(metar('RA', 'OVC010 03/02 Q1010'))).toEqual([]);
  });

  it.each([
    ['is missing', 'OVC010 Q1010'],
    ['was not observed', 'OVC010 ///// Q1010'],
  ])('rain may freeze where the temperature %s', (_, rest) => {
    expect(iceLines(metar('RA', rest))).toEqual([
      `unstated ${HOURS} BBBB reports rain at an unknown temperature at 11:50 UTC`,
    ]);
  });

  it.each(['M02/M03 Q1010 RMK T00201010', '02/M01 Q1010 RMK T10201010'])(
    'rain may freeze where one of two temperatures is below freezing: %s',
    (rest) => {
      expect(iceLines(metar('RA', `OVC010 ${rest}`))).toEqual([
        `unstated ${HOURS} BBBB reports rain below freezing at 11:50 UTC`,
      ]);
    },
  );

  it('snow is no ice in the air where the temperature is missing either', () => {
    expect(iceLines(metar('SN', 'OVC010 Q1010'))).toEqual([]);
  });

  it('drizzle and rain that freeze together are both', () => {
    expect(iceLines(metar('FZRADZ'))).toHaveLength(2);
  });

  it('tells of what fell within the hour, and of the trend', () => {
    expect(iceLines(metar('BR', 'OVC010 M02/M03 Q1010 REFZRA TEMPO FZDZ'))).toEqual([
      `large-drops ${HOURS} BBBB reports recent freezing rain at 11:50 UTC`,
      `large-drops ${HOURS} BBBB expects freezing drizzle from 11:50 UTC`,
    ]);
  });

  it('a group that may be freezing precipitation and cannot be read is not left out', () => {
    expect(iceLines(metar('-FZRAXX'))).toEqual([
      `unstated ${HOURS} BBBB reports weather that cannot be read at 11:50 UTC`,
    ]);
  });

  it.each(['-FZRAXX', '-ZR'])('nor is it in a trend: %s', (group) => {
    expect(iceLines(metar('BR', `OVC010 M02/M03 Q1010 TEMPO ${group}`))).toEqual([
      `unstated ${HOURS} BBBB expects weather that cannot be read from 11:50 UTC`,
    ]);
  });

  it('freezing rain reaches to the top of the warm layer, drizzle to that of the cloud, fog 1,000 ft up', () => {
    const upperOf = (weather: string) => onlyReport(metar(weather)).ice[0]!.upper;
    expect(upperOf('FZRA')).toEqual({ kind: 'freezing-level' });
    expect(upperOf('FZDZ')).toEqual({ kind: 'cloud-top' });
    expect(upperOf('FZFG')).toEqual({ kind: 'altitude', altitudeM: 100 + mFromFt(1000), marginM: 0 });
  });

  it('of a station that nobody can place counts as unstated, wherever its letter may be', () => {
    const { ice, areas } = onlyReport(metar('FZRA').replace('BBBB', 'KZZZ'));
    expect(ice[0]).toMatchObject({
      severity: 'unstated',
      sentence: 'KZZZ reports freezing rain at 11:50 UTC, place not known',
    });
    expect(areas).toMatchObject([{ kind: 'unknown', box: { westDeg: -128, eastDeg: -64 } }]);
  });

  it('what bears on a field alone is left out of one that nobody can place', () => {
    expect(iceLines(metar('FZFG').replace('BBBB', 'KZZZ'))).toEqual([]);
  });

  it('the second correction ranks over the first, and both over the report', () => {
    const rankOf = (text: string) => onlyReport(text).rank;
    const report = metar('BR');
    const corrected = (sign: string) => `SAXX01 BBBB 141150 ${sign}\n${report}`;
    expect([rankOf(report), rankOf(report.replace('METAR', 'METAR COR')), rankOf(corrected('CCA'))]).toEqual([
      0, 1, 1,
    ]);
  });
});

const taf = (groups: string) => `TAF BBBB 141100Z 1412/1512 09010KT 9999 BKN015 ${groups}=`;

describe('forecasts for aerodromes', () => {
  it.each([
    ['-FZRA', ['large-drops 14 12:00-15 12:00 BBBB forecasts freezing rain 12:00 to 12:00 UTC']],
    [
      '-FZRA FM141500 09010KT 9999 SCT030',
      ['large-drops 14 12:00-14 15:00 BBBB forecasts freezing rain 12:00 to 15:00 UTC'],
    ],
    [
      'TEMPO 1413/1416 FZDZ',
      ['large-drops 14 13:00-14 16:00 BBBB forecasts freezing drizzle 13:00 to 16:00 UTC'],
    ],
    [
      'PROB30 1413/1416 PL',
      ['large-drops 14 13:00-14 16:00 BBBB forecasts ice pellets 13:00 to 16:00 UTC, 30 %'],
    ],
    [
      'PROB40 TEMPO 1413/1416 FZRA',
      ['large-drops 14 13:00-14 16:00 BBBB forecasts freezing rain 13:00 to 16:00 UTC, 40 %'],
    ],
    [
      '-FZRA BECMG 1414/1416 -SN',
      ['large-drops 14 12:00-14 16:00 BBBB forecasts freezing rain 12:00 to 16:00 UTC'],
    ],
    [
      '-FZRA BECMG 1414/1416 NSW',
      ['large-drops 14 12:00-14 16:00 BBBB forecasts freezing rain 12:00 to 16:00 UTC'],
    ],
    // It says nothing of the weather: that goes on.
    [
      '-FZRA BECMG 1414/1416 18015KT',
      ['large-drops 14 12:00-15 12:00 BBBB forecasts freezing rain 12:00 to 12:00 UTC'],
    ],
    [
      'BECMG 1414/1416 FZRA',
      ['large-drops 14 14:00-15 12:00 BBBB forecasts freezing rain 14:00 to 12:00 UTC'],
    ],
    ['NSW', []],
  ])('%s', (groups, expected) => {
    expect(iceLines(taf(groups))).toEqual(expected);
  });

  it.each([
    [
      '-ZR FM141500 09010KT 9999 SCT030',
      ['unstated 14 12:00-14 15:00 BBBB forecasts weather that cannot be read 12:00 to 15:00 UTC'],
    ],
    [
      'TEMPO 1413/1416 -SNX',
      ['unstated 14 13:00-14 16:00 BBBB forecasts weather that cannot be read 13:00 to 16:00 UTC'],
    ],
    [
      'PROB30 1413/1416 -FZRAXX',
      ['unstated 14 13:00-14 16:00 BBBB forecasts weather that cannot be read 13:00 to 16:00 UTC, 30 %'],
    ],
    [
      'FM141500 09010KT FZFGX',
      ['unstated 14 15:00-15 12:00 BBBB forecasts weather that cannot be read 15:00 to 12:00 UTC'],
    ],
  ])('weather that cannot be read counts for its period: %s', (groups, expected) => {
    expect(iceLines(taf(groups))).toEqual(expected);
  });

  it('FM with weather that cannot be read does not end what held before; the next FM does', () => {
    expect(iceLines(taf('-FZRA FM141500 09010KT 9999 -ZR FM141800 09010KT 9999 SCT030'))).toEqual([
      'large-drops 14 12:00-14 18:00 BBBB forecasts freezing rain 12:00 to 18:00 UTC',
      'unstated 14 15:00-14 18:00 BBBB forecasts weather that cannot be read 15:00 to 18:00 UTC',
    ]);
  });

  it.each(['TEMPO 1413/1499 FZRA', 'TEMPO 1413/1499 -RAX'])(
    'a part whose period and ice cannot be told counts to the end: %s',
    (groups) => {
      expect(iceLines(taf(groups))).toEqual([
        'unstated 14 12:00-15 12:00 BBBB forecasts weather that cannot be read until 12:00 UTC',
      ]);
    },
  );

  it('NIL and a cancellation hold none', () => {
    expect(iceLines('TAF BBBB 141100Z NIL=\nTAF AMD BBBB 141130Z 1412/1512 CNL=')).toEqual([]);
  });
});

const UA = 'BBBB UA /OV CCC/TM 1150/FL080/TP ZZZZ';

describe('reports of pilots', () => {
  it.each([
    ['/IC SEV CLR 070-090', `severe ${HOURS} Pilot report: severe clear ice 7,000-9,000 ft at 11:50 UTC`],
    ['/IC MOD RIME', `moderate ${HOURS} Pilot report: moderate rime ice 8,000 ft at 11:50 UTC`],
    ['/IC LGT RIME', `unstated ${HOURS} Pilot report: light rime ice 8,000 ft at 11:50 UTC`],
    ['/IC TRACE', `unstated ${HOURS} Pilot report: trace ice 8,000 ft at 11:50 UTC`],
    ['/RM SLD', `large-drops ${HOURS} Pilot report: freezing precipitation 8,000 ft at 11:50 UTC`],
    ['/WX -FZRA', `large-drops ${HOURS} Pilot report: freezing precipitation 8,000 ft at 11:50 UTC`],
  ])('%s', (elements, expected) => {
    expect(iceLines(`${UA}${elements}=`)).toContain(expected);
  });

  it.each(['/IC NEG', '/IC NEG/RM NO ICE IN CLDS', '/TB LGT', ''])('%s makes no hazard', (elements) => {
    expect(iceLines(`${UA}${elements}=`)).toEqual([]);
  });

  it('an element of icing that cannot be read is ice whose amount nobody stated', () => {
    expect(iceLines(`${UA}/IC QQQQ=`)).toEqual([
      `unstated ${HOURS} Pilot report: icing that cannot be read 8,000 ft at 11:50 UTC`,
    ]);
  });

  it('reaches 2,000 ft over and under where it was made', () => {
    const { lower, upper } = onlyReport(`${UA}/IC SEV CLR 070-090=`).ice[0]!;
    expect(lower).toEqual({ kind: 'altitude', altitudeM: mFromFt(7000), marginM: mFromFt(2000) });
    expect(upper).toEqual({ kind: 'altitude', altitudeM: mFromFt(9000), marginM: mFromFt(2000) });
  });

  it('from a fix that nobody knows lies within 100 NM of its weather station, else anywhere, unstated', () => {
    const unknownFix = `${UA.replace('CCC', 'QQQ')}/IC SEV CLR=`;
    const [area] = onlyReport(unknownFix).areas;
    expect(area?.kind === 'circle' && Math.round(nmFromM(area.radiusM))).toBe(100);
    const nowhere = onlyReport(unknownFix.replace('BBBB', 'QQQQ'));
    expect(nowhere.areas).toEqual([{ kind: 'unknown', box: undefined }]);
    expect(nowhere.ice[0]!.severity).toBe('unstated');
  });
});

const sigmet = (
  phenomenon: string,
  where = 'WI N44 W074 - N44 W070 - N46 W070 - N46 W074',
  levels = 'FL080/140',
) =>
  `CZUL SIGMET 2 VALID 141100/141500 CWUL-\nCZUL MONTREAL FIR ${phenomenon} FCST ${where} ${levels} STNR NC=`;

describe('warnings', () => {
  it.each([
    ['SEV ICE', 'severe 14 11:00-14 15:00 SIGMET 2: severe icing FL080 to FL140 until 15:00 UTC'],
    [
      'SEV ICE (FZRA)',
      'large-drops 14 11:00-14 15:00 SIGMET 2: freezing rain FL080 to FL140 until 15:00 UTC',
    ],
    [
      'SEV ICE (FZDZ)',
      'large-drops 14 11:00-14 15:00 SIGMET 2: freezing drizzle FL080 to FL140 until 15:00 UTC',
    ],
  ])('%s', (phenomenon, expected) => {
    expect(iceLines(sigmet(phenomenon))).toEqual([expected]);
  });

  it('of moderate ice is moderate', () => {
    expect(iceLines(sigmet('MOD ICE').replace('SIGMET', 'AIRMET'))).toEqual([
      'moderate 14 11:00-14 15:00 AIRMET 2: moderate icing FL080 to FL140 until 15:00 UTC',
    ]);
  });

  it('of turbulence is none', () => {
    expect(iceLines(sigmet('SEV TURB'))).toEqual([]);
  });

  it.each(['TEST', 'EXERCISE'])('a %s is rejected with the reason', (status) => {
    const { reports, rejected } = readInvented(sigmet(`${status} SEV ICE`));
    expect(reports).toEqual([]);
    expect(rejected[0]?.reason).toMatch(/expected an operational warning/);
  });

  it('with an area that cannot be read may be anywhere in its region', () => {
    const { areas, ice } = onlyReport(sigmet('SEV ICE', 'WI N44 W0 - N4'));
    expect(areas).toMatchObject([{ kind: 'unknown', box: { westDeg: -180, eastDeg: -25 } }]);
    expect(ice[0]!.severity).toBe('severe');
  });

  it('of the United States from fixes that nobody knows may be anywhere in its states', () => {
    const airmet = (states: string) =>
      `WAUS41 KKCI 141145\nWA1Z\nBOSZ WA 141145\nAIRMET ZULU UPDT 2 FOR ICE AND FRZLVL VALID UNTIL 141800\n.\nAIRMET ICE...${states}\nFROM 70NW QQQ TO 40NE RRR TO SSS TO 70NW QQQ\nMOD ICE BTN 020 AND 100. CONDS CONTG BYD 18Z.`;
    expect(onlyReport(airmet('ME NH')).areas).toEqual([
      { kind: 'unknown', box: { southDeg: 40, northDeg: 50, westDeg: -75, eastDeg: -64 } },
    ]);
    expect(onlyReport(airmet('ME QC')).areas).toMatchObject([{ box: { westDeg: -180, eastDeg: -25 } }]);
  });

  it('with an end that cannot be read holds for six hours', () => {
    const [ice] = onlyReport(sigmet('SEV ICE').replace('141100/141500', '141100/149900')).ice;
    expect([ice!.fromMs, ice!.toMs]).toEqual([NOW_MS - 3_600_000, NOW_MS + 5 * 3_600_000]);
  });

  it('that moves holds wherever it comes by until its end', () => {
    const moving = sigmet('SEV ICE').replace('STNR', 'MOV E 30KT');
    const { areas } = onlyReport(moving);
    const easts = areas.map((area) =>
      area.kind === 'polygon' ? Math.max(...area.ring.map(({ lonDeg }) => lonDeg)) : 0,
    );
    // 30 kt for four hours is 120 NM: 120 / 60 / cos 46 = 2.88 degrees of longitude at the northern corner.
    expect(areas).toHaveLength(5);
    expect(easts[0]).toBe(-70);
    expect(easts.at(-1)).toBeCloseTo(-70 + 2.88, 1);
  });

  it('that moves sweeps its first place, and not the one where it is expected later', () => {
    const later = 'FCST AT 1500Z WI N50 W060 - N50 W056 - N52 W056 - N52 W060';
    const { areas } = onlyReport(sigmet('SEV ICE').replace('STNR NC', `MOV E 30KT NC ${later}`));
    const wests = areas.map((area) =>
      area.kind === 'polygon' ? Math.min(...area.ring.map(({ lonDeg }) => lonDeg)) : Number.NaN,
    );
    // 120 NM as above, at the southern corner 120 / 60 / cos 44 = 2.78 degrees; the later place once, as it stands.
    expect(wests).toHaveLength(6);
    expect(wests[4]).toBeCloseTo(-74 + 2.78, 1);
    expect(wests[5]).toBe(-60);
  });

  it('that moves at a speed it does not tell is taken to move at 40 kt', () => {
    const moving = (movement: string) => onlyReport(sigmet('SEV ICE').replace('STNR', movement)).areas;
    expect(moving('MOV E')).toEqual(moving('MOV E 40KT'));
  });

  it('that names only where it is expected later may be anywhere in its region until then', () => {
    const later = 'FCST AT 1500Z WI N44 W074 - N44 W070 - N46 W070';
    const { areas } = onlyReport(sigmet('SEV ICE', '', '').replace('STNR NC', `FL080/140 NC ${later}`));
    expect(areas[0]).toMatchObject({ kind: 'unknown', box: { westDeg: -180, eastDeg: -25 } });
  });

  it.each([
    ['FL120', [11000, 13000]],
    ['TOP FL120', [Number.NaN, 12000]],
    ['TOP ABV FL120', [Number.NaN, Number.NaN]],
    ['SFC/FL120', [Number.NaN, 12000]],
    ['ABV FL120', [12000, Number.NaN]],
  ])('%s', (levels, expectedFt) => {
    const { lower, upper } = onlyReport(sigmet('SEV ICE', undefined, levels)).ice[0]!;
    const feet = (level: typeof lower, sign: number) =>
      level.kind === 'pressure-altitude'
        ? Math.round(ftFromM(level.altitudeM + sign * level.marginM))
        : Number.NaN;
    expect([feet(lower, -1), feet(upper, 1)]).toEqual(expectedFt);
  });

  it('a cancellation names the warning and its end', () => {
    const { cancels, ice } = onlyReport(
      'CZUL SIGMET 3 VALID 141230/141500 CWUL-\nCZUL MONTREAL FIR CNL SIGMET 2 141100/141500=',
    );
    expect(cancels).toEqual({
      series: onlyReport(sigmet('SEV ICE')).series,
      validToMs: Date.UTC(2026, 0, 14, 15),
    });
    expect(ice).toEqual([]);
  });
});

describe('texts in any mixture', () => {
  const mixture = [metar('FZRA'), taf('TEMPO 1413/1416 FZDZ'), `${UA}/IC MOD RIME=`, sigmet('SEV ICE')].join(
    '\n',
  );

  it('each piece goes to the reader of its kind', () => {
    expect(
      readInvented(mixture)
        .reports.map(({ kind }) => kind)
        .toSorted(),
    ).toEqual(['metar', 'pirep', 'sigmet', 'taf']);
  });

  it('every sentence has fewer than 14 words', () => {
    const outlook =
      'AIRMET ZULU UPDT 2 FOR ICE VALID UNTIL 142100\nOTLK VALID 2100-0300Z\nAREA 1...ICE ME\nBOUNDED BY CCC-AAAA-BBBB-CCC\nMOD ICE BTN FRZLVL AND FL200.';
    const sentences = readInvented(`${mixture}\n${outlook}`).reports.flatMap(({ ice }) =>
      ice.map(({ sentence }) => sentence),
    );
    expect(sentences).toHaveLength(5);
    for (const sentence of sentences) expect(sentence.split(' ').length).toBeLessThan(14);
  });

  it('asks for the place of every station and fix once', () => {
    expect(identifiersIn(mixture, READING)).toEqual(expect.arrayContaining(['BBBB', 'CCC']));
  });

  it('a text without any report is rejected as a whole', () => {
    expect(readInvented('GOOD MORNING').rejected).toMatchObject([
      { line: 1, reason: 'text: found no report, expected METAR, TAF, SIGMET, AIRMET, UA or ARP' },
    ]);
  });

  it('an observation of a time to come has a wrong month or clock', () => {
    expect(readInvented(metar('FZRA').replace('141150Z', '161150Z')).rejected[0]?.reason).toMatch(
      /expected an observation that has been made/,
    );
  });

  it('a pilot report without a time is taken to be of now', () => {
    expect(onlyReport('BBBB UA /OV CCC/FL080/TP ZZZZ/IC SEV CLR=').ice[0]!.fromMs).toBe(NOW_MS);
  });
});
