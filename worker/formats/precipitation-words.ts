/** Words that no code holds and that may mean precipitation all the same: `FRZA`, `-ZR`, `RAX`, `FREEZING`. */

const FREEZING = /FZ|FRZ|FREEZ|(?<![A-Z])Z[RL](?![A-Z])/;
/** A sign or a stray mark, perhaps a descriptor, then precipitation; letters alone behind it. */
const PRECIPITATION =
  /^[^A-Z0-9]?(?:VC)?(?:MI|BC|PR|DR|BL|SH|TS)?(?:RA|DZ|SN|SG|PL|PE|GR|GS|UP|IP|DRZL|RAIN|SNOW|SLEET|HAIL)[A-Z]{0,6}[^A-Z0-9]?$/;

/** True for a word after which nobody can say that no more fell than the groups that were read tell. */
export function mayBePrecipitation(word: string): boolean {
  return FREEZING.test(word) || PRECIPITATION.test(word);
}
