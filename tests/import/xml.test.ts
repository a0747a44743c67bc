import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readXml, UnreadableXml, type XmlEvent, XmlReader } from "../../src/import/xml/read-xml.js";

/** Events without their places, texts that a cut has parted put together. */
function plain(events: readonly XmlEvent[]): string[] {
  return events.map((event) => (event.kind === "text" ? event.text : `${event.kind} ${event.name}`));
}

function read(text: string | Buffer, limits = {}): XmlEvent[] {
  const reader = new XmlReader(limits);
  return [...reader.read(Buffer.from(text as string)), ...reader.end()];
}

function refusal(text: string | Buffer, limits = {}): UnreadableXml {
  try {
    read(text, limits);
  } catch (error) {
    if (error instanceof UnreadableXml) return error;
    throw error;
  }
  throw new Error("was read");
}

const sample =
  '<?xml version="1.0"?>\n<q:a xmlns:q="urn:x" q:m="1" n="&lt;&#x41;"><b>µ&amp;ü</b><!-- c --><c/></q:a>';

describe("readXml", () => {
  it("resolves namespaces (Namespaces in XML 1.0) and the five entities", () => {
    const [first, ...rest] = read(sample);

    expect(first).toMatchObject({
      kind: "open",
      name: "a",
      uri: "urn:x",
      attributes: { "q:m": "1", n: "<A" },
      line: 2,
      column: 1,
    });
    expect(plain(rest)).toEqual(["open b", "µ&ü", "close b", "open c", "close c", "close a"]);
  });

  it("reads the same however its bytes are cut", async () => {
    const bytes = Buffer.from(sample);
    const whole = plain(read(bytes));

    for (let size = 1; size < 9; size += 1) {
      async function* cut() {
        for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
      }
      const events: XmlEvent[] = [];
      for await (const batch of readXml(cut())) events.push(...batch);
      expect(plain(events)).toEqual(whole);
    }
  });

  it.each([
    ["UTF-8 with a mark", Buffer.from("\ufeff<a>µ</a>")],
    ["UTF-16 with a mark", Buffer.from("\ufeff<a>µ</a>", "utf16le")],
    ["UTF-16 without", Buffer.from("<a>µ</a>", "utf16le")],
    ["UTF-16 big endian", Buffer.from("\ufeff<a>µ</a>", "utf16le").swap16()],
    ["Latin-1", Buffer.from('<?xml version="1.0" encoding="ISO-8859-1"?><a>µ</a>', "latin1")],
    ["Windows-1252", Buffer.from('<?xml version="1.0" encoding="windows-1252"?><a>µ</a>', "latin1")],
  ])("reads %s (XML 1.0, appendix F)", (_, bytes) => {
    expect(plain(read(bytes))).toEqual(["open a", "µ", "close a"]);
  });

  it.each([
    ["a document type declaration", "<!DOCTYPE a>\n<a/>", "document type declaration"],
    [
      "entities that expand",
      '<!DOCTYPE a [<!ENTITY x "xx"><!ENTITY y "&x;&x;">]><a>&y;</a>',
      "document type",
    ],
    [
      "an external entity",
      '<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/passwd">]><a>&x;</a>',
      "document type",
    ],
    ["an entity of nobody", "<a>&x;</a>", "entity"],
    ["a wrong end tag", "<a><b></a>", "close tag"],
    ["a cut", "<a><b>1", "unclosed tag"],
    ["nothing at all", "", "root element"],
    ["text behind the root", "<a/>x", "outside of root"],
    ["an unknown prefix", "<x:a/>", "namespace prefix"],
    ["the same attribute twice", '<a b="1" b="2"/>', "duplicate attribute"],
    ["an encoding that is not read", '<?xml version="1.0" encoding="EBCDIC"?><a/>', "EBCDIC"],
    ["what is not its encoding", Buffer.from("<a>\n  <b>\xb5</b></a>", "latin1"), "UTF-8"],
    ["half a character at the end", Buffer.from([0x3c, 0x61, 0x3e, 0xc3]), "UTF-8"],
    [
      "what is not ASCII",
      Buffer.from('<?xml version="1.0" encoding="us-ascii"?><a>\xb5</a>', "latin1"),
      "ASCII",
    ],
    ["half of UTF-16", Buffer.concat([Buffer.from("\ufeff<a/>", "utf16le"), Buffer.from([0x3c])]), "UTF-16"],
  ])("refuses %s with line and column", (_, text, reason) => {
    const error = refusal(text);

    expect(error.reason).toContain(reason);
    expect(error.reason).toMatch(/^Line \d+, column \d+: /);
  });

  it("says where", () => {
    expect(refusal("<a>\n  <b></c>\n</a>")).toMatchObject({ line: 2, column: 9 });
    expect(refusal(Buffer.from("<a>\n  <b>\xb5</b></a>", "latin1"))).toMatchObject({ line: 2, column: 5 });
  });

  it("is bounded in depth, names, attributes and texts", () => {
    const nested = (n: number) => `${"<a>".repeat(n)}${"</a>".repeat(n)}`;
    expect(read(nested(4), { depth: 4 })).toHaveLength(8);
    expect(refusal(nested(5), { depth: 4 }).reason).toContain("4 deep");
    expect(refusal(`<${"n".repeat(9)}/>`, { name: 8 }).reason).toContain("9 characters");
    expect(refusal('<a b="" c="" d=""/>', { attributes: 2 }).reason).toContain("2 attributes");

    for (const endless of ["<a>x", "<a b='", "<!-- ", "<a><![CDATA[", "<!DOCTYPE a [", `<?pi `, "<"]) {
      const reader = new XmlReader({ length: 1000 });
      const more = () => reader.read(Buffer.from("x".repeat(600)));
      reader.read(Buffer.from(endless));
      expect(() => [more(), more(), more()]).toThrow(UnreadableXml);
    }
  });

  it("either reads or says where, whatever stands there", () => {
    fc.assert(
      fc.property(fc.nat(sample.length), fc.string({ maxLength: 3 }), fc.nat(3), (at, put, cut) => {
        const text = sample.slice(0, at) + put + sample.slice(at + cut);
        try {
          read(text);
        } catch (error) {
          expect(error).toBeInstanceOf(UnreadableXml);
        }
      }),
    );
  });

  it("refuses a document that ends anywhere before its end", () => {
    for (let at = 0; at < sample.length; at += 1)
      expect(() => read(sample.slice(0, at))).toThrow(UnreadableXml);
  });
});
