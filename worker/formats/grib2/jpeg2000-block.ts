/**
 * The coefficients of a code block out of its coding passes.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), annex D, without the variations of table A.19.
 */
import { joinBytes } from '../join-bytes.ts';
import { ArithmeticDecoder } from './arithmetic-decoder.ts';
import { CONTEXT, freshContexts, NEIGHBOR, signContext, significanceContexts } from './jpeg2000-contexts.ts';
import type { CodeBlock, Orientation, Subband } from './jpeg2000-subbands.ts';

const STRIPE = 4;
/** What is known of a coefficient: its neighbourhood in the low bits, and marks above them. */
const NEAR = 0x7f;
const SIGNIFICANT = 0x80;
const VISITED = 0x100;
const REFINED = 0x200;

const ZERO_CONTEXTS: Readonly<Record<Orientation, Uint8Array>> = {
  LL: significanceContexts('LL'),
  HL: significanceContexts('HL'),
  LH: significanceContexts('LH'),
  HH: significanceContexts('HH'),
};
/** By the sums of signs beside (-2 to 2) and upright (-2 to 2): five times the one and the other, plus 12. */
const SIGNS = Array.from({ length: 25 }, (_, n) =>
  signContext(Math.sign(Math.floor(n / 5) - 2), Math.sign((n % 5) - 2)),
);
const SIGN_CONTEXTS = Uint8Array.from(SIGNS, ({ context }) => context);
const SIGN_FLIPS = Uint8Array.from(SIGNS, ({ flip }) => flip);

/**
 * Writes the coefficients of a block where all subbands lie side by side, in halves: the bit planes that have not come count
 * as half of what they could be.
 */
export function decodeBlock(block: CodeBlock, band: Subband, into: Int32Array, stride: number): void {
  const passes = new BlockPasses(block, band);
  passes.run();
  for (let y = 0; y < block.height; y += 1) {
    const to = (block.y + y) * stride + block.x;
    for (let x = 0; x < block.width; x += 1) into[to + x] = passes.coefficient(x, y);
  }
}

class BlockPasses {
  readonly #width: number;
  readonly #height: number;
  /** From row to row of the arrays, which have a margin of one all around. */
  readonly #stride: number;
  readonly #size: Int32Array;
  /** 1, -1, and 0 for what is not significant. */
  readonly #sign: Int8Array;
  readonly #known: Uint16Array;
  readonly #zeroContexts: Uint8Array;
  readonly #contexts = freshContexts();
  readonly #decoder: ArithmeticDecoder;
  readonly #passes: number;
  /** A one of the plane in hand, in halves. */
  #one: number;

  constructor(block: CodeBlock, { orientation, planes }: Subband) {
    this.#width = block.width;
    this.#height = block.height;
    this.#stride = block.width + 2;
    const area = this.#stride * (block.height + 2);
    this.#size = new Int32Array(area);
    this.#sign = new Int8Array(area);
    this.#known = new Uint16Array(area);
    this.#zeroContexts = ZERO_CONTEXTS[orientation];
    this.#decoder = new ArithmeticDecoder(joinBytes(block.segments));
    this.#passes = block.passes;
    this.#one = 1 << (planes - block.zeroPlanes);
  }

  /** The first plane has a cleanup only. */
  run(): void {
    for (let pass = 2; pass < this.#passes + 2; pass += 1) {
      const kind = pass % 3;
      if (kind === 0) this.#eachStripe(this.#propagate);
      else if (kind === 1) this.#eachStripe(this.#refine);
      else {
        this.#eachStripe(this.#cleanUp);
        this.#one >>= 1;
      }
    }
  }

  coefficient(x: number, y: number): number {
    const at = (y + 1) * this.#stride + x + 1;
    return this.#sign[at]! * this.#size[at]!;
  }

  /** Stripes of four rows, each gone through column after column. */
  #eachStripe(pass: (start: number, rows: number) => void): void {
    for (let y = 0; y < this.#height; y += STRIPE) {
      pass((y + 1) * this.#stride + 1, Math.min(STRIPE, this.#height - y));
    }
  }

