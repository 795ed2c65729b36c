import { nodeEnvironment } from "./node-environment.ts";
import { run } from "./run.ts";

run(process.argv.slice(2), nodeEnvironment(process)).then((status) => {
  process.exitCode = status;
});
