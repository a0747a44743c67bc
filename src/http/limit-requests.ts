import type { FastifyReply, FastifyRequest } from "fastify";
import { ProblemError } from "./problem.js";

const mostAtOnce = 500;

declare module "fastify" {
  interface FastifyContextConfig {
    /** Answered by whoever watches the service, or held open on purpose: not counted as work under way. */
    isUncounted?: boolean;
  }
}

/**
 * A hook that refuses what comes while more is under way than can be answered in good time: who is told at once can come
 * again, who waits without end sends everything twice.
 */
export function limitRequests(most = mostAtOnce) {
  let underWay = 0;
  return async (request: FastifyRequest, reply: FastifyReply): Promise<void> => {
    if (request.routeOptions.config.isUncounted) return;
    if (underWay >= most) {
      throw new ProblemError(
        "unavailable",
        `${most} requests are under way, as many as can be worked on at once. Nothing of this one was done; send it ` +
          "again in a moment, with the same Idempotency-Key if it had one.",
      );
    }
    underWay += 1;
    // Answered, or left by a client who did not wait for the answer.
    reply.raw.once("close", () => {
      underWay -= 1;
    });
  };
}
