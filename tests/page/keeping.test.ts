import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatNetlist, readNetlist } from "../../src/language/index.ts";
import { DEMOS } from "../../src/page/demos.ts";
import { openedFile } from "../../src/page/keep/opened.ts";
import { digest, ofCircuit } from "../../src/page/keep/origin.ts";
import { OWN } from "../../src/page/keep/own.ts";
import { packed, unpacked } from "../../src/page/keep/packed.ts";
import { readingsInTable } from "../../src/page/keep/readings-table.ts";
import { dataIn, pageText, sheetIn } from "../../src/page/keep/sheet-page-text.ts";
import {
  bringBack,
  discard,
  discarded,
  type Place,
  putAway,
  shelved,
  takeOut,
} from "../../src/page/keep/shelf.ts";
import { blankSheet, readingTyped, type SheetDocument } from "../../src/page/state/document.ts";
import { beginning, recorded } from "../../src/page/state/history.ts";
import { shapedAs } from "../../src/page/state/store.ts";

const circuit = readNetlist(DEMOS["recorder.netlist"]!).circuit!;
const EVIL = `<img src=x onerror=alert(1)></script><script>alert(1)</script><!-- %DATA% %SCRIPT% $& $1`;
const bytes = (text: string) => new TextEncoder().encode(text);

describe("the netlist to be typed over", () => {
  it("is read without complaint, and laid out as the formatter does it", () => {
    expect(readNetlist(OWN).diagnostics).toEqual([]);
    expect(formatNetlist(OWN)).toBe(OWN);
  });
});

