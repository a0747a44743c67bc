// Heard before the rest is even loaded, so that at any moment what was started is stopped in order. A second signal changes
// nothing.
const interrupted = new AbortController();
for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.on(signal, () => interrupted.abort());
// A reader that has seen enough, such as `head`, ends the demo like Ctrl-C.
process.stdout.on("error", () => interrupted.abort());

const { runDemo } = await import("./run.js");
process.exit(await runDemo(interrupted.signal));
