import { describe, expect, test } from 'vitest';
import { isNullIcing } from '../../../worker/formats/pilot-reports/report.ts';
import { readOne } from './report-context.ts';

const report = (elements: string) => readOne(`ABC UA /OV ABC/TM 1400/FL050${elements}`);

describe('icing told outside its element', () => {
  test.each([
    ['/IC NEG/RM ENCTRD SEV CLR ICE 040-060', 'RM', 'ENCTRD SEV CLR ICE 040-060'],
    ['/TB MOD RIME/IC NEG', 'TB', 'MOD RIME'],
    ['/IC NEG/SK OVC030 ICE IN CLDS', 'SK', 'OVC030 ICE IN CLDS'],
    ['/IC NEG/WX FRZA', 'WX', 'FRZA'],
    ['/IC NEG/WX FV02SM -FZDZ BR', 'WX', '-FZDZ'],
    ['/IC NEG/RM IC ON WINGS', 'RM', 'IC ON WINGS'],
    ['/IC NEG/RM DEICE ON', 'RM', 'DEICE ON'],
    ['/IC NEG/RM FREEZING RAIN BLO 030', 'RM', 'FREEZING RAIN BLO 030'],
    ['/IC NEG/RM NEG ICE ABV 070', 'RM', 'NEG ICE ABV 070'],
    ['/IC NEG/RM ANTI-ICE ON', 'RM', 'ANTI-ICE ON'],
  ])('%s: NEG is no null report then, and the text is kept', (elements, element, text) => {
    const read = report(elements);
    expect(read.icing).toMatchObject({ layers: [{ heaviest: 'none' }] });
    expect(read.icingMentions).toEqual([{ element, text }]);
    expect(isNullIcing(read)).toBe(false);
  });

  test.each([
    '/IC NEG/RM SMTH NEG ICE',
    '/IC NEG/RM NO ICING. SMTH',
    '/IC NEG/RM FRZLVL 080',
    '/IC NEG/RM NICE RIDE',
    '/IC NEG/WX IC',
    '/IC NEG/WX FZFG',
    '/IC NEG/RM /IC NEG',
    '/IC NEG/TB NEG',
  ])('%s names none, and is a null report', (elements) => {
    const read = report(elements);
    expect(read.icingMentions).toEqual([]);
    expect(isNullIcing(read)).toBe(true);
  });

  test('without an element of icing a mention makes no layer', () => {
    expect(report('/RM MOD RIME ICE IN CLDS 050-070')).toMatchObject({
      icing: { kind: 'not-reported' },
      icingMentions: [{ element: 'RM', text: 'MOD RIME ICE IN CLDS 050-070' }],
    });
  });

  test('turbulence that was read as icing is no mention beside it', () => {
    expect(report('/TB MOD RIME').icingMentions).toEqual([]);
  });
});
