/** Walks over a text by patterns that must match right where it stands; what no pattern takes goes out word by word. */
export class Scanner {
  readonly text: string;
  offset = 0;

  constructor(text: string) {
    this.text = text;
  }

  get isDone(): boolean {
    this.skipBlanks();
    return this.offset >= this.text.length;
  }

  /** Takes a pattern with the sticky flag; undefined, without moving, when it does not match here. */
  take(pattern: RegExp): RegExpExecArray | undefined {
    this.skipBlanks();
    pattern.lastIndex = this.offset;
    const match = pattern.exec(this.text);
    if (match === null) return undefined;
    this.offset = pattern.lastIndex;
    return match;
  }

  /** The next word, whatever it is. */
  takeWord(): string {
    return this.take(/\S+/y)?.[0] ?? '';
  }

  private skipBlanks(): void {
    while (this.text[this.offset] === ' ') this.offset += 1;
  }
}
