/** Whether treatment is needed and how: argued from common practice before it was coded; where the flight manual decides it says so. */
import { describe, expect, it } from 'vitest';
import { mayFrostForm } from '../../worker/ground/frost.ts';
import { type RampWeather, type StandingAeroplane, treatmentFor } from '../../worker/ground/treatment.ts';

const DRY: RampWeather = {
  temperature: { warmestC: -3, coldestC: -3 },
  dewPointC: -15,
  windKt: 12,
  isSkyClear: false,
  falling: [],
  isRaining: false,
  also: [],
};
const LOOKED: StandingAeroplane = { found: 'nothing', fuel: 'not-colder', fluids: ['I', 'IV'] };
const treat = (weather: Partial<RampWeather> = {}, aeroplane: Partial<StandingAeroplane> = {}) =>
  treatmentFor({ ...DRY, ...weather }, { ...LOOKED, ...aeroplane });

describe('need', () => {
  it('dry cold air and an aeroplane that somebody looked at: nothing was found, and it is still to be looked at', () => {
    expect(treat()).toMatchObject({ need: 'nothing-found', steps: [], conditions: [] });
    expect(treat().reasons.join()).toMatch(/look and feel all the same/);
  });
  it.each([
    ['snow falls', { falling: ['light-snow'] }, {}, 'needed'],
    ['frost is on it', {}, { found: 'frost' }, 'needed'],
    ['snow or ice is on it', {}, { found: 'snow-or-ice' }, 'needed'],
    ['nobody looked', {}, { found: 'not-looked' }, 'may-be-needed'],
    ['frost may form', { dewPointC: -4, isSkyClear: true, windKt: 2 }, {}, 'may-be-needed'],
    [
      'rain on cold fuel',
      { isRaining: true, temperature: { warmestC: 6, coldestC: 5 } },
      { fuel: 'cold-soaked' },
      'may-be-needed',
    ],
    [
      'rain on fuel that nobody measured',
      { isRaining: true, temperature: { warmestC: 6, coldestC: 5 } },
      { fuel: 'not-known' },
      'may-be-needed',
    ],
    [
      'rain on warm fuel',
      { isRaining: true, temperature: { warmestC: 6, coldestC: 5 } },
      {},
      'nothing-found',
    ],
    [
      'fuel that nobody measured, in air that would frost a colder wing',
      { temperature: { warmestC: 5, coldestC: 5 }, dewPointC: 0 },
      { fuel: 'not-known' },
      'may-be-needed',
    ],
    [
      'something near or expected',
      { also: [{ need: 'may-be-needed', reason: 'Recent: FZRA' }] },
      {},
      'may-be-needed',
    ],
    ['what falls is not known', { falling: undefined }, {}, 'unknown'],
    ['the temperature is not known', { temperature: undefined }, {}, 'unknown'],
    ['the dew point is not known in frosty air', { dewPointC: undefined }, {}, 'unknown'],
    ['ice on it, what falls not known', { falling: undefined }, { found: 'snow-or-ice' }, 'needed'],
    ['nobody looked, what falls not known', { falling: undefined }, { found: 'not-looked' }, 'unknown'],
  ] as const)('%s: %s', (_, weather, aeroplane, need) => {
    expect(treat(weather as Partial<RampWeather>, aeroplane as Partial<StandingAeroplane>).need).toBe(need);
  });
  it('never calls anything good, clean or not needed', () => {
    for (const found of ['nothing', 'not-looked', 'frost'] as const)
      expect(JSON.stringify(treat({}, { found }))).not.toMatch(/not needed|no treatment|clean\b|good|safe/i);
  });
});

describe('procedure', () => {
  it('one step with heated Type I where nothing falls any more', () => {
    const { steps } = treat({}, { found: 'frost' });
    expect(steps).toHaveLength(1);
    expect(steps[0]).toMatch(/heated Type I.*one step/);
  });
  it('a second step with what the flight manual lists while it goes on', () => {
    const { steps } = treat({ falling: ['light-snow'] }, { fluids: ['I', 'III'] });
    expect(steps).toHaveLength(2);
    expect(steps[1]).toMatch(/before the first freezes: Type III/);
  });
  it('no second step is left out while something is expected', () => {
    const also = [{ need: 'may-be-needed', reason: 'Expected: FZRA' }] as const;
    expect(treat({ also }, { found: 'frost' }).steps).toHaveLength(2);
  });
  it.each(['freezing-rain', 'heavy-snow', 'ice-pellets'] as const)(
    'in %s there is no fluid, but the hangar or waiting',
    (falls) => {
      expect(treat({ falling: [falls] }).steps).toEqual([
        expect.stringMatching(/^No fluid has a time.*hangar, or wait$/),
      ]);
    },
  );
  it('where nobody looked, looking comes first', () => {
    expect(treat({ falling: ['light-snow'] }, { found: 'not-looked' }).steps[0]).toMatch(/^Look and feel/);
  });
  it('thickened fluids that are not listed are never named', () => {
    const { steps } = treat({ falling: ['light-snow'] }, { fluids: ['I'] });
    expect(steps.join()).not.toMatch(/Type I[IV]/);
    expect(steps[1]).toMatch(/holds for a short time only/);
  });
  it.each([
    [undefined, /flight manual says which/],
    [[], /lists no fluid/],
  ] as const)('of fluids %j', (fluids, words) => {
    expect(treat({ falling: ['light-snow'] }, { fluids }).steps.join()).toMatch(words);
  });
});

describe('frost', () => {
  const air = {
    temperature: { warmestC: 2, coldestC: 2 },
    dewPointC: 0,
    windKt: 0,
    isSkyClear: true,
    isColdSoaked: false,
  };
  it.each([
    ['+2 °C, dew point 0, clear and calm', {}, true],
    ['+2 °C, dew point -8: too dry', { dewPointC: -8 }, false],
    ['+7 °C: the skin stays above freezing', { temperature: { warmestC: 7, coldestC: 7 } }, false],
    ['+3 °C under cloud', { temperature: { warmestC: 3, coldestC: 3 }, isSkyClear: false }, false],
    [
      '+7 °C on cold fuel in moist air',
      { temperature: { warmestC: 7, coldestC: 7 }, isColdSoaked: true },
      true,
    ],
    ['+2 °C, dew point not known', { dewPointC: undefined }, undefined],
    [
      '+9 °C, dew point not known',
      { dewPointC: undefined, temperature: { warmestC: 9, coldestC: 9 } },
      false,
    ],
    ['sky and wind not known count as clear and calm', { isSkyClear: undefined, windKt: undefined }, true],
  ])('%s', (_, change, expected) => {
    expect(mayFrostForm({ ...air, ...change })).toBe(expected);
  });
});
