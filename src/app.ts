import { randomUUID } from "node:crypto";
import swagger from "@fastify/swagger";
import swaggerUi from "@fastify/swagger-ui";
import Fastify from "fastify";
import { validatorCompiler, type ZodTypeProvider } from "fastify-type-provider-zod";
import type { Config } from "./config.js";
import type { Db } from "./db/client.js";
import { ReadingRecorder } from "./decision/reading-recorder.js";
import { handleClientError, handleError } from "./http/handle-error.js";
import { healthRoutes } from "./http/health.js";
import { KeyRing } from "./http/key-ring.js";
import { createKnownPaths } from "./http/known-paths.js";
import { limitRequests } from "./http/limit-requests.js";
import { createMetrics, metricsRoutes } from "./http/metrics.js";
import { noteChanges } from "./http/note-changes.js";
import { openapi } from "./http/openapi.js";
import { pageRoutes } from "./http/page.js";
import { requireKey } from "./http/require-key.js";
import type { App } from "./http/types.js";
import { auditRoutes } from "./resources/audit/routes.js";
import { batchRoutes } from "./resources/batches/routes.js";
import { chartRoutes } from "./resources/charts/routes.js";
import { checkRoutes } from "./resources/checks/routes.js";
import { correctionRoutes } from "./resources/corrections/routes.js";
import { diagnosisRoutes } from "./resources/diagnosis/routes.js";
import { edgeRoutes } from "./resources/edges/routes.js";
import { eventRoutes } from "./resources/events/routes.js";
import { firstArticleRoutes } from "./resources/first-articles/routes.js";
import { gaugeCheckRoutes } from "./resources/gauge-checks/routes.js";
import { gaugeComparisonRoutes } from "./resources/gauge-comparison/routes.js";
import { gaugeFitnessRoutes } from "./resources/gauge-fitness/routes.js";
import { gaugeStudyRoutes } from "./resources/gauge-studies/routes.js";
import { gaugeRoutes } from "./resources/gauges/routes.js";
import { holdRoutes } from "./resources/holds/routes.js";
import { importRoutes } from "./resources/imports/routes.js";
import { keyRoutes } from "./resources/keys/routes.js";
import { sessionRoutes } from "./resources/keys/session-routes.js";
import { logLayoutRoutes } from "./resources/log-layouts/routes.js";
import { machineRegisterRoutes } from "./resources/machine-registers/routes.js";
import { machineRoutes } from "./resources/machines/routes.js";
import { materialRoutes } from "./resources/materials/routes.js";
import { outlookRoutes } from "./resources/outlook/routes.js";
import { partProposalRoutes } from "./resources/parts/proposals/routes.js";
import { partRoutes } from "./resources/parts/routes.js";
import { pieceDecisionRoutes } from "./resources/piece-decisions/routes.js";
import { pieceRoutes } from "./resources/pieces/routes.js";
import { readingRoutes } from "./resources/readings/routes.js";
import { registerEntryRoutes } from "./resources/register-entries/routes.js";
import { reportRoutes } from "./resources/report/routes.js";
import { samplingPlanRoutes } from "./resources/sampling-plans/routes.js";
import { toolProposalRoutes } from "./resources/tool-proposals/routes.js";
import { toolRoutes } from "./resources/tools/routes.js";
import { traceabilityRoutes } from "./resources/traceability/routes.js";
import { wearRoutes } from "./resources/wear/routes.js";

interface Parts {
  db: Db;
  recorder: ReadingRecorder;
  ring: KeyRing;
}

const routes: ((app: App, parts: Parts) => Promise<void>)[] = [
  machineRoutes,
  machineRegisterRoutes,
  toolRoutes,
  toolProposalRoutes,
  gaugeRoutes,
  gaugeCheckRoutes,
  gaugeStudyRoutes,
  gaugeComparisonRoutes,
  materialRoutes,
  gaugeFitnessRoutes,
  partRoutes,
  partProposalRoutes,
  batchRoutes,
  registerEntryRoutes,
  edgeRoutes,
  readingRoutes,
  logLayoutRoutes,
  importRoutes,
  correctionRoutes,
  wearRoutes,
  checkRoutes,
  chartRoutes,
  diagnosisRoutes,
  traceabilityRoutes,
  holdRoutes,
  pieceDecisionRoutes,
  pieceRoutes,
  samplingPlanRoutes,
  outlookRoutes,
  reportRoutes,
  firstArticleRoutes,
  eventRoutes,
  keyRoutes,
  sessionRoutes,
  auditRoutes,
];

// A key is never logged, whatever is logged of a request.
const secrets = [
  "authorization",
  "cookie",
  "headers.authorization",
  "headers.cookie",
  "*.headers.authorization",
  "*.headers.cookie",
];

const largestBody = 5 * 1024 * 1024;

export interface AppOptions {
  db: Db;
  config: Pick<Config, "logLevel" | "adminKey">;
}

/** The whole service without an address to listen on. */
export function buildApp({ db, config }: AppOptions): App {
  const app = Fastify({
    logger: { level: config.logLevel, redact: secrets },
    genReqId: () => randomUUID(),
    bodyLimit: largestBody,
    frameworkErrors: handleError,
    clientErrorHandler: handleClientError,
  }).withTypeProvider<ZodTypeProvider>();
  app.setValidatorCompiler(validatorCompiler);
  // Answers are held to their schemas by the compiler and the tests; checking each one again would cost more than making it.
  app.setSerializerCompiler(() => (data) => JSON.stringify(data));
  app.removeContentTypeParser("text/plain");

  const metrics = createMetrics(db);
  const recorder = new ReadingRecorder(db, metrics.observer);
  metrics.watch(recorder);
  const ring = new KeyRing(db, config.adminKey);
  app.decorateRequest("keyHolder", null);
  const paths = createKnownPaths();
  app.addHook("onRoute", paths.add);
  app.addHook("onRequest", async (request, reply) => {
    reply.header("request-id", request.id);
  });
  let isStopping = false;
  app.addHook("preClose", async () => {
    isStopping = true;
  });
  app.addHook("onSend", async (_, reply) => {
    // Else a client that keeps its connection for the next request would hold up the stop.
    if (isStopping) reply.header("connection", "close");
  });
  app.addHook("onRequest", limitRequests());
  app.addHook("onResponse", async (request, reply) => {
    const { method, routeOptions } = request;
    // An address that no route has is not a label of its own: anybody could make any number of them.
    const route = routeOptions.url ?? "none";
    metrics.requests.observe({ method, route, status: reply.statusCode }, reply.elapsedTime / 1000);
  });
  app.setErrorHandler(handleError);
  app.setNotFoundHandler(paths.refuse);

  app.register(swagger, openapi);
  app.register(swaggerUi, { routePrefix: "/docs", uiConfig: { layout: "BaseLayout", validatorUrl: null } });
  app.register(pageRoutes);
  app.register(healthRoutes, { db, isStopping: () => isStopping });
  app.register(metricsRoutes, { metrics });
  app.register(
    async (v1: App) => {
      v1.addHook("onRequest", requireKey(ring));
      v1.addHook("preHandler", noteChanges);
      for (const register of routes) v1.register(register, { db, recorder, ring });
    },
    { prefix: "/v1" },
  );
  app.register(async (docs) => {
    docs.get("/openapi.json", { schema: { hide: true } }, () => docs.swagger());
  });
  return app;
}
