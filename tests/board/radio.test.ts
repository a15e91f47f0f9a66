/** What of a brief is said on the radio. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { MOST_RADIO_WORDS, radioWords } from '../../worker/board/radio.ts';
import { VERDICT_RULES } from '../../worker/flight/verdict-rules.ts';
import type { Brief, BriefMember, VerdictCode } from '../../worker/schema/brief.ts';
import { type DemoBrief, demoBrief, demoBriefs, winterBrief } from '../support/demo-briefs.ts';
import { DECK_AIR, DRY_AIR } from '../support/winter-leg.ts';

let briefs: DemoBrief[];
beforeAll(async () => {
  briefs = [...(await demoBriefs()), await winterBrief({ air: DECK_AIR }), await winterBrief({ air: [] })];
});

const words = (text: string) => text.split(/\s+/).filter(Boolean).length;

describe('radioWords', () => {
  it.each([
    ['over-the-deck', 'File 11,000. Large drops possible. Moderate ice in climb, descent.'],
    ['freezing-rain', 'Outside limits. Freezing rain on the way.'],
    ['not-enough-fluid', 'Outside limits. Fluid short.'],
    ['out-of-data', 'Unknown: no data for part of the way.'],
    ['quiet', 'File 5,000. Accept 5 through 17 thousand. No ice found.'],
  ])('of the demo’s leg %s', (id, said) => {
    expect(radioWords(demoBrief(briefs, id).brief)).toBe(said);
  });

  it('has the range to accept where there is room beside the ice', () => {
    const { brief } = demoBrief(briefs, 'over-the-deck');
    const withRange = (lowerFt: number, upperFt: number, where: string[]) =>
      radioWords(iced(brief, { lowerFt, upperFt }, where));
    expect(withRange(11_000, 13_000, ['climb', 'cruise', 'descent'])).toBe(
      'File 11,000. Accept 11,000 through 13,000. Moderate ice all along.',
    );
    expect(withRange(11_000, 13_000, ['climb'])).toBe(
      'File 11,000. Accept 11,000 through 13,000. Moderate ice in climb.',
    );
    expect(withRange(9500, 13_000, ['descent'])).toBe(
      'File 11,000. Accept 9,500 through 13,000. Moderate ice in descent.',
    );
    expect(withRange(11_000, 13_000, ['climb', 'descent'])).toBe(
      'File 11,000. Moderate ice in climb, descent.',
    );
  });

  it('names no part rather than leave out ice beside large drops and steps', () => {
    const { brief } = demoBrief(briefs, 'over-the-deck');
    const best = brief.brief.alternatives.find(({ rank }) => rank === 1)!;
    const profile = [9000, 11_000].map((altitudeFt, at) => ({ fromNm: at * 60, altitudeFt }));
    const recommended = { ...best, profile };
    expect(radioWords({ ...brief, brief: { ...brief.brief, recommended } })).toBe(
      'File 9,000 then 11,000. Large drops possible. Moderate ice.',
    );
  });

  it.each([
    ['way-out-unknown', 'Unknown. No known way out of the ice.'],
    ['ice-beyond-known-loss', 'Unknown: ice beyond known performance.'],
  ])('says of %s what is not known', (code, said) => {
    const { brief } = demoBrief(briefs, 'quiet');
    expect(radioWords(changed(brief, { code: 'unknown', reasons: [reasonOf(code)] }))).toBe(said);
  });

  it('says the levels of a stepped profile one after the other', () => {
    const { brief } = demoBrief(briefs, 'quiet');
    const best = brief.brief.alternatives.find(({ rank }) => rank === 1)!;
    const profile = [
      { fromNm: 0, altitudeFt: 5000 },
      { fromNm: 60, altitudeFt: 7000 },
    ];
    const recommended = { ...best, altitudeFt: 7000, profile };
    const file = { ...brief.brief.file!, acceptFt: { lowerFt: 5000, upperFt: 5000 } };
    const stepped = { ...brief, brief: { ...brief.brief, file, recommended } };
    expect(radioWords(stepped)).toBe('File 5,000 then 7,000. No ice found.');
  });

  it('says without ice on the path that ice is not excluded, unless none was found', async () => {
    const { brief } = await winterBrief({ air: DRY_AIR });
    expect(radioWords(changed(brief, { code: 'within-limits' }))).toContain('Ice not excluded.');
    expect(radioWords(brief)).toContain('No ice found.');
  });

  it('has words of its own for every rule that is not one to fly with', () => {
    const { brief } = demoBrief(briefs, 'quiet');
    for (const { code, verdict } of VERDICT_RULES) {
      if (verdict === 'within-limits') continue;
      const said = radioWords(changed(brief, { code: verdict, reasons: [reasonOf(code)] }));
      expect(said, code).not.toMatch(/see the brief/i);
      expect(said, code).toMatch(verdict === 'unknown' ? SAYS_UNKNOWN : /^Outside limits\. \S/);
    }
  });
});

const SAYS_UNKNOWN = /^(?:Unknown: \S|Unknown\. No known way out of the ice\.$)/;

/** With no reason but ice in these parts. */
function iced(
  brief: Brief,
  acceptFt: { readonly lowerFt: number; readonly upperFt: number },
  where: readonly string[],
): Brief {
  const best = brief.brief.alternatives.find(({ rank }) => rank === 1)!;
  const parts = best.exposure!.parts.map((part) => ({
    ...part,
    icingMinutes: { low: 0, middle: 0, high: where.includes(part.part) ? 5 : 0 },
  }));
  const alternatives = [{ ...best, exposure: { ...best.exposure!, parts } }];
  const file = { ...brief.brief.file!, acceptFt };
  const verdict = { ...brief.brief.verdict, reasons: [] };
  return { ...brief, brief: { ...brief.brief, file, alternatives, verdict } };
}

