/** Gathers differences over a grid, so that a test can state the largest and the mean of them. */
export interface DifferenceRecord {
  /** @param where  Printed when the largest difference is too large. */
  add(difference: number, where: string): void;
  readonly count: number;
  /** Most negative and most positive. */
  readonly lowest: number;
  readonly highest: number;
  /** Root of the mean square. */
  readonly rms: number;
  /** Largest absolute difference, with where it was found. */
  readonly largest: number;
  readonly largestAt: string;
}

/** @returns an empty record; a difference that is no number makes `largest` NaN, which no limit admits. */
export function recordDifferences(): DifferenceRecord {
  const differences: number[] = [];
  const places: string[] = [];
  const largest = () => Math.max(...differences.map(Math.abs));
  return {
    add(difference, where) {
      differences.push(difference);
      places.push(where);
    },
    get count() {
      return differences.length;
    },
    get lowest() {
      return Math.min(...differences);
    },
    get highest() {
      return Math.max(...differences);
    },
    get rms() {
      return Math.sqrt(differences.reduce((sum, each) => sum + each * each, 0) / differences.length);
    },
    get largest() {
      return largest();
    },
    get largestAt() {
      return (
        places[differences.findIndex((each) => Math.abs(each) === largest())] ?? 'a value that is no number'
      );
    },
  };
}
