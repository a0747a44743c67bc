import { BenchServers } from "./servers.js";

const say = (line: string) => void process.stdout.write(`${line}\n`);
const pieces = Number(process.env.BENCH_PIECES ?? 2000);
const characteristics = 60;
const piecesPerPost = 20;
/** One piece in this many is measured; what of the others is to be said has to be worked out as well. */
const measuredEvery = Number(process.env.BENCH_MEASURED_EVERY ?? 1);

/** How long a report of 2,000 pieces by 60 characteristics takes, and what it adds to the memory of the idle service. */
export async function benchReport(): Promise<void> {
  const servers = await BenchServers.start(say);
  try {
    const address = await servers.launch("../../src/server.ts", "bench_report");
    const batchId = await fill(address);
    say(
      `Report of ${pieces} pieces by ${characteristics} characteristics, one piece in ${measuredEvery} measured`,
    );
    await read(address, batchId, "json"); // warms up
    await servers.peakMb(address);
    const idle = await servers.peakMb(address);
    for (const format of ["json", "csv", "html", "pdf"]) {
      const { seconds, bytes } = await read(address, batchId, format);
      const above = Math.max(0, (await servers.peakMb(address)) - idle);
      say(
        `  ${format.padEnd(5)}${seconds.toFixed(1)} s, ${(bytes / 1e6).toFixed(1)} MB, ${above.toFixed(0)} MB above idle`,
      );
    }
  } finally {
    await servers.stop();
  }
}

async function read(address: string, batchId: string, format: string) {
  const begun = performance.now();
  const response = await fetch(new URL(`/v1/batches/${batchId}/report?format=${format}`, address));
  if (!response.ok) throw new Error(await response.text());
  let bytes = 0;
  for await (const chunk of response.body!) bytes += (chunk as Uint8Array).length;
  return { seconds: (performance.now() - begun) / 1000, bytes };
}

/** A part in inch with long names, and a batch of it of which every piece is measured by a micrometer in mm. */
async function fill(address: string): Promise<string> {
  const post = async (path: string, body: object) => {
    const response = await fetch(new URL(path, address), {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
    });
    if (!response.ok) throw new Error(await response.text());
    // biome-ignore lint/suspicious/noExplicitAny: set-up of a load, not a client
    return (await response.json()) as any;
  };
  const machine = await post("/v1/machines", {
    name: "mill 1",
    kind: "mill",
    unit: "inch",
    least_increment: 0.0001,
    largest_change: 0.01,
  });
  const gauge = await post("/v1/gauges", {
    name: "micrometer 0-25 no. 3, shelf by the window",
    kind: "micrometer",
    unit: "mm",
    resolution: 0.001,
    repeatability: 0.0012,
    expanded_uncertainty: 0.003,
  });
  const features = Array.from({ length: characteristics }, (_, i) => ({
    characteristic: String(i + 1),
    name:
      i % 7 === 3
        ? `Width of the rib beside pocket ${i} over datum A and datum B, Nut für Dichtung`
        : `Width ${i}`,
    kind: i % 2 === 0 ? "external" : "internal",
    nominal: "0.4720",
    lower_deviation: "-0.0012",
    upper_deviation: "0.0012",
    gauge_id: gauge.gauge_id,
    cut_by: [],
  }));
  const part = await post("/v1/parts", {
    number: "HB-2041",
    revision: "B",
    unit: "inch",
    decision_rule: "simple",
    features,
  });
  const batch = await post("/v1/batches", {
    name: "bench",
    part_id: part.part_id,
    machine_id: machine.machine_id,
    quantity: pieces,
  });
  const ids: string[] = part.features.map((feature: { feature_id: string }) => feature.feature_id);
  let noise = 1;
  for (let from = 1; from <= pieces; from += piecesPerPost) {
    const readings = [];
    for (let piece = from; piece < from + piecesPerPost && piece <= pieces; piece += 1) {
      if (piece % measuredEvery !== 0 && piece !== 1 && piece !== pieces) continue;
      for (const feature_id of ids) {
        noise = (noise * 16807) % 2147483647;
        const value = (11.9888 + (noise / 2147483647 - 0.5) * 0.05).toFixed(3);
        readings.push({
          feature_id,
          batch_id: batch.batch_id,
          piece,
          value,
          unit: "mm",
          gauge_id: gauge.gauge_id,
        });
      }
    }
    for (let i = 0; i < readings.length; i += 1000) await post("/v1/readings", readings.slice(i, i + 1000));
  }
  return batch.batch_id;
}
