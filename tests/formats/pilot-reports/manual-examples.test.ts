/** Examples of the manuals and of the project's references, each with the decode printed beside it there. */
import { describe, expect, test } from 'vitest';
import { isNullIcing } from '../../../worker/formats/pilot-reports/report.ts';
import { kFromC, ktFromMps, nmFromM } from '../../../worker/science/units.ts';
import { testPublished } from '../../support/published-values.ts';
import { CONTEXT, readOne } from './report-context.ts';

const on15th = (hour: number, minute: number) => Date.UTC(2026, 0, 15, hour, minute);
const evening = { ...CONTEXT, referenceMs: on15th(23, 0) };

describe('examples of the project reference on reports, section 1', () => {
  test('light rime in a layer of its own, 25 NM out on the 120 radial', () => {
    const report = readOne(
      'ABC UA /OV ABC120025/TM 1412/FL090/TP ZZZZ/SK OVC045-TOP110/TA M07/WV 28035KT/IC LGT RIME 060-090',
    );
    expect(report).toMatchObject({
      urgency: 'routine',
      timeMs: on15th(14, 12),
      level: { kind: 'altitude', altitudeFt: 9000 },
      location: { points: [{ kind: 'radial', identifier: 'ABC', radialDeg: 120 }] },
      sky: {
        layers: [
          {
            thickest: 'overcast',
            base: { lowerFt: 4500, upperFt: 4500 },
            top: { lowerFt: 11_000, upperFt: 11_000 },
          },
        ],
      },
      icing: {
        layers: [
          {
            lightest: 'light',
            heaviest: 'light',
            what: 'rime',
            band: { kind: 'layer', lowerFt: 6000, upperFt: 9000, isStated: true },
          },
        ],
      },
      unread: [],
    });
    expect(report.temperatureK).toBeCloseTo(kFromC(-7), 9);
    expect(report.wind).toMatchObject({ directionDeg: 280, north: 'magnetic' });
    expect(ktFromMps(report.wind!.speedMps)).toBeCloseTo(35, 9);
  });

  test('urgent severe clear ice without a layer is at the altitude of the report; remarks stay text', () => {
    const report = readOne(
      'KXYZ UUA /OV KXYZ/TM 0203/FL070/TP ZZZZ/WX FV02SM FZRA/TA M02/IC SEV CLR/RM ICE AFT OF PANELS',
    );
    expect(report).toMatchObject({
      urgency: 'urgent',
      weather: { phenomena: ['FZRA'] },
      icing: {
        layers: [
          {
            heaviest: 'severe',
            what: 'clear',
            band: { kind: 'layer', lowerFt: 7000, upperFt: 7000, isStated: false },
          },
        ],
      },
      remarks: 'ICE AFT OF PANELS',
      unread: [],
    });
    expect(report.weather.visibilityM).toBeCloseTo(2 * 1609.344, 6);
  });

  test('a range of intensity in a layer printed top first; altitude unknown, in descent', () => {
    const report = readOne(
      'QQQ UA /OV QQQ270010-QQQ270040/TM 1800/FLDURD/TP UNKN/SK BKN-OVC030-TOPUNKN/IC TRACE-LGT MX 100-070/RM DURD',
      evening,
    );
    expect(report).toMatchObject({
      timeMs: on15th(18, 0),
      level: { kind: 'unknown' },
      phase: 'descent',
      aircraftType: undefined,
      sky: {
        layers: [
          {
            thinnest: 'broken',
            thickest: 'overcast',
            base: { lowerFt: 3000, upperFt: 3000 },
            top: undefined,
          },
        ],
      },
      icing: {
        layers: [
          {
            lightest: 'trace',
            heaviest: 'light',
            what: 'mixed',
            band: { kind: 'layer', lowerFt: 7000, upperFt: 10_000, isStated: true },
          },
        ],
      },
      unread: [],
    });
  });

  test('NEG is a null report at the altitude of the report', () => {
    const report = readOne('DEF UA /OV DEF/TM 2215/FL120/TP ZZZZ/TA M15/IC NEG', evening);
    expect(isNullIcing(report)).toBe(true);
    expect(report.icing).toMatchObject({
      layers: [{ heaviest: 'none', band: { lowerFt: 12_000, upperFt: 12_000, isStated: false } }],
    });
  });

  test('moderate rime with a top and no base; turbulence none', () => {
    const report = readOne('GHI UA /OV GHI/TM 0030/FLUNKN/TP ZZZZ/SK OVC-TOP085/IC MOD RIME BLO 085/TB NEG');
    expect(report).toMatchObject({
      sky: { layers: [{ base: undefined, top: { lowerFt: 8500, upperFt: 8500 } }] },
      icing: { layers: [{ heaviest: 'moderate', what: 'rime', band: { kind: 'below', upperFt: 8500 } }] },
      turbulence: { layers: [{ heaviest: 'none', band: { kind: 'unknown' } }] },
      unread: [],
    });
  });

  test('a report without /IC is not a null icing report', () => {
    const report = readOne('JKL UA /OV JKL/TM 0031/FL080/TP ZZZZ/TB LGT');
    expect(report.icing).toEqual({ kind: 'not-reported' });
    expect(isNullIcing(report)).toBe(false);
    expect(report.turbulence).toMatchObject({ layers: [{ heaviest: 'light' }] });
  });

  test('a special air-report of severe ice', () => {
    const report = readOne('ARS TST123 5230N02015W 1532 FL140 SEV ICE', evening);
    expect(report).toMatchObject({
      form: 'airep',
      urgency: 'urgent',
      aircraft: 'TST123',
      timeMs: on15th(15, 32),
      level: { kind: 'altitude', altitudeFt: 14_000 },
      place: { kind: 'point', points: [{ latDeg: 52.5, lonDeg: -20.25 }] },
      icing: {
        layers: [{ heaviest: 'severe', band: { lowerFt: 14_000, upperFt: 14_000, isStated: false } }],
      },
      unread: [],
    });
  });
});

