import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type MtconnectDocument, MtconnectReader } from "../../src/import/mtconnect/read-document.js";
import { UnreadableXml } from "../../src/import/xml/read-xml.js";
import { readAll } from "./read-all.js";
import { sampleLayout } from "./sample-layouts.js";

const published = process.env.ONSIZE_SAMPLES;
const streams = readFileSync(
  new URL("./data/samples/mtconnect/streams-feature-measurement.xml", import.meta.url),
);

function readIn(pieces: readonly (Buffer | string)[]): MtconnectDocument {
  const reader = new MtconnectReader();
  for (const piece of pieces) reader.read(Buffer.from(piece as string));
  return reader.end();
}
const read = (text: string) => readIn([text]);

/** A sample of public origin, which is not kept here. */
function sample(file: string): Buffer | undefined {
  const path = published === undefined ? undefined : join(published, "mtconnect", file);
  if (path !== undefined && existsSync(path)) return readFileSync(path);
  process.stderr.write(`${file} is skipped: ONSIZE_SAMPLES does not name the folder of published samples\n`);
  return undefined;
}

const assets = (version: string, inside: string) =>
  `<?xml version="1.0"?><MTConnectAssets xmlns="urn:mtconnect.org:MTConnectAssets:${version}"><Header/><Assets>${inside}</Assets></MTConnectAssets>`;
const tool = (inside = "", attributes = 'assetId="T7.1" toolId="EM10" serialNumber="1"') =>
  `<CuttingTool ${attributes}><CuttingToolLifeCycle><ProgramToolNumber>7</ProgramToolNumber>${inside}</CuttingToolLifeCycle></CuttingTool>`;
const stream = (events: string) =>
  `<MTConnectStreams xmlns="urn:mtconnect.org:MTConnectStreams:2.0"><Streams><DeviceStream name="M" uuid="m"><ComponentStream componentId="p1"><Events>${events}</Events></ComponentStream></DeviceStream></Streams></MTConnectStreams>`;

function faultOf(text: string): UnreadableXml {
  try {
    read(text);
  } catch (error) {
    if (error instanceof UnreadableXml) return error;
    throw error;
  }
  throw new Error("was read");
}

