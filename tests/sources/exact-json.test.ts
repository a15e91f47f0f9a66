/** JSON that loses nothing of what the stores answer. */
import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { fromExactJson, type Json, toExactJson } from '../../worker/sources/exact-json.ts';

const through = (value: unknown) => fromExactJson(JSON.parse(JSON.stringify(toExactJson(value))) as Json);

const bytes = fc.uint8Array({ maxLength: 40 }).map((each) => new Uint8Array(each).buffer);
const floats = fc.float64Array({ maxLength: 10 }).map((each) => new Float64Array(each));
const leaf = fc.oneof(
  fc.double(),
  fc.constantFrom(Number.NaN, -0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, undefined, null, true),
  fc.string({ unit: 'binary' }),
  bytes,
  floats,
);
const name = fc.oneof(fc.string(), fc.constantFrom('$', 'value', '__proto__', '0', 'constructor'));
const anyValue = fc.letrec((tie) => ({
  value: fc.oneof(
    { depthSize: 'small' },
    leaf,
    fc.array(tie('value'), { maxLength: 4 }),
    fc.array(fc.tuple(name, tie('value')), { maxLength: 4 }).map(Object.fromEntries),
  ),
})).value;

it('whatever is plain data or bytes comes back as it was', () => {
  fc.assert(
    fc.property(anyValue, (value) => {
      // Members may be called constructor, which vitest takes for the class.
      expect(isDeepStrictEqual(through(value), value)).toBe(true);
    }),
    { numRuns: 2000 },
  );
});

it('more bytes than one call takes arguments come back too', () => {
  const many = Uint8Array.from({ length: 300_001 }, (_, index) => (index * 7919) % 256).buffer;
  expect(through(many)).toStrictEqual(many);
});

it('part of a longer buffer is that part', () => {
  expect(through(new Float64Array([1, 2, 3]).subarray(1))).toStrictEqual(new Float64Array([2, 3]));
});

it.each([[new Date(0)], [new Map()], [() => 1], [Symbol('x')], [10n]])(
  'refuses %s rather than keep less of it',
  (value) => {
    expect(() => toExactJson({ value })).toThrow();
  },
);

it.each(['Float32', 'constructor', ''])('refuses a value of kind %j, which it never writes', (kind) => {
  expect(() => fromExactJson({ $: kind, value: 'AAAA' })).toThrow(/expected one of its own/);
});
