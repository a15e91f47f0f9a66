import { describe, expect, test } from 'vitest';
import { readWarnings } from '../../../worker/formats/warnings/read-warnings.ts';
import type { Warning } from '../../../worker/formats/warnings/warning.ts';
import { SIGMET_ICE, ZULU } from './us-bulletins.ts';
import { CONTEXT, icao, readOne, statedIn } from './warning-context.ts';

const us = (words: string) =>
  readOne(SIGMET_ICE.replace('OCNL SEV ICE BTN 040 AND FL220. DUE TO FZRA.', words));
const icaoOf = (phenomenon: string) =>
  readOne(
    `ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ZZZZ EXAMPLE FIR ${phenomenon} FCST N OF N50 FL030/090 STNR NC=`,
  );
const unreadIn = ({ unread }: Warning) => unread.map(({ text }) => text).join(' ');

describe('a SIGMET of the United States', () => {
  test.each([
    ['OCNL SEV RIME/MXD ICGICIP BTN 030 AND 090 DUE TO FZRA.', ['rime', 'mixed'], 'freezing-rain'],
    ['OCNL SEV RIME/MXD ICGICIP BTN 030 AND 090 DUE TO FZRA/FZDZ.', ['rime', 'mixed'], 'freezing-rain'],
    ['SEV MIXED/CLEAR ICGIC BTN 030 AND 090 DUE TO FZDZ.', ['mixed', 'clear'], 'freezing-drizzle'],
    ['SEV CLR ICGIP BTN 030 AND 090 DUE TO SLD.', ['clear'], 'large-drops'],
    ['SEV ICE BTN 030 AND 090 IN FREEZING RAIN.', [], 'freezing-rain'],
  ])('%s is severe icing with its kinds and its cause', (words, ice, cause) => {
    const warning = us(words);
    expect(warning).toMatchObject({
      phenomenon: { kind: 'icing', intensity: 'severe', ice, cause },
      levels: { kind: 'layer', lower: { altitudeFt: 3000 }, upper: { altitudeFt: 9000 } },
      unread: [],
    });
  });

  test('freezing rain inside a word of several, or beside other phenomena, is told all the same', () => {
    expect(us('SEV TURB BTN 030 AND 090. PCPN/FZRA/BR.')).toMatchObject({
      phenomenon: { kind: 'other' },
      freezingPrecipitation: ['freezing-rain'],
    });
    expect(us('SEV ICE BTN 030 AND 090. -FZRAPL.').phenomenon).toMatchObject({ cause: 'freezing-rain' });
    expect(us('SEV ICE BTN 030 AND 090. FZRANO.').freezingPrecipitation).toEqual([]);
  });
});

describe('an AIRMET of the United States', () => {
  const paragraph = (words: string) =>
    [...readWarnings(ZULU.replace('MOD ICE BTN 020 AND 100.', words), CONTEXT)][0] as Warning;

  test('RIME/MXD ICGICIP is icing, moderate', () => {
    expect(paragraph('OCNL MOD RIME/MXD ICGICIP BTN 020 AND 100.')).toMatchObject({
      phenomenon: { kind: 'icing', intensity: 'moderate', ice: ['rime', 'mixed'], cause: 'unstated' },
      unread: [],
    });
  });

  test('a paragraph headed ICE is icing, whatever its words are', () => {
    const warning = paragraph('MOD RIM ICE BTN 020 AND 100.');
    expect(warning.phenomenon).toMatchObject({ kind: 'icing', intensity: 'unstated' });
    expect(unreadIn(warning)).toBe('MOD RIM ICE');
  });

  test('ceilings and visibilities are above the ground: no levels; freezing rain beside them is told', () => {
    const text = ZULU.replace('AIRMET ICE...ME', 'AIRMET IFR...ME').replace(
      'MOD ICE BTN 020 AND 100.',
      'CIG BLW 010/VIS BLW 3SM FZRA/PCPN/BR.',
    );
    const [warning] = [...readWarnings(text, CONTEXT)] as Warning[];
    expect(warning).toMatchObject({
      phenomenon: { kind: 'other', text: 'IFR' },
      levels: undefined,
      freezingPrecipitation: ['freezing-rain'],
    });
    expect(unreadIn(warning!)).toContain('CIG BLW 010');
  });
});

