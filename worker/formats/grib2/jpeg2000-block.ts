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
const VISITED = 1;
const REFINED = 2;

const ZERO_CONTEXTS: Readonly<Record<Orientation, Uint8Array>> = {
  LL: significanceContexts('LL'),
  HL: significanceContexts('HL'),
  LH: significanceContexts('LH'),
  HH: significanceContexts('HH'),
};
/** Of signs beside (-1 to 1) and upright (-1 to 1), three times the one and the other, plus 4. */
const SIGNS = Array.from({ length: 9 }, (_, n) => signContext(Math.floor(n / 3) - 1, (n % 3) - 1));

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
  readonly #near: Uint8Array;
  readonly #marks: Uint8Array;
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
    this.#near = new Uint8Array(area);
    this.#marks = new Uint8Array(area);
    this.#zeroContexts = ZERO_CONTEXTS[orientation];
    this.#decoder = new ArithmeticDecoder(joinBytes(block.segments));
    this.#passes = block.passes;
    this.#one = 2 ** (planes - block.zeroPlanes);
  }

  /** The first plane has a cleanup only. */
  run(): void {
    for (let pass = 2; pass < this.#passes + 2; pass += 1) {
      const kind = pass % 3;
      if (kind === 0) this.#eachColumn(this.#propagate);
      else if (kind === 1) this.#eachColumn(this.#refine);
      else {
        this.#eachColumn(this.#cleanUp);
        for (let at = 0; at < this.#marks.length; at += 1) this.#marks[at]! &= ~VISITED;
        this.#one /= 2;
      }
    }
  }

  coefficient(x: number, y: number): number {
    const at = (y + 1) * this.#stride + x + 1;
    return this.#sign[at]! * this.#size[at]!;
  }

  /** Stripes of four rows, column after column. */
  #eachColumn(pass: (at: number, rows: number) => void): void {
    for (let y = 0; y < this.#height; y += STRIPE) {
      const rows = Math.min(STRIPE, this.#height - y);
      const start = (y + 1) * this.#stride + 1;
      for (let at = start; at < start + this.#width; at += 1) pass(at, rows);
    }
  }

  readonly #propagate = (top: number, rows: number): void => {
    const end = top + rows * this.#stride;
    for (let at = top; at < end; at += this.#stride) {
      if (this.#sign[at] !== 0 || this.#near[at] === 0) continue;
      if (this.#isSignificant(at)) this.#begin(at);
      this.#marks[at]! |= VISITED;
    }
  };

  readonly #refine = (top: number, rows: number): void => {
    const end = top + rows * this.#stride;
    const half = this.#one / 2;
    for (let at = top; at < end; at += this.#stride) {
      const marks = this.#marks[at]!;
      if (this.#sign[at] === 0 || (marks & VISITED) !== 0) continue;
      const again = this.#near[at] === 0 ? 0 : 1;
      const context = CONTEXT.refinement + ((marks & REFINED) !== 0 ? 2 : again);
      this.#size[at]! += this.#decoder.decode(this.#contexts, context) === 1 ? half : -half;
      this.#marks[at] = marks | REFINED;
    }
  };

  readonly #cleanUp = (top: number, rows: number): void => {
    const end = top + rows * this.#stride;
    let at = top;
    if (rows === STRIPE && this.#isQuiet(top)) {
      if (this.#decoder.decode(this.#contexts, CONTEXT.run) === 0) return;
      const high = this.#decoder.decode(this.#contexts, CONTEXT.uniform);
      at += this.#stride * (2 * high + this.#decoder.decode(this.#contexts, CONTEXT.uniform));
      this.#begin(at);
      at += this.#stride;
    }
    for (; at < end; at += this.#stride) {
      const isDone = this.#sign[at] !== 0 || (this.#marks[at]! & VISITED) !== 0;
      if (!isDone && this.#isSignificant(at)) this.#begin(at);
    }
  };

  /** Nothing significant in the column or around it, and so nothing visited. */
  #isQuiet(top: number): boolean {
    const near = this.#near;
    const stride = this.#stride;
    for (let row = 0, at = top; row < STRIPE; row += 1, at += stride) {
      if (near[at] !== 0 || this.#sign[at] !== 0) return false;
    }
    return true;
  }

  #isSignificant(at: number): boolean {
    return this.#decoder.decode(this.#contexts, this.#zeroContexts[this.#near[at]!]!) === 1;
  }

  /** A coefficient becomes significant: its sign follows, and its neighbours hear of it. */
  #begin(at: number): void {
    const sign = this.#sign;
    const near = this.#near;
    const stride = this.#stride;
    const beside = Math.sign(sign[at - 1]! + sign[at + 1]!);
    const upright = Math.sign(sign[at - stride]! + sign[at + stride]!);
    const { context, flip } = SIGNS[3 * beside + upright + 4]!;
    sign[at] = this.#decoder.decode(this.#contexts, context) === flip ? 1 : -1;
    this.#size[at] = 1.5 * this.#one;
    near[at - 1]! += NEIGHBOR.beside;
    near[at + 1]! += NEIGHBOR.beside;
    near[at - stride]! += NEIGHBOR.upright;
    near[at + stride]! += NEIGHBOR.upright;
    near[at - stride - 1]! += NEIGHBOR.corner;
    near[at - stride + 1]! += NEIGHBOR.corner;
    near[at + stride - 1]! += NEIGHBOR.corner;
    near[at + stride + 1]! += NEIGHBOR.corner;
  }
}
