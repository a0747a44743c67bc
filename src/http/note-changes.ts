import type { FastifyRequest } from "fastify";
import { asChange } from "../db/audit.js";

/** A hook by which what a request changes comes into the list of changes, with who changed it. */
export function noteChanges(request: FastifyRequest, _: unknown, done: () => void): void {
  const { operationId } = (request.routeOptions.schema ?? {}) as { operationId?: string };
  if (request.method === "GET" || operationId === undefined) {
    done();
    return;
  }
  const { body } = request;
  const isFile = typeof body === "object" && body !== null && Symbol.asyncIterator in body;
  asChange(
    {
      operation: operationId,
      keyName: request.keyHolder?.name ?? null,
      entities: (request.params ?? {}) as Record<string, string>,
      request: isFile ? null : body,
      requestId: request.id,
    },
    done,
  );
}
