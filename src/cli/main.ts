import { nodeEnvironment } from "./node-environment.ts";
import { run } from "./run.ts";

// a reader that has seen enough (`preprobe … | head`) is no error
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit();
  throw error;
});

run(process.argv.slice(2), nodeEnvironment(process)).then((status) => {
  process.exitCode = status;
});
