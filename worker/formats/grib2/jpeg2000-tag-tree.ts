/**
 * Numbers of a grid coded through the smallest of each four, level above level.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), B.10.2.
 */

/** No number is known to be as large. */
const UNKNOWN = 0x7fffffff;

export class TagTree {
  /** Of each node: the least that it can be, and what it is once that is known. */
  readonly #least: Int32Array;
  readonly #value: Int32Array;
  /** Node above each node; -1 for the root. */
  readonly #parent: Int32Array;

  constructor(across: number, down: number) {
    const levels: { across: number; down: number; start: number }[] = [];
    let nodes = 0;
    for (let w = across, h = down; w * h > 0; w = Math.ceil(w / 2), h = Math.ceil(h / 2)) {
      levels.push({ across: w, down: h, start: nodes });
      nodes += w * h;
      if (w * h === 1) break;
    }
    this.#least = new Int32Array(nodes);
    this.#value = new Int32Array(nodes).fill(UNKNOWN);
    this.#parent = new Int32Array(nodes).fill(-1);
    for (const [n, level] of levels.entries()) {
      const above = levels[n + 1];
      if (above === undefined) break;
      for (let node = 0; node < level.across * level.down; node += 1) {
        const row = Math.floor(node / level.across) >> 1;
        const column = (node % level.across) >> 1;
        this.#parent[level.start + node] = above.start + row * above.across + column;
      }
    }
  }

  /**
   * Reads as many bits as it takes to know whether the number of a leaf is below a limit.
   *
   * @returns the number, or undefined when it is not below the limit.
   */
  valueBelow(limit: number, leaf: number, bit: () => number): number | undefined {
    const path: number[] = [];
    for (let node = leaf; node >= 0; node = this.#parent[node]!) path.push(node);
    let least = 0;
    for (let node = path.pop(); node !== undefined; node = path.pop()) {
      least = Math.max(least, this.#least[node]!);
      while (least < limit && least < this.#value[node]!) {
        if (bit() === 1) this.#value[node] = least;
        else least += 1;
      }
      this.#least[node] = least;
    }
    const value = this.#value[leaf]!;
    return value < limit ? value : undefined;
  }
}
