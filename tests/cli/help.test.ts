import { describe, expect, it } from "vitest";
import { COMMANDS } from "../../src/cli/commands.ts";
import { preprobe } from "./desk.ts";

describe("help", () => {
  it("of the program is as kept in help/preprobe.txt, which is there to be read", async () => {
    const done = await preprobe("--help");
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot("help/preprobe.txt");
  });

  it.each(COMMANDS.map(({ name }) => name))("of %s is as kept beside this test", async (name) => {
    const done = await preprobe(`${name} -h`);
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot(`help/${name}.txt`);
  });

  it("is the same by -h, --help and the word help", async () => {
    const { out } = await preprobe("voltages -h");
    expect((await preprobe("help voltages")).out).toBe(out);
    expect((await preprobe("voltages any.netlist --help")).out).toBe(out);
    expect((await preprobe("help")).out).toBe((await preprobe("-h")).out);
  });

  it("fits 80 columns", async () => {
    for (const name of ["", ...COMMANDS.map((command) => command.name)]) {
      const { out } = await preprobe(`${name} -h`);
      expect(out.split("\n").filter((line) => line.length > 80)).toEqual([]);
    }
  });

  it("shows examples that the command accepts", () => {
    for (const { name, examples } of COMMANDS) {
      for (const [command] of examples) expect(command.split(" ")[0]).toBe(name);
    }
  });
});

describe("the program", () => {
  it("without a command shows its help on standard error and ends with 2", async () => {
    const done = await preprobe("");
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toBe((await preprobe("--help")).out);
  });

  it("tells its version", async () => {
    expect(await preprobe("--version")).toMatchObject({
      code: 0,
      out: expect.stringMatching(/^\d+\.\d+\.\d+\n$/),
    });
  });

  it("answers an unknown command with the nearest", async () => {
    const done = await preprobe("voltage a.netlist");
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toBe('preprobe: there is no command "voltage"\n    → did you mean voltages?\n');
    expect((await preprobe("xyzzy")).err).toContain(
      `the commands are ${COMMANDS.map(({ name }) => name).join(", ")}`,
    );
  });

  it("notices that the command was left out", async () => {
    expect((await preprobe("a.netlist")).err).toContain("did you mean preprobe voltages a.netlist?");
  });

  it("answers unknown options before and behind the command with the nearest", async () => {
    expect((await preprobe("--versoin")).err).toContain("did you mean --version?");
    expect((await preprobe("voltages a.netlist --ambiant 3C")).err).toContain("did you mean --ambient?");
  });

  it("prints usage errors as JSON where JSON is asked for", async () => {
    const done = await preprobe("voltages --json");
    expect(done.code).toBe(2);
    expect(JSON.parse(done.out)).toEqual({
      format: "preprobe/1",
      command: "voltages",
      errors: [
        { message: "voltages needs a netlist", hint: "preprobe voltages FILE, or - for standard input" },
      ],
    });
  });
});
