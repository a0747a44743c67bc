interface Span {
  batch_id: string;
  feature_id: string;
  from_piece: number;
  to_piece: number;
  readings: number;
  first_at: string;
  last_at: string;
}

/**
 * What was measured of a feature in a batch as one span where it goes on from one page to the next. A span ends with the
 * first page that has nothing of it, so that no more than the spans of one page are held.
 */
export async function* joinPages<S extends Span>(
  pages: AsyncIterable<readonly S[]>,
): AsyncGenerator<S[], void> {
  let open = new Map<string, S>();
  for await (const page of pages) {
    const still = new Map(
      page.map((span): [string, S] => {
        const key = `${span.batch_id}-${span.feature_id}`;
        return [key, join(open.get(key), span)];
      }),
    );
    yield inOrder([...open].filter(([key]) => !still.has(key)).map(([, span]) => span));
    open = still;
  }
  yield inOrder([...open.values()]);
}

/** Pages come in the order of time. */
function join<S extends Span>(earlier: S | undefined, later: S): S {
  if (earlier === undefined) return later;
  return {
    ...later,
    from_piece: Math.min(earlier.from_piece, later.from_piece),
    to_piece: Math.max(earlier.to_piece, later.to_piece),
    readings: earlier.readings + later.readings,
    first_at: earlier.first_at,
  };
}

function inOrder<S extends Span>(spans: readonly S[]): S[] {
  return spans.toSorted((a, b) => Date.parse(a.first_at) - Date.parse(b.first_at));
}
