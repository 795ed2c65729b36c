import { readFileSync } from "node:fs";
import { defineConfig } from "vitest/config";

const BROWSER = "tests/page/browser/*.test.ts";

export default defineConfig({
  plugins: [
    {
      name: "netlist-text",
      enforce: "pre",
      load(id) {
        return id.endsWith(".netlist") ? `export default ${JSON.stringify(readFileSync(id, "utf8"))}` : null;
      },
    },
  ],
  // a busy machine is no failure: tests do not measure time
  test: {
    setupFiles: ["tests/setup.ts"],
    testTimeout: 60_000,
    projects: [
      {
        extends: true,
        test: { name: "desk", include: ["tests/**/*.test.ts"], exclude: [BROWSER] },
      },
      // one window after the other, when the rest is done
      {
        extends: true,
        test: {
          name: "browser",
          include: [BROWSER],
          fileParallelism: false,
          testTimeout: 180_000,
          hookTimeout: 180_000,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
