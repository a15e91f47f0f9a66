/** A real forecast under another run and hour: its reference times and forecast times put anew, its values left as they are. */

const INDICATOR_OCTETS = 16;
/** Instants on a level, of which the forecast time stands in octets 19 to 22, in hours (octet 18). */
const INSTANT_TEMPLATES = new Set([0, 1]);
const HOURS = 1;

/** Products over an interval keep their forecast time: what they say of it is their own. */
export function redatedGrib(
  file: Uint8Array,
  { runMs, forecastHour }: { readonly runMs: number; readonly forecastHour: number },
): Uint8Array {
  const bytes = file.slice();
  const view = new DataView(bytes.buffer);
  for (let at = 0; at < bytes.length; at += Number(view.getBigUint64(at + 8))) {
    const end = at + Number(view.getBigUint64(at + 8)) - 4;
    for (let section = at + INDICATOR_OCTETS; section < end; section += view.getUint32(section)) {
      const number = view.getUint8(section + 4);
      if (number === 1) setReferenceTime(view, section, runMs);
      if (number === 4 && INSTANT_TEMPLATES.has(view.getUint16(section + 7))) {
        view.setUint8(section + 17, HOURS);
        view.setUint32(section + 18, forecastHour);
      }
    }
  }
  return bytes;
}

function setReferenceTime(view: DataView, section: number, runMs: number): void {
  const run = new Date(runMs);
  view.setUint16(section + 12, run.getUTCFullYear());
  view.setUint8(section + 14, run.getUTCMonth() + 1);
  view.setUint8(section + 15, run.getUTCDate());
  view.setUint8(section + 16, run.getUTCHours());
  view.setUint8(section + 17, run.getUTCMinutes());
  view.setUint8(section + 18, run.getUTCSeconds());
}
