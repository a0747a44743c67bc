import { benchCharts } from "./charts.js";
import { benchChecks } from "./checks.js";
import { benchCore } from "./core.js";
import { benchFaults } from "./faults.js";
import { benchHolds } from "./holds.js";
import { benchImport } from "./import.js";
import { benchQif } from "./qif.js";
import { benchReadings } from "./readings.js";
import { benchReport } from "./report.js";
import { benchTraceability } from "./traceability.js";

/** Runs the parts named as arguments, or all of them: `npm run bench -- core`. */
const parts: Record<string, () => void | Promise<void>> = {
  core: benchCore,
  readings: benchReadings,
  checks: benchChecks,
  chart: benchCharts,
  holds: benchHolds,
  report: benchReport,
  import: benchImport,
  qif: benchQif,
  faults: benchFaults,
  traceability: benchTraceability,
};
const names = process.argv.slice(2);
const unknown = names.filter((name) => !Object.hasOwn(parts, name));
if (unknown.length > 0) {
  process.stderr.write(`No part ${unknown.join(", ")}; there are: ${Object.keys(parts).join(", ")}.\n`);
  process.exitCode = 2;
} else {
  for (const name of names.length > 0 ? names : Object.keys(parts)) await parts[name]!();
}
