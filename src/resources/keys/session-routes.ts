import type { FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import type { KeyHolder, KeyRing } from "../../http/key-ring.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import { cookieName, readCookie } from "../../http/require-key.js";
import { roles } from "../../http/roles.js";
import { type App, strict } from "../../http/types.js";

const SessionCreate = strict({
  key: z.string().min(1).max(200).describe("The key to sign in with"),
}).meta({
  id: "SessionCreate",
  description: "Signs a browser in",
  examples: [{ key: "onsize_5b1f0c93aa_<43 characters>" }],
});

const Session = z
  .strictObject({
    needs_key: z.boolean().describe("False: the service asks for no key, and serves this computer only"),
    name: z.string().nullable().describe("Whose key it is; null: nobody is signed in"),
    role: z.enum(roles).nullable().describe("What may be done with it; null: nobody is signed in"),
  })
  .meta({
    id: "Session",
    description: "Who is signed in",
    examples: [{ needs_key: true, name: "setter, shift A", role: "operator" }],
  });

const keptSeconds = 30 * 24 * 3600;

/** The page signs in once; its key is kept in a cookie that no script can read and that no other site can make use of. */
export async function sessionRoutes(app: App, { ring }: { ring: KeyRing }) {
  app.post("/session", {
    schema: {
      operationId: "createSession",
      summary: "Sign a browser in with a key, kept in a cookie that scripts cannot read",
      tags: ["access"],
      security: [],
      body: SessionCreate,
      response: { 200: answer("Who is signed in", Session) },
    },
    handler: async (request, reply) => {
      const holder = await ring.find(request.body.key);
      if (!holder) {
        throw new ProblemError(
          "unauthorized",
          "This key is not known, or was revoked. Check that all of it was copied.",
        );
      }
      setCookie(request, reply, request.body.key, keptSeconds);
      return show(true, holder);
    },
  });

  app.get("/session", {
    schema: {
      operationId: "getSession",
      summary: "Say who is signed in",
      tags: ["access"],
      security: [],
      response: { 200: answer("Who is signed in", Session) },
    },
    handler: async ({ headers }) => {
      const key = readCookie(headers.cookie);
      return show(await ring.isLocked(), key === undefined ? undefined : await ring.find(key));
    },
  });

  app.delete("/session", {
    schema: {
      operationId: "deleteSession",
      summary: "Sign the browser out",
      tags: ["access"],
      security: [],
      response: { 200: answer("Nobody is signed in", Session), ...problems({}) },
    },
    handler: async (request, reply) => {
      setCookie(request, reply, "", 0);
      return show(await ring.isLocked(), undefined);
    },
  });
}

function show(needsKey: boolean, holder: KeyHolder | undefined): z.infer<typeof Session> {
  return { needs_key: needsKey, name: holder?.name ?? null, role: holder?.role ?? null };
}

function setCookie(request: FastifyRequest, reply: FastifyReply, value: string, seconds: number): void {
  // A proxy that speaks https to the browser says so; a browser's own word, where none is, can only make the cookie stricter.
  const isSecure = request.protocol === "https" || request.headers["x-forwarded-proto"] === "https";
  reply.header(
    "set-cookie",
    `${cookieName}=${encodeURIComponent(value)}; Path=/v1; HttpOnly; SameSite=Strict; Max-Age=${seconds}${isSecure ? "; Secure" : ""}`,
  );
}
