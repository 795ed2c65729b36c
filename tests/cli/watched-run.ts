// The program as it runs on a terminal: how far it has come is told, here a line each.
import { nodeEnvironment } from "../../src/cli/node-environment.ts";
import { run } from "../../src/cli/run.ts";

const progress = (text: string) => void process.stderr.write(`${text}\n`);
process.exitCode = await run(process.argv.slice(2), { ...nodeEnvironment(process), progress });
