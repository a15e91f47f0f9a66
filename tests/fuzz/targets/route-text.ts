/** Route texts of every form, mutated by bytes and by words. */
import { isAppError } from '../../../worker/errors.ts';
import { type Route, readRoute } from '../../../worker/formats/route/read-route.ts';
import { parseRouteText } from '../../../worker/formats/route-text.ts';
import type { FuzzTarget } from '../fuzz-target.ts';

const OWN = [
  '(FPL-NZZZZ-IG\n-C172/L-S/C\n-KBTV1300\n-N0110F090 DCT B21 DCT\n-KBGR0130 KPWM\n-DOF/260115)',
  'N0160F090 KBTV DCT MPV/N0150A110 DCT 4420N07130W DCT KBGR',
  'KBTV DUB180040/N0350M0840 46N078W/M082F330 VFR LN/N0284A045 IFR 442036S0713012E KBGR T',
  'kbtv..4B6090020 -> c/48n050w/m082f290f350 dct C/48N050W/M082F290PLUS N0150VFR KBGR',
  'KBTV V3 MPV UL607 HADDY KODAP2A BCN1 K0830S1130 KBGR',
];
const PIECES =
  'DCT T VFR IFR GAT C/ / // PLUS N0160F090 K0300M0840 M082S1130 A045 N0000F000 M999F999F000 KBTV 44N073W 9000N18000W 9001N000E 446000N0000000E DUB360999 DUB361001 V3 U SSOXS5 ß \u2028 .. - > KBTV/N0160F090 (FPL-X-IG -KBTV1300 -N0110F090 -KBGR0130) ) B21 F090 IFR/N0150F080 \u2013 \u00a0'.split(
    ' ',
  );
/** Half of the lookups take a word for something, by its letters alone. */
const KINDS = ['place', 'airway', 'procedure', undefined] as const;

export const target: FuzzTarget = {
  name: 'route-text',
  mostMsPerByte: 0.02,
  mostBytesPerByte: 2000,
  seeds: async () => OWN.map((text) => new TextEncoder().encode(text)),
  mutate(seed, random) {
    const words = new TextDecoder().decode(seed).split(' ');
    for (let count = 1 + random.below(5); count > 0; count -= 1) {
      const at = random.below(words.length + 1);
      const piece = PIECES[random.below(PIECES.length)]!;
      if (random.below(3) === 0) words[at] = `${words[at] ?? ''}${piece}`;
      else words.splice(at, random.below(2), piece);
    }
    return new TextEncoder().encode(words.join(' '));
  },
  read(bytes) {
    const text = new TextDecoder().decode(bytes);
    const kindOf = (word: string) => KINDS[(word.charCodeAt(0) + word.length) % KINDS.length];
    for (const lookup of [undefined, { kindOf }]) {
      const route = readOrRefuse(() => readRoute(text, lookup));
      if (route !== undefined) checkRoute(text, route);
    }
    return readOrRefuse(() => parseRouteText(text));
  },
};

function readOrRefuse<T>(read: () => T): T | undefined {
  try {
    return read();
  } catch (error) {
    if (isAppError(error) && error.kind === 'invalid-request' && error.field === 'route') return undefined;
    throw error;
  }
}

/** Words stand where they say; points are on the globe; speeds are above 0; nothing but a point begins or ends it. */
function checkRoute(text: string, { items }: Route): void {
  if (items[0]?.kind !== 'point' || items.at(-1)?.kind !== 'point') throw new Error('no point at an end');
  let end = 0;
  for (const item of items) {
    if (item.offset < end) throw new Error(`offset ${item.offset} lies before ${end}`);
    end = item.offset + 1;
    const first = text.slice(item.offset, item.offset + 2).toUpperCase();
    if (!first.startsWith(item.word.slice(0, 1))) throw new Error(`${item.word} is not at ${item.offset}`);
    if (item.kind !== 'point') continue;
    const { point, change, cruiseClimb } = item;
    if (point.kind === 'coordinates' && !(Math.abs(point.latDeg) <= 90 && Math.abs(point.lonDeg) <= 180))
      throw new Error(`${point.text} is not on the globe`);
    const speed = (change ?? cruiseClimb)?.speed;
    const value = speed === undefined ? 1 : speed.kind === 'mach' ? speed.mach : speed.trueAirspeedMps;
    if (!(value > 0)) throw new Error(`speed ${value}`);
  }
}
