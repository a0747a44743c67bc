import { z } from "zod";

const problemTypes = {
  validation: { status: 400, title: "The request is not formed as the contract says" },
  unauthorized: { status: 401, title: "A key is needed" },
  forbidden: { status: 403, title: "This key may not do that" },
  "not-found": { status: 404, title: "There is no such thing" },
  "not-allowed": { status: 405, title: "This cannot be done here" },
  conflict: { status: 409, title: "Something else stands in the way" },
  "idempotency-in-flight": { status: 409, title: "The same request is still being worked on" },
  "payload-too-large": { status: 413, title: "The body is too large" },
  "uri-too-long": { status: 414, title: "The address is too long" },
  "unsupported-media-type": { status: 415, title: "This kind of body is not read here" },
  unprocessable: { status: 422, title: "Well formed, but it cannot be" },
  "idempotency-key-reused": { status: 422, title: "The Idempotency-Key belongs to another request" },
  "headers-too-large": { status: 431, title: "The headers are too large" },
  internal: { status: 500, title: "The service failed" },
  unavailable: { status: 503, title: "The service cannot work just now" },
} as const;

export type ProblemType = keyof typeof problemTypes;

export interface FieldError {
  /** JSON pointer into the body; for a query, path or header parameter its name. */
  pointer: string;
  detail: string;
}

/** An expected outcome that is answered as a problem (RFC 9457). `detail` says what the client can do. */
export class ProblemError extends Error {
  constructor(
    readonly type: ProblemType,
    readonly detail: string,
    readonly errors?: readonly FieldError[],
    options?: ErrorOptions,
  ) {
    super(detail, options);
  }
}

/** A problem with a place to point to; its sentence is that of the first fault. */
export function problemAt(type: ProblemType, errors: readonly FieldError[]): ProblemError {
  const { pointer = "", detail = "" } = errors[0] ?? {};
  const more = errors.length > 1 ? ` And ${errors.length - 1} more, listed under errors.` : "";
  return new ProblemError(type, `${pointer === "" ? "The body" : `${pointer}:`} ${detail}.${more}`, errors);
}

/** The members of a problem document. */
export function describeProblem({ type, detail, errors }: ProblemError): Problem {
  return {
    type: `urn:onsize:problem:${type}`,
    ...problemTypes[type],
    detail,
    ...(errors && { errors: [...errors] }),
  };
}

/** The type that says no more than the status does. */
export function problemTypeOf(status: number): ProblemType {
  const types = Object.keys(problemTypes) as ProblemType[];
  return (
    types.find((type) => problemTypes[type].status === status) ?? (status < 500 ? "validation" : "internal")
  );
}

export const Problem = z
  .strictObject({
    type: z.string().describe("What kind of problem it is; a program may rely on it"),
    title: z.string().describe("The kind of problem in words; the same for every problem of a type"),
    status: z.number().int().describe("The HTTP status, again"),
    detail: z.string().describe("What is wrong this time, and what to do about it"),
    errors: z
      .array(
        z.strictObject({
          pointer: z
            .string()
            .describe("JSON pointer into the body; the bare name of a query, path or header parameter"),
          detail: z.string().describe("What is wrong there, and what to send instead"),
        }),
      )
      .optional()
      .describe("The single faults, where there is a place to point to"),
  })
  .meta({
    id: "Problem",
    description: "An error (RFC 9457)",
    examples: [
      {
        type: "urn:onsize:problem:validation",
        title: "The request is not formed as the contract says",
        status: 400,
        detail: '/kind: must be one of "mill", "lathe", not "mil".',
        errors: [{ pointer: "/kind", detail: 'must be one of "mill", "lathe", not "mil"' }],
      },
    ],
  });
export type Problem = z.infer<typeof Problem>;

/** A response of the contract with its description. */
export function answer<Schema extends z.ZodType>(description: string, schema: Schema) {
  return { description, content: { "application/json": { schema } } };
}

/** Problem responses of the contract: status to what brings it about. */
export function problems<Status extends number>(descriptions: Record<Status, string>) {
  const entries = Object.entries<string>(descriptions).map(([status, description]) => [
    status,
    { description, content: { "application/problem+json": { schema: Problem } } },
  ]);
  return Object.fromEntries(entries) as Record<
    Status,
    { description: string; content: { "application/problem+json": { schema: typeof Problem } } }
  >;
}
