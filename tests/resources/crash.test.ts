import { type ChildProcess, spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { afterAll, expect, it } from "vitest";
import { createFolder, removeFolder } from "../support/folders.js";

const dataDir = await createFolder();
const running = new Set<ChildProcess>();
afterAll(async () => {
  for (const child of running) {
    const ended = new Promise((resolve) => child.once("exit", resolve));
    child.kill("SIGTERM");
    await ended;
  }
  await removeFolder(dataDir);
});

/** The service as a process of its own on an embedded database of its own; answers its address. */
async function start(): Promise<{ child: ChildProcess; address: string }> {
  const server = fileURLToPath(new URL("../../src/server.ts", import.meta.url));
  const env = {
    ...process.env,
    DATABASE_URL: undefined,
    ONSIZE_DATA_DIR: dataDir,
    PORT: "0",
    LOG_LEVEL: "warn",
  };
  const child = spawn(process.execPath, ["--import", "tsx", server], {
    env,
    stdio: ["ignore", "pipe", "inherit"],
  });
  running.add(child);
  child.once("exit", () => running.delete(child));
  const address = await new Promise<string>((resolve, reject) => {
    child.once("exit", (code) => reject(new Error(`the service ended with ${code}`)));
    child.stdout!.on("data", (chunk: Buffer) => {
      const line = /http:\/\/\S+/.exec(chunk.toString());
      if (line) resolve(line[0]);
    });
  });
  return { child, address };
}

async function post(address: string, path: string, body: object) {
  const response = await fetch(new URL(path, address), {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });
  if (!response.ok) throw new Error(await response.text());
  // biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract in the tests of each resource
  return (await response.json()) as any;
}

async function setUp(address: string) {
  const machine = await post(address, "/v1/machines", {
    name: "mill",
    kind: "mill",
    unit: "mm",
    least_increment: 0.001,
    largest_change: 0.2,
  });
  const tool = await post(address, "/v1/tools", {
    machine_id: machine.machine_id,
    number: 1,
    name: "end mill",
    kind: "end_mill",
    registers: [{ number: 1, label: "D1", controls: "radial", holds: "radius", value: 0 }],
  });
  const gauge = await post(address, "/v1/gauges", {
    name: "mic",
    kind: "micrometer",
    unit: "mm",
    resolution: 0.001,
  });
  const part = await post(address, "/v1/parts", {
    number: "P-1",
    revision: "A",
    unit: "mm",
    features: [
      {
        characteristic: "1",
        kind: "external",
        nominal: "12",
        lower_deviation: -0.03,
        upper_deviation: 0.03,
        gauge_id: gauge.gauge_id,
        cut_by: [{ register_id: tool.registers[0].register_id, walls: 2 }],
      },
    ],
  });
  return post(address, "/v1/batches", { name: "B-1", part_id: part.part_id, machine_id: machine.machine_id });
}

it("keeps every acknowledged reading once when the service is killed in the middle of posting", {
  timeout: 120_000,
}, async () => {
  const acknowledged = new Set<string>();
  let sent = 0;
  let batchId = "";

  for (let round = 0; round < 3; round++) {
    const { child, address } = await start();
    if (batchId === "") batchId = (await setUp(address)).batch_id;
    let alive = true;
    const client = async () => {
      while (alive) {
        const source_id = `reading ${++sent}`;
        const body = {
          batch_id: batchId,
          characteristic: "1",
          piece: sent,
          value: 12.001,
          unit: "mm",
          source_id,
        };
        await post(address, "/v1/readings", body).then(
          () => acknowledged.add(source_id),
          () => undefined,
        );
      }
    };
    const clients = Array.from({ length: 6 }, client);
    await new Promise((resolve) => setTimeout(resolve, 700));
    const ended = new Promise((resolve) => child.once("exit", resolve));
    child.kill("SIGKILL");
    await ended;
    alive = false;
    await Promise.all(clients);
  }

  const { address } = await start();
  const stored: string[] = [];
  for (let cursor = ""; ; ) {
    const page = await fetch(new URL(`/v1/readings?batch_id=${batchId}&limit=500${cursor}`, address)).then(
      (response) =>
        response.json() as Promise<{ items: { source_id: string }[]; next_cursor: string | null }>,
    );
    stored.push(...page.items.map((item) => item.source_id));
    if (page.next_cursor === null) break;
    cursor = `&cursor=${page.next_cursor}`;
  }
  expect(acknowledged.size).toBeGreaterThan(30);
  expect(new Set(stored).size).toBe(stored.length);
  expect([...acknowledged].filter((source) => !stored.includes(source))).toEqual([]);
});
