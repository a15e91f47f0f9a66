import { describe, expect, it } from 'vitest';
import { fluidKnownWords, tailEnteredWords, tailEntryOf } from '../../web/src/board/tail-words.ts';
import { putTailSchema, type TailState } from '../../worker/schema/board.ts';

const tail: TailState = {
  tail: 'ZZ-AB',
  fluidOnBoardL: 80,
  fluidEnteredUtc: '2026-01-14T11:00:00Z',
  inoperative: ['pitot-heat'],
  note: 'Topped up',
  enteredUtc: '2026-01-14T11:00:00Z',
  by: 'Ada',
};
const draft = { fluid: '', isFluidUnknown: false, inoperative: ['pitot-heat'], note: ' Topped up ' } as const;

describe('what is entered of an aeroplane', () => {
  it('says nothing of the fluid while nobody typed any, so that an old figure does not become new', () => {
    expect(tailEntryOf(draft)).toEqual({ inoperative: ['pitot-heat'], note: 'Topped up' });
    expect(tailEntryOf({ ...draft, fluid: '  ' })).not.toHaveProperty('fluidOnBoardL');
  });

  it('has the fluid that was typed, nought too, and none known where that was said', () => {
    expect(tailEntryOf({ ...draft, fluid: '62,5' })?.fluidOnBoardL).toBe(62.5);
    expect(tailEntryOf({ ...draft, fluid: '0' })?.fluidOnBoardL).toBe(0);
    expect(tailEntryOf({ ...draft, fluid: '62', isFluidUnknown: true })?.fluidOnBoardL).toBeNull();
    expect(tailEntryOf({ ...draft, fluid: 'full' })).toBeUndefined();
  });

  it('is taken by the contract with the fluid left out', () => {
    expect(putTailSchema.safeParse({ ...tailEntryOf(draft), by: 'Ada' }).success).toBe(true);
  });
});

describe('what is known of its fluid', () => {
  it('stands with its day and time, and with who entered it', () => {
    expect(fluidKnownWords(tail)).toBe('80 L on board, entered 14 Jan 11:00 UTC by Ada');
    expect(fluidKnownWords({ ...tail, fluidOnBoardL: null })).toBe(
      'Fluid on board not known, entered 14 Jan 11:00 UTC by Ada',
    );
  });

  it('keeps its own time when other things are entered later, and names nobody for it then', () => {
    const later = { ...tail, enteredUtc: '2026-01-15T04:00:00Z', by: 'Kim' };
    expect(fluidKnownWords(later)).toBe('80 L on board, entered 14 Jan 11:00 UTC');
    expect(tailEnteredWords(later)).toBe('Equipment and note entered 15 Jan 04:00 UTC by Kim: Topped up');
  });

  it('is unknown where none was ever entered', () => {
    expect(fluidKnownWords(undefined)).toContain('unknown');
    expect(fluidKnownWords({ ...tail, fluidOnBoardL: null, fluidEnteredUtc: null })).toContain('unknown');
  });
});
