import type { FastifyDynamicSwaggerOptions } from "@fastify/swagger";
import { jsonSchemaTransform, jsonSchemaTransformObject } from "fastify-type-provider-zod";
import { problems } from "./problem.js";

type Transform = NonNullable<FastifyDynamicSwaggerOptions["transform"]>;
type TransformObject = NonNullable<FastifyDynamicSwaggerOptions["transformObject"]>;

// Said once here, since they hold for every route below /v1.
const everywhere = problems({
  401: "No key came along, or an unknown one",
  403: "The key's role may not do this, or another site's page has sent it",
});
const withQuery = problems({ 400: "A query parameter is not formed as it says here" });
const withBody = problems({
  400: "The body or a header is not formed as it says here",
  413: "The body is above 5 MB",
  415: "The body is no JSON",
});

const transform: Transform = (document) => {
  const { schema, url } = document;
  if (!schema || schema.hide || !url.startsWith("/v1/")) return jsonSchemaTransform(document);
  const response = {
    ...everywhere,
    ...(schema.querystring ? withQuery : {}),
    ...(schema.body ? withBody : {}),
    ...(schema.response as object),
  };
  return jsonSchemaTransform({ ...document, schema: { ...schema, response } });
};

// Every named schema is offered once as input and once as output; only what some route uses belongs in the contract.
const transformObject: TransformObject = (document) => {
  const whole = jsonSchemaTransformObject(document) as {
    paths: object;
    components: { schemas: Record<string, object> };
  };
  const used: Record<string, object> = {};
  const pending = [...referencesIn(whole.paths)];
  for (let name = pending.pop(); name !== undefined; name = pending.pop()) {
    const schema = whole.components.schemas[name];
    if (!schema || name in used) continue;
    used[name] = schema;
    pending.push(...referencesIn(schema));
  }
  const schemas = Object.fromEntries(Object.entries(used).sort(([a], [b]) => (a < b ? -1 : 1)));
  return withoutInputSuffix({
    ...whole,
    components: { ...whole.components, schemas },
  }) as ReturnType<TransformObject>;
};

function referencesIn(part: object): string[] {
  return [...JSON.stringify(part).matchAll(/"#\/components\/schemas\/([^"]+)"/g)].map(
    ([, name = ""]) => name,
  );
}

// Requests and responses are apart from each other anyway, so `MachineCreateInput` may be called `MachineCreate`.
function withoutInputSuffix<Document extends { components: { schemas: Record<string, object> } }>(
  document: Document,
): Document {
  const { schemas } = document.components;
  const plain = (name: string) =>
    name.endsWith("Input") && !(name.slice(0, -5) in schemas) ? name.slice(0, -5) : name;
  const text = JSON.stringify({
    ...document,
    components: {
      ...document.components,
      schemas: Object.fromEntries(Object.entries(schemas).map(([name, schema]) => [plain(name), schema])),
    },
  });
  return JSON.parse(
    text.replace(
      /"#\/components\/schemas\/([^"]+)"/g,
      (_, name: string) => `"#/components/schemas/${plain(name)}"`,
    ),
  );
}

export const openapi: FastifyDynamicSwaggerOptions = {
  openapi: {
    openapi: "3.1.0",
    info: {
      title: "onsize",
      version: "0.1.0",
      description:
        "Takes readings of machined parts and answers verdicts, corrections of tool wear offsets and check plans. Before " +
        "a correction is keyed in: check sign and register at the control, keep the first cut after it under watch. A " +
        "wrong sign or a slipped decimal point can crash the machine, scrap the part or hurt someone.",
      license: { name: "Apache-2.0", identifier: "Apache-2.0" },
    },
    servers: [{ url: "/" }],
    components: {
      securitySchemes: {
        key: { type: "http", scheme: "bearer", description: "Needed once the service has been given a key" },
      },
    },
    security: [{ key: [] }],
  },
  transform,
  transformObject,
};