describe("MTConnect cutting tools (ANSI/MTC1.4; from memory)", () => {
  it("reads a tool with measured and nominal sizes, life, place and edges", () => {
    const { tools, kind } = read(
      assets(
        "1.3",
        tool(
          `<CutterStatus><Status>USED</Status><Status>AVAILABLE</Status></CutterStatus>
           <ToolLife type="PART_COUNT" countDirection="UP" initial="0" limit="400" warning="380">121</ToolLife>
           <ToolLife type="MINUTES" countDirection="DOWN" initial="90">31.5</ToolLife>
           <Location type="POT">12</Location>
           <Measurements>
             <CuttingDiameterMax code="DC" nominal="10" minimum="9.98" maximum="10.02" units="MILLIMETER">9.975</CuttingDiameterMax>
             <FunctionalLength code="LF" nominal="85">UNAVAILABLE</FunctionalLength>
           </Measurements>
           <CuttingItems count="4"><CuttingItem indices="1-2,4" itemId="I" grade="G">
             <Locus>ROW: 1</Locus><ItemLife type="WEAR" countDirection="UP" limit="0.3">0.12</ItemLife>
             <Measurements><CornerRadius code="RE" nominal="0.8">0.79</CornerRadius></Measurements>
           </CuttingItem></CuttingItems>`,
        ),
      ),
    );

    expect(kind).toBe("MTConnectAssets 1.3");
    expect(tools).toEqual([
      {
        assetId: "T7.1",
        toolId: "EM10",
        serial: "1",
        programNumber: 7,
        isArchetype: false,
        removed: false,
        statuses: ["USED", "AVAILABLE"],
        lives: [
          { type: "PART_COUNT", counts: "up", value: "121", limit: "400", warning: "380" },
          { type: "MINUTES", counts: "down", value: "31.5", initial: "90" },
        ],
        location: { type: "POT", value: "12" },
        measurements: [
          {
            name: "CuttingDiameterMax",
            code: "DC",
            value: "9.975",
            nominal: "10",
            minimum: "9.98",
            maximum: "10.02",
            unit: "mm",
            within: false,
          },
          { name: "FunctionalLength", code: "LF", nominal: "85" },
        ],
        itemCount: 4,
        items: [
          {
            indices: "1-2,4",
            count: 3,
            itemId: "I",
            grade: "G",
            locus: "ROW: 1",
            statuses: [],
            lives: [{ type: "WEAR", counts: "up", value: "0.12", limit: "0.3" }],
            measurements: [{ name: "CornerRadius", code: "RE", value: "0.79", nominal: "0.8" }],
          },
        ],
        notes: [],
        line: 1,
      },
    ]);
  });

  it.each(["1.2", "1.3", "1.4", "1.8", "2.0", "2.7"])("reads documents of version %s", (version) => {
    expect(read(assets(version, tool())).tools).toHaveLength(1);
  });

  it("reads a prefixed document and a tool by itself", () => {
    const prefixed = assets("2.2", tool())
      .replace("xmlns=", "xmlns:m=")
      .replaceAll(/<(\/?)([A-Z])/g, "<$1m:$2");

    expect(read(prefixed).tools.map(({ assetId }) => assetId)).toEqual(["T7.1"]);
    expect(read(tool()).kind).toBe("cutting tool");
  });

  it("takes a value on its limit for inside, and 0 for a limit or size that nobody knows", () => {
    const { tools } = read(
      tool(
        `<ToolLife type="MINUTES" countDirection="UP" limit="0">160</ToolLife>
         <Measurements>
           <FunctionalLength code="LF" minimum="0" nominal="3.7963">3.7963</FunctionalLength>
           <CuttingDiameterMax code="DC" minimum="0" nominal="0">0</CuttingDiameterMax>
           <BodyDiameterMax code="BDX" maximum="20.1">20.1</BodyDiameterMax>
         </Measurements>`,
      ),
    );

    expect(tools[0]!.lives).toEqual([{ type: "MINUTES", counts: "up", value: "160" }]);
    expect(tools[0]!.measurements).toEqual([
      { name: "FunctionalLength", code: "LF", value: "3.7963", nominal: "3.7963" },
      { name: "CuttingDiameterMax", code: "DC" },
      { name: "BodyDiameterMax", code: "BDX", value: "20.1", maximum: "20.1", within: true },
    ]);
  });

  it("keeps the latest of a tool that comes twice, and notes what can't be read of it", () => {
    const at = (timestamp: string, inside: string) => tool(inside, `assetId="A" timestamp="${timestamp}"`);
    const { tools } = read(
      assets(
        "2.0",
        at("2026-03-11T06:00:00Z", '<ToolLife type="PART_COUNT">12</ToolLife>') +
          at("2026-03-10T06:00:00Z", '<ToolLife type="PART_COUNT">11</ToolLife>'),
      ),
    );
    const odd = read(
      tool('<ToolLife type="CUTS">1</ToolLife><Measurements><A code="B">1,2,3</A></Measurements>'),
    );

    expect(tools).toHaveLength(1);
    expect(tools[0]!.lives[0]!.value).toBe("12");
    expect(odd.tools[0]!.notes).toEqual([
      'a life of type "CUTS" is not known',
      expect.stringContaining('A "1,2,3"'),
    ]);
  });

  it("reads asset lines between other lines, on one line or on several", () => {
    const { tools, kind, others } = read(
      [
        "* PONG 10000",
        "2026-03-11T06:00:00Z|avail|AVAILABLE",
        `2026-03-11T06:00:01Z|@ASSET@|T7.1|CuttingTool|${tool()}`,
        "2026-03-11T06:00:02Z|@ASSET@|T8.1|CuttingTool|--multiline--0FED",
        '<CuttingTool assetId="T8.1"',
        ' toolId="8">',
        "</CuttingTool>",
        "--multiline--0FED",
        "2026-03-11T06:00:03Z|@REMOVE_ASSET@|T9.1",
        "2026-03-11T06:00:04Z|@ASSET@|F1|File|<File/>",
      ].join("\r\n"),
    );

    expect(kind).toBe("asset lines");
    expect(tools.map(({ assetId, line }) => [assetId, line])).toEqual([
      ["T7.1", 3],
      ["T8.1", 4],
    ]);
    expect(others).toBe(4);
  });

  it.each([
    ["", 1, 1, "there is nothing in it"],
    ["   \n ", 1, 1, "there is nothing in it"],
    ["<a/>", 1, 1, 'no MTConnect document of assets or streams: "a" of no namespace'],
    ['<MTConnectError xmlns="urn:mtconnect.org:MTConnectError:1.4"/>', 1, 1, "an agent's error"],
    ['<MTConnectAssets xmlns="urn:other"/>', 1, 1, "no MTConnect document"],
    ["<CuttingTool>\n</CuttingTool>", 1, 1, "without an assetId"],
    ["one word", 1, 1, "neither XML nor an adapter's line"],
    ['<!DOCTYPE a [<!ENTITY x SYSTEM "file:///x">]><a>&x;</a>', 1, undefined, "document type declaration"],
    ['<CuttingTool assetId="a">\n<Measurements></CuttingTool>', 2, undefined, "unexpected close tag"],
    ['<CuttingTool assetId="a">\n<Measurements>', 2, undefined, "unclosed tag"],
    ["a|b|1\na|@ASSET@|T|CuttingTool|<CuttingTool></Cutting>", 2, undefined, "unexpected close tag"],
    ["a|@ASSET@|T|CuttingTool|--multiline--X\n<CuttingTool>", 1, 1, "without its end, --multiline--X"],
    [
      "a|@ASSET@|T|CuttingTool|--multiline--X\n<CuttingTool>\n</Cutting>\n--multiline--X",
      3,
      undefined,
      "unexpected close tag",
    ],
    ["a|@ASSET@|T|CuttingTool|<CuttingTool>", 1, undefined, "unclosed tag"],
    ["a|@ASSET@|T|CuttingTool|<File/>", 1, undefined, '"File" is no cutting tool'],
  ])("refuses %j with line, column and reason", (text, line, column, reason) => {
    const fault = faultOf(text);

    expect(fault.line).toBe(line);
    if (column !== undefined) expect(fault.column).toBe(column);
    expect(fault.column).toBeGreaterThan(0);
    expect(fault.reason).toContain(`Line ${line}, column ${fault.column}: `);
    expect(fault.reason).toContain(reason);
  });

  it("refuses more tools than a document may hold", () => {
    const many = Array.from({ length: 2001 }, (_, i) => `<CuttingTool assetId="a${i}"/>`).join("");

    expect(faultOf(assets("2.0", many)).reason).toContain("more than 2000 tools");
  });

  it("passes what is no tool over in memory that does not grow with it", () => {
    const reader = new MtconnectReader();
    const other = Buffer.from(
      '<Fixture assetId="f"><Measurement code="x">1</Measurement></Fixture>'.repeat(2000),
    );
    reader.read(Buffer.from(assets("2.0", "").split("</Assets>")[0]!));
    global.gc?.();
    const before = process.memoryUsage().heapUsed;
    let peak = before;
    for (let sent = 0; sent < 100 * 1024 * 1024; sent += other.length) {
      reader.read(other);
      peak = Math.max(peak, process.memoryUsage().heapUsed);
    }
    reader.read(Buffer.from(`${tool()}</Assets></MTConnectAssets>`));

    expect(reader.end().tools).toHaveLength(1);
    expect(peak - before).toBeLessThan(150 * 1024 * 1024);
  }, 60_000);
});

