#!/usr/bin/env node
import { Journal } from "./journal.js";
import { run } from "./run.js";
import { readSettings, UsageError, usage } from "./settings.js";

const stop = new AbortController();
for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => stop.abort());

try {
  const settings = readSettings(process.argv.slice(2), process.env);
  const journal = new Journal((line) => void process.stdout.write(line), settings.refusedFile);
  process.exitCode = (await run(settings, journal, stop.signal)) ? 0 : 1;
} catch (error) {
  const message = error instanceof Error ? error.message : String(error);
  process.stderr.write(
    error instanceof UsageError ? `${message}\n\n${usage}` : `onsize-upload: ${message}\n`,
  );
  process.exitCode = 2;
}
