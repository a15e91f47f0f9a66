/**
 * GPX 1.0 and 1.1: waypoints, routes and tracks, as positions in WGS 84.
 *
 * Elements are told by their local name; whatever is not named here (times, extensions, links) is read past. `ele` is
 * kept as written: the file does not say which sea level it is measured from.
 */
import { FormatError, UnsupportedError } from '../errors.ts';
import { readXml, type XmlEvent } from './xml/read-xml.ts';
import { lineOf, type XmlPlace } from './xml/xml-fault.ts';

export interface GpxPoint {
  readonly latDeg: number;
  readonly lonDeg: number;
  /** m; NaN when the file does not say. */
  readonly elevationM: number;
  /** Trimmed; undefined when the file gives none. */
  readonly name: string | undefined;
}

export interface GpxPath {
  readonly name: string | undefined;
  /** A route has one segment. */
  readonly segments: readonly (readonly GpxPoint[])[];
}

/** A part of a file that has a bad point: a line with a hole is another line, so none of it is given. */
export interface RefusedGpxPart {
  readonly kind: 'waypoint' | 'route' | 'track';
  /** Of the first bad point. */
  readonly error: FormatError;
}

export interface GpxFile {
  readonly version: '1.0' | '1.1';
  /** In the order of the file; the others are below. */
  readonly refused: readonly RefusedGpxPart[];
  readonly waypoints: readonly GpxPoint[];
  readonly routes: readonly GpxPath[];
  readonly tracks: readonly GpxPath[];
}

/** Enough for a recorded track of some hours; the whole is held in memory. */
export const GPX_MOST_CHARACTERS = 4 * 2 ** 20;
const MOST_DEPTH = 32;
const NAMESPACE = /^http:\/\/www\.topografix\.com\/GPX\/1\/[01]\/?$/;
/** xsd:decimal. */
const DECIMAL = /^[+-]?(?:\d{1,20}(?:\.\d{0,30})?|\.\d{1,30})$/;

type Mutable<T> = { -readonly [K in keyof T]: T[K] };
type Path = { name: string | undefined; segments: GpxPoint[][] };

interface Reading {
  version: GpxFile['version'] | undefined;
  readonly waypoints: GpxPoint[];
  readonly routes: Path[];
  readonly tracks: Path[];
  /** Local names of the open elements. */
  readonly open: string[];
  point: Mutable<GpxPoint> | undefined;
  readonly refused: RefusedGpxPart[];
  readonly refusedParts: Set<GpxPoint | Path>;
  text: string;
}

/**
 * @param text  At most 4 Mi characters.
 * @returns     Everything in the order of the file, paths without points included. A waypoint, route or track with a point
 *              without a latitude of -90 to 90 and a longitude of -180 to 180, or whose elevation is no number, is among
 *              the refused.
 * @throws      FormatError with the line for XML that is not well formed or has a DOCTYPE, and another root than gpx;
 *              UnsupportedError for another version.
 * @source      GPX 1.1 schema, topografix.com/GPX/1/1/gpx.xsd, and GPX 1.0.
 */
export function parseGpx(text: string): GpxFile {
  const reading: Reading = {
    version: undefined,
    waypoints: [],
    routes: [],
    tracks: [],
    open: [],
    point: undefined,
    refused: [],
    refusedParts: new Set(),
    text: '',
  };
  const bounds = { mostCharacters: GPX_MOST_CHARACTERS, mostDepth: MOST_DEPTH };
  for (const event of readXml(text, bounds)) {
    if (event.kind === 'text') reading.text += event.text;
    else if (event.kind === 'open') openElement(reading, event, event.place);
    else closeElement(reading, event.place);
  }
  const { version, refused, refusedParts } = reading;
  const isSound = (part: GpxPoint | Path) => !refusedParts.has(part);
  const waypoints = reading.waypoints.filter(isSound);
  return {
    version: version!,
    refused,
    waypoints,
    routes: reading.routes.filter(isSound),
    tracks: reading.tracks.filter(isSound),
  };
}

function openElement(
  reading: Reading,
  { name, attributes }: XmlEvent & { kind: 'open' },
  place: XmlPlace,
): void {
  reading.text = '';
  reading.open.push(localName(name));
  switch (reading.open.join('/')) {
    case 'gpx/rte':
      reading.routes.push({ name: undefined, segments: [[]] });
      break;
    case 'gpx/trk':
      reading.tracks.push({ name: undefined, segments: [] });
      break;
    case 'gpx/trk/trkseg':
      reading.tracks.at(-1)!.segments.push([]);
      break;
    case 'gpx/wpt':
      startPoint(reading, reading.waypoints, { attributes, place });
      break;
    case 'gpx/rte/rtept':
      startPoint(reading, reading.routes.at(-1)!.segments[0]!, { attributes, place });
      break;
    case 'gpx/trk/trkseg/trkpt':
      startPoint(reading, reading.tracks.at(-1)!.segments.at(-1)!, { attributes, place });
      break;
    default:
      if (reading.open.length === 1) reading.version = versionOf(reading.open[0]!, attributes, place);
  }
}

