import { describe, expect, it } from "vitest";
import { voltages } from "../../src/bench/voltages.ts";
import { readNetlist } from "../../src/language/index.ts";
import { BenchHands, type Hand } from "../../src/page/long-work/bench-hands.ts";
import type { Reply, Request } from "../../src/page/long-work/messages.ts";
import { answer } from "../../src/page/long-work/serve.ts";
import { STAGE } from "../cli/desk.ts";

const circuit = readNetlist(STAGE).circuit!;
const input = { circuit, conditions: {}, mode: "play" };

/** A worker that does nothing by itself. */
class IdleHand implements Hand {
  onmessage: Hand["onmessage"] = null;
  onerror: Hand["onerror"] = null;
  readonly asked: Request[] = [];
  ended = false;
  postMessage(request: Request): void {
    this.asked.push(request);
  }
  terminate(): void {
    this.ended = true;
  }
  reply(data: Reply): void {
    this.onmessage?.({ data } as MessageEvent<Reply>);
  }
}

function bench(most?: number) {
  const hired: IdleHand[] = [];
  const hands = new BenchHands(() => {
    const hand = new IdleHand();
    hired.push(hand);
    return hand;
  }, most);
  const heard: string[] = [];
  const listener = (name: string) => ({
    done: () => void heard.push(`${name} done`),
    failed: (message: string) => void heard.push(`${name} failed: ${message}`),
    progress: (share: number) => void heard.push(`${name} ${share}`),
  });
  return { hands, hired, heard, listener };
}

const DONE: Reply = { kind: "done", output: {} };

describe("long work", () => {
  it("tells of progress and of its end, and keeps the worker for the next", () => {
    const { hands, hired, heard, listener } = bench();
    hands.ask("bands", "spread", input, listener("a"));
    hired[0]!.reply({ kind: "progress", share: 0.5 });
    hired[0]!.reply(DONE);
    hands.ask("bands", "spread", input, listener("b"));
    hired[0]!.reply(DONE);
    expect(heard).toEqual(["a 0.5", "a done", "b done"]);
    expect(hired).toHaveLength(1);
  });

  it("gives up the older question of a place for the newest, without a word", () => {
    const { hands, hired, heard, listener } = bench();
    hands.ask("bands", "spread", input, listener("old"));
    hands.ask("bands", "spread", input, listener("new"));
    expect(hired[0]!.ended).toBe(true);
    hired[0]!.reply(DONE);
    hired[1]!.reply(DONE);
    expect(heard).toEqual(["new done"]);
  });

  it("asks no more workers than it may at once, the others wait for their turn", () => {
    const { hands, hired, heard, listener } = bench(1);
    hands.ask("bands", "spread", input, listener("first"));
    hands.ask("parts", "influences", input, listener("second"));
    expect(hired[0]!.asked).toHaveLength(1);
    hired[0]!.reply(DONE);
    hired[0]!.reply(DONE);
    expect(heard).toEqual(["first done", "second done"]);
  });

  it("that was cancelled says nothing and makes room", () => {
    const { hands, hired, heard, listener } = bench(1);
    hands.ask("bands", "spread", input, listener("first"));
    hands.ask("parts", "influences", input, listener("second"));
    hands.cancel("bands");
    hired[1]!.reply(DONE);
    expect(heard).toEqual(["second done"]);
  });

  it("that breaks off says so, and the next is done by another worker", () => {
    const { hands, hired, heard, listener } = bench(1);
    hands.ask("bands", "spread", input, listener("first"));
    hired[0]!.onerror?.({ message: "out of memory" } as ErrorEvent);
    hands.ask("bands", "spread", input, listener("second"));
    hired[1]!.reply(DONE);
    expect(heard).toEqual(["first failed: out of memory", "second done"]);
  });
});

describe("a worker", () => {
  const ask = (job: string, given: unknown = input) => {
    const replies: Reply[] = [];
    answer(
      { job, input: given },
      (reply) => void replies.push(reply),
      () => 0,
    );
    return replies.at(-1)!;
  };

  it("gives bands that hold the typical value", () => {
    const reply = ask("spread") as {
      output: { chart: { nets: Record<string, { least_volts: number; greatest_volts: number }> } };
    };
    const { least_volts, greatest_volts } = reply.output.chart.nets["T1.c"]!;
    const volts = voltages(circuit, { modes: ["play"] }).results[0]!.nets["T1.c"]!.volts;
    expect(least_volts).toBeLessThan(volts);
    expect(greatest_volts).toBeGreaterThan(volts);
  });

  it("answers what is no job with a sentence", () => {
    expect(ask("nothing")).toEqual({ kind: "failed", message: 'there is no job "nothing"' });
  });

  it("answers a fault with its message and stays in service", () => {
    expect(ask("spread", { circuit: null })).toMatchObject({ kind: "failed" });
  });
});