describe("MTConnect streams (ANSI/MTC1.4; from memory)", () => {
  it("gives the latest of each offset, UNAVAILABLE as no value and not as 0", () => {
    expect(readIn([streams]).offsets).toEqual([
      expect.objectContaining({ subType: "LENGTH", value: "188.1371", sequence: 11 }),
      expect.not.objectContaining({ value: expect.anything() }),
    ]);
  });

  it("says of which tool an offset is by the tool number reported before it", () => {
    const { offsets } = read(
      stream(
        `<ToolOffset dataItemId="o" subType="RADIAL" sequence="7">-0.012</ToolOffset>
         <ToolNumber dataItemId="t" sequence="4">3</ToolNumber><ToolNumber dataItemId="t" sequence="6">7</ToolNumber>
         <ToolNumber dataItemId="t" sequence="9">UNAVAILABLE</ToolNumber>
         <ToolOffset dataItemId="o" subType="RADIAL" sequence="5">0.004</ToolOffset>
         <ToolOffset dataItemId="o" subType="RADIAL" sequence="10">0.005</ToolOffset>`,
      ),
    );

    expect(offsets.map(({ toolNumber, value }) => [toolNumber, value])).toEqual([
      [3, "0.004"],
      [7, "-0.012"],
      [undefined, "0.005"],
    ]);
  });

  it("reads a table of offsets by their numbers", () => {
    const { offsets } = read(
      stream(
        `<ToolOffsetsTable dataItemId="o" sequence="7"><Entry key="7"><Cell key="LENGTH">-0.02</Cell><Cell key="RADIAL">UNAVAILABLE</Cell><Cell key="TOOL">7</Cell></Entry></ToolOffsetsTable>`,
      ),
    );

    expect(offsets.map(({ offsetNumber, subType, value }) => [offsetNumber, subType, value])).toEqual([
      [7, "LENGTH", "-0.02"],
      [7, "RADIAL", undefined],
    ]);
  });

  it("gives measured features as readings with what the machine says of them", () => {
    const { readings } = readAll(sampleLayout("mtconnect/streams-feature-measurement.xml"), [streams]);

    expect(readings.map(({ reading, said, record }) => [reading, said.result, record.line])).toEqual([
      [
        expect.objectContaining({
          characteristic: "BORE1",
          value: "32.008",
          unit: "mm",
          measured_at: "2026-03-11T05:59:59.500Z",
        }),
        "pass",
        12,
      ],
      [expect.objectContaining({ characteristic: "WEB1", value: "7.938" }), "fail", 18],
    ]);
  });

  it("gives no reading of a document that breaks off", () => {
    const text = streams.toString();

    expect(() =>
      readAll(sampleLayout("mtconnect/streams-feature-measurement.xml"), [
        Buffer.from(text.slice(0, text.indexOf("</Events>"))),
      ]),
    ).toThrow(UnreadableXml);
  });

  it("takes what is unavailable for not measured, and asks for a unit that is not said", () => {
    const table = (cells: string) =>
      Buffer.from(
        stream(
          `<FeatureMeasurementTable dataItemId="f" sequence="1" timestamp="2026-03-11T05:59:59Z"><Entry key="B">${cells}</Entry></FeatureMeasurementTable>`,
        ),
      );
    const layout = sampleLayout("mtconnect/streams-feature-measurement.xml");

    expect(
      readAll(layout, [table('<Cell key="MEASUREMENT_VALUE">UNAVAILABLE</Cell>')]).unmeasured,
    ).toHaveLength(1);
    expect(readAll(layout, [table('<Cell key="MEASUREMENT_VALUE">1.2</Cell>')]).refused[0]!.reason).toContain(
      "1.2 mm or 1.2 inch",
    );
  });
});

