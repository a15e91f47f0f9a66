/**
 * Worked examples of United States manuals, value by value. Where they were seen: AIM figure 7-1-19 at
 * faraim.org/faa/aim/aim-502.html; AFMAN 15-111 (12 March 2019), table of remarks, pages 101 to 127 of a copy at
 * weather.rtaf.mi.th; FMH-1 (FCM-H1-1995) chapter 12, pages 61 and 64 of a copy at yumpu.com; NWS training guide in
 * surface weather observations, page 126 of a copy there.
 */
import { describe } from 'vitest';
import { testPublished } from '../../support/published-values.ts';
import { CONVERTED, compareLayers, compareWind, WHOLE, weatherText } from './published-conditions.ts';
import { metar, remarksOf, taf } from './read-one.ts';

const M_PER_MILE = 1609.344;
const MM_PER_IN = 25.4;

describe('FAA Aeronautical Information Manual, key to TAF and METAR', () => {
  const source = 'FAA AIM, figure 7-1-19';
  const NEAR = Date.UTC(2026, 0, 9, 20);

  testPublished('METAR KPIT', { source, tag: 'L', values: 19 }, (published) => {
    const report = metar(
      'METAR KPIT 091955Z COR 22015G25KT 3/4SM R28L/2600FT TSRA OVC010CB 18/16 A2992 RMK SLP045 T01820159=',
      NEAR,
    );
    published.same(report.station, 'KPIT', 'station');
    published.close(report.timeMs, Date.UTC(2026, 0, 9, 19, 55), WHOLE);
    published.same(report.isCorrection, true, 'COR');
    compareWind(published, report, [220, 15, 25]);
    published.close(report.visibility!.visibilityM!, 0.75 * M_PER_MILE, CONVERTED);
    published.same(report.runwayVisualRanges[0]!.runway, '28L', 'runway');
    published.close(report.runwayVisualRanges[0]!.visualRangeM!, 2600 * 0.3048, CONVERTED);
    published.same(weatherText(report), 'TSRA', 'weather');
    compareLayers(published, report, [['OVC', 1000, 'CB']]);
    published.close(report.temperatureC!, 18, WHOLE);
    published.close(report.altimeterInHg!, 29.92, WHOLE);
    published.close(report.remarks!.seaLevelPressureHPa!, 1004.5, WHOLE);
    published.close(report.remarks!.temperatureC!, 18.2, WHOLE);
    published.close(report.remarks!.dewPointC!, 15.9, WHOLE);
  });

  testPublished('TAF KPIT', { source, tag: 'L', values: 25 }, (published) => {
    const report = taf(
      'TAF KPIT 091730Z 0918/1024 15005KT 5SM HZ FEW020 WS010/31022KT FM091930 30015G25KT 3SM SHRA OVC015 TEMPO 0920/0922 1/2SM +TSRA OVC008CB FM100100 27008KT 5SM SHRA BKN020 OVC040 PROB30 1004/1007 1SM -RA BR FM101015 18005KT 6SM -SHRA OVC020 BECMG 1013/1015 P6SM NSW SKC=',
      NEAR,
    );
    published.close(report.validFromMs!, Date.UTC(2026, 0, 9, 18), WHOLE);
    // "valid from 18Z on the 9th to 24Z on the 10th"
    published.close(report.validUntilMs!, Date.UTC(2026, 0, 11, 0), WHOLE);
    compareWind(published, report.base, [150, 5]);
    published.close(report.base.visibility!.visibilityM!, 5 * M_PER_MILE, CONVERTED);
    published.close(report.base.windShear!.heightAglFt, 1000, WHOLE);
    published.close(report.base.windShear!.directionDeg, 310, WHOLE);
    published.close(report.base.windShear!.speedKt, 22, WHOLE);
    const rows = [
      ['FM', 9, 19, 30],
      ['TEMPO', 9, 20, 0],
      ['FM', 10, 1, 0],
      ['PROB', 10, 4, 0],
      ['FM', 10, 10, 15],
      ['BECMG', 10, 13, 0],
    ] as const;
    rows.forEach(([change, day, hour, minute], index) => {
      published.same(report.changes[index]!.change, change, `change ${index}`);
      published.close(report.changes[index]!.fromMs, Date.UTC(2026, 0, day, hour, minute), WHOLE);
    });
    published.close(report.changes[3]!.probabilityPct!, 30, WHOLE);
    published.same(report.changes[5]!.visibility!.bound, 'above', 'above 6 miles: Plus 6SM');
    published.same(report.changes[5]!.isWeatherEnding, true, 'no significant weather');
    published.same(report.changes[5]!.sky!.clear, 'SKC', 'sky clear');
    published.same(
      report.changes.flatMap(({ unread }) => unread).length + report.unread.length,
      0,
      'not read',
    );
  });
});

