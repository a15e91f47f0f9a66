/** A geometry as the runs of positions that it is made of. */

type AnyGeometry = { readonly type: string; readonly coordinates: unknown };

/** Every run of positions in a geometry: rings of polygons, lines, a point as a run of one. */
export function runsOf(geometry: AnyGeometry): (readonly [number, number])[][] {
  const runs: (readonly [number, number])[][] = [];
  const walk = (value: unknown[]): void => {
    if (typeof value[0] === 'number') runs.push([[value[0], Number(value[1])]]);
    else if (Array.isArray(value[0]) && typeof value[0][0] === 'number') {
      runs.push((value as number[][]).map((position) => [position[0]!, position[1]!] as const));
    } else for (const one of value) walk(one as unknown[]);
  };
  walk(geometry.coordinates as unknown[]);
  return runs;
}
