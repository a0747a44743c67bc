import { Readable } from "node:stream";
import { text } from "node:stream/consumers";
import type { FastifyReply, FastifyRequest } from "fastify";
import supertest from "supertest";
import { afterAll, afterEach, expect } from "vitest";
import { z } from "zod";
import { buildApp } from "../../src/app.js";
import { Problem } from "../../src/http/problem.js";
import { createTestDatabase } from "./database.js";

/**
 * The service on a database of the test file's own; call it at the top level of the file. Every answer is held to the
 * schema that the contract gives for it.
 */
export async function createTestApp({ adminKey }: { adminKey?: string } = {}) {
  const { db, url } = await createTestDatabase();
  const app = buildApp({ db, config: { logLevel: "silent", adminKey } });
  const breaches: string[] = [];
  app.addHook("onSend", async (request, reply, payload) => {
    const isJson = String(reply.getHeader("content-type")).includes("json");
    if (!isJson) return payload;
    const body = payload instanceof Readable ? await text(payload) : payload;
    breaches.push(...findBreaches(request, reply, JSON.parse(String(body))));
    return body;
  });
  await app.listen({ host: "127.0.0.1", port: 0 });
  afterEach(() => expect(breaches.splice(0)).toEqual([]));
  afterAll(() => app.close());
  return { app, db, url, api: supertest(app.server) };
}

type ContentResponse = Record<string, { content: Record<string, { schema: z.ZodType }> } | undefined>;

function findBreaches(request: FastifyRequest, reply: FastifyReply, payload: unknown): string[] {
  const place = `${request.method} ${request.url} ${reply.statusCode}`;
  const declared = request.routeOptions.schema?.response as ContentResponse | undefined;
  if (!declared) return [];
  const schema =
    reply.statusCode >= 400 ? Problem : declared[reply.statusCode]?.content["application/json"]?.schema;
  if (!schema) return [`${place}: not in the contract`];
  const { error } = schema.safeParse(payload);
  return error ? [`${place}: ${z.prettifyError(error)}`] : [];
}
