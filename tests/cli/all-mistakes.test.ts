import { describe, expect, it } from "vitest";
import { preprobe, STAGE } from "./desk.ts";

const DRAWER = "sample,open,fed,like\na,x,1.2V,OC71\nb,0.2V,y,OC7l\nc,0.2V,1.3V,OC71\n";
const files = { "stage.netlist": STAGE, "drawer.csv": DRAWER };

/** What was refused, a line each, in the order told. */
async function refused(line: string): Promise<readonly string[]> {
  const { code, err, out } = await preprobe(line, files);
  expect(code).toBe(2);
  expect(out).toBe("");
  return err.split("\n").filter((each) => each.startsWith("preprobe: "));
}

describe("All mistakes of a command line are told at once, in the order of the question", () => {
  const cases: readonly (readonly [line: string, says: readonly RegExp[]])[] = [
    ["voltages stage.netlist --jsn --ambent 20C", [/--jsn/, /--ambent/]],
    [
      "voltages stage.netlist --mode recrod,plya --set P9=30% --set S1=rekord --ambient hot --meter 0",
      [/recrod/, /plya/, /P9=30%/, /S1=rekord/, /--ambient hot/, /--meter 0/],
    ],
    ["response stage.netlist --at 1kh,0Hz", [/--at 1kh/, /--at 0Hz/]],
    [
      "response stage.netlist --from 1kh --to 0 --points-per-octave x",
      [/--from 1kh/, /--to 0/, /--points-per-octave x/],
    ],
    ["response stage.netlist --path playbak --ambient hot", [/playbak/, /--ambient hot/]],
    ["oscillation stage.netlist --at nowhere,nohow --ambient hot", [/--ambient hot/, /nowhere/, /nohow/]],
    [
      "spread stage.netlist --trials 1 --seed -1 --battery 1x..2y --ambient hot",
      [/--trials 1/, /--seed -1/, /--battery 1x/, /--battery 2y/, /--ambient hot/],
    ],
    ["substitute stage.netlist T1 OC7l 0C71 --ambient hot", [/OC7l/, /0C71/, /--ambient hot/]],
    ["adjust stage.netlist R99 --until T1.c=3kg --ambient hot", [/3kg/, /R99/, /--ambient hot/]],
    ["hiss stage.netlist --path playbak --ambient hot", [/playbak/, /--ambient hot/]],
    [
      "suspects stage.netlist --reading play:T1.c=-3V --meter 0 --accuracy 90% --ambient hot",
      [/--ambient hot/, /--meter 0/, /--accuracy 90%/],
    ],
    ["grade --supply 0 --base 2x --open 0.2V", [/--supply 0/, /--base 2x/]],
    [
      "grade drawer.csv --supply 9V --base 2M2 --collector 2k47",
      [/line 2: open x/, /line 3: fed y/, /line 3.*OC7l/],
    ],
    ["types --vce 0 --ic 0 --ft x", [/--vce 0/, /--ic 0/, /--ft x/]],
  ];
  for (const [line, says] of cases) {
    it(line, async () => {
      const sentences = await refused(line);
      expect(sentences).toHaveLength(says.length);
      for (const [k, pattern] of says.entries()) expect(sentences[k]).toMatch(pattern);
    });
  }
});
