import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

export default defineConfig({
  root: fileURLToPath(new URL("..", import.meta.url)),
  test: {
    projects: [
      {
        extends: true,
        test: { name: "core", include: ["tests/core/**/*.test.ts", "tests/import/**/*.test.ts"] },
      },
      {
        extends: true,
        test: {
          name: "service",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/core/**", "tests/import/**", "tests/page/**"],
          globalSetup: ["tests/support/global-setup.ts"],
          testTimeout: 20_000,
          hookTimeout: 20_000,
        },
      },
      {
        extends: true,
        test: {
          name: "page",
          include: ["tests/page/**/*.test.ts"],
          globalSetup: ["tests/support/global-setup.ts"],
          testTimeout: 30_000,
          hookTimeout: 30_000,
        },
      },
    ],
  },
});
