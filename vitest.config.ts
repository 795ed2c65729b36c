import { readFileSync } from "node:fs";
import { defineConfig } from "vitest/config";

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
    include: ["tests/**/*.test.ts"],
    testTimeout: 60_000,
  },
});
