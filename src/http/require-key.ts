import { createHash, timingSafeEqual } from "node:crypto";
import type { FastifyRequest } from "fastify";
import { ProblemError } from "./problem.js";

/** A hook that lets nobody through without the key. */
export function requireKey(key: string) {
  const wanted = digest(key);
  return async (request: FastifyRequest): Promise<void> => {
    const given = /^Bearer +(\S+)$/i.exec(request.headers.authorization ?? "")?.[1];
    if (given === undefined || !timingSafeEqual(digest(given), wanted)) {
      throw new ProblemError(
        "unauthorized",
        `${given === undefined ? "No key came along" : "This key is not known"}. Send the header "Authorization: Bearer <key>".`,
      );
    }
  };
}

function digest(text: string): Buffer {
  return createHash("sha256").update(text).digest();
}
