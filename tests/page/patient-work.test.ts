import { expect, it } from "vitest";
import { BenchHands, type Hand } from "../../src/page/long-work/bench-hands.ts";
import type { InputOf } from "../../src/page/long-work/jobs.ts";

it("A worker that knows more after each question is let finish, its old answer dropped, and asked again", () => {
  const hired: (Hand & { asked: number; ended: boolean })[] = [];
  const hands = new BenchHands(() => {
    const hand = {
      asked: 0,
      ended: false,
      onmessage: null,
      onerror: null,
      postMessage: () => void hand.asked++,
      terminate: () => {
        hand.ended = true;
      },
    };
    hired.push(hand);
    return hand;
  });
  const heard: string[] = [];
  const ask = (name: string) =>
    hands.ask("suspects", "suspects", {} as InputOf<"suspects">, {
      done: () => void heard.push(name),
      failed: () => void heard.push("failed"),
    });
  const answer = () => hired[0]!.onmessage?.({ data: { kind: "done", output: {} } } as MessageEvent);
  for (const name of ["a", "b", "c"]) ask(name);
  expect(hired[0]!.asked).toBe(1);
  answer();
  expect(heard).toEqual([]);
  expect(hired[0]!.asked).toBe(2);
  answer();
  expect(heard).toEqual(["c"]);
  expect(hired.map(({ ended }) => ended)).toEqual([false]);
});
