import { Readable } from "node:stream";
import { millimetres } from "../support/qif-document.js";
import { setUp } from "./running-shop.js";
import { BenchServers } from "./servers.js";

const say = (line: string) => void process.stdout.write(`${line}\n`);
const megabytes = Number(process.env.QIF_MB ?? 100);
const perSet = 20;

/** A QIF document of many pieces, 20 values each, streamed in: peak memory of the service above idle, and values per second. */
export async function benchQif(): Promise<void> {
  const servers = await BenchServers.start(say);
  try {
    const address = await servers.launch("../../src/server.ts", "bench_qif");
    const shop = await setUp(address, "qif");
    const layout = (await post(
      address,
      "/v1/log-layouts",
      JSON.stringify({ name: "qif", format: "qif", piece_from: "serial" }),
    )) as {
      layout_id: string;
    };
    const query = `layout_id=${layout.layout_id}&batch_id=${shop.batchId}`;
    await post(address, `/v1/readings/imports?${query}&dry_run=true`, Readable.from(documentOf(1)));
    const idle = await servers.peakMb(address);
    await servers.peakMb(address);
    for (const mb of [megabytes / 10, megabytes]) {
      const begun = performance.now();
      const answer = (await post(
        address,
        `/v1/readings/imports?${query}`,
        Readable.from(documentOf(mb)),
      )) as {
        accepted: number;
        duplicates: number;
      };
      const seconds = (performance.now() - begun) / 1000;
      const peak = (await servers.peakMb(address)) - idle;
      const values = answer.accepted + answer.duplicates;
      say(
        `QIF of ${mb} MB: ${answer.accepted} values accepted, ${answer.duplicates} known, ${(values / seconds).toFixed(0)}/s; ` +
          `peak ${peak.toFixed(0)} MB above idle`,
      );
    }
  } finally {
    await servers.stop();
  }
}

/** Twenty characteristics, and pieces until the document has its length. */
function* documentOf(mb: number): Generator<string> {
  const numbers = Array.from({ length: perSet }, (_, i) => i + 1);
  const lines = (text: (n: number) => string) => numbers.map(text).join("\n");
  yield `<?xml version="1.0" encoding="UTF-8"?>
<QIFDocument xmlns="http://qifstandards.org/xsd/qif3" versionQIF="3.0.0" idMax="99999999">${millimetres}<Characteristics>
<CharacteristicDefinitions n="${perSet}">${lines((n) => `<DiameterCharacteristicDefinition id="${100 + n}"><Tolerance><MaxValue>12.03</MaxValue><MinValue>11.97</MinValue><DefinedAsLimit>true</DefinedAsLimit></Tolerance></DiameterCharacteristicDefinition>`)}</CharacteristicDefinitions>
<CharacteristicNominals n="${perSet}">${lines((n) => `<DiameterCharacteristicNominal id="${200 + n}"><CharacteristicDefinitionId>${100 + n}</CharacteristicDefinitionId><TargetValue>12</TargetValue></DiameterCharacteristicNominal>`)}</CharacteristicNominals>
<CharacteristicItems n="${perSet}">${lines((n) => `<DiameterCharacteristicItem id="${300 + n}"><Name>${n}</Name><CharacteristicNominalId>${200 + n}</CharacteristicNominalId></DiameterCharacteristicItem>`)}</CharacteristicItems></Characteristics>
<Results><MeasurementResultsSet n="1">`;
  let length = 0;
  let sets = 0;
  for (; length < mb * 1e6; sets++) {
    const set = `<MeasurementResults id="${1_000_000 + sets}"><MeasuredCharacteristics><CharacteristicMeasurements n="${perSet}">
${lines((n) => `<DiameterCharacteristicMeasurement id="${10_000_000 + sets * perSet + n}"><Status><CharacteristicStatusEnum>PASS</CharacteristicStatusEnum></Status><CharacteristicItemId>${300 + n}</CharacteristicItemId><Value>${(12 + (((sets * 7 + n * 3) % 11) - 5) * 0.001).toFixed(3)}</Value></DiameterCharacteristicMeasurement>`)}</CharacteristicMeasurements></MeasuredCharacteristics><ActualComponentIds n="1"><Id>${9_000_000 + sets}</Id></ActualComponentIds></MeasurementResults>\n`;
    length += set.length;
    yield set;
  }
  yield '</MeasurementResultsSet><ActualComponentSets n="1"><ActualComponentSet n="1">';
  for (let i = 0; i < sets; i++)
    yield `<ActualComponent id="${9_000_000 + i}"><SerialNumber>S${i}</SerialNumber></ActualComponent>\n`;
  yield "</ActualComponentSet></ActualComponentSets></Results></QIFDocument>\n";
}

async function post(address: string, path: string, body: string | Readable): Promise<unknown> {
  const response = await fetch(new URL(path, address), {
    method: "POST",
    headers: { "content-type": typeof body === "string" ? "application/json" : "application/xml" },
    body: typeof body === "string" ? body : (Readable.toWeb(body) as ReadableStream),
    ...(typeof body !== "string" && { duplex: "half" }),
  } as RequestInit);
  const text = await response.text();
  if (!response.ok) throw new Error(text.slice(0, 500));
  return JSON.parse(text);
}
