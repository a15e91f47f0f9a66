import { describe, expect, test } from 'vitest';
import { FormatError, UnsupportedError } from '../../worker/errors.ts';
import { GPX_MOST_CHARACTERS, parseGpx } from '../../worker/formats/gpx.ts';
import { inspectGpx } from '../../worker/formats/inspect-gpx.ts';
import { lineOfPoints, pointsOfGpx } from '../../worker/formats/line-string.ts';

const ROUTE = `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="by hand" xmlns="http://www.topografix.com/GPX/1/1">
  <metadata><name>not the route's</name></metadata>
  <wpt lat="44.2" lon="-72.5"><name>MPV</name></wpt>
  <rte><name> Over &lt;the&gt; notch &#x26; on </name>
    <rtept lat="44.47" lon="-73.15"><ele>102.1</ele><name>KBTV</name></rtept>
    <!-- a bend -->
    <rtept lat='+44.5' lon='-71.50'><extensions><x:ele>9999</x:ele></extensions></rtept>
    <rtept lat="44.81" lon="-68.83"><name><![CDATA[K<BGR]]></name></rtept>
  </rte>
</gpx>
`;
const TRACK = `<gpx version="1.0"><trk><trkseg><trkpt lat="1" lon="2"/><trkpt lat="1" lon="2"/></trkseg>
<trkseg/><trkseg><trkpt lat="-3" lon="180"><ele>-12</ele></trkpt></trkseg></trk></gpx>`;

function refusalOf(text: string): FormatError {
  try {
    parseGpx(text);
  } catch (error) {
    expect(error).toBeInstanceOf(FormatError);
    return error as FormatError;
  }
  throw new Error('the file was read');
}

/** A body inside the root, on its second line. */
const inGpx = (body: string) => `<gpx version="1.1">\n${body}\n</gpx>`;

describe('parseGpx', () => {
  test('reads routes and waypoints with names, elevations and every form of quoting', () => {
    const { version, waypoints, routes, tracks } = parseGpx(ROUTE);
    expect(version).toBe('1.1');
    expect(tracks).toEqual([]);
    expect(waypoints).toEqual([{ latDeg: 44.2, lonDeg: -72.5, elevationM: Number.NaN, name: 'MPV' }]);
    expect(routes).toEqual([
      {
        name: 'Over <the> notch & on',
        segments: [
          [
            { latDeg: 44.47, lonDeg: -73.15, elevationM: 102.1, name: 'KBTV' },
            { latDeg: 44.5, lonDeg: -71.5, elevationM: Number.NaN, name: undefined },
            { latDeg: 44.81, lonDeg: -68.83, elevationM: Number.NaN, name: 'K<BGR' },
          ],
        ],
      },
    ]);
  });

  test('keeps the segments of a track apart, empty ones included', () => {
    const { version, tracks } = parseGpx(TRACK);
    expect(version).toBe('1.0');
    expect(tracks[0]!.segments.map((points) => points.length)).toEqual([2, 0, 1]);
    expect(tracks[0]!.segments[2]![0]).toMatchObject({ latDeg: -3, lonDeg: 180, elevationM: -12 });
  });

  test('reads elements with a prefix, a byte order mark, CR LF', () => {
    const text = `\ufeff<g:gpx version="1.1" xmlns:g="http://www.topografix.com/GPX/1/1">\r\n<g:wpt lon="1" lat="2"/></g:gpx>`;
    expect(parseGpx(text).waypoints[0]).toMatchObject({ latDeg: 2, lonDeg: 1 });
  });
});

