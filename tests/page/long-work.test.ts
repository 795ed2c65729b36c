import { describe, expect, it } from "vitest";
import { voltages } from "../../src/bench/voltages.ts";
import { readNetlist } from "../../src/language/index.ts";
import { FIELDS, waveformQuestion } from "../../src/page/compute/waveform-question.ts";
import { BenchHands, type Hand } from "../../src/page/long-work/bench-hands.ts";
import type { Reply, Request, Stop } from "../../src/page/long-work/messages.ts";
import { answer, serveJobs } from "../../src/page/long-work/serve.ts";
import { STAGE } from "../cli/desk.ts";

const circuit = readNetlist(STAGE).circuit!;
const input = { circuit, conditions: {}, mode: "play" };

/** A worker that does nothing by itself. */
class IdleHand implements Hand {
  onmessage: Hand["onmessage"] = null;
  onerror: Hand["onerror"] = null;
  readonly asked: (Request | Stop)[] = [];
  ended = false;
  postMessage(request: Request | Stop): void {
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

  it("that is told to stop answers with what it has, and keeps its worker", () => {
    const { hands, hired, heard, listener } = bench(1);
    hands.ask("waveforms", "spread", input, listener("run"));
    expect(hands.stop("waveforms")).toBe(true);
    expect(hired[0]!.asked.at(-1)).toEqual({ stop: true });
    expect(hired[0]!.ended).toBe(false);
    hired[0]!.reply(DONE);
    expect(heard).toEqual(["run done"]);
    expect(hands.stop("waveforms")).toBe(false);
  });

  it("that waits for its turn is given up when it is told to stop", () => {
    const { hands, hired, heard, listener } = bench(1);
    hands.ask("bands", "spread", input, listener("first"));
    hands.ask("waveforms", "spread", input, listener("second"));
    expect(hands.stop("waveforms")).toBe(false);
    hired[0]!.reply(DONE);
    expect(hired[0]!.asked).toHaveLength(1);
    expect(heard).toEqual(["first done"]);
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

  it("answers a job in steps with what it has, as soon as it is told to stop", async () => {
    const listeners: ((event: { data: Request | Stop }) => void)[] = [];
    const replies: Reply[] = [];
    let told = false;
    serveJobs({
      addEventListener: (_, listener) => void listeners.push(listener as never),
      postMessage: (reply) => {
        replies.push(reply);
        if (!told) for (const listener of listeners) listener({ data: { stop: true } });
        told = true;
      },
    });
    // a tone of hours: it is stopped long before its end, however slowly this begins
    const question = waveformQuestion(circuit, {}, "play", { ...FIELDS, seconds: "9000 s", source: "G1" });
    for (const listener of listeners)
      listener({ data: { job: "waveform", input: { circuit, conditions: question } } });
    await expect.poll(() => replies.at(-1)?.kind).toBe("done");
    const done = replies.at(-1) as { output: { found: { interrupted_seconds: number } } };
    expect(done.output.found.interrupted_seconds).toBeLessThan(9000);
  });

  it("answers a fault in the middle of steps with its message", async () => {
    const replies: Reply[] = [];
    await answer({ job: "waveform", input: { circuit: null, conditions: {} } }, (reply) => {
      replies.push(reply);
    });
    expect(replies.at(-1)).toMatchObject({ kind: "failed" });
  });
});