testPublished(
  'the first example below table 7-1-7 reads as its note says',
  { source: 'AIM 7-1 (6/17/21), example 1; type designator replaced by ZZZZ', tag: 'L', values: 11 },
  (published) => {
    const report = readOne(
      'KCMH UA /OV APE 230010/TM 1516/FL085/TP ZZZZ/SK BKN065/WX FV03SM HZ FU/TA 20/TB LGT',
      evening,
    );
    const point = report.location.kind === 'points' ? report.location.points[0]! : undefined;
    if (point?.kind !== 'radial' || report.sky.kind !== 'reported') throw new Error('no radial, or no sky');
    const why = 'whole figures of the note';
    published.close(nmFromM(point.distanceM), 10, { abs: 1e-9, why });
    published.close(point.radialDeg, 230, { abs: 0, why });
    published.close(report.timeMs!, on15th(15, 16), { abs: 0, why });
    published.same(report.level.kind === 'altitude' ? report.level.altitudeFt : undefined, 8500, 'altitude');
    published.same(report.sky.layers[0]!.thickest, 'broken', 'amount');
    published.same(report.sky.layers[0]!.base?.lowerFt, 6500, 'base');
    published.close(report.weather.visibilityM! / 1609.344, 3, { abs: 1e-9, why });
    published.same(report.weather.phenomena.join(' '), 'HZ FU', 'haze and smoke');
    published.close(report.temperatureK! - 273.15, 20, { abs: 1e-9, why });
    published.same(
      report.turbulence.kind === 'reported' && report.turbulence.layers[0]!.heaviest,
      'light',
      'turbulence',
    );
    published.same(report.unread.length, 0, 'words unread');
  },
);

testPublished(
  'the second example below table 7-1-7 reads once its type is spelled UA, as its note says',
  {
    source: 'AIM 7-1 (6/17/21), example 2; UV is a misprint for UA; type designator replaced',
    tag: 'L',
    values: 12,
  },
  (published) => {
    const report = readOne(
      'KCRW UA /OV KBKW 360015-KCRW/TM 1815/FL120//TP ZZZZ/SK IMC/WX RA/TA M08 /WV 290030/TB LGT-MDT/IC LGT RIME/RM MDT MXD ICG DURC KROA NWBND FL080-100 1750Z',
      evening,
    );
    const points = report.location.kind === 'points' ? report.location.points : [];
    const [first, second] = points;
    if (first?.kind !== 'radial' || second?.kind !== 'fix') throw new Error('no leg');
    if (report.icing.kind !== 'reported' || report.turbulence.kind !== 'reported')
      throw new Error('no layers');
    const why = 'whole figures of the note';
    published.close(nmFromM(first.distanceM), 15, { abs: 1e-9, why });
    published.same(second.identifier, 'KCRW', 'to');
    published.close(report.timeMs!, on15th(18, 15), { abs: 0, why });
    published.same(
      report.level.kind === 'altitude' ? report.level.altitudeFt : undefined,
      12_000,
      'altitude',
    );
    published.same(report.isInCloud, true, 'in clouds');
    published.same(report.weather.phenomena.join(' '), 'RA', 'rain');
    published.close(report.temperatureK! - 273.15, -8, { abs: 1e-9, why });
    published.close(report.wind!.directionDeg, 290, { abs: 0, why });
    published.close(ktFromMps(report.wind!.speedMps), 30, { abs: 1e-9, why });
    published.same(report.turbulence.layers[0]!.lightest, 'light', 'light to');
    published.same(report.turbulence.layers[0]!.heaviest, 'moderate', 'moderate turbulence');
    published.same(
      `${report.icing.layers[0]!.heaviest} ${report.icing.layers[0]!.what}`,
      'light rime',
      'icing',
    );
  },
);

