import { setTimeout as delay } from "node:timers/promises";
import Fastify from "fastify";
import { expect, it } from "vitest";
import { handleError } from "../../src/http/handle-error.js";
import { limitRequests } from "../../src/http/limit-requests.js";

function build(most: number) {
  const app = Fastify();
  const open: (() => void)[] = [];
  app.addHook("onRequest", limitRequests(most));
  app.setErrorHandler(handleError);
  app.get("/slow", () => new Promise((done) => open.push(() => done({ done: true }))));
  app.get("/watch", { config: { isUncounted: true } }, async () => ({ watched: true }));
  return { app, open };
}

it("refuses at once what comes while as much is under way as can be, and takes the next one after", async () => {
  const { app, open } = build(2);
  const taken = [app.inject("/slow"), app.inject("/slow")];
  while (open.length < 2) await new Promise(setImmediate);

  const refused = await app.inject("/slow");

  expect(refused.statusCode).toBe(503);
  expect(refused.headers["retry-after"]).toBe("1");
  expect(refused.json().detail).toContain("Nothing of this one was done");
  expect((await app.inject("/watch")).statusCode).toBe(200);
  for (const answer of open) answer();
  expect((await Promise.all(taken)).map(({ statusCode }) => statusCode)).toEqual([200, 200]);
  const next = app.inject("/slow");
  while (open.length < 3) await new Promise(setImmediate);
  open[2]?.();
  expect((await next).statusCode).toBe(200);
  await app.close();
});

it("counts what nobody answers any more as gone, and what was refused not at all", async () => {
  const { app, open } = build(1);
  await app.listen({ host: "127.0.0.1", port: 0 });
  const at = app.server.address();
  const url = `http://127.0.0.1:${typeof at === "object" ? at?.port : ""}/slow`;
  const impatient = new AbortController();
  const left = fetch(url, { signal: impatient.signal }).catch(() => "left");
  while (open.length < 1) await delay(5);
  expect((await fetch(url)).status).toBe(503);
  expect((await fetch(url)).status).toBe(503);

  impatient.abort();
  expect(await left).toBe("left");

  let status = 503;
  while (status === 503) {
    const known = open.length;
    const answered = fetch(url);
    const taken = async () => {
      while (open.length === known) await delay(5);
      open.at(-1)?.();
      return answered;
    };
    ({ status } = await Promise.race([answered, taken()]));
  }
  expect(status).toBe(200);
  await app.close();
});
