const databasePackages = "node_modules/(kysely|pg)(/|$)";

/** Who may import whom; what each rule is for stands in DEVELOPERS.md. */
module.exports = {
  forbidden: [
    {
      name: "core-is-pure",
      severity: "error",
      from: { path: "^src/core/" },
      to: { pathNot: "^src/core/" },
    },
    {
      name: "resources-are-strangers",
      severity: "error",
      from: { path: "^src/resources/([^/]+)/" },
      to: { path: "^src/resources/", pathNot: "^src/resources/$1/" },
    },
    {
      name: "only-queries-speak-sql",
      severity: "error",
      from: { path: "^src/resources/", pathNot: "/queries\\.ts$" },
      to: { path: databasePackages },
    },
    {
      name: "queries-know-no-http",
      severity: "error",
      from: { path: "^src/(resources|decision)/.*queries\\.ts$" },
      to: { path: ["^src/http/", "node_modules/(fastify|zod)(/|$)"] },
    },
    {
      name: "http-and-db-serve-resources",
      severity: "error",
      from: { path: "^src/(http|db)/" },
      to: { path: "^src/resources/" },
    },
    {
      name: "decision-serves-resources",
      severity: "error",
      from: { path: "^src/decision/" },
      to: { path: "^src/resources/" },
    },
    {
      name: "import-only-reads",
      severity: "error",
      from: { path: "^src/import/" },
      to: { path: "^src/(db|decision|resources)/" },
    },
    {
      name: "uploader-is-a-client",
      severity: "error",
      from: { path: "^src/uploader/" },
      to: { path: "^src/", pathNot: "^src/(uploader|core)/" },
    },
    {
      name: "page-is-a-client",
      severity: "error",
      from: { path: "^src/page/" },
      to: { path: "^src/", pathNot: "^src/page/" },
    },
    {
      name: "nobody-imports-the-page",
      severity: "error",
      from: { pathNot: "^src/page/" },
      to: { path: "^src/page/" },
    },
    { name: "no-cycles", severity: "error", from: {}, to: { circular: true } },
    {
      name: "every-import-is-found",
      severity: "error",
      from: {},
      // The types made from the contract have no program beside them.
      to: { couldNotResolve: true, pathNot: "openapi/openapi\\.js$" },
    },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "node", "types", "default"],
      extensions: [".js", ".ts", ".tsx", ".mjs", ".cjs", ".json"],
    },
  },
};
