/**
 * Worked examples of the manuals, value by value.
 *
 * Where they were seen: WMO's decoded examples (METAR and TAF text beside IWXXM) in wmo-im/iwxxm, folder examples of
 * 2.1.1 at 46564fd1 and 29c8ed99 and of 2.1.0 at 5d5f5eab; AIM figure 7-1-19 at faraim.org/faa/aim/aim-502.html; AFMAN
 * 15-111 (12 March 2019) table of remarks, pages 101 to 127 of a copy at weather.rtaf.mi.th; FMH-1 (FCM-H1-1995)
 * chapter 12, pages 61 and 64 of a copy at yumpu.com; NWS training guide in surface weather observations, page 126.
 */
import { describe } from 'vitest';
import type { Conditions } from '../../../worker/formats/aerodrome-reports/conditions.ts';
import { type PublishedComparison, testPublished } from '../../support/published-values.ts';
import { metar, remarksOf, taf } from './read-one.ts';

const WHOLE = { abs: 1e-9, why: 'the example prints the whole value' };
const CONVERTED = { abs: 1e-6, why: 'exact factor between the units' };

const KT_PER_MPS = 3600 / 1852;
const M_PER_MILE = 1609.344;
const MM_PER_IN = 25.4;

/** 2012-08-22 and nearby, as the decoded examples date them. */
const NEAR_2012 = Date.UTC(2012, 7, 20);

function wind(
  published: PublishedComparison,
  found: Conditions,
  [directionDeg, speedKt, gustKt]: readonly [number, number, number?],
): void {
  published.close(found.wind!.directionDeg!, directionDeg, WHOLE);
  published.close(found.wind!.speedKt!, speedKt, CONVERTED);
  if (gustKt !== undefined) published.close(found.wind!.gustKt!, gustKt, CONVERTED);
}

function layers(
  published: PublishedComparison,
  found: Conditions,
  rows: readonly (readonly [string, number, ('CB' | null)?])[],
): void {
  published.close(found.sky!.layers.length, rows.length, WHOLE);
  rows.forEach(([amount, baseFt, type = null], index) => {
    const layer = found.sky!.layers[index]!;
    published.same<string | null>(layer.amount, amount, `amount of layer ${index}`);
    published.close(layer.baseAglFt!, baseFt, WHOLE);
    published.same(layer.type as string | null, type, `type of layer ${index}`);
  });
}

const texts = (conditions: Conditions) => conditions.weather.map(({ text }) => text).join(' ');

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
    wind(published, report, [240, 4 * KT_PER_MPS]);
    published.close(report.visibility!.visibilityM!, 600, WHOLE);
    published.same(report.runwayVisualRanges[0]!.runway, '12', 'runway');
    published.close(report.runwayVisualRanges[0]!.visualRangeM!, 1000, WHOLE);
    published.same(report.runwayVisualRanges[0]!.tendency, 'up', 'tendency');
    published.same(texts(report), 'DZ FG', 'weather');
    layers(published, report, [
      ['SCT', 1000],
      ['OVC', 2000],
    ]);
    const [first, second] = report.trends;
    published.close(first!.untilMs!, Date.parse('2012-08-22T17:00:00Z'), WHOLE);
    published.close(first!.visibility!.visibilityM!, 800, WHOLE);
    published.same(texts(first!), 'FG', 'weather of the first trend');
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
      wind(published, report, [50, 25, 37]);
      published.close(report.visibility!.visibilityM!, 3000, WHOLE);
      published.close(report.visibility!.directions[0]!.visibilityM, 1200, WHOLE);
      published.same(report.visibility!.directions[0]!.direction, 'NE', 'direction of the minimum, 45 deg');
      published.same(texts(report), '+TSRA', 'weather');
      layers(published, report, [['BKN', 500, 'CB']]);
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
      wind(published, report, [30, 15]);
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
      published.same(texts(report), 'SN DRSN BR', 'weather');
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
      published.same(texts(report), 'VCSH', 'weather');
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
    wind(published, report.base, [130, 5 * KT_PER_MPS]);
    published.close(report.base.visibility!.visibilityM!, 9000, WHOLE);
    layers(published, report.base, [['BKN', 2000]]);
    const [becoming, temporary, from] = report.changes;
    published.same(becoming!.change, 'BECMG', 'change');
    published.close(becoming!.fromMs, Date.parse('2012-08-16T06:00:00Z'), WHOLE);
    published.close(becoming!.untilMs, Date.parse('2012-08-16T08:00:00Z'), WHOLE);
    layers(published, becoming!, [
      ['SCT', 1500, 'CB'],
      ['BKN', 2000],
    ]);
    published.same(temporary!.change, 'TEMPO', 'change');
    published.close(temporary!.fromMs, Date.parse('2012-08-16T08:00:00Z'), WHOLE);
    published.close(temporary!.untilMs, Date.parse('2012-08-16T12:00:00Z'), WHOLE);
    wind(published, temporary!, [170, 6 * KT_PER_MPS, 12 * KT_PER_MPS]);
    published.close(temporary!.visibility!.visibilityM!, 1000, WHOLE);
    published.same(texts(temporary!), 'TSRA', 'weather');
    layers(published, temporary!, [
      ['SCT', 1000, 'CB'],
      ['BKN', 2000],
    ]);
    published.same(from!.change, 'FM', 'change');
    published.close(from!.fromMs, Date.parse('2012-08-16T12:30:00Z'), WHOLE);
    // The example ends this part at 2012-08-17T00:00, six hours past its own validity: not compared.
    wind(published, from!, [150, 4 * KT_PER_MPS]);
    published.close(from!.visibility!.visibilityM!, 10_000, WHOLE);
    published.same(from!.visibility!.bound, 'above', 'operator of the visibility');
    layers(published, from!, [['BKN', 2000]]);
  });

  testPublished('TAF A5-2: a cancellation', { source, tag: 'L', values: 2 }, (published) => {
    const report = taf('TAF AMD YUDO 161500Z 1600/1618 CNL=', NEAR_2012);
    published.same(report.isCancellation, true, 'cancelled');
    published.same(report.isAmendment, true, 'amended');
  });
});

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
    wind(published, report, [220, 15, 25]);
    published.close(report.visibility!.visibilityM!, 0.75 * M_PER_MILE, CONVERTED);
    published.same(report.runwayVisualRanges[0]!.runway, '28L', 'runway');
    published.close(report.runwayVisualRanges[0]!.visualRangeM!, 2600 * 0.3048, CONVERTED);
    published.same(texts(report), 'TSRA', 'weather');
    layers(published, report, [['OVC', 1000, 'CB']]);
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
    wind(published, report.base, [150, 5]);
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
