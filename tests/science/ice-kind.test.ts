import { expect, it } from 'vitest';
import { ICE_KIND } from '../../worker/science/columns.ts';
import { iceKindOf } from '../../worker/science/ice-kind.ts';

it.each([
  [1, ICE_KIND.rime],
  [0.9, ICE_KIND.rime],
  [0.89, ICE_KIND.mixed],
  [0.31, ICE_KIND.mixed],
  [0.3, ICE_KIND.clear],
  [0, ICE_KIND.clear],
])('a freezing fraction of %d makes ice of kind %i (limits conventional, from memory)', (freezing, kind) => {
  expect(iceKindOf(freezing)).toBe(kind);
});
