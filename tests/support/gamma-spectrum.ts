/** Gamma spectra of cloud drops by numerical integration alone: no moments in closed form, no formula for the median. */

/** N(D) = N0 D^shape exp(-slope D), in the scaled diameter x = slope D. */
export interface GammaSpectrum {
  readonly slopePerM: number;
  /** Splits the water in halves, m. */
  readonly medianVolumeDiameterM: number;
  /** Mean over the water of a quantity that depends on diameter, m. */
  readonly meanOverWater: (quantity: (diameterM: number) => number) => number;
}

const END = 50;
const SLICES = 2000;
const WIDTH = END / SLICES;

/** Simpson's rule from 0 to END; the tail beyond is under 1e-12 of the whole for shapes to 6. */
function integrate(integrand: (x: number) => number): number {
  let sum = integrand(0) + integrand(END);
  for (let index = 1; index < SLICES; index += 1) {
    sum += (index % 2 === 1 ? 4 : 2) * integrand(index * WIDTH);
  }
  return (sum * WIDTH) / 3;
}

/** Where the running integral reaches half of the whole: slice by slice, then by halving the slice. */
function median(density: (x: number) => number, whole: number): number {
  let below = 0;
  let from = 0;
  const pair = (start: number, end: number) =>
    ((end - start) / 6) * (density(start) + 4 * density((start + end) / 2) + density(end));
  while (below + pair(from, from + WIDTH) < whole / 2) {
    below += pair(from, from + WIDTH);
    from += WIDTH;
  }
  let low = from;
  let high = from + WIDTH;
  for (let halving = 0; halving < 40; halving += 1) {
    const middle = (low + high) / 2;
    if (below + pair(from, middle) < whole / 2) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** @returns the spectrum that holds that water in that number of drops. */
export function integrateSpectrum(water: {
  readonly kgPerM3: number;
  readonly dropsPerM3: number;
  readonly shape: number;
}): GammaSpectrum {
  const number = (x: number) => x ** water.shape * Math.exp(-x);
  const mass = (x: number) => x ** (water.shape + 3) * Math.exp(-x);
  const allMass = integrate(mass);
  const cubeOfX = allMass / integrate(number);
  const massPerDropKg = water.kgPerM3 / water.dropsPerM3;
  const slopePerM = ((Math.PI / 6) * 1000 * (cubeOfX / massPerDropKg)) ** (1 / 3);
  return {
    slopePerM,
    medianVolumeDiameterM: median(mass, allMass) / slopePerM,
    meanOverWater: (quantity) => integrate((x) => mass(x) * quantity(x / slopePerM)) / allMass,
  };
}