describe('a SIGMET of the ICAO form', () => {
  test.each([
    ['FZRA', 'unstated', 'freezing-rain', ''],
    ['FZDZ', 'unstated', 'freezing-drizzle', ''],
    ['ICE', 'unstated', 'unstated', 'ICE'],
    ['HVY ICE', 'unstated', 'unstated', 'HVY ICE'],
    ['MOD TO SEV ICE', 'severe', 'unstated', ''],
    ['FRZ RAIN SEV ICE', 'severe', 'freezing-rain', ''],
    ['SEV ICE (FZDZ)', 'severe', 'freezing-drizzle', ''],
    ['SEV ICE (FZRA)', 'severe', 'freezing-rain', ''],
    ['MOD TURB AND SEV ICE', 'severe', 'unstated', 'MOD TURB'],
    ['SEV ICE AND MOD TURB', 'severe', 'unstated', 'MOD TURB'],
    ['EMBD TS AND MOD ICE (FZRA)', 'moderate', 'freezing-rain', 'EMBD TS'],
  ])('%s is icing before anything else, with its cause', (words, intensity, cause, others) => {
    const warning = icaoOf(words);
    expect(warning).toMatchObject({
      phenomenon: { kind: 'icing', intensity, cause },
      levels: { kind: 'layer', upper: { altitudeFt: 9000 } },
    });
    expect(unreadIn(warning)).toBe(others);
  });

  test('freezing rain beside another phenomenon is told', () => {
    expect(icaoOf('SEV TURB')).toMatchObject({ phenomenon: { kind: 'other' }, freezingPrecipitation: [] });
    expect(icaoOf('VA CLD RMK FZRA').freezingPrecipitation).toEqual(['freezing-rain']);
  });
});

describe('a SIGMET of Canada', () => {
  const older = (line: string) =>
    readOne(
      `WSCN34 ZZZZ 150555\nSIGMET B1 VALID 150600/151000 ZZZZ-\n${line}. SEV ICG IN FZRA RPRTD SFC/080=`,
    );

  test('WTN is WI', () => {
    const warning = icao('WTN 45NM OF LINE N4630 W07300 - N4700 W07100');
    expect(warning.areas.map(({ statement }) => statedIn(statement))[0]).toBe(
      'line 83.34 km 46.50 -73.00, 47.00 -71.00',
    );
  });

  test('the older form tells where before what, without the indicator of its region', () => {
    const warning = older('WTN 45 NM OF LINE /4630N07300W/25 NE ZZZZ - /4700N07100W/30 NE ZZYY');
    expect(warning).toMatchObject({
      phenomenon: { kind: 'icing', intensity: 'severe', cause: 'freezing-rain' },
      levels: { kind: 'layer', lower: { kind: 'surface' }, upper: { altitudeFt: 8000 } },
      areas: [{ geometry: { kind: 'line' } }],
    });
    expect(warning.validFromMs).toBe(Date.UTC(2026, 0, 15, 6));
  });

  test.each([
    'WTN 45 NM OF LINE /4630N07300W/25 NE OF THE TOWN - /4700N07100W/30 NE ZZYY',
    'WTN 45 NM OF LINE N4630 W07300 - N4660 W07200 - N4700 W07100',
    'WTN 45 NM OF LINE N4630 W07300 - N4640 W07200 - GREAT LAKE',
    'WI N4630 W07300 - N4640 W07200 - N4650 W07100 - GREAT LAKE',
  ])('%s has a point that is not read: icing is told, the geometry is unknown', (line) => {
    const { phenomenon, areas } = older(line);
    expect(phenomenon).toMatchObject({ kind: 'icing', intensity: 'severe' });
    expect(areas[0]).toMatchObject({
      geometry: { kind: 'unknown', reason: expect.stringMatching(/^area: found/) },
    });
  });
});

test('a level behind a stray hyphen is no fix', () => {
  expect(icao('WI 30NM OF N4630 W07300 - SFC/FL080')).toMatchObject({
    areas: [{ geometry: { kind: 'circle' } }],
    levels: { kind: 'layer', lower: { kind: 'surface' }, upper: { altitudeFt: 8000 } },
  });
});

test('a cancellation of Canada is no warning', () => {
  const text =
    'SIGMET B2 VALID 150800/151200 ZZZZ-\nCNCL SIGMET B1 VALID 150600/151000. SEV ICG HAS DIMINISHED';
  expect(readOne(text)).toMatchObject({
    action: { kind: 'cancel', identification: 'B1', validToMs: Date.UTC(2026, 0, 15, 10) },
    phenomenon: { kind: 'not-stated' },
  });
});

describe('the group of the validity', () => {
  const head = (group: string) => `ZZZZ SIGMET 1 VALID ${group} ZZZZ- ZZZZ EXAMPLE FIR SEV ICE FCST N OF N50`;

  test('with a Z behind its figures is read', () => {
    expect(readOne(head('150600Z/151000Z'))).toMatchObject({
      validFromMs: Date.UTC(2026, 0, 15, 6),
      validToMs: Date.UTC(2026, 0, 15, 10),
      unread: [],
    });
  });

  test.each(['15/0600 15/1000', '15/0600-15/1000', '15/06 TO 15/10'])(
    '%s is named in the reason; the icing is told',
    (group) => {
      expect(readOne(head(group))).toMatchObject({
        phenomenon: { kind: 'icing' },
        validFromMs: undefined,
        unread: [{ element: 'validity', text: group, reason: expect.stringContaining(`found ${group}`) }],
      });
    },
  );

  test('of no form is named in the refusal', () => {
    const [item] = [...readWarnings(head('06-10Z'), CONTEXT)];
    expect(item).toMatchObject({
      kind: 'refused',
      reason: 'validity: found "06-10Z", expected two groups of day, hour and minute, as 141300/141700',
    });
  });
});
