/** What the command says, to be compared with the page. */
import { DEMOS } from "../../../src/page/demos.ts";
import { preprobe } from "../../cli/desk.ts";

/** Results of a command on a demonstration circuit; a word in quotes may have blanks in it. */
export async function commanded<Result>(line: string): Promise<readonly Result[]> {
  const words = [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, plain]) => quoted ?? plain ?? "");
  const { out, err, code } = await preprobe([...words, "--json"], DEMOS);
  if (code !== 0) throw new Error(err);
  return JSON.parse(out).results;
}
