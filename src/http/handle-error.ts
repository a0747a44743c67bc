import type { Socket } from "node:net";
import type { FastifyError, FastifyReply, FastifyRequest } from "fastify";
import pg from "pg";
import { explainValidation } from "./explain-validation.js";
import { describeProblem, ProblemError, type ProblemType, problemAt, problemTypeOf } from "./problem.js";

/** Answers every error as `application/problem+json`. */
export function handleError(error: FastifyError, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const problem = toProblem(error, request);
  const body = describeProblem(problem);
  if (body.status >= 500) request.log.error({ err: error }, "request failed");
  if (problem.type === "unavailable") reply.header("retry-after", "1");
  if (problem.type === "unauthorized") reply.header("www-authenticate", "Bearer");
  return reply.code(body.status).type("application/problem+json").send(body);
}

function toProblem(error: FastifyError, request: FastifyRequest): ProblemError {
  if (error instanceof ProblemError) return error;
  if (error.validation) return validationProblem(error, request);
  const fromDatabase = databaseProblem(error);
  if (fromDatabase) return fromDatabase;
  const status = error.statusCode ?? 500;
  if (status >= 400 && status < 500) {
    return new ProblemError(problemTypeOf(status), explainRequest(error, request));
  }
  return new ProblemError(
    "internal",
    "Something failed in the service. Send it again, with the same Idempotency-Key if it had one; if it fails again, " +
      `look in the service's log for request ${request.id}.`,
  );
}

function validationProblem(error: FastifyError, request: FastifyRequest): ProblemError {
  const context = error.validationContext ?? "body";
  if (context === "params") {
    return new ProblemError("not-found", `There is nothing at ${request.url}. Check the id in the address.`);
  }
  const faults = (error.validation ?? []) as Parameters<typeof explainValidation>[2];
  return problemAt("validation", explainValidation(request, context, faults));
}

/** Answers what is no HTTP, which no route and no other handler ever sees. */
export function handleClientError(error: Error & { code?: string }, socket: Socket): void {
  if (error.code === "ECONNRESET" || !socket.writable) return void socket.destroy();
  const isTooLarge = error.code === "HPE_HEADER_OVERFLOW";
  const body = describeProblem(
    isTooLarge
      ? new ProblemError("headers-too-large", "Send fewer or shorter headers, and a shorter address.")
      : new ProblemError("validation", "This is no HTTP request, or it came in too slowly. Send it again."),
  );
  const text = JSON.stringify(body);
  socket.end(
    `HTTP/1.1 ${isTooLarge ? "431 Request Header Fields Too Large" : "400 Bad Request"}\r\n` +
      "content-type: application/problem+json\r\nconnection: close\r\n" +
      `content-length: ${Buffer.byteLength(text)}\r\n\r\n${text}`,
  );
}

const json = 'Send JSON with the header "content-type: application/json".';

function explainRequest(error: FastifyError, request: FastifyRequest): string {
  switch (error.code) {
    case "FST_ERR_CTP_EMPTY_JSON_BODY":
      return `The body is empty. ${json}`;
    case "FST_ERR_CTP_INVALID_JSON_BODY":
      return "The body is no JSON. Check quotes, commas and brackets; NaN and Infinity are no numbers in it.";
    case "FST_ERR_CTP_INVALID_MEDIA_TYPE":
      return `A body of type "${request.headers["content-type"] ?? ""}" is not read here. ${json}`;
    case "FST_ERR_CTP_BODY_TOO_LARGE":
      return "The body is above 5 MB. Send it in several requests.";
    case "FST_ERR_BAD_URL":
      return `${request.url} is no address: write a percent sign as %25.`;
    default:
      return `${error.message}.`;
  }
}

const unreachable = /^(08|53|57P0)|^E(CONN|HOST|NET|PIPE|TIMEDOUT|AI_AGAIN)/;

function databaseProblem(error: Error & { code?: string }): ProblemError | undefined {
  if (
    unreachable.test(error.code ?? "") ||
    /^(Connection terminated|timeout exceeded when)/.test(error.message)
  ) {
    return new ProblemError(
      "unavailable",
      "The database cannot be reached just now. Send it again in a moment, with the same Idempotency-Key if it had one.",
    );
  }
  if (!(error instanceof pg.DatabaseError)) return undefined;
  const rule = (error.constraint ?? "").replaceAll("_", " ");
  const sentences: Record<string, [ProblemType, string]> = {
    "23505": ["conflict", `This exists already (${rule}). ${error.detail ?? ""}`],
    "23503": ["unprocessable", `This names something that does not exist (${rule}). ${error.detail ?? ""}`],
    "23514": ["unprocessable", `This breaks the rule "${rule}".`],
    "22003": ["validation", "A number is larger than can be stored. Check the unit and the decimal point."],
    "22007": ["validation", "A date or an instant is not one that there is."],
    "22008": ["validation", "A date or an instant is not one that there is."],
    "22021": ["validation", "A text holds a character that cannot be stored, such as NUL. Leave it out."],
    "22P05": ["validation", "A text holds a character that cannot be stored, such as NUL. Leave it out."],
    "40001": ["unavailable", "Another change got in between, and nothing was stored. Send it again."],
    "40P01": ["unavailable", "Another change got in between, and nothing was stored. Send it again."],
  };
  const found = sentences[error.code ?? ""];
  return found && new ProblemError(found[0], found[1].trim());
}