function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

function versionOf(
  root: string,
  attributes: ReadonlyMap<string, string>,
  place: XmlPlace,
): GpxFile['version'] {
  if (root !== 'gpx') refuse(place, `the root element ${root}`, 'gpx');
  const namespace = attributes.get('xmlns');
  if (namespace !== undefined && !NAMESPACE.test(namespace))
    refuse(place, 'another namespace', 'that of GPX 1.0 or 1.1');
  const version = attributes.get('version');
  if (version === '1.0' || version === '1.1') return version;
  if (version === undefined) refuse(place, 'gpx without a version', 'version="1.0" or version="1.1"');
  throw new UnsupportedError({
    feature: 'GPX version',
    table: 'versions 1.0 and 1.1 are read',
    value: version.slice(0, 20),
  });
}

function startPoint(
  reading: Reading,
  into: GpxPoint[],
  tag: { attributes: ReadonlyMap<string, string>; place: XmlPlace },
): void {
  const latDeg = degreesOf(tag.attributes.get('lat'), 90);
  const lonDeg = degreesOf(tag.attributes.get('lon'), 180);
  reading.point = { latDeg, lonDeg, elevationM: Number.NaN, name: undefined };
  into.push(reading.point);
  const wrong = Number.isNaN(latDeg) ? ('lat' as const) : Number.isNaN(lonDeg) ? ('lon' as const) : undefined;
  if (wrong !== undefined) refuseDegrees(reading, wrong, tag);
}

/** NaN for a text that is no such angle. */
function degreesOf(text: string | undefined, mostDeg: number): number {
  const written = text?.trim() ?? '';
  const degrees = DECIMAL.test(written) ? Number(written) : Number.NaN;
  return Math.abs(degrees) <= mostDeg ? degrees + 0 : Number.NaN;
}

function refuseDegrees(
  reading: Reading,
  name: 'lat' | 'lon',
  { attributes, place }: { attributes: ReadonlyMap<string, string>; place: XmlPlace },
): void {
  const written = attributes.get(name)?.trim();
  const mostDeg = name === 'lat' ? 90 : 180;
  refusePart(
    reading,
    faultOf(
      place,
      written === undefined ? `a point without ${name}` : `${name}="${written.slice(0, 20)}"`,
      `${name} of -${mostDeg} to ${mostDeg} degrees`,
    ),
  );
}

/** Refuses the waypoint, route or track that the open point belongs to; its first fault is told. */
function refusePart(reading: Reading, error: FormatError): void {
  const [, element] = reading.open;
  const paths = element === 'rte' ? reading.routes : reading.tracks;
  const part = element === 'wpt' ? reading.point! : paths.at(-1)!;
  if (reading.refusedParts.has(part)) return;
  reading.refusedParts.add(part);
  const kind = ({ wpt: 'waypoint', rte: 'route', trk: 'track' } as const)[element as 'wpt' | 'rte' | 'trk'];
  reading.refused.push({ kind, error });
}

/** The point's own elevation and name; those of anything inside it are another's. */
const OF_POINT = /^gpx\/(?:wpt|rte\/rtept|trk\/trkseg\/trkpt)\/(ele|name)$/;

function closeElement(reading: Reading, place: XmlPlace): void {
  const path = reading.open.join('/');
  const text = reading.text.trim();
  const member = OF_POINT.exec(path)?.[1];
  if (member === 'ele' && text !== '') {
    if (DECIMAL.test(text)) reading.point!.elevationM = Number(text);
    else refusePart(reading, faultOf(place, `an elevation "${text.slice(0, 20)}"`, 'a number of metres'));
  }
  reading.open.pop();
  reading.text = '';
  if (text === '') return;
  if (member === 'name') reading.point!.name = text;
  if (path === 'gpx/rte/name') reading.routes.at(-1)!.name = text;
  if (path === 'gpx/trk/name') reading.tracks.at(-1)!.name = text;
}

function refuse(place: XmlPlace, found: string, expected: string): never {
  throw faultOf(place, found, expected);
}

function faultOf(place: XmlPlace, found: string, expected: string): FormatError {
  return new FormatError({
    format: 'GPX',
    place: { unit: 'line', line: lineOf(place) },
    what: 'file',
    found,
    expected,
  });
}
