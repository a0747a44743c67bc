import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { renderContract } from "../openapi/render.js";

interface Schema {
  $ref?: string;
  type?: string;
  description?: string;
  properties?: Record<string, Schema>;
  items?: Schema;
  anyOf?: Schema[];
  allOf?: Schema[];
  oneOf?: Schema[];
  examples?: unknown[];
}
interface Operation {
  operationId?: string;
  summary?: string;
  tags?: string[];
  parameters?: { name: string; description?: string }[];
  requestBody?: { content: Record<string, { schema: Schema }> };
  responses: Record<string, { description: string; content?: Record<string, { schema: Schema }> }>;
}
interface Contract {
  openapi: string;
  paths: Record<string, Record<string, Operation>>;
  components: { schemas: Record<string, Schema> };
}

const rendered = await renderContract();
const contract: Contract = JSON.parse(rendered.document);
const operations = Object.entries(contract.paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, operation]): [string, Operation] => [
    `${method.toUpperCase()} ${path}`,
    operation,
  ]),
);
const committed = (file: string) => readFile(new URL(`../openapi/${file}`, import.meta.url), "utf8");

function resolve(schema: Schema): Schema {
  const name = schema.$ref?.replace("#/components/schemas/", "");
  return name === undefined ? schema : (contract.components.schemas[name] ?? {});
}

function withoutDescription(schema: Schema, place: string): string[] {
  const properties = Object.entries(schema.properties ?? {});
  const parts = [
    ...(schema.anyOf ?? []),
    ...(schema.allOf ?? []),
    ...(schema.oneOf ?? []),
    ...(schema.items ? [schema.items] : []),
  ];
  return [
    ...properties
      .filter(([, property]) => !resolve(property).description && !property.description)
      .map(([name]) => `${place}.${name}`),
    ...properties.flatMap(([name, property]) => withoutDescription(property, `${place}.${name}`)),
    ...parts.flatMap((part) => withoutDescription(part, place)),
  ];
}

describe("the contract", () => {
  it("is what openapi/ holds; `npm run openapi:write` brings it up to date", async () => {
    expect(rendered.document).toBe(await committed("openapi.json"));
    expect(rendered.types).toBe(await committed("openapi.d.ts"));
  });

  it("is OpenAPI 3.1.0", () => {
    expect(contract.openapi).toBe("3.1.0");
  });

  it("names every operation once", () => {
    const ids = operations.map(([, { operationId }]) => operationId);

    expect(new Set(ids).size).toBe(ids.length);
  });

  it.each(operations)(
    "gives %s an operation id, a summary and a tag",
    (_, { operationId, summary, tags }) => {
      expect(operationId).toMatch(/^[a-z]+[A-Za-z]+$/);
      expect(summary).toMatch(/^[A-Z].+[^.]$/);
      expect(tags).toHaveLength(1);
    },
  );

  it.each(operations)("describes every parameter of %s", (_, { parameters = [] }) => {
    expect(parameters.filter(({ description }) => !description).map(({ name }) => name)).toEqual([]);
  });

  it.each(operations)("gives %s problem responses, and describes every response", (name, { responses }) => {
    const failed = Object.entries(responses).filter(([status]) => Number(status) >= 400);

    expect(failed.length).toBeGreaterThan(0);
    for (const [, { content }] of failed)
      expect(Object.keys(content ?? {})).toEqual(["application/problem+json"]);
    for (const { description } of Object.values(responses)) expect(description).not.toBe("Default Response");
    if (/ \/v1\//.test(name)) expect(responses).toHaveProperty("401");
    if (/^(POST|PATCH)/.test(name)) expect(responses).toHaveProperty("400");
    if (/\{/.test(name)) expect(responses).toHaveProperty("404");
  });

  it.each(operations.filter(([, { requestBody }]) => requestBody))(
    "names the body of %s and shows an example",
    (_, operation) => {
      const schema = operation.requestBody?.content["application/json"]?.schema ?? {};

      expect(schema.$ref).toBeDefined();
      expect(resolve(schema).examples?.length).toBeGreaterThan(0);
    },
  );

  it.each(operations)("shows an example of what %s answers", (_, { responses }) => {
    const success = Object.entries(responses).find(([status]) => Number(status) < 300)?.[1];
    const [content] = Object.values(success?.content ?? {});
    const schema = resolve((success?.content?.["application/json"] ?? content)?.schema ?? {});
    const item = schema.properties?.items?.items;

    expect((item ? resolve(item) : schema).examples?.length).toBeGreaterThan(0);
  });

  it.each(Object.entries(contract.components.schemas))(
    "describes %s and each of its properties",
    (name, schema) => {
      expect(schema.description).toBeTruthy();
      expect(withoutDescription(schema, name)).toEqual([]);
    },
  );
});
