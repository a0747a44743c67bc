import { setFlagsFromString } from "node:v8";
import { loadConfig } from "./config.js";
import { startService } from "./service.js";

// By default the heap grows to four times what lives in it before it is swept, and a long file lets it grow for nothing:
// twice is enough (V8: allowed growth since the last full collection, in percent).
setFlagsFromString("--heap-growing-percent=100");

// Told before the start is through, so that a server that was just started is stopped in order, too.
const told = new Promise<void>((resolve) => {
  process.on("SIGINT", resolve);
  process.on("SIGTERM", resolve);
});

try {
  const service = await startService(loadConfig(process.env));
  process.stdout.write(`${service.address}\n`);
  await told;
  await service.close();
  process.exit(0);
} catch (error) {
  process.stderr.write(
    `onsize: ${error instanceof Error ? error.message || String(error) : String(error)}\n`,
  );
  process.exit(1);
}
