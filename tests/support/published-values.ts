/** Tests that compare values with a named publication, and say how many: see published-reporter.ts. */
import { expect, test } from 'vitest';
import { assertClose } from './assert-close.ts';

/**
 * How the values came here. L: looked up in the source or a copy of it. M: from memory, not seen again. C: computed by a
 * script apart from this code, from the equations of the source named.
 */
export type PublishedTag = 'L' | 'M' | 'C';

export interface PublishedTable {
  /** The publication, by the name it can be found under. */
  readonly source: string;
  readonly tag: PublishedTag;
  /** How many of its values the test compares; fewer or more fails the test. */
  readonly values: number;
}

declare module 'vitest' {
  interface TaskMeta {
    /** Left by testPublished for the reporter. */
    published?: PublishedTable;
  }
}

/** Both fail the test at once, and count one published value each. */
export interface PublishedComparison {
  /** A number within its tolerance. */
  close(found: number, published: number, tolerance: Parameters<typeof assertClose>[2]): void;
  /** A word, or the answer of a rule. */
  same<Answer>(found: Answer, published: Answer, where: string): void;
}

/**
 * A test whose expected values stand in one publication. A number typed from it counts once: compare it with one function
 * through `published`, and with further ones by assertClose.
 */
export function testPublished(
  title: string,
  table: PublishedTable,
  body: (published: PublishedComparison) => void,
): void {
  test(`${title} [${table.tag}: ${table.source}]`, ({ task }) => {
    let compared = 0;
    body({
      close(found, published, tolerance) {
        assertClose(found, published, tolerance);
        compared += 1;
      },
      same(found, published, where) {
        expect(found, where).toBe(published);
        compared += 1;
      },
    });
    expect(compared, 'values compared').toBe(table.values);
    task.meta.published = { ...table };
  });
}
