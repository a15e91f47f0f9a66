/**
 * Groups written from numbers, each with what a reader must find: the way back of the code tables, made without the
 * reader. Arbitraries for fast-check.
 */
import fc from 'fast-check';

/** A group, or some, and the members of a report that they must give. */
export interface Written {
  readonly text: string;
  readonly expected: Readonly<Record<string, unknown>>;
}

const digits = (value: number, width: number) => String(value).padStart(width, '0');
const KT_PER_UNIT = { KT: 1, MPS: 3600 / 1852, KMH: 1 / 1.852 } as const;

export const wind: fc.Arbitrary<Written> = fc
  .record({
    direction: fc.oneof(
      fc.integer({ min: 1, max: 36 }).map((tens) => tens * 10),
      fc.constant('VRB' as const),
    ),
    speed: fc.integer({ min: 1, max: 99 }),
    gust: fc.option(fc.integer({ min: 1, max: 99 }), { nil: undefined }),
    unit: fc.constantFrom('KT', 'MPS', 'KMH'),
    extremes: fc.option(fc.tuple(fc.integer({ min: 1, max: 36 }), fc.integer({ min: 1, max: 36 })), {
      nil: undefined,
    }),
  })
  .map(({ direction, speed, gust, unit, extremes }) => {
    const isVariable = direction === 'VRB';
    const ends = extremes?.map((tens) => digits(tens * 10, 3)).join('V');
    const gustText = gust === undefined ? '' : `G${digits(gust, 2)}`;
    const group = `${isVariable ? direction : digits(direction, 3)}${digits(speed, 2)}${gustText}${unit}`;
    const factor = KT_PER_UNIT[unit];
    return {
      text: ends === undefined ? group : `${group} ${ends}`,
      expected: {
        'wind.directionDeg': isVariable ? null : direction,
        'wind.isVariable': isVariable,
        'wind.speedKt': speed * factor,
        'wind.gustKt': gust === undefined ? null : gust * factor,
        'wind.variableFromDeg': extremes === undefined ? null : extremes[0] * 10,
        'wind.variableToDeg': extremes === undefined ? null : extremes[1] * 10,
      },
    };
  });

const meters = fc.integer({ min: 1, max: 99 }).map((hundreds) => ({
  text: digits(hundreds * 100, 4),
  expected: { 'visibility.visibilityM': hundreds * 100, 'visibility.bound': 'exact' },
}));
const miles = fc
  .record({
    whole: fc.integer({ min: 0, max: 15 }),
    quarters: fc.integer({ min: 0, max: 3 }),
    sign: fc.constantFrom('', 'M', 'P'),
  })
  .filter(({ whole, quarters }) => whole + quarters > 0)
  .map(({ whole, quarters, sign }) => {
    const fraction = ['', '1/4', '1/2', '3/4'][quarters]!;
    const isPlain = whole > 0 && quarters > 0;
    const bounds: Readonly<Record<string, string>> = { M: 'below', P: 'above' };
    return {
      text: isPlain ? `${whole} ${fraction}SM` : `${sign}${fraction || whole}SM`,
      expected: {
        'visibility.visibilityM': (whole + quarters / 4) * 1609.344,
        'visibility.bound': isPlain ? 'exact' : (bounds[sign] ?? 'exact'),
      },
    };
  });
export const visibility: fc.Arbitrary<Written> = fc.oneof(
  meters,
  miles,
  fc.constant({ text: '9999', expected: { 'visibility.visibilityM': 10_000, 'visibility.bound': 'above' } }),
);

/** Descriptors with the phenomena that the table lets follow them. */
const KINDS = [
  ['', 'DZ RA SN SG IC PL GR GS UP BR FG FU HZ SQ FC'],
  ['FZ', 'DZ RA FG UP'],
  ['SH', 'RA SN PL GR GS'],
  ['TS', 'RA SN PL GR GS'],
  ['BL', 'SN'],
  ['DR', 'SN'],
  ['MI', 'FG'],
  ['BC', 'FG'],
] as const;

const oneWeather = fc
  .record({
    kind: fc.constantFrom(...KINDS),
    sign: fc.constantFrom('', '-', '+'),
    picks: fc.array(fc.nat(20), { minLength: 1, maxLength: 3 }),
  })
  .map(({ kind: [descriptor, phenomena], sign, picks }) => {
    const all = phenomena.split(' ');
    const chosen = [...new Set(picks.map((pick) => all[pick % all.length]!))];
    return {
      text: `${sign}${descriptor}${chosen.join('')}`,
      intensity: { '': 'moderate', '-': 'light', '+': 'heavy' }[sign],
      isInVicinity: false,
      descriptors: descriptor === '' ? [] : [descriptor],
      phenomena: chosen,
    };
  });

export const weather: fc.Arbitrary<Written> = fc
  .array(oneWeather, { minLength: 1, maxLength: 3 })
  .map((each) => ({
    text: each.map(({ text }) => text).join(' '),
    expected: { weather: each },
  }));

const layer = fc.record({
  amount: fc.constantFrom('FEW', 'SCT', 'BKN', 'OVC'),
  hundreds: fc.option(fc.integer({ min: 0, max: 400 }), { nil: null }),
  type: fc.constantFrom(null, 'CB', 'TCU'),
});

