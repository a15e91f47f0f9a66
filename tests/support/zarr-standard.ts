/**
 * A zarr.json of an array held to the standard, member by member; knows nothing of the code that writes it.
 *
 * @source  Zarr v3 core specification, "Array metadata", "Regular grids", "Default chunk keys"; codecs bytes, gzip, crc32c and
 *          sharding_indexed, each 1.0. From memory of the published pages.
 */

const REQUIRED = [
  ...['zarr_format', 'node_type', 'shape', 'data_type'],
  ...['chunk_grid', 'chunk_key_encoding', 'fill_value', 'codecs'],
];
const OPTIONAL = ['attributes', 'storage_transformers', 'dimension_names'];

/** Greatest value of the unsigned types. */
const GREATEST: Readonly<Record<string, number>> = { uint8: 255, uint16: 65_535, uint32: 4_294_967_295 };

interface Extension {
  readonly name?: unknown;
  readonly configuration?: Readonly<Record<string, unknown>>;
}

/** @returns the faults found, in words; none for metadata that holds. */
export function checkArrayMetadata(json: object): string[] {
  const faults: string[] = [];
  const members = json as Readonly<Record<string, unknown>>;
  const must = (holds: boolean, fault: string) => {
    if (!holds) faults.push(fault);
  };
  for (const name of REQUIRED) must(name in members, `${name} is not there`);
  for (const name of Object.keys(members)) {
    must(REQUIRED.includes(name) || OPTIONAL.includes(name), `${name} is not in the standard`);
  }
  must(members.zarr_format === 3, 'zarr_format is not 3');
  must(members.node_type === 'array', 'node_type is not array');
  const shape = members.shape as readonly number[];
  must(isShape(shape, 0), 'shape is not whole numbers');
  const greatest = GREATEST[members.data_type as string];
  must(greatest !== undefined, 'data_type is not an unsigned type');
  must(
    isWhole(members.fill_value, 0) && (members.fill_value as number) <= (greatest ?? 0),
    'fill_value is out of range',
  );
  const names = members.dimension_names as readonly unknown[] | undefined;
  must(names === undefined || names.length === shape.length, 'dimension_names are not as many as dimensions');
  const grid = members.chunk_grid as Extension;
  const chunkShape = grid?.configuration?.chunk_shape as readonly number[];
  must(grid?.name === 'regular' && hasOnly(grid.configuration, ['chunk_shape']), 'chunk_grid is not regular');
  must(isShape(chunkShape, 1) && chunkShape.length === shape.length, 'chunk_shape does not fit the shape');
  const keys = members.chunk_key_encoding as Extension;
  must(
    keys?.name === 'default' && ['/', '.'].includes(String(keys.configuration?.separator)),
    'chunk keys are not default',
  );
  faults.push(...checkChain(members.codecs, chunkShape));
  return faults;
}

const isWhole = (value: unknown, least: number) => Number.isInteger(value) && (value as number) >= least;
const isShape = (value: unknown, least: number) =>
  Array.isArray(value) && value.length > 0 && value.every((length) => isWhole(length, least));
const hasOnly = (configuration: object | undefined, names: readonly string[]) =>
  Object.keys(configuration ?? {})
    .sort()
    .join() === [...names].sort().join();

/** One codec turns the array into bytes; those after it turn bytes into bytes. */
function checkChain(codecs: unknown, shape: readonly number[]): string[] {
  if (!Array.isArray(codecs) || codecs.length === 0) return ['codecs are none'];
  const [first, ...rest] = codecs as Extension[];
  const faults = first!.name === 'sharding_indexed' ? checkSharding(first!, shape) : checkBytes(first!);
  return [...faults, ...rest.flatMap(checkBytesToBytes)];
}

function checkBytes({ name, configuration }: Extension): string[] {
  const isKnown = name === 'bytes' && hasOnly(configuration, ['endian']);
  return isKnown && ['little', 'big'].includes(String(configuration?.endian))
    ? []
    : [`${name} is not bytes with an order`];
}

function checkBytesToBytes({ name, configuration }: Extension): string[] {
  if (name === 'crc32c') return hasOnly(configuration, []) ? [] : ['crc32c takes no configuration'];
  const level = configuration?.level;
  const isGzip =
    name === 'gzip' && hasOnly(configuration, ['level']) && isWhole(level, 0) && (level as number) <= 9;
  return isGzip ? [] : [`${name} is not gzip of level 0 to 9`];
}

function checkSharding({ configuration = {} }: Extension, shape: readonly number[]): string[] {
  const inner = configuration.chunk_shape as readonly number[];
  const divides =
    isShape(inner, 1) && inner.length === shape.length && inner.every((side, at) => shape[at]! % side === 0);
  const places = ['start', 'end', undefined];
  return [
    ...(hasOnly(configuration, ['chunk_shape', 'codecs', 'index_codecs', 'index_location'])
      ? []
      : ['sharding has other members']),
    ...(divides ? [] : ['chunks do not divide a shard']),
    ...(places.includes(configuration.index_location as string) ? [] : ['the index lies nowhere']),
    ...checkChain(configuration.codecs, inner),
    ...checkChain(configuration.index_codecs, inner),
  ];
}