describe('parseGpx refuses', () => {
  test.each([
    ['<!DOCTYPE gpx>\n<gpx version="1.1"/>', 1, 'DOCTYPE'],
    ['<!DOCTYPE g [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]>\n<gpx version="1.1">&b;</gpx>', 1, 'DOCTYPE'],
    ['<!DOCTYPE g SYSTEM "file:///etc/hostname">\n<gpx version="1.1"/>', 1, 'DOCTYPE'],
    [inGpx('<wpt lat="&a;" lon="2"/>'), 2, '&'],
    [inGpx('<name>a &nbsp; b</name>'), 2, '&'],
    [inGpx('<name>&#0;</name>'), 2, '&#0;'],
    [inGpx('<name>&#xD800;</name>'), 2, '&#xD800;'],
    [inGpx('<name>\u0001</name>'), 2, 'control character'],
    [inGpx('<wpt lat="1" lat="2" lon="3"/>'), 2, 'lat twice'],
    [inGpx('<wpt lat="1" lon="2></wpt>'), 2, 'closing quote'],
    [inGpx('<wpt lat=1 lon="2"/>'), 2, 'without its end'],
    [inGpx('<wpt lat="1"lon="2"/>'), 2, 'without its end'],
    [inGpx('<wpt lat="1" lon="2"></trk>'), 2, '</trk>'],
    [inGpx('<!-- a -- b -->'), 2, 'comment'],
    [inGpx('<name>]]></name>'), 2, ']]>'],
    [inGpx('<?xml version="1.0"?>'), 2, 'declaration'],
    [inGpx('< wpt/>'), 2, '"< wpt/>'],
    ['<gpx version="1.1">\n\n', 3, 'the end'],
    ['', 1, 'the end'],
    ['<gpx version="1.1"/>\n<gpx version="1.1"/>', 2, 'second root'],
    ['<gpx version="1.1"/>\nmore', 1, 'outside the root'],
    ['<kml/>', 1, 'root element kml'],
    ['<gpx/>', 1, 'without a version'],
    ['<gpx version="1.1" xmlns="http://example.org/"/>', 1, 'namespace'],
  ])('%j, with its line and what was found', (text, line, found) => {
    const error = refusalOf(text);
    expect(error.place).toEqual({ unit: 'line', line });
    expect(error.found).toContain(found);
  });

  test('a DOCTYPE as such, whatever it holds', () => {
    const { found, expected } = refusalOf('<!DOCTYPE gpx [<!ENTITY a "b">]><gpx version="1.1"/>');
    expect([found, expected]).toEqual(['a declaration (DOCTYPE or the like)', 'none: they are refused']);
  });

  test('another version, as not supported', () => {
    expect(() => parseGpx('<gpx version="2.0"/>')).toThrow(UnsupportedError);
  });

  test('nesting beyond 32 levels, and not 32', () => {
    const nested = (levels: number) => '<a>'.repeat(levels) + '</a>'.repeat(levels);
    expect(parseGpx(inGpx(nested(31))).version).toBe('1.1');
    expect(refusalOf(inGpx(nested(32))).expected).toBe('at most 32 levels');
    expect(refusalOf(inGpx('<a>'.repeat(1_000_000))).expected).toBe('at most 32 levels');
  });

  test('text beyond its bound, names of 201 letters and 51 attributes', () => {
    expect(refusalOf(inGpx(' '.repeat(GPX_MOST_CHARACTERS))).expected).toContain('at most');
    expect(refusalOf(inGpx(`<${'a'.repeat(201)}/>`)).found).toBe('a longer name');
    expect(parseGpx(inGpx(`<${'a'.repeat(200)}/>`)).waypoints).toEqual([]);
    const attributes = (count: number) => Array.from({ length: count }, (_, i) => ` a${i}=""`).join('');
    expect(parseGpx(inGpx(`<b${attributes(50)}/>`)).waypoints).toEqual([]);
    expect(refusalOf(inGpx(`<b${attributes(51)}/>`)).found).toBe('more attributes');
  });

  test('a file cut anywhere', () => {
    const whole = ROUTE.trimEnd();
    for (let length = 0; length < whole.length; length += 1) {
      expect(() => parseGpx(whole.slice(0, length)), `cut at ${length}`).toThrow(FormatError);
    }
    expect(parseGpx(whole).routes).toHaveLength(1);
  });
});