/** Storage with room for so many characters. */
class Shelf implements Place {
  readonly entries = new Map<string, string>();
  readonly #room: number;
  /** Whether the room is that of all entries, or of each. */
  total = false;
  constructor(room = Number.POSITIVE_INFINITY) {
    this.#room = room;
  }
  get length(): number {
    return this.entries.size;
  }
  key(index: number): string | null {
    return [...this.entries.keys()][index] ?? null;
  }
  getItem(key: string): string | null {
    return this.entries.get(key) ?? null;
  }
  setItem(key: string, value: string): void {
    const others = [...this.entries].filter(([name]) => this.total && name !== key);
    const taken = others.reduce((sum, [name, entry]) => sum + name.length + entry.length, 0);
    if (taken + key.length + value.length > this.#room) throw new DOMException("full", "QuotaExceededError");
    this.entries.set(key, value);
  }
  removeItem(key: string): void {
    this.entries.delete(key);
  }
}

const anyText = fc.oneof(
  fc.string({ unit: "binary" }),
  fc.constantFrom(EVIL, "__proto__", "constructor", "\u0001", "\u00010", "x".repeat(500)),
);

const anySheet: fc.Arbitrary<SheetDocument> = fc
  .record({ notes: anyText, point: anyText, reading: anyText, text: anyText, kept: anyText, main: anyText })
  .map(({ notes, point, reading, text, kept, main }) => ({
    ...ofCircuit(blankSheet(main, Object.fromEntries([[main, text]]), "2026-11-25")),
    notes,
    readings: Object.fromEntries([["play", Object.fromEntries([[point, reading]])]]),
    sections: Object.fromEntries([[point, { kept }]]),
  }));

const sheet = ofCircuit(blankSheet("one.netlist", { "one.netlist": "text ".repeat(100) }, "2026-11-25"));
const worked = Array.from({ length: 30 }, (_, k) => `note ${k}`).reduce(
  (history, text) => recorded(history, { kind: "notes", text }),
  beginning(sheet),
);

describe("packed values", () => {
  it("are unpacked as they were", () => {
    fc.assert(fc.property(anySheet, (any) => void expect(unpacked(packed([any, any]))).toEqual([any, any])));
  });

  it("hold a long text once, however often it occurs", () => {
    const long = "x".repeat(10_000);
    expect(packed([long, long, long]).length).toBeLessThan(10_100);
  });
});

describe("the shelf", () => {
  it("gives a sheet back with its steps", () => {
    const shelf = new Shelf();
    expect(putAway(shelf, worked, "One", 5)).toBe("");
    expect(takeOut(shelf, sheet.origin!)).toEqual(worked);
    expect(shelved(shelf)).toEqual([{ origin: sheet.origin, title: "One", at: 5 }]);
  });

  it("keeps circuits apart by what is in them, not by their name alone", () => {
    const shelf = new Shelf();
    const other = ofCircuit(blankSheet("one.netlist", { "one.netlist": "other" }, "2026-11-25"));
    putAway(shelf, worked, "One", 5);
    putAway(shelf, beginning(other), "Other", 6);
    expect(takeOut(shelf, sheet.origin!)!.present.notes).toBe("note 29");
    expect(shelved(shelf).map(({ title }) => title)).toEqual(["Other", "One"]);
  });

  it("keeps the sheet without its steps where there is little room, and says so where there is none", () => {
    const little = new Shelf(1400);
    expect(putAway(little, worked, "One")).toBe("");
    expect(takeOut(little, sheet.origin!)).toMatchObject({ present: { notes: "note 29" }, past: [] });
    expect(putAway(new Shelf(100), worked, "One")).toMatch(/keeps nothing more.*Save the sheet as a file/);
  });

  it("treats damage as nothing there, wherever an entry is cut", () => {
    const whole = new Shelf();
    putAway(whole, worked, "One");
    const [key, entry] = [...whole.entries][0]!;
    fc.assert(
      fc.property(fc.nat({ max: entry.length - 1 }), (length) => {
        const cut = new Shelf();
        cut.entries.set(key, entry.slice(0, length));
        expect(takeOut(cut, sheet.origin!)).toBeUndefined();
        expect(shelved(cut)).toEqual([]);
      }),
    );
  });

  it("gives nothing back that is of another version, or no sheet", () => {
    const shelf = new Shelf();
    for (const value of [null, 5, [], { version: 2, present: sheet }, { version: 1, present: { main: 5 } }]) {
      shelf.entries.set("preprobe/1 sheet x", packed(value));
      expect(takeOut(shelf, "x")).toBeUndefined();
    }
  });

  it("throws a sheet away and brings it back as it was, until another is thrown away", () => {
    const shelf = new Shelf();
    const other = ofCircuit(blankSheet("one.netlist", { "one.netlist": "other" }, "2026-11-25"));
    putAway(shelf, worked, "One", 5);
    putAway(shelf, beginning(other), "Other", 6);
    expect(discarded(shelf)).toBeUndefined();
    expect(discard(shelf, sheet.origin!)).toBe(true);
    expect(shelved(shelf).map(({ title }) => title)).toEqual(["Other"]);
    expect(discarded(shelf)).toBe("One");
    expect(bringBack(shelf)).toBe(true);
    expect(takeOut(shelf, sheet.origin!)).toEqual(worked);
    expect(bringBack(shelf)).toBe(false);
    discard(shelf, sheet.origin!);
    discard(shelf, other.origin!);
    expect(discarded(shelf)).toBe("Other");
    expect(discard(shelf, "nothing")).toBe(false);
  });

  it("does not bring an older state back over one that was kept since", () => {
    const shelf = new Shelf();
    putAway(shelf, beginning(sheet), "One", 5);
    discard(shelf, sheet.origin!);
    putAway(shelf, worked, "One", 6);
    expect(bringBack(shelf)).toBe(false);
    expect(takeOut(shelf, sheet.origin!)).toEqual(worked);
  });

  it("lets what was thrown away make room for what is kept", () => {
    const shelf = new Shelf(5000);
    shelf.total = true;
    putAway(shelf, beginning(sheet), "One", 5);
    discard(shelf, sheet.origin!);
    const large = { ...sheet, notes: "x".repeat(3500), origin: "large" };
    expect(putAway(shelf, beginning(large), "Large")).toBe("");
    expect(discarded(shelf)).toBeUndefined();
  });

  it("has nothing to bring back where that is damaged", () => {
    for (const text of ["", "[", "5", "5 abc", "99 a", "1 a[[],{}]", '1 a[[],{"title":5}]']) {
      const shelf = new Shelf();
      shelf.entries.set("preprobe/1 discarded", text);
      expect(discarded(shelf)).toBeUndefined();
    }
  });
});

describe("a saved page", () => {
  const frame =
    '<meta content="%POLICY%"><style>%STYLE%</style><script type="application/json" id="sheet-data"></script><script>%SCRIPT%</script>';
  const parts = { frame, policy: "p", style: "s %SCRIPT%", script: 'f("%STYLE% $&")' };

  it("holds the sheet exactly, whatever is in it, and no text of it ends the element", () => {
    fc.assert(
      fc.property(anySheet, (any) => {
        const page = pageText(parts, any);
        expect(page.match(/<\/script/g)).toHaveLength(2);
        expect(page).not.toContain("<img");
        expect(sheetIn(page)).toEqual(any);
      }),
    );
  });

  it("has the page's own style and script to the letter", () => {
    const page = pageText(parts, sheet);
    expect(page).toContain("<style>s %SCRIPT%</style>");
    expect(page).toContain('<script>f("%STYLE% $&")</script>');
  });

  it("without a sheet, or cut off, holds none", () => {
    expect(dataIn("<p>hello")).toBeUndefined();
    expect(sheetIn(pageText(parts, sheet).slice(0, 300))).toBeUndefined();
  });
});

describe("an opened file", () => {
  const kindOf = (name: string, text: string) => openedFile(name, bytes(text)).kind;

  it("is known by what is in it", () => {
    expect(kindOf("a.txt", 'circuit "A"')).toBe("netlist");
    expect(kindOf("a.csv", "hertz,db\n1000,0\n")).toBe("curve");
    expect(kindOf("a.txt", "# taken in May\nhertz;db\n1000;0\n")).toBe("curve");
    expect(kindOf("a.csv", "LINDEN\n\npoint;play\nT1.c;-4\n")).toBe("readings");
    expect(
      kindOf(
        "a.html",
        pageText(
          {
            frame: '<html><script type="application/json" id="sheet-data"></script>',
            policy: "",
            style: "",
            script: "",
          },
          sheet,
        ),
      ),
    ).toBe("sheet");
  });

  it.each([
    ["a page without a sheet", "a.html", "<!doctype html><p>", "holds no sheet"],
    ["a table of something else", "a.csv", "a,b\n1,2\n", "neither a measured curve"],
    ["a file that is no text", "a.netlist", "a\0b", "is not text"],
    ["a picture", "a.jpg", "\u00ff\u00d8\u00ff\u00e0\u0010JFIF", "is not text"],
    ["a damaged worksheet", "a.fods", "<office:document>", "damaged"],
  ])("that is %s is refused in words", (_, name, text, words) => {
    expect(openedFile(name, bytes(text))).toMatchObject({
      kind: "refused",
      message: expect.stringContaining(words) as string,
    });
  });

  it("of any bytes never throws", () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 300 }),
        fc.constantFrom("a.csv", "a.ods", "a.html"),
        (any, name) => {
          expect(typeof openedFile(name, any).kind).toBe("string");
        },
      ),
    );
  });
});