describe('remarks of United States stations', () => {
  testPublished(
    'AFMAN 15-111, table of remarks',
    { source: 'AFMAN 15-111 (2019), table of remarks', tag: 'L', values: 20 },
    (published) => {
      const peak = remarksOf('PK WND 28045/15').peakWinds[0]!;
      published.close(peak.directionDeg!, 280, WHOLE);
      published.close(peak.speedKt!, 45, WHOLE);
      published.close(new Date(peak.timeMs).getUTCMinutes(), 15, WHOLE);
      const storm = metar('KZZZ 150255Z 00000KT RMK TSB0159E30=').remarks!.weatherEvents;
      published.close(storm[0]!.timeMs, Date.UTC(2026, 0, 15, 1, 59), WHOLE);
      published.close(storm[1]!.timeMs, Date.UTC(2026, 0, 15, 2, 30), WHOLE);
      published.close(metar('KZZZ 150255Z AUTO RMK SLP982=').remarks!.seaLevelPressureHPa!, 998.2, WHOLE);
      const { snowIncrease } = remarksOf('SNINCR 2/10');
      published.close(snowIncrease!.lastHourM, (2 * MM_PER_IN) / 1000, CONVERTED);
      published.close(snowIncrease!.depthM, (10 * MM_PER_IN) / 1000, CONVERTED);
      published.close(remarksOf('4/021').snowDepthM!, (21 * MM_PER_IN) / 1000, CONVERTED);
      published.close(remarksOf('T00261015').temperatureC!, 2.6, WHOLE);
      published.close(remarksOf('T00261015').dewPointC!, -1.5, WHOLE);
      published.close(remarksOf('11021').maximumTemperature6hC!, -2.1, WHOLE);
      published.close(remarksOf('10142').maximumTemperature6hC!, 14.2, WHOLE);
      published.close(remarksOf('21001').minimumTemperature6hC!, -0.1, WHOLE);
      published.close(remarksOf('20012').minimumTemperature6hC!, 1.2, WHOLE);
      published.close(remarksOf('401001015').maximumTemperature24hC!, 10, WHOLE);
      published.close(remarksOf('401001015').minimumTemperature24hC!, -1.5, WHOLE);
      published.close(remarksOf('401120084').maximumTemperature24hC!, 11.2, WHOLE);
      published.close(remarksOf('401120084').minimumTemperature24hC!, 8.4, WHOLE);
      published.close(remarksOf('52032').pressureTendency!.changeHPa, 3.2, WHOLE);
    },
  );

  testPublished(
    'FMH-1, visibility and ceiling',
    { source: 'FMH-1 (1995), chapter 12', tag: 'L', values: 7 },
    (published) => {
      const lowest = (words: string) => remarksOf(words).visibilities[0]!.lowestM / M_PER_MILE;
      published.close(lowest('TWR VIS 1 1/2'), 1.5, CONVERTED);
      published.close(lowest('VIS 1/2V2'), 0.5, CONVERTED);
      published.close(remarksOf('VIS 1/2V2').visibilities[0]!.highestM / M_PER_MILE, 2, CONVERTED);
      published.close(lowest('VIS NE 2 1/2'), 2.5, CONVERTED);
      published.same(remarksOf('VIS NE 2 1/2').visibilities[0]!.where, 'NE', 'octant');
      published.close(remarksOf('CIG 002 RWY11').ceilings[0]!.lowestAglFt, 200, WHOLE);
      published.same(remarksOf('CIG 002 RWY11').ceilings[0]!.where, 'RWY11', 'place');
    },
  );

  testPublished(
    'FMH-1, present weather and amounts',
    { source: 'FMH-1, chapter 12', tag: 'M', values: 11 },
    (published) => {
      const { weatherEvents } = metar('KZZZ 150055Z 00000KT RMK RAB05E30SNB20E55=').remarks!;
      const rows = [
        ['RA', 'began', 5],
        ['RA', 'ended', 30],
        ['SN', 'began', 20],
        ['SN', 'ended', 55],
      ] as const;
      rows.forEach(([text, event, minute], index) => {
        const found = weatherEvents[index]!;
        published.same(`${found.weather.text} ${found.event}`, `${text} ${event}`, `event ${index}`);
        published.close(found.timeMs, Date.UTC(2026, 0, 15, 0, minute), WHOLE);
      });
      published.close(remarksOf('P0009').precipitation1h!.mm!, 0.09 * MM_PER_IN, CONVERTED);
      published.close(remarksOf('60217').precipitationPeriod!.mm!, 2.17 * MM_PER_IN, CONVERTED);
      published.close(remarksOf('933036').snowWaterEquivalentMm!, 3.6 * MM_PER_IN, CONVERTED);
    },
  );

  testPublished(
    'NWS training guide, precipitation of a day',
    { source: 'NWS Training Guide in Surface Weather Observations, 8.2.2.2', tag: 'L', values: 3 },
    (published) => {
      published.close(remarksOf('71045').precipitation24h!.mm!, 10.45 * MM_PER_IN, CONVERTED);
      published.close(remarksOf('70010').precipitation24h!.mm!, 0.1 * MM_PER_IN, CONVERTED);
      published.same(remarksOf('7////').precipitation24h!.mm, null, 'cannot be determined');
    },
  );
});