describe("published sample documents", () => {
  it("cutting-tool-24-inserts.xml", () => {
    const bytes = sample("cutting-tool-24-inserts.xml");
    if (!bytes) return;

    const { tools, kind } = readIn([bytes]);

    expect(kind).toBe("MTConnectAssets 1.2");
    expect(tools).toHaveLength(1);
    const [{ toolId, serial, removed, lives, measurements, items, itemCount }] = tools as [
      (typeof tools)[number],
    ];
    expect([toolId, serial, removed]).toEqual(["FACEMILL-76", "1", true]);
    expect(lives).toEqual([{ type: "PART_COUNT", counts: "down", value: "200", initial: "300" }]);
    expect(measurements.find(({ code }) => code === "DC")).toMatchObject({
      value: "76.2",
      nominal: "76.2",
      minimum: "76.187",
      maximum: "76.213",
      within: true,
    });
    expect(measurements.find(({ code }) => code === "OAL")).toMatchObject({
      value: "222.25",
      minimum: "221.996",
      maximum: "222.504",
      within: true,
    });
    expect([items.length, itemCount, items.reduce((sum, { count }) => sum + count, 0)]).toEqual([6, 24, 24]);
  });

  it("cutting-tool-measured.xml", () => {
    const bytes = sample("cutting-tool-measured.xml");
    if (!bytes) return;

    const [tool] = readIn([bytes]).tools;

    const of = (code: string) => tool!.measurements.find((one) => one.code === code);
    expect(of("OAL")).toMatchObject({
      value: "323.86",
      minimum: "323.596",
      maximum: "324.104",
      within: true,
    });
    expect(of("DC")).toMatchObject({ value: "76.262", minimum: "76.187", maximum: "76.213", within: false });
    expect(of("LF")).toMatchObject({
      value: "222.259",
      minimum: "222.004",
      maximum: "222.504",
      within: true,
    });
    expect(of("APMX")).toEqual({ name: "DepthOfCutMax", code: "APMX", value: "62.383", nominal: "60.96" });
    expect(tool!.lives).toEqual([{ type: "PART_COUNT", counts: "up", value: "0", limit: "10" }]);
  });

  it("asset-lines-pipe.txt", () => {
    const bytes = sample("asset-lines-pipe.txt");
    if (!bytes) return;

    const { tools } = readIn([bytes]);

    const told = tools.map(({ serial, location, lives, measurements }) => [
      serial,
      location?.value,
      measurements[0]!.value,
      lives[0]!.value,
      lives[0]!.counts,
      lives[0]!.limit,
      measurements[0]!.minimum,
    ]);
    expect(told).toEqual([
      ["ABC", "10", "3.7963", "160", "up", undefined, undefined],
      ["XYZ", "11", "4.12213", "341", "up", undefined, undefined],
      ["FOO", "12", "5.83029", "360", "up", undefined, undefined],
    ]);
  });

  it("cutting-tool-malformed.xml is refused with line and column", () => {
    const bytes = sample("cutting-tool-malformed.xml");
    if (!bytes) return;

    const fault = faultOf(bytes.toString());

    expect(fault.line).toBe(1);
    expect(fault.column).toBeGreaterThan(1000);
  });
});

