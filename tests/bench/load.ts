import { Agent, request } from "node:http";

export type Post = (body: string) => Promise<string>;

/** Posts readings over connections that stay open. */
export function createPost(address: string): Post {
  const agent = new Agent({ keepAlive: true, maxSockets: 64 });
  const url = new URL("/v1/readings", address);
  return (body) =>
    new Promise((resolve, reject) => {
      const headers = { "content-type": "application/json", "content-length": Buffer.byteLength(body) };
      const sent = request(url, { method: "POST", agent, headers }, (response) => {
        const chunks: Buffer[] = [];
        response.on("data", (chunk: Buffer) => chunks.push(chunk));
        response.on("end", () => {
          const text = Buffer.concat(chunks).toString();
          if (response.statusCode === 201) resolve(text);
          else reject(new Error(`${response.statusCode}: ${text.slice(0, 500)}`));
        });
      });
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
