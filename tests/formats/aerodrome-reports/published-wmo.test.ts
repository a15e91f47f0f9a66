/**
 * WMO's decoded examples, value by value: the text of a report beside its IWXXM form. Seen in wmo-im/iwxxm, folder
 * 2.1.1/examples at 46564fd1 and 29c8ed99 (METAR A3-1, LKKV and EDDF, SPECI A3-2, TAF A5-1), NIL and CNL at 5d5f5eab.
 */
import { describe } from 'vitest';
import { testPublished } from '../../support/published-values.ts';
import { compareLayers, compareWind, WHOLE, weatherText } from './published-conditions.ts';
import { metar, taf } from './read-one.ts';

const KT_PER_MPS = 3600 / 1852;

/** 2012-08-22 and nearby, as the decoded examples date them. */
const NEAR_2012 = Date.UTC(2012, 7, 20);

describe('WMO-No. 306 FM 15, FM 16 and FM 51 by the decoded examples of ICAO Annex 3', () => {
  const source = 'WMO IWXXM 2.1.1 examples of ICAO Annex 3 and WMO-No. 306';

  testPublished('METAR A3-1: drizzle and fog', { source, tag: 'L', values: 27 }, (published) => {
    const report = metar(
      'METAR YUDO 221630Z 24004MPS 0600 R12/1000U DZ FG SCT010 OVC020 17/16 Q1018 BECMG TL1700 0800 FG BECMG AT1800 9999 NSW=',
      NEAR_2012,
    );
    published.same(report.station, 'YUDO', 'station');
    published.close(report.timeMs, Date.parse('2012-08-22T16:30:00Z'), WHOLE);
    published.same(report.isAutomatic, false, 'automatedStation');
    published.close(report.temperatureC!, 17, WHOLE);
    published.close(report.dewPointC!, 16, WHOLE);
    published.close(report.altimeterHPa!, 1018, WHOLE);
    compareWind(published, report, [240, 4 * KT_PER_MPS]);
    published.close(report.visibility!.visibilityM!, 600, WHOLE);
    published.same(report.runwayVisualRanges[0]!.runway, '12', 'runway');
    published.close(report.runwayVisualRanges[0]!.visualRangeM!, 1000, WHOLE);
    published.same(report.runwayVisualRanges[0]!.tendency, 'up', 'tendency');
    published.same(weatherText(report), 'DZ FG', 'weather');
    compareLayers(published, report, [
      ['SCT', 1000],
      ['OVC', 2000],
    ]);
    const [first, second] = report.trends;
    published.close(first!.untilMs!, Date.parse('2012-08-22T17:00:00Z'), WHOLE);
    published.close(first!.visibility!.visibilityM!, 800, WHOLE);
    published.same(weatherText(first!), 'FG', 'weather of the first trend');
    published.close(second!.atMs!, Date.parse('2012-08-22T18:00:00Z'), WHOLE);
    published.close(second!.visibility!.visibilityM!, 10_000, WHOLE);
    published.same(second!.visibility!.bound, 'above', 'operator of the visibility');
    published.same(second!.isWeatherEnding, true, 'no significant weather');
  });

  testPublished(
    'SPECI A3-2: a thunderstorm with heavy rain',
    { source, tag: 'L', values: 22 },
    (published) => {
      const report = metar(
        'SPECI YUDO 151115Z 05025G37KT 3000 1200NE+TSRA BKN005CB 25/22 Q1008 TEMPO TL1200 0600 BECMG AT1200 8000 NSW NSC=',
        NEAR_2012,
      );
      published.same(report.kind, 'speci', 'kind');
      published.close(report.timeMs, Date.parse('2012-08-15T11:15:00Z'), WHOLE);
      published.close(report.temperatureC!, 25, WHOLE);
      published.close(report.dewPointC!, 22, WHOLE);
      published.close(report.altimeterHPa!, 1008, WHOLE);
      compareWind(published, report, [50, 25, 37]);
      published.close(report.visibility!.visibilityM!, 3000, WHOLE);
      published.close(report.visibility!.directions[0]!.visibilityM, 1200, WHOLE);
      published.same(report.visibility!.directions[0]!.direction, 'NE', 'direction of the minimum, 45 deg');
      published.same(weatherText(report), '+TSRA', 'weather');
      compareLayers(published, report, [['BKN', 500, 'CB']]);
      const [first, second] = report.trends;
      published.same(first!.change, 'TEMPO', 'change');
      published.close(first!.visibility!.visibilityM!, 600, WHOLE);
      published.close(second!.atMs!, Date.parse('2012-08-15T12:00:00Z'), WHOLE);
      published.close(second!.visibility!.visibilityM!, 8000, WHOLE);
      published.same(second!.isWeatherEnding && second!.sky!.clear, 'NSC', 'neither weather nor cloud');
      published.same(report.unread.length, 0, 'groups not read');
    },
  );

  testPublished(
    'METAR EDDF: snow under an obscured sky, runways with snow',
    { source, tag: 'L', values: 29 },
    (published) => {
      const report = metar(
        'METAR EDDF 120550Z 03015KT 1400 R07R/P2000N R07C/P2000N R07L/1900U SN DRSN BR VV/// M04/M04 Q1000 R07R/11//90 R07C/15//90 R07L/15//90 BECMG 4000 NSW=',
        Date.UTC(2013, 2, 12),
      );
      published.close(report.timeMs, Date.parse('2013-03-12T05:50:00Z'), WHOLE);
      published.close(report.temperatureC!, -4, WHOLE);
      published.close(report.dewPointC!, -4, WHOLE);
      published.close(report.altimeterHPa!, 1000, WHOLE);
      compareWind(published, report, [30, 15]);
      published.close(report.visibility!.visibilityM!, 1400, WHOLE);
      const ranges = [
        ['07R', 2000, 'above', 'none'],
        ['07C', 2000, 'above', 'none'],
        ['07L', 1900, 'exact', 'up'],
      ] as const;
      ranges.forEach(([runway, rangeM, bound, tendency], index) => {
        const range = report.runwayVisualRanges[index]!;
        published.close(range.visualRangeM!, rangeM, WHOLE);
        published.same(
          `${range.runway} ${range.bound} ${range.tendency}`,
          `${runway} ${bound} ${tendency}`,
          runway,
        );
      });
      published.same(weatherText(report), 'SN DRSN BR', 'weather');
      published.same(
        report.sky!.isObscured && report.sky!.verticalVisibilityFt,
        null,
        'vertical visibility: not observable',
      );
      [1, 5, 5].forEach((extent, index) => {
        const state = report.runwayStates[index]!;
        published.close(state.depositCode!, 1, WHOLE);
        published.close(state.extentCode!, extent, WHOLE);
        published.same(state.depthMm, null, 'depth');
        // The example gives code 90 of table 0366, which is a coefficient of 0.90.
        published.close(state.frictionCoefficient!, 0.9, WHOLE);
      });
      published.close(report.trends[0]!.visibility!.visibilityM!, 4000, WHOLE);
      published.same(report.trends[0]!.isWeatherEnding, true, 'no significant weather');
    },
  );

  testPublished(
    'METAR LKKV: recent weather, wind shear, a damp runway',
    { source, tag: 'L', values: 10 },
    (published) => {
      const report = metar(
        'METAR LKKV 251200Z 21003MPS 6000 VCSH ////// 27/10 Q1010 RETS WS R18C R11/1/////=',
        Date.UTC(2007, 6, 25),
      );
      published.close(report.temperatureC!, 27, WHOLE);
      published.close(report.dewPointC!, 10, WHOLE);
      published.close(report.altimeterHPa!, 1010, WHOLE);
      // The example's speed, 2.6 m/s, is not that of its text, 3: not compared.
      published.close(report.wind!.directionDeg!, 210, WHOLE);
      published.same(weatherText(report), 'VCSH', 'weather');
      published.same(report.recentWeather[0]!.descriptors.join(), 'TS', 'recent weather');
      published.same(report.windShearRunways.join(), '18C', 'runway with wind shear');
      published.same(report.runwayStates[0]!.runway, '11', 'runway');
      published.close(report.runwayStates[0]!.depositCode!, 1, WHOLE);
      published.same(report.runwayStates[0]!.extentCode, null, 'extent');
    },
  );

  testPublished(
    'METAR and TAF without an observation or forecast',
    { source, tag: 'L', values: 2 },
    (published) => {
      published.same(metar('METAR YUDO 221630Z NIL=', NEAR_2012).isNil, true, 'METAR');
      published.same(taf('TAF YUDO 160000Z NIL=', NEAR_2012).isNil, true, 'TAF');
    },
  );

  testPublished('TAF A5-1: four parts', { source, tag: 'L', values: 46 }, (published) => {
    const report = taf(
      'TAF YUDO 151800Z 1600/1618 13005MPS 9000 BKN020 BECMG 1606/1608 SCT015CB BKN020 TEMPO 1608/1612 17006G12MPS 1000 TSRA SCT010CB BKN020 FM161230 15004MPS 9999 BKN020=',
      NEAR_2012,
    );
    published.same(report.station, 'YUDO', 'station');
    published.close(report.issuedMs!, Date.parse('2012-08-15T18:00:00Z'), WHOLE);
    published.close(report.validFromMs!, Date.parse('2012-08-16T00:00:00Z'), WHOLE);
    published.close(report.validUntilMs!, Date.parse('2012-08-16T18:00:00Z'), WHOLE);
    compareWind(published, report.base, [130, 5 * KT_PER_MPS]);
    published.close(report.base.visibility!.visibilityM!, 9000, WHOLE);
    compareLayers(published, report.base, [['BKN', 2000]]);
    const [becoming, temporary, from] = report.changes;
    published.same(becoming!.change, 'BECMG', 'change');
    published.close(becoming!.fromMs, Date.parse('2012-08-16T06:00:00Z'), WHOLE);
    published.close(becoming!.untilMs, Date.parse('2012-08-16T08:00:00Z'), WHOLE);
    compareLayers(published, becoming!, [
      ['SCT', 1500, 'CB'],
      ['BKN', 2000],
    ]);
    published.same(temporary!.change, 'TEMPO', 'change');
    published.close(temporary!.fromMs, Date.parse('2012-08-16T08:00:00Z'), WHOLE);
    published.close(temporary!.untilMs, Date.parse('2012-08-16T12:00:00Z'), WHOLE);
    compareWind(published, temporary!, [170, 6 * KT_PER_MPS, 12 * KT_PER_MPS]);
    published.close(temporary!.visibility!.visibilityM!, 1000, WHOLE);
    published.same(weatherText(temporary!), 'TSRA', 'weather');
    compareLayers(published, temporary!, [
      ['SCT', 1000, 'CB'],
      ['BKN', 2000],
    ]);
    published.same(from!.change, 'FM', 'change');
    published.close(from!.fromMs, Date.parse('2012-08-16T12:30:00Z'), WHOLE);
    // The example ends this part at 2012-08-17T00:00, six hours past its own validity: not compared.
    compareWind(published, from!, [150, 4 * KT_PER_MPS]);
    published.close(from!.visibility!.visibilityM!, 10_000, WHOLE);
    published.same(from!.visibility!.bound, 'above', 'operator of the visibility');
    compareLayers(published, from!, [['BKN', 2000]]);
  });

  testPublished('TAF A5-2: a cancellation', { source, tag: 'L', values: 2 }, (published) => {
    const report = taf('TAF AMD YUDO 161500Z 1600/1618 CNL=', NEAR_2012);
    published.same(report.isCancellation, true, 'cancelled');
    published.same(report.isAmendment, true, 'amended');
  });
});
