/**
 * Operators 2 22 to 2 25, 2 32, 2 35 to 2 37: information about values that stand before it. A bitmap of one flag a value
 * (0 31 031; 0 for "told of") says which; each value of class 33, or each marker 2 XX 255, then belongs to the next of them.
 *
 * @source WMO-No. 306, volume I.2, Table C and regulation 94.5.5.3.
 */

const QUALITY = 22;
const SUBSTITUTED = 23;
const FIRST_ORDER = 24;
const DIFFERENCE = 25;
const REPLACED = 32;
const CANCEL_BACKWARD = 35;
const DEFINE = 36;
const REUSE = 37;
const OPENERS: readonly number[] = [QUALITY, SUBSTITUTED, FIRST_ORDER, DIFFERENCE, REPLACED];

/** Throws the error that fits where reading stands. */
export type Fail = (found: string, expected: string) => never;

export class BackwardReference {
  /** Values before the first operator: the last of them is what a bitmap's last flag speaks of. */
  #boundary: number | undefined;
  #operator = 0;
  #flags: number[] = [];
  /** Indexes of the values told of; undefined while flags may still come. */
  #targets: readonly number[] | undefined;
  #next = 0;
  #isKept = false;
  #kept: readonly number[] | undefined;
  #coversAll = false;
  readonly #fail: Fail;

  /** @param fail  Called for a bitmap or information that contradicts the data; the methods throw what it throws. */
  constructor(fail: Fail) {
    this.#fail = fail;
  }

  /** True between an opener and its last flag. */
  get isCollecting(): boolean {
    return this.#operator !== 0 && this.#targets === undefined;
  }

  /** True where a value of class 33 tells the quality of an earlier value. */
  get tellsQuality(): boolean {
    return this.#operator === QUALITY;
  }

  /** True once a bitmap had a flag for every value before it: a count that contradicts it would have shown. */
  get coversAll(): boolean {
    return this.#coversAll;
  }

  /** @returns whether the operator is one of these. */
  apply(x: number, y: number, valueCount: number): boolean {
    if (OPENERS.includes(x) && y === 0) this.#open(x, valueCount);
    else if (x === CANCEL_BACKWARD && y === 0) {
      this.finish();
      this.#boundary = undefined;
    } else if (x === DEFINE && y === 0) this.#isKept = true;
    else if (x === REUSE && y === 0) this.#reuse();
    else if (x === REUSE && y === 255) this.#kept = undefined;
    else return false;
    return true;
  }

  flag(flag: number): void {
    this.#flags.push(flag);
  }

  /** Index of the value that the next piece of information belongs to. */
  nextTarget(): number {
    const targets = this.#closed();
    const target = targets[this.#next];
    if (target === undefined) return this.#fail('one more', `${targets.length} values of information`);
    this.#next += 1;
    return target;
  }

  /** Marker 2 XX 255: only after its own operator. */
  isMarker(x: number, y: number): boolean {
    return y === 255 && x !== QUALITY && x === this.#operator;
  }

  /** To be called at the end: information that stops short tells of a wrong count. */
  finish(): void {
    if (this.#operator !== 0) {
      const { length } = this.#closed();
      if (this.#next !== 0 && this.#next !== length) {
        this.#fail(`${this.#next} values of information`, `${length}`);
      }
    }
    this.#operator = 0;
  }

  #open(x: number, valueCount: number): void {
    this.finish();
    this.#boundary ??= valueCount;
    this.#operator = x;
    this.#flags = [];
    this.#targets = undefined;
    this.#next = 0;
    this.#isKept = false;
  }

  #reuse(): void {
    this.#targets = this.#kept ?? this.#fail('2 37 000', 'a bitmap defined before by 2 36 000');
  }

  /** The last flag belongs to the value just before the first operator, the others to those before it. */
  #closed(): readonly number[] {
    if (this.#targets !== undefined) return this.#targets;
    const first = (this.#boundary ?? 0) - this.#flags.length;
    if (first < 0) this.#fail(`${this.#flags.length} flags`, `at most ${this.#boundary ?? 0}`);
    this.#coversAll ||= first === 0 && this.#flags.length > 0;
    this.#targets = this.#flags.flatMap((flag, at) => (flag === 0 ? [first + at] : []));
    if (this.#isKept) this.#kept = this.#targets;
    return this.#targets;
  }
}