  readonly #propagate = (start: number, rows: number): void => {
    const known = this.#known;
    const stride = this.#stride;
    const end = start + this.#width;
    for (let top = start; top < end; top += 1) {
      for (let at = top; at < top + rows * stride; at += stride) {
        const marks = known[at]!;
        if ((marks & SIGNIFICANT) !== 0 || (marks & NEAR) === 0) continue;
        if (this.#isSignificant(marks)) this.#begin(at);
        known[at]! |= VISITED;
      }
    }
  };

  readonly #refine = (start: number, rows: number): void => {
    const known = this.#known;
    const size = this.#size;
    const contexts = this.#contexts;
    const decoder = this.#decoder;
    const stride = this.#stride;
    const half = this.#one >> 1;
    const end = start + this.#width;
    for (let top = start; top < end; top += 1) {
      for (let at = top; at < top + rows * stride; at += stride) {
        const marks = known[at]!;
        if ((marks & (SIGNIFICANT | VISITED)) !== SIGNIFICANT) continue;
        const again = (marks & NEAR) === 0 ? 0 : 1;
        const context = CONTEXT.refinement + ((marks & REFINED) !== 0 ? 2 : again);
        size[at]! += (2 * decoder.decode(contexts, context) - 1) * half;
        known[at] = marks | REFINED;
      }
    }
  };

  readonly #cleanUp = (start: number, rows: number): void => {
    const known = this.#known;
    const stride = this.#stride;
    const end = start + this.#width;
    for (let top = start; top < end; top += 1) {
      const first = rows === STRIPE && this.#isQuiet(top) ? this.#skipQuiet(top) : top;
      for (let at = first; at < top + rows * stride; at += stride) {
        const marks = known[at]!;
        if ((marks & (SIGNIFICANT | VISITED)) !== 0) known[at] = marks & ~VISITED;
        else if (this.#isSignificant(marks)) this.#begin(at);
      }
    }
  };

  /** Nothing significant in the column or around it, and so nothing visited. */
  #isQuiet(top: number): boolean {
    const known = this.#known;
    const stride = this.#stride;
    const low = top + 2 * stride;
    return (known[top]! | known[top + stride]! | known[low]! | known[low + stride]!) === 0;
  }

  /** Returns where a quiet column is still to be cleaned up: behind the first that became significant, or its end. */
  #skipQuiet(top: number): number {
    if (this.#decoder.decode(this.#contexts, CONTEXT.run) === 0) return top + STRIPE * this.#stride;
    const high = this.#decoder.decode(this.#contexts, CONTEXT.uniform);
    const low = this.#decoder.decode(this.#contexts, CONTEXT.uniform);
    const at = top + this.#stride * (2 * high + low);
    this.#begin(at);
    return at + this.#stride;
  }

  #isSignificant(marks: number): boolean {
    return this.#decoder.decode(this.#contexts, this.#zeroContexts[marks & NEAR]!) === 1;
  }

  /** A coefficient becomes significant: its sign follows, and its neighbours hear of it. */
  #begin(at: number): void {
    const sign = this.#sign;
    const known = this.#known;
    const stride = this.#stride;
    const beside = sign[at - 1]! + sign[at + 1]!;
    const upright = sign[at - stride]! + sign[at + stride]!;
    const around = 5 * beside + upright + 12;
    const bit = this.#decoder.decode(this.#contexts, SIGN_CONTEXTS[around]!);
    sign[at] = 1 - 2 * (bit ^ SIGN_FLIPS[around]!);
    this.#size[at] = this.#one + (this.#one >> 1);
    known[at]! |= SIGNIFICANT;
    known[at - 1]! += NEIGHBOR.beside;
    known[at + 1]! += NEIGHBOR.beside;
    known[at - stride]! += NEIGHBOR.upright;
    known[at + stride]! += NEIGHBOR.upright;
    known[at - stride - 1]! += NEIGHBOR.corner;
    known[at - stride + 1]! += NEIGHBOR.corner;
    known[at + stride - 1]! += NEIGHBOR.corner;
    known[at + stride + 1]! += NEIGHBOR.corner;
  }
}