/** Elements of the form's key and of the decoder sheet, as they stand there. */
testPublished(
  'locations, sky and icing of the form read as its key says',
  { source: 'FAA Form 7110-2 (1-85), key on its back, and decoder sheet of the form', tag: 'L', values: 14 },
  (published) => {
    const points = (text: string) => {
      const { location } = readOne(`ABC UA /OV ${text}/TM 0915`);
      if (location.kind !== 'points') return location.kind;
      return location.points
        .map((point) =>
          point.kind === 'radial'
            ? `${point.identifier} ${point.radialDeg} ${Math.round(nmFromM(point.distanceM))}`
            : 'identifier' in point && point.identifier,
        )
        .join(', ');
    };
    published.same(points('ABC'), 'ABC', 'fix');
    published.same(points('ABC 090025'), 'ABC 90 25', 'fix with radial');
    published.same(points('ABC-DEF'), 'ABC, DEF', 'fix to fix');
    published.same(points('ABC-DEF 120020'), 'ABC, DEF 120 20', 'fix to radial');
    published.same(points('ABC 045020-DEF 120005'), 'ABC 45 20, DEF 120 5', 'radial to radial');
    published.same(points('ABC-DEF-GHI'), 'ABC, DEF, GHI', 'three fixes');
    published.same(points('KABC090025'), 'KABC 90 25', 'four letters');
    const sky = (text: string) => {
      const element = readOne(`ABC UA /OV ABC/SK ${text}/TM 0915`).sky;
      if (element.kind !== 'reported') return element.kind;
      return element.layers
        .map(({ thinnest, thickest, base, top }) =>
          [thinnest, thickest, base?.lowerFt ?? '?', top?.lowerFt ?? '?'].join(' '),
        )
        .join(', ');
    };
    published.same(sky('SCT040-TOP080'), 'scattered scattered 4000 8000', 'one layer');
    published.same(sky('BKNUNKN-TOP075'), 'broken broken ? 7500', 'base unknown');
    published.same(sky('BKN-OVC050-TOPUNKN'), 'broken overcast 5000 ?', 'top unknown');
    published.same(sky('038 OVC 045'), 'overcast overcast 3800 4500', 'older order');
    published.same(
      sky('055 SCT 073/085 BKN 105'),
      'scattered scattered 5500 7300, broken broken 8500 10500',
      'older order, two layers',
    );
    const icing = (text: string) => {
      const element = readOne(`ABC UA /OV ABC/TM 0915/IC ${text}`).icing;
      if (element.kind !== 'reported') return element.kind;
      const [{ lightest, heaviest, what, band }] = element.layers as [(typeof element.layers)[0]];
      return [
        lightest,
        heaviest,
        what,
        band.kind === 'layer' ? `${band.lowerFt}-${band.upperFt}` : band.kind,
      ].join(' ');
    };
    published.same(icing('LGT-MDT RIME'), 'light moderate rime unknown', 'a range');
    published.same(icing('SVR CLR 028-045'), 'severe severe clear 2800-4500', 'altitudes');
  },
);

testPublished(
  'sky cover of the order reads as it says',
  { source: 'FAA Order JO 7110.10, examples of /SK, seen in a copy on a training page', tag: 'L', values: 5 },
  (published) => {
    const layers = (text: string) => {
      const { sky } = readOne(`ABC UA /OV ABC/SK ${text}/TM 0915`);
      return sky.kind === 'reported' ? sky.layers.map((layer) => layer.thickest).join(' ') : sky.kind;
    };
    published.same(layers('OVC015-TOP035/OVC230'), 'overcast overcast', 'two decks');
    published.same(layers('TOP090'), 'unstated', 'a top alone');
    published.same(layers('OVC100-TOP110/ SKC'), 'overcast clear', 'clear above');
    published.same(layers('BKN-OVCUNKN-TOP060/BKN120-TOP150/ SKC'), 'overcast broken clear', 'three');
    published.same(layers('SCT-BKN050-TOP100'), 'broken', 'a range of amounts');
  },
);