const reasonOf = (code: string) => ({ code, sentence: 'Why', numbers: {} });

function changed(brief: Brief, verdict: Partial<BriefMember['verdict']>): Brief {
  return { ...brief, brief: { ...brief.brief, verdict: { ...brief.brief.verdict, ...verdict } } };
}

const codes = fc.constantFrom(
  ...VERDICT_RULES.map(({ code }) => code),
  'no-altitude',
  'under-cold-minimum',
  'other',
);
const feet = fc.integer({ min: 1, max: 50 }).map((step) => step * 500);

/** Any verdict for any reasons over any of the briefs, with other altitudes, parts and words. */
const anyBrief = fc
  .record({
    index: fc.nat(),
    code: fc.constantFrom('no-ice-found', 'within-limits', 'outside-limits', 'unknown'),
    reasons: fc.uniqueArray(codes.map(reasonOf), { maxLength: 6 }),
    levels: fc.array(feet, { minLength: 1, maxLength: 3 }),
    range: fc.tuple(feet, feet),
    high: fc.array(fc.float({ min: 0, max: 60, noNaN: true }), { minLength: 3, maxLength: 3 }),
    worst: fc.constantFrom('none', 'trace', 'light', 'moderate', 'severe', null),
    drops: fc.constantFrom('none', 'freezing-drizzle', 'freezing-rain', 'ice-pellets'),
    isFiled: fc.boolean(),
  })
  .map(({ index, code, reasons, levels, range, high, worst, drops, isFiled }) => {
    const { brief } = briefs[index % briefs.length]!;
    const flown = brief.brief.alternatives.find(({ exposure }) => exposure !== null)!;
    const exposure = {
      ...flown.exposure!,
      worstIntensity: worst as 'none' | null,
      worstLargeDrops: drops as 'none',
      icingMinutes: { low: 0, middle: 0, high: high[0]! + high[1]! + high[2]! },
      parts: flown.exposure!.parts.map((part, at) => ({
        ...part,
        icingMinutes: { low: 0, middle: 0, high: high[at % 3]! },
      })),
    };
    const profile = levels.map((altitudeFt, at) => ({ fromNm: at * 20, altitudeFt }));
    const candidate = { ...flown, altitudeFt: levels[0]!, rank: 1, exposure, profile };
    const file = {
      ...{ altitudeFt: levels[0]!, reason: '', acceptReason: '', refuse: [] },
      acceptFt: { lowerFt: Math.min(...range), upperFt: Math.max(...range) },
    };
    return {
      ...brief,
      brief: {
        ...brief.brief,
        verdict: { code: code as VerdictCode, sentence: '', reasons },
        file: isFiled ? file : null,
        alternatives: [candidate],
        recommended: levels.length > 1 ? candidate : null,
      },
    };
  });

describe('whatever the brief', () => {
  it('is one to ten words, says neither safe nor clear, and begins with a verdict that is not one to fly with', () => {
    fc.assert(
      fc.property(
        fc.constant(0).chain(() => anyBrief),
        (brief) => {
          const said = radioWords(brief);
          expect(words(said)).toBeGreaterThan(0);
          expect(words(said)).toBeLessThanOrEqual(MOST_RADIO_WORDS);
          expect(said).not.toMatch(/safe|clear|undefined|null|NaN| {2}/i);
          const { verdict, file } = brief.brief;
          if (verdict.code === 'outside-limits') expect(said).toMatch(/^Outside limits\./);
          else if (verdict.code === 'unknown' || file === null) expect(said).toMatch(SAYS_UNKNOWN);
          else expect(said).toMatch(/^File \d/);
          if (verdict.code !== 'no-ice-found') expect(said).not.toContain('No ice');
        },
      ),
      { numRuns: 1500 },
    );
  });

  it('never leaves ice on the path unsaid, nor a figure to accept without its unit', () => {
    fc.assert(
      fc.property(
        fc.constant(0).chain(() => anyBrief),
        (brief) => {
          const said = radioWords(brief);
          if (said.includes('Accept')) {
            expect(said).toMatch(
              /Accept (?:\d+ through \d+ thousand|[\d,]{3,} through [\d,]{3,}|[\d,]{3,})\./,
            );
          }
          const levels = (brief.brief.recommended ?? brief.brief.alternatives[0]!).profile.length;
          const hasDrops = brief.brief.verdict.reasons.some(
            ({ code }) => code === 'large-drops-not-excluded',
          );
          // Three levels and large drops leave one word.
          if (!said.startsWith('File') || (levels > 2 && hasDrops)) return;
          expect(said).toMatch(/\bice\b/i);
        },
      ),
      { numRuns: 1000 },
    );
  });

  it('says large drops before all else that it has room for', () => {
    fc.assert(
      fc.property(
        fc.constant(0).chain(() => anyBrief),
        (brief) => {
          const { verdict, file } = brief.brief;
          fc.pre(file !== null && (verdict.code === 'within-limits' || verdict.code === 'no-ice-found'));
          fc.pre(verdict.reasons.some(({ code }) => code === 'large-drops-not-excluded'));
          expect(radioWords(brief)).toContain('Large drops possible.');
        },
      ),
      { numRuns: 300 },
    );
  });
});
