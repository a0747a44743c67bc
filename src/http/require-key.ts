import type { FastifyRequest } from "fastify";
import type { KeyHolder, KeyRing } from "./key-ring.js";
import { ProblemError } from "./problem.js";
import { mayDo, roleFor } from "./roles.js";

export const cookieName = "onsize_key";

declare module "fastify" {
  interface FastifyRequest {
    /** Whose key came along; null: none did, and none was asked for. */
    keyHolder: KeyHolder | null;
  }
}

/** A hook that lets nobody through who may not do what the operation does. */
export function requireKey(ring: KeyRing) {
  return async (request: FastifyRequest): Promise<void> => {
    const { method, headers } = request;
    const bearer = /^Bearer +(\S+)$/i.exec(headers.authorization ?? "")?.[1];
    const isWrite = !["GET", "HEAD", "OPTIONS"].includes(method);
    // A page of somebody else's can make a browser send what it wants here, along with the cookie, but cannot set a header.
    if (isWrite && headers.authorization === undefined) refuseOtherSites(request);
    const needed = roleOf(request);
    if (needed === "anybody") return;
    if (!(await ring.isLocked())) return;
    const given = headers.authorization === undefined ? readCookie(headers.cookie) : bearer;
    const holder = given === undefined ? undefined : await ring.find(given);
    if (!holder) {
      throw new ProblemError(
        "unauthorized",
        `${given === undefined ? "No key came along" : "This key is not known, or was revoked"}. Send the header "Authorization: Bearer <key>".`,
      );
    }
    request.keyHolder = holder;
    if (mayDo(holder.role, needed)) return;
    throw new ProblemError(
      "forbidden",
      `The key "${holder.name}" is one of the role ${holder.role}; this needs ${needed}. Ask whoever keeps the keys.`,
    );
  };
}

/** An operation that says nothing is for those who may do all. */
function roleOf(request: FastifyRequest) {
  const { operationId = "" } = (request.routeOptions.schema ?? {}) as { operationId?: keyof typeof roleFor };
  return Object.hasOwn(roleFor, operationId) ? roleFor[operationId as keyof typeof roleFor] : "admin";
}

/** The key in the page's cookie. */
export function readCookie(header: string | undefined): string | undefined {
  for (const pair of header?.split(";") ?? []) {
    const [name, value = ""] = pair.trim().split("=", 2);
    if (name !== cookieName) continue;
    try {
      return decodeURIComponent(value) || undefined;
    } catch {
      return undefined;
    }
  }
  return undefined;
}

function refuseOtherSites({ headers }: FastifyRequest): void {
  const site = headers["sec-fetch-site"];
  const { origin, host } = headers;
  const isOurs =
    site === undefined
      ? origin === undefined
        ? headers.cookie === undefined // no browser, then; one with a cookie says where it comes from
        : URL.canParse(origin) && new URL(origin).host === host
      : site === "same-origin";
  if (isOurs) return;
  throw new ProblemError(
    "forbidden",
    "This was sent by a page of another site, or by a browser that does not say by which. Use the service's own page, or a " +
      'program with the header "Authorization: Bearer <key>".',
  );
}
