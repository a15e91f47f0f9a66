/** Where and why a document is not well formed, or beyond what is allowed. */
import { FormatError } from '../../errors.ts';

export interface XmlPlace {
  readonly text: string;
  readonly offset: number;
}

/** Lines count from 1; CR LF is one line end. Called once a fault, for it walks the text before it. */
export function lineOf({ text, offset }: XmlPlace): number {
  return text.slice(0, offset).split(/\r\n?|\n/).length;
}

export class XmlFault extends FormatError {
  constructor(place: XmlPlace, found: string, expected: string) {
    super({
      format: 'XML',
      place: { unit: 'line', line: lineOf(place) },
      what: 'document',
      found,
      expected,
    });
  }
}
