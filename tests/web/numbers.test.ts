import { describe, expect, it } from 'vitest';
import { fluidNeedWords } from '../../web/src/answer/fluid-words.ts';
import type { BriefMember, Candidate, ExposureAnswer } from '../../web/src/contract.ts';
import {
  celsiusText,
  feetText,
  hourMinuteText,
  instantText,
  settingText,
  signedText,
  spreadText,
} from '../../web/src/numbers.ts';
import {
  builtText,
  fluidText,
  fuelText,
  iceMinutesText,
  timeText,
  unknownMinutesText,
} from '../../web/src/table/cells.ts';

const NOT_GIVEN = { fluidOnBoardL: null };

describe('spreadText', () => {
  it('shows 5-minute steps', () => {
    expect(spreadText({ low: 31, middle: 42, high: 48 }, 'hazardMinutes')).toBe('30–50');
  });

  it('never shows a little ice as none', () => {
    expect(spreadText({ low: 0, middle: 0.2, high: 0.4 }, 'hazardMinutes')).toBe('0–5');
  });

  it('says one figure when both ends round to it', () => {
    expect(spreadText({ low: 24, middle: 25, high: 25 }, 'fluidL')).toBe('25');
  });
});

describe('the table’s cells', () => {
  const exposure = (changes: Partial<ExposureAnswer>) => changes as ExposureAnswer;

  it('keeps a quarter of a minute of unknown air in sight', () => {
    expect(unknownMinutesText(exposure({ unknownMinutes: 0.25 }))).toBe('5');
  });

  it('shows no unknown time as 0', () => {
    expect(unknownMinutesText(exposure({ unknownMinutes: 0 }))).toBe('0');
  });

  it('does not round what is carried and suffices past what is carried', () => {
    const fluidL = { low: 35, middle: 50, high: 71.7 };
    const text = (fluidOnBoardL: number) =>
      fluidText(exposure({ fluidL, unknownMinutes: 0, parts: [] }), { fluidOnBoardL });
    expect([71, 71.7, 72, 75, 80].map(text)).toEqual(['35–75', '35–71.7', '35–72', '35–75', '35–75']);
  });

  it('rounds fluid up to 5 L', () => {
    const fluidL = { low: 21, middle: 24, high: 26.1 };
    expect(fluidText(exposure({ fluidL, unknownMinutes: 0, parts: [] }), NOT_GIVEN)).toBe('25–30');
  });

  it('says that unknown air, on the trip or in what is planned for, may ask for more fluid', () => {
    const fluidL = { low: 0, middle: 20, high: 55 };
    const hold = { unknownMinutes: 30 } as ExposureAnswer['parts'][number];
    expect(fluidText(exposure({ fluidL, unknownMinutes: 5, parts: [] }), NOT_GIVEN)).toBe('0–55+');
    expect(fluidText(exposure({ fluidL, unknownMinutes: 0, parts: [hold] }), NOT_GIVEN)).toBe('0–55+');
    const candidate = { exposure: exposure({ fluidL, unknownMinutes: 5, parts: [hold] }) } as Candidate;
    expect(fluidNeedWords({ limits: { fluidOnBoardL: 60 } as BriefMember['limits'] }, candidate)).toBe(
      'at least 0–55 L needed, more not known with 30 min in unknown air, 60 L on board',
    );
  });

  it('says of time and fuel in part without wind that they are about so much', () => {
    const flown = (windUnknownMinutes: number) =>
      exposure({ windUnknownMinutes, timeMinutes: 85, fuelKg: 213 });
    expect([timeText(flown(0)), fuelText(flown(0))]).toEqual(['1:25', '215']);
    expect([timeText(flown(25)), fuelText(flown(25))]).toEqual(['≈1:25', '≈215']);
  });

  it('shows an aeroplane without fluid as such, not as needing 0 L', () => {
    expect(fluidText(exposure({ fluidL: null }), NOT_GIVEN)).toBe('none');
  });

  it('shows ice and growth of unknown air as unknown, and beside those of known air that there may be more', () => {
    const none = { low: 0, middle: 0, high: 0 };
    const amounts = (unknownMinutes: number) => {
      const given = exposure({ timeMinutes: 80, unknownMinutes, icingMinutes: none, builtMm: none });
      return [iceMinutesText(given), builtText(given)];
    };
    expect(amounts(80)).toEqual(['?', '?']);
    expect(amounts(79.95)).toEqual(['?', '?']);
    expect(amounts(30)).toEqual(['0+', '0+']);
    expect(amounts(0)).toEqual(['0', '0']);
  });

  it('shows no ice as 0', () => {
    const none = exposure({ unknownMinutes: 0, icingMinutes: { low: 0, middle: 0, high: 0 } });
    expect(iceMinutesText(none)).toBe('0');
  });
});

it.each([
  [feetText(11000), '11,000'],
  [feetText(-500), '−500'],
  [signedText(-30.4), '−30'],
  [signedText(-0.2), '0'],
  [celsiusText(-12.4), '−12 °C'],
  [celsiusText(-0.4), '0 °C'],
  [hourMinuteText(62.4), '1:02'],
  [hourMinuteText(59.7), '1:00'],
  [instantText('2026-01-14T11:30:00Z'), '14 Jan 11:30 UTC'],
  [settingText(1013.25), '1013 hPa (29.92 inHg)'],
])('writes %s as %s', (written, expected) => {
  expect(written).toBe(expected);
});
