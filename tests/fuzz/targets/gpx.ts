/** GPX files of our own, mutated by bytes and by pieces of XML. */
import { isAppError } from '../../../worker/errors.ts';
import { type GpxFile, type GpxPoint, parseGpx } from '../../../worker/formats/gpx.ts';
import type { FuzzTarget } from '../fuzz-target.ts';

const OWN = [
  `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1"><metadata><time>2026-01-14T11:30:00Z</time></metadata>
<wpt lat="44.2" lon="-72.5"><ele>360.5</ele><name>MPV</name></wpt>
<rte><name>a &lt; b &#x26; c</name><rtept lat="44.47" lon="-73.15"><name><![CDATA[K<]]></name></rtept><!-- - -->
<rtept lat='+44.81' lon='-68.83'><extensions><x:a b="&quot;"/></extensions></rtept></rte></gpx>
`,
  `<gpx version="1.0"><trk><trkseg><trkpt lat="1" lon="2"/><trkpt lat="1.5" lon="-180"/></trkseg><trkseg/>
<trkseg><trkpt lat="-90" lon="180"><ele>-12</ele></trkpt></trkseg></trk></gpx>`,
];
const PIECES = [
  '<',
  '>',
  '/>',
  '</',
  '&',
  '&amp;',
  '&a;',
  '&#0;',
  '&#x10FFFF;',
  '&#xD800;',
  '"',
  "'",
  '<!--',
  '-->',
  '--',
  '<![CDATA[',
  ']]>',
  '<?xml version="1.0"?>',
  '<!DOCTYPE gpx [<!ENTITY a "b">]>',
  '<gpx version="1.1">',
  '</gpx>',
  '<rte>',
  '</rte>',
  '<rtept lat="1" lon="2">',
  '</rtept>',
  '<trkseg>',
  '<wpt lat="91" lon="0"/>',
  '<wpt lat="1e1" lon="NaN"/>',
  ' lat="5"',
  ' xmlns="x"',
  '<ele>Infinity</ele>',
  '<a>'.repeat(40),
  '\ufeff',
  '\r',
  '\u0000',
];

export const target: FuzzTarget = {
  name: 'gpx',
  mostMsPerByte: 0.02,
  mostBytesPerByte: 2000,
  seeds: async () => OWN.map((text) => new TextEncoder().encode(text)),
  mutate(seed, random) {
    const parts = new TextDecoder().decode(seed).split(/(?=[<>&"' ])/);
    for (let count = 1 + random.below(4); count > 0; count -= 1) {
      const at = random.below(parts.length + 1);
      if (random.below(3) === 0) parts.splice(at, 1 + random.below(3));
      else parts.splice(at, random.below(2), PIECES[random.below(PIECES.length)]!);
    }
    return new TextEncoder().encode(parts.join(''));
  },
  read(bytes) {
    const text = new TextDecoder().decode(bytes);
    try {
      const file = parseGpx(text);
      checkFile(text, file);
      return file;
    } catch (error) {
      if (isAppError(error) && error.kind !== 'bug') return undefined;
      throw error;
    }
  },
};

/** Points are on the globe, as many as there are tags of them at most; a declaration never goes through. */
function checkFile(text: string, { version, waypoints, routes, tracks }: GpxFile): void {
  if (version !== '1.0' && version !== '1.1') throw new Error(`version ${String(version)}`);
  const points: GpxPoint[] = [
    ...waypoints,
    ...[...routes, ...tracks].flatMap(({ segments }) => segments.flat()),
  ];
  const tags = text.match(/<(?:[^<>\s]*:)?(?:wpt|rtept|trkpt)[\s/>]/g)?.length ?? 0;
  if (points.length > tags) throw new Error(`${points.length} points of ${tags} tags`);
  for (const { latDeg, lonDeg, elevationM } of points) {
    if (!(Math.abs(latDeg) <= 90 && Math.abs(lonDeg) <= 180)) throw new Error(`${latDeg} ${lonDeg}`);
    if (Math.abs(elevationM) === Number.POSITIVE_INFINITY) throw new Error('an endless elevation');
  }
  const outside = text.replace(/<!--[\s\S]*?-->|<!\[CDATA\[[\s\S]*?\]\]>|<\?[\s\S]*?\?>/g, '');
  if (/<!/.test(outside.replace(/"[^"<]*"|'[^'<]*'/g, ''))) throw new Error('a declaration went through');
}
