import type { FastifyRequest } from "fastify";
import type { z } from "zod";
import { nearMatches } from "./near-matches.js";
import type { FieldError } from "./problem.js";

/** A fault that a schema found, and the part of the request it was found in. */
interface Fault {
  keyword: string;
  instancePath: string;
  message: string;
  params: Record<string, unknown>;
}

/** The faults of one part of a request, in words that say what to send instead. */
export function explainValidation(
  request: FastifyRequest,
  context: string,
  faults: readonly Fault[],
): FieldError[] {
  const input =
    context === "body" ? request.body : context === "querystring" ? request.query : request.headers;
  const found = faults.flatMap(({ keyword, instancePath, message, params }) => {
    const path = instancePath.split("/").filter((step) => step !== "");
    return narrowUnion({ ...params, code: keyword, message, path } as z.core.$ZodIssue);
  });
  return found.map((fault) => {
    const place = fault.code === "unrecognized_keys" ? [...fault.path, fault.keys[0]] : fault.path;
    const pointer = context === "body" ? place.map((step) => `/${String(step)}`).join("") : place.join(".");
    return { pointer, detail: explain(fault, valueAt(input, fault.path)) };
  });
}

// Of a choice of shapes, the faults of the one that was meant: the only one that is of the right type at all.
function narrowUnion(fault: z.core.$ZodIssue): z.core.$ZodIssue[] {
  if (fault.code !== "invalid_union") return [fault];
  const isOfType = (issues: readonly z.core.$ZodIssue[]) =>
    !issues.some(({ code, path }) => code === "invalid_type" && path.length === 0);
  const [meant, ...others] = fault.errors.filter(isOfType);
  if (!meant || others.length > 0) return [fault];
  return meant.flatMap((issue) => narrowUnion({ ...issue, path: [...fault.path, ...issue.path] }));
}

function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>(
    (value, step) => (value as Record<PropertyKey, unknown> | undefined | null)?.[step],
    input,
  );
}

const typeNames: Record<string, string> = {
  string: "a text",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  object: "an object",
  array: "a list",
};

function explain(fault: z.core.$ZodIssue, value: unknown): string {
  switch (fault.code) {
    case "invalid_type": {
      const wanted = typeNames[fault.expected] ?? fault.expected;
      return value === undefined
        ? `is missing: send ${wanted}`
        : `must be ${wanted}, not ${showValue(value)}`;
    }
    case "invalid_value": {
      const values = fault.values.map((allowed) => JSON.stringify(allowed)).join(", ");
      if (value === undefined) return `is missing: send ${fault.values.length > 1 ? "one of " : ""}${values}`;
      const near = typeof value === "string" ? nearMatches(value, fault.values.map(String), 1)[0] : undefined;
      const hint = near === undefined ? "" : `; did you mean "${near}"?`;
      return `must be ${fault.values.length > 1 ? "one of " : ""}${values}, not ${showValue(value)}${hint}`;
    }
    case "too_small":
      return explainBound(
        fault.origin,
        "at least",
        fault.inclusive === false ? "above" : "at least",
        fault.minimum,
      );
    case "too_big":
      return explainBound(
        fault.origin,
        "at most",
        fault.inclusive === false ? "below" : "at most",
        fault.maximum,
      );
    default:
      return fault.message;
  }
}

function explainBound(origin: string, count: string, size: string, bound: number | bigint): string {
  if (origin === "string") return `must have ${count} ${bound} character${Number(bound) === 1 ? "" : "s"}`;
  if (origin === "array" || origin === "set") return `must list ${count} ${bound}`;
  return `must be ${size} ${bound}`;
}

function showValue(value: unknown): string {
  if (typeof value === "number") return String(value);
  const text = JSON.stringify(value) ?? "nothing";
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}
