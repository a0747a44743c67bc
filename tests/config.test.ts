import { describe, expect, it } from "vitest";
import { ConfigError, loadConfig } from "../src/config.js";

function refusal(env: NodeJS.ProcessEnv): string {
  try {
    loadConfig(env, false);
  } catch (error) {
    if (error instanceof ConfigError) return error.message;
    throw error;
  }
  throw new Error("was accepted");
}

const key = "a-secret-of-16-c";

describe("loadConfig", () => {
  it("fills in what is not given", () => {
    expect(loadConfig({ HOME: "/home/anna" }, false)).toEqual({
      host: "127.0.0.1",
      port: 8790,
      databaseUrl: undefined,
      dataDir: "/home/anna/.local/share/onsize",
      logLevel: "info",
      adminKey: undefined,
    });
  });

  it("takes every setting and is frozen", () => {
    const config = loadConfig({
      HOST: "0.0.0.0",
      PORT: "0",
      DATABASE_URL: "postgres://u:p@db:5432/onsize",
      ONSIZE_DATA_DIR: "/srv/onsize/",
      LOG_LEVEL: "warn",
      ONSIZE_ADMIN_KEY: key,
    });

    expect(config).toEqual({
      host: "0.0.0.0",
      port: 0,
      databaseUrl: "postgres://u:p@db:5432/onsize",
      dataDir: "/srv/onsize",
      logLevel: "warn",
      adminKey: key,
    });
    expect(Object.isFrozen(config)).toBe(true);
  });

  it("takes an empty variable for an absent one", () => {
    const config = loadConfig({ PORT: "", DATABASE_URL: " ", ONSIZE_ADMIN_KEY: "" }, true);

    expect(config).toMatchObject({ port: 8790, databaseUrl: undefined, adminKey: undefined });
  });

  it("keeps data where root and ordinary users expect them", () => {
    expect(loadConfig({ HOME: "/root" }, true).dataDir).toBe("/var/lib/onsize");
    expect(loadConfig({ HOME: "/h", XDG_DATA_HOME: "/data" }, false).dataDir).toBe("/data/onsize");
    expect(loadConfig({ HOME: "/h", XDG_DATA_HOME: "data" }, false).dataDir).toBe("/h/.local/share/onsize");
  });

  it.each(["80a", "-1", "65536", "8790.5", "1e3", "0x50"])("refuses PORT %s", (port) => {
    expect(refusal({ PORT: port })).toBe(
      `PORT is "${port}": give a whole number from 0 to 65535 (0 picks a free port).`,
    );
  });

  it("takes the largest port", () => {
    expect(loadConfig({ PORT: "65535" }).port).toBe(65535);
  });

  it.each(["0.0.0.0", "::", "192.168.1.20", "shop-server", "127.0.0.1.example.org"])(
    "refuses HOST %s without a key",
    (host) => {
      expect(refusal({ HOST: host })).toMatch(
        /^HOST is .* set ONSIZE_ADMIN_KEY .* or set HOST to 127\.0\.0\.1\.$/,
      );
      expect(loadConfig({ HOST: host, ONSIZE_ADMIN_KEY: key }).host).toBe(host);
    },
  );

  it.each(["127.0.0.1", "127.8.8.8", "localhost", "::1"])("takes HOST %s without a key", (host) => {
    expect(loadConfig({ HOST: host }).host).toBe(host);
  });

  it("refuses a short key and a wrong database address without repeating them", () => {
    const message = refusal({
      ONSIZE_ADMIN_KEY: "fifteen-letters",
      DATABASE_URL: "mysql://u:hidden@db/onsize",
    });

    expect(message).toContain("ONSIZE_ADMIN_KEY cannot be used: give at least 16 characters.");
    expect(message).toContain("DATABASE_URL cannot be used: give postgres://");
    expect(message).not.toMatch(/fifteen-letters|hidden/);
  });

  it("refuses a data folder that is relative or below node_modules", () => {
    expect(refusal({ ONSIZE_DATA_DIR: "data" })).toContain("give an absolute path");
    expect(refusal({ ONSIZE_DATA_DIR: "/app/node_modules/x" })).toContain("outside node_modules");
  });

  it("lists the log levels", () => {
    expect(refusal({ LOG_LEVEL: "loud" })).toBe(
      'LOG_LEVEL is "loud": give one of trace, debug, info, warn, error, fatal, silent.',
    );
  });
});
