import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { modesOf } from "../../src/circuit/conditions.ts";
import { readNetlist } from "../../src/language/index.ts";
import { DEMOS } from "../../src/page/demos.ts";
import { readSheet } from "../../src/page/first-sheet.ts";
import { type Change, changed } from "../../src/page/state/change.ts";
import { conditionsOf, controlsOf, handSwitches, presentMode } from "../../src/page/state/conditions.ts";
import { AS_DRAWN, blankSheet } from "../../src/page/state/document.ts";
import { beginning, recorded, redone, strokeEnded, undone } from "../../src/page/state/history.ts";
import { readMeter } from "../../src/page/state/meter.ts";

const sheet = blankSheet("recorder.netlist", { "recorder.netlist": "text" }, "2026-11-25");
const turn = (value: number): Change => ({ kind: "set", state: { part: "P1", key: "setting", value } });
const circuit = readNetlist(DEMOS["recorder.netlist"]!).circuit!;

const anyChange: fc.Arbitrary<Change> = fc.oneof(
  fc.double({ min: 0, max: 1, noNaN: true }).map(turn),
  fc.string().map((text): Change => ({ kind: "notes", text })),
  fc
    .record({ mode: fc.constantFrom("play", "record"), text: fc.string() })
    .map(({ mode, text }): Change => ({ kind: "reading", mode, point: "T1.c", text })),
  fc.constant<Change>({ kind: "as drawn" }),
  fc.constantFrom("play", "record").map((mode): Change => ({ kind: "mode", mode })),
  fc.boolean().map((folded): Change => ({ kind: "fold", id: "response", folded })),
);

describe("a change of the sheet", () => {
  it("leaves the sheet before it as it was", () => {
    const before = structuredClone(sheet);
    changed(sheet, turn(0.3));
    changed(sheet, { kind: "reading", mode: "play", point: "T1.c", text: "1" });
    expect(sheet).toEqual(before);
  });

  it("replaces the setting of the same part and key", () => {
    const { settings } = changed(changed(sheet, turn(0.3)), turn(0.4));
    expect(settings.set).toEqual([{ part: "P1", key: "setting", value: 0.4 }]);
  });

  it("to what the netlist has keeps mode and meter", () => {
    const turned = changed(changed(changed(sheet, turn(0.3)), { kind: "mode", mode: "record" }), {
      kind: "meter",
      text: "20 kΩ/V",
    });
    expect(changed(turned, { kind: "as drawn" }).settings).toEqual({
      ...AS_DRAWN,
      mode: "record",
      meter: "20 kΩ/V",
    });
  });

  it("makes a sheet that JSON keeps whole, whatever happens", () => {
    fc.assert(
      fc.property(fc.array(anyChange), (changes) => {
        const end = changes.reduce(changed, sheet);
        expect(readSheet(JSON.stringify(end))).toEqual(end);
      }),
    );
  });
});

describe("taking back", () => {
  it("takes a whole drag back at once, and does it again", () => {
    const dragged = [0.1, 0.2, 0.3].reduce((at, value) => recorded(at, turn(value), "P1"), beginning(sheet));
    expect(dragged.past).toHaveLength(1);
    expect(undone(dragged).present).toEqual(sheet);
    expect(redone(undone(dragged)).present).toEqual(dragged.present);
  });

  it("keeps two drags of one control apart once the hand has let go", () => {
    const once = strokeEnded(recorded(beginning(sheet), turn(0.1), "P1"));
    const twice = recorded(once, turn(0.2), "P1");
    expect(undone(twice).present).toEqual(once.present);
  });

  it("leaves alone what one looks at", () => {
    const turned = recorded(beginning(sheet), turn(0.1));
    const looked = recorded(recorded(turned, { kind: "mode", mode: "record" }), {
      kind: "fold",
      id: "response",
      folded: true,
    });
    const { present } = undone(looked);
    expect(present.settings).toEqual({ ...AS_DRAWN, mode: "record" });
    expect(present.folded).toEqual(["response"]);
  });

  it("as often as there were steps leads back to the first sheet but for what one looks at", () => {
    fc.assert(
      fc.property(fc.array(anyChange, { maxLength: 30 }), (changes) => {
        let at = changes.reduce((history, change) => recorded(history, change), beginning(sheet));
        const { folded, settings } = at.present;
        while (at.past.length > 0) at = undone(at);
        expect(at.present).toEqual({ ...sheet, folded, settings: { ...AS_DRAWN, mode: settings.mode } });
      }),
    );
  });
});

describe("the conditions of the sheet", () => {
  it("name what is set, and nothing that the circuit no longer has", () => {
    const settings = {
      ...AS_DRAWN,
      ambientCelsius: 30,
      set: [
        { part: "P1", key: "setting", value: 0.3 },
        { part: "P99", key: "setting", value: 0.3 },
        { part: "S2", key: "position", value: "nowhere" },
      ],
    };
    expect(conditionsOf(circuit, settings)).toEqual({ set: [settings.set[0]], ambientCelsius: 30 });
    expect(conditionsOf(circuit, AS_DRAWN)).toEqual({});
  });

  it("fall back to the first mode where the one chosen is gone", () => {
    expect(presentMode(circuit, { ...AS_DRAWN, mode: "gone" }).name).toBe(modesOf(circuit)[0]!.name);
    expect(presentMode(circuit, { ...AS_DRAWN, mode: "record" }).name).toBe("record");
  });

  it("offer a slider for the battery, every pot, trimmer and core, as they stand in the mode", () => {
    const at = (mode: string) =>
      Object.fromEntries(controlsOf(circuit, { ...AS_DRAWN, mode }).map(({ part, value }) => [part, value]));
    expect(Object.keys(at("play"))).toEqual(["B1", "P3", "P1", "P2", "P4", "L2"]);
    expect(at("play")).toMatchObject({ B1: 9, P1: 0.7, P2: 0.4 });
    const turned = controlsOf(circuit, { ...AS_DRAWN, set: [{ part: "P1", key: "setting", value: 0.2 }] });
    expect(turned.find(({ part }) => part === "P1")?.value).toBe(0.2);
  });

  it("offer by hand only the switches that the modes leave alone", () => {
    expect(handSwitches(circuit, AS_DRAWN)).toEqual([
      { part: "S2", positions: ["microphone", "line"], position: "microphone" },
    ]);
  });
});

describe("the meter field", () => {
  it("reads meters as people write them", () => {
    expect(readMeter("20 kΩ/V")).toEqual({ ohmsPerVolt: 20_000 });
    expect(readMeter("20k/V")).toEqual({ ohmsPerVolt: 20_000 });
    expect(readMeter(" 10 MΩ ")).toEqual({ ohms: 10_000_000 });
    expect(readMeter("")).toBeUndefined();
  });

  it("says what is no meter", () => {
    for (const text of ["nonsense", "-3k/V", "0"]) expect(readMeter(text)).toHaveProperty("message");
  });
});

describe("a sheet from a file", () => {
  it("is refused unless it holds its own netlist", () => {
    for (const text of ["", "{}", "[]", "null", '{"format":"preprobe-sheet/1","main":"a","files":{}}']) {
      expect(readSheet(text), text).toBeUndefined();
    }
  });

  it("is taken with whatever is missing or misshapen left out", () => {
    const text = JSON.stringify({
      ...sheet,
      settings: { set: [{ part: 1 }], mode: 3 },
      readings: 7,
      folded: [1, "a"],
    });
    expect(readSheet(text)).toEqual({ ...sheet, folded: ["a"] });
  });
});