describe('a bad point', () => {
  test.each([
    ['<wpt lat="91" lon="2"/>', 'lat="91"'],
    ['<wpt lat="1" lon="-180.01"/>', 'lon="-180.01"'],
    ['<wpt lat="0x10" lon="2"/>', 'lat="0x10"'],
    ['<wpt lat="1e1" lon="2"/>', 'lat="1e1"'],
    ['<wpt lat="" lon="2"/>', 'lat=""'],
    ['<wpt lon="2"/>', 'without lat'],
    ['<wpt lat="1" lon="2"><ele>high</ele></wpt>', 'elevation'],
  ])('%s is refused with its line, and the rest of the file is given', (bad, found) => {
    const route = '<rte><rtept lat="1" lon="2"/><rtept lat="3" lon="4"/></rte>';
    const { waypoints, routes, refused } = parseGpx(inGpx(`${bad}<wpt lat="5" lon="6"/>${route}`));
    expect(refused).toMatchObject([{ kind: 'waypoint', error: { place: { unit: 'line', line: 2 } } }]);
    expect(refused[0]!.error.found).toContain(found);
    expect([waypoints.length, routes.length]).toEqual([1, 1]);
  });

  const GOOD_ROUTE = '<rte><rtept lat="1" lon="0"/><rtept lat="2" lon="0"/></rte>';
  const BAD_TRACK =
    '<trk><trkseg><trkpt lat="3" lon="0"/>\n<trkpt lat="93" lon="0"/><trkpt lat="94" lon="0"/></trkseg></trk>';

  test('of a track refuses the track once, by its first; the good route of the file is flown', () => {
    const file = parseGpx(inGpx(GOOD_ROUTE + BAD_TRACK));
    expect(file).toMatchObject({ tracks: [], refused: [{ kind: 'track', error: { place: { line: 3 } } }] });
    expect(pointsOfGpx(file, 5).map(({ latDeg }) => latDeg)).toEqual([1, 2]);
    expect(inspectGpx(inGpx(GOOD_ROUTE + BAD_TRACK))).toMatchObject([
      { kind: 'gpx-route' },
      { kind: 'refused', part: 'track', reason: expect.stringContaining('line 3: found lat="93"') },
    ]);
  });

  test.each([
    ['a track', BAD_TRACK],
    ['a route before a good track', `${GOOD_ROUTE.replace('lat="2"', 'lat="92"')}<trk><trkseg/></trk>`],
    ['waypoints', '<wpt lat="1" lon="0"/><wpt lat="2" lon="0"/><wpt lat="92" lon="0"/>'],
  ])('of %s that would be flown refuses the route with its line', (_, parts) => {
    expect(() => pointsOfGpx(parseGpx(inGpx(parts)), 5)).toThrow(/route: found lat="9\d" \(GPX line \d\)/);
  });
});

describe('pointsOfGpx', () => {
  const point = (at: number) => `<wpt lat="${at}" lon="0"/>`;
  const path = (kind: 'rte' | 'trk', ...at: number[]) => {
    const points = at.map((lat) => `<${kind}pt lat="${lat}" lon="0"/>`).join('');
    return kind === 'rte' ? `<rte>${points}</rte>` : `<trk><trkseg>${points}</trkseg></trk>`;
  };
  const latitudesOf = (body: string) => pointsOfGpx(parseGpx(inGpx(body)), 5).map(({ latDeg }) => latDeg);

  test('takes the route before the track, the track before the waypoints', () => {
    const all = path('rte', 1, 2) + path('trk', 3, 4) + point(5) + point(6);
    expect(latitudesOf(all)).toEqual([1, 2]);
    expect(latitudesOf(path('rte') + path('trk', 3, 4) + point(5) + point(6))).toEqual([3, 4]);
    expect(latitudesOf(point(5) + point(6))).toEqual([5, 6]);
  });

  test('joins the segments of a track and leaves out a point that repeats the one before', () => {
    const line = lineOfPoints(pointsOfGpx(parseGpx(TRACK), 5));
    expect(line).toEqual({
      type: 'LineString',
      coordinates: [
        [2, 1],
        [180, -3, -12],
      ],
    });
  });

  test.each([
    [path('rte', 1, 2) + path('rte', 3, 4), '2 routes'],
    [path('trk', 1, 2) + path('trk', 3, 4), '2 tracks'],
    [point(1), '1 points'],
    [path('rte', 1, 1), '1 points'],
    [path('rte', 1, 2, 3, 4, 5, 6), '6 points'],
    ['', '0 points'],
  ])('chooses nothing silently: %s', (body, found) => {
    expect(() => latitudesOf(body)).toThrow(found);
  });
});

describe('inspectGpx', () => {
  test('shows waypoints, routes and tracks, null where the file says nothing', () => {
    expect(inspectGpx(TRACK)).toEqual([
      {
        kind: 'gpx-track',
        name: null,
        segments: [
          [
            { name: null, latDeg: 1, lonDeg: 2, elevationM: null },
            { name: null, latDeg: 1, lonDeg: 2, elevationM: null },
          ],
          [],
          [{ name: null, latDeg: -3, lonDeg: 180, elevationM: -12 }],
        ],
      },
    ]);
    expect(inspectGpx(ROUTE).map(({ kind }) => kind)).toEqual(['gpx-waypoint', 'gpx-route']);
  });
});