export const sky: fc.Arbitrary<Written> = fc.oneof(
  fc.array(layer, { minLength: 1, maxLength: 4 }).map((layers) => ({
    text: layers
      .map(
        ({ amount, hundreds, type }) =>
          `${amount}${hundreds === null ? '///' : digits(hundreds, 3)}${type ?? ''}`,
      )
      .join(' '),
    expected: {
      'sky.layers': layers.map(({ amount, hundreds, type }) => ({
        amount,
        baseAglFt: hundreds === null ? null : hundreds * 100,
        type,
      })),
    },
  })),
  fc.integer({ min: 0, max: 20 }).map((hundreds) => ({
    text: `VV${digits(hundreds, 3)}`,
    expected: { 'sky.isObscured': true, 'sky.verticalVisibilityFt': hundreds * 100 },
  })),
  fc
    .constantFrom('SKC', 'CLR', 'NSC', 'NCD')
    .map((word) => ({ text: word, expected: { 'sky.clear': word } })),
);

const degrees = (value: number) => (value < 0 ? `M${digits(-value, 2)}` : digits(value, 2));

export const temperatures: fc.Arbitrary<Written> = fc
  .record({
    temperatureC: fc.integer({ min: -60, max: 45 }),
    depression: fc.option(fc.nat(25), { nil: null }),
  })
  .map(({ temperatureC, depression }) => ({
    text: `${degrees(temperatureC)}/${depression === null ? '' : degrees(temperatureC - depression)}`,
    expected: { temperatureC, dewPointC: depression === null ? null : temperatureC - depression },
  }));

export const altimeter: fc.Arbitrary<Written> = fc.oneof(
  fc
    .integer({ min: 900, max: 1060 })
    .map((hPa) => ({ text: `Q${digits(hPa, 4)}`, expected: { altimeterHPa: hPa } })),
  fc
    .integer({ min: 2700, max: 3140 })
    .map((hundredths) => ({ text: `A${hundredths}`, expected: { altimeterInHg: hundredths / 100 } })),
);

const tenths = (value: number) => `${value < 0 ? 1 : 0}${digits(Math.abs(value), 3)}`;

/** Remarks in any order. */
export const remarks: fc.Arbitrary<Written> = fc
  .record({
    tenthsT: fc.integer({ min: -600, max: 450 }),
    iceHundredths: fc.integer({ min: 0, max: 150 }),
    hours: fc.constantFrom(1, 3, 6),
    snowIn: fc.integer({ min: 1, max: 120 }),
    beganMinute: fc.integer({ min: 0, max: 53 }),
  })
  .chain((values) =>
    fc.shuffledSubarray(writtenRemarks(values), { minLength: 1 }).map((groups) => ({
      text: `RMK AO2 ${groups.map(({ text }) => text).join(' ')}`,
      expected: Object.assign({}, ...groups.map(({ expected }) => expected)) as Record<string, unknown>,
    })),
  );

function writtenRemarks(values: {
  readonly tenthsT: number;
  readonly iceHundredths: number;
  readonly hours: number;
  readonly snowIn: number;
  readonly beganMinute: number;
}): Written[] {
  const { tenthsT, iceHundredths, hours, snowIn, beganMinute } = values;
  return [
    {
      text: `T${tenths(tenthsT)}${tenths(tenthsT - 12)}`,
      expected: { 'remarks.temperatureC': tenthsT / 10, 'remarks.dewPointC': (tenthsT - 12) / 10 },
    },
    {
      text: `I${hours}${digits(iceHundredths, 3)}`,
      expected: {
        'remarks.iceAccretion.0.hours': hours,
        'remarks.iceAccretion.0.mm': iceHundredths * 0.254,
        'remarks.iceAccretion.0.isTrace': iceHundredths === 0,
      },
    },
    { text: `4/${digits(snowIn, 3)}`, expected: { 'remarks.snowDepthM': snowIn * 0.0254 } },
    {
      text: `FZDZB${digits(beganMinute, 2)}`,
      expected: { 'remarks.weatherEvents.0.timeMs': Date.UTC(2026, 0, 15, 14, beganMinute) },
    },
    { text: 'FZRANO', expected: { 'remarks.notObserved.0': 'freezing-rain' } },
  ];
}

/** A sea level pressure, and an altimeter setting within 25 hPa of it or none. */
export const seaLevelPressure: fc.Arbitrary<Written> = fc
  .record({
    tenthsHPa: fc.integer({ min: 9100, max: 10_699 }),
    apartHPa: fc.option(fc.integer({ min: -25, max: 25 }), { nil: undefined }),
  })
  // Without a setting the hundreds go by the middle: 950.0 to 1049.9 hPa.
  .filter(({ tenthsHPa, apartHPa }) => apartHPa !== undefined || (tenthsHPa >= 9500 && tenthsHPa < 10_500))
  .map(({ tenthsHPa, apartHPa }) => {
    const setting = apartHPa === undefined ? 'AUTO' : `Q${digits(Math.round(tenthsHPa / 10) + apartHPa, 4)}`;
    return {
      text: `${setting} RMK SLP${digits(tenthsHPa % 1000, 3)}`,
      expected: { 'remarks.seaLevelPressureHPa': tenthsHPa / 10 },
    };
  });
