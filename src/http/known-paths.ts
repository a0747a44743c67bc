import type { FastifyReply, FastifyRequest, RouteOptions } from "fastify";
import { ProblemError } from "./problem.js";

/** What a request without a route is answered: 405 where the path is known by other methods, else 404. */
export function createKnownPaths() {
  const methodsOf = new Map<string, Set<string>>();
  return {
    add({ url, method }: Pick<RouteOptions, "url" | "method">): void {
      const methods = methodsOf.get(url) ?? new Set();
      for (const name of [method].flat()) methods.add(name);
      methodsOf.set(url, methods);
    },
    refuse(request: FastifyRequest, reply: FastifyReply): never {
      const path = request.url.split("?", 1)[0] ?? "";
      const known = [...methodsOf]
        .filter(([url]) => matches(url, path))
        .flatMap(([, methods]) => [...methods]);
      if (known.length === 0) {
        throw new ProblemError(
          "not-found",
          `There is nothing at ${path}. All addresses stand in /openapi.json.`,
        );
      }
      const allowed = [...new Set(known)].sort().join(", ");
      reply.header("allow", allowed);
      throw new ProblemError(
        "not-allowed",
        request.method === "DELETE"
          ? "Nothing is deleted here. What a person entered can be voided with a reason (POST …/void); all else stays, and a change is a new record."
          : `${request.method} is not taken at ${path}. Send ${allowed}.`,
      );
    },
  };
}

function matches(url: string, path: string): boolean {
  const steps = url.split("/");
  const given = path.split("/");
  return (
    steps.length === given.length &&
    steps.every((step, i) => step === given[i] || (step.startsWith(":") && given[i] !== ""))
  );
}
