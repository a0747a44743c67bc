import { Agent, request } from "node:http";

export type Post = (body: string) => Promise<string>;

/** Posts readings over connections that stay open. */
export function createPost(address: string): Post {
  const send = connect(address);
  return (body) => send("POST", "/v1/readings", body);
}

/** Asks over connections that stay open. */
export function createGet(address: string): (path: string) => Promise<string> {
  const send = connect(address);
  return (path) => send("GET", path);
}

function connect(address: string): (method: string, path: string, body?: string) => Promise<string> {
  const agent = new Agent({ keepAlive: true, maxSockets: 64 });
  return (method, path, body) =>
    new Promise((resolve, reject) => {
      const headers = body && {
        "content-type": "application/json",
        "content-length": Buffer.byteLength(body),
      };
      const sent = request(
        new URL(path, address),
        { method, agent, ...(headers && { headers }) },
        (response) => {
          const chunks: Buffer[] = [];
          response.on("data", (chunk: Buffer) => chunks.push(chunk));
          response.on("end", () => {
            const text = Buffer.concat(chunks).toString();
            if (response.statusCode! < 300) resolve(text);
            else reject(new Error(`${response.statusCode}: ${text.slice(0, 500)}`));
          });
        },
      );
      sent.on("error", reject);
      sent.end(body);
    });
}

/** Runs `clients` loops of requests for some seconds; answers readings per second. */
export async function measure(
  post: Post,
  clients: number,
  seconds: number,
  nextBody: (client: number) => { body: string; readings: number },
): Promise<number> {
  const begun = performance.now();
  const end = begun + seconds * 1000;
  let readings = 0;
  await Promise.all(
    Array.from({ length: clients }, async (_, client) => {
      while (performance.now() < end) {
        const next = nextBody(client);
        await post(next.body);
        readings += next.readings;
      }
    }),
  );
  return readings / ((performance.now() - begun) / 1000);
}

export function median(list: readonly number[]): number {
  return [...list].sort((a, b) => a - b)[list.length >> 1]!;
}

export async function timeOf(work: () => Promise<unknown>): Promise<number> {
  const begun = performance.now();
  await work();
  return performance.now() - begun;
}