describe("any bytes", () => {
  const sources = [
    streams,
    Buffer.from(assets("1.4", tool('<ToolLife type="MINUTES">3</ToolLife>'))),
    Buffer.from(`x|a|b\nx|@ASSET@|T7.1|CuttingTool|${tool()}\n`),
  ];

  it("are read the same however they are cut", () => {
    fc.assert(
      fc.property(fc.constantFrom(...sources), fc.array(fc.nat(2000), { maxLength: 8 }), (bytes, cuts) => {
        const at = [0, ...cuts.filter((cut) => cut < bytes.length).sort((a, b) => a - b), bytes.length];
        const pieces = at.slice(1).map((end, i) => bytes.subarray(at[i], end));

        expect(readIn(pieces)).toEqual(readIn([bytes]));
      }),
    );
  });

  it("are read or refused with line and column, whatever a document was made into", () => {
    const mutation = fc.tuple(
      fc.double({ min: 0, max: 0.999, noNaN: true }),
      fc.nat(30),
      fc.uint8Array({ maxLength: 5 }),
    );
    fc.assert(
      fc.property(
        fc.constantFrom(...sources),
        fc.array(mutation, { minLength: 1, maxLength: 6 }),
        (source, mutations) => {
          let bytes = source;
          for (const [place, removed, added] of mutations) {
            const at = Math.floor(place * bytes.length);
            bytes = Buffer.concat([bytes.subarray(0, at), added, bytes.subarray(at + removed)]);
          }
          try {
            expect(readIn([bytes]).tools.every(({ assetId }) => assetId !== "")).toBe(true);
          } catch (error) {
            expect(error).toMatchObject({ line: expect.any(Number), reason: expect.any(String) });
          }
        },
      ),
      { numRuns: 500 },
    );
  });
});
