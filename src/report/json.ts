import { type Report, Tally } from "./report.js";

/** One document: the head's members, then the pieces, then what became of them. */
export async function* renderJson({ head, bands }: Report): AsyncGenerator<string> {
  const tally = new Tally();
  yield `${JSON.stringify(head).slice(0, -1)},"pieces":[`;
  let first = true;
  for await (const pieces of bands()) {
    for (const piece of pieces) tally.take(piece);
    if (pieces.length === 0) continue;
    yield `${first ? "" : ","}${JSON.stringify(pieces).slice(1, -1)}`;
    first = false;
  }
  yield `],"outcome":${JSON.stringify(tally.end())}}`;
}
