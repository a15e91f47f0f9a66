/** A plain Mercator picture of a small area, for the plan view without a map library. */

export interface Frame {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Pixels of a position whose longitude is an offset from the frame's middle. */
  readonly pxOfOffset: (offsetDeg: number, latDeg: number) => readonly [number, number];
  /** Pixels of a position; its longitude is taken the short way round from the frame's middle. */
  readonly pxOf: (lonDeg: number, latDeg: number) => readonly [number, number];
  /** Bounds with the margin, longitudes counted from the middle: [west, south, east, north]. */
  readonly bounds: readonly [number, number, number, number];
  readonly middleLonDeg: number;
}

const DEG_PER_RAD = 180 / Math.PI;

function northing(latDeg: number): number {
  return Math.asinh(Math.tan(latDeg / DEG_PER_RAD)) * DEG_PER_RAD;
}

function latitudeOf(northingDeg: number): number {
  return Math.atan(Math.sinh(northingDeg / DEG_PER_RAD)) * DEG_PER_RAD;
}

/** Longitude as an offset from another, in [-180, 180). */
export function lonOffsetDeg(lonDeg: number, fromLonDeg: number): number {
  return ((((lonDeg - fromLonDeg + 180) % 360) + 360) % 360) - 180;
}

/** Fits positions into a picture of the given size, with a margin around them. */
export function frameOf(
  positions: readonly (readonly [number, number])[],
  size: { readonly widthPx: number; readonly heightPx: number; readonly marginPx: number },
): Frame {
  const middleLonDeg = positions[Math.floor(positions.length / 2)]?.[0] ?? 0;
  const xs = positions.map(([lonDeg]) => lonOffsetDeg(lonDeg, middleLonDeg));
  const ys = positions.map(([, latDeg]) => northing(latDeg));
  const [west, east] = [Math.min(...xs), Math.max(...xs)];
  const [south, north] = [Math.min(...ys), Math.max(...ys)];
  const { widthPx, heightPx, marginPx } = size;
  const pxPerDeg = Math.min(
    (widthPx - 2 * marginPx) / Math.max(east - west, 0.2),
    (heightPx - 2 * marginPx) / Math.max(north - south, 0.2),
  );
  const [midX, midY] = [(west + east) / 2, (south + north) / 2];
  const [halfX, halfY] = [widthPx / 2 / pxPerDeg, heightPx / 2 / pxPerDeg];
  const pxOfOffset = (offsetDeg: number, latDeg: number) =>
    [
      widthPx / 2 + (offsetDeg - midX) * pxPerDeg,
      heightPx / 2 - (northing(latDeg) - midY) * pxPerDeg,
    ] as const;
  return {
    widthPx,
    heightPx,
    middleLonDeg,
    pxOfOffset,
    pxOf: (lonDeg, latDeg) => pxOfOffset(lonOffsetDeg(lonDeg, middleLonDeg), latDeg),
    bounds: [midX - halfX, latitudeOf(midY - halfY), midX + halfX, latitudeOf(midY + halfY)],
  };
}

type Run = readonly (readonly [number, number])[];

/**
 * A ring or line as offsets from the frame's middle without jumps at the far side of the world, once for every turn
 * around the world that reaches into the frame.
 */
export function runsInFrame({ bounds, middleLonDeg }: Frame, run: Run): Run[] {
  const [west, south, east, north] = bounds;
  let offsetDeg = lonOffsetDeg(run[0]?.[0] ?? 0, middleLonDeg);
  const unwrapped = run.map(([lonDeg, latDeg], index) => {
    if (index > 0) offsetDeg += lonOffsetDeg(lonDeg, run[index - 1]![0]);
    return [offsetDeg, latDeg] as const;
  });
  const box = boxOf(unwrapped);
  if (box.south > north || box.north < south) return [];
  return [-360, 0, 360]
    .filter((turnDeg) => box.west + turnDeg <= east && box.east + turnDeg >= west)
    .map((turnDeg) => unwrapped.map(([lonDeg, latDeg]) => [lonDeg + turnDeg, latDeg] as const));
}

function boxOf(run: Run): { west: number; east: number; south: number; north: number } {
  const box = { west: Infinity, east: -Infinity, south: Infinity, north: -Infinity };
  for (const [lonDeg, latDeg] of run) {
    box.west = Math.min(box.west, lonDeg);
    box.east = Math.max(box.east, lonDeg);
    box.south = Math.min(box.south, latDeg);
    box.north = Math.max(box.north, latDeg);
  }
  return box;
}