describe("readings in a table", () => {
  it("are kept at the net that they are of, as they were written", () => {
    const rows = [
      ["point", "play: reading, V", "record: reading, V"],
      ["T1.c", "-0,4", "–"],
      ["quiet", "7.5", "-8"],
    ];
    expect(readingsInTable(rows, circuit)).toEqual({
      readings: [
        { mode: "play", point: "T1.c", text: "−0,4" },
        { mode: "play", point: "quiet", text: "7.5" },
        { mode: "record", point: "quiet", text: "−8" },
      ],
      problems: [],
    });
  });

  it("of points and modes that the circuit has not are told, and left out", () => {
    const rows = [
      ["point", "mode", "value"],
      ["T99.c", "play", "1"],
      ["T1.c", "rewind", "1"],
      ["__proto__", "play", EVIL],
    ];
    const { readings, problems } = readingsInTable(rows, circuit);
    expect(readings).toEqual([]);
    expect(problems).toHaveLength(3);
    expect(problems[0]).toContain("T99");
  });
});

describe("what a section kept", () => {
  it.each([[null], [5], ["x"], [[]]])("is %j in a strange file and counts as nothing", (found) => {
    expect(shapedAs({ a: "", b: 1 }, found)).toEqual({ a: "", b: 1 });
  });

  it("counts as far as it has the shape", () => {
    expect(shapedAs({ a: "", b: 1 }, { a: "x", b: "y", c: true })).toEqual({ a: "x", b: 1, c: true });
  });
});

it("A point called as what every object has, constructor, has no reading until one is typed", () => {
  expect(readingTyped({}, "constructor", "name")).toBeUndefined();
  expect(readingTyped({ play: {} }, "play", "constructor")).toBeUndefined();
  expect(readingTyped({ play: { constructor: "1" } }, "play", "constructor")).toBe("1");
});

it("The digest tells texts apart by a single letter", () => {
  fc.assert(fc.property(fc.string(), fc.string(), (a, b) => a === b || digest(a) !== digest(b)));
});
