/** Values as JSON in which every long text stands once, however often it occurs: sheets of one history share most. */

/** In front of the number of a text; a text that begins with it is put among the long ones. */
const MARK = "\u0001";
const LONG = 120;

export function packed(value: unknown): string {
  const numbers = new Map<string, number>();
  const body = JSON.stringify(value, (_, each: unknown) => {
    if (typeof each !== "string" || (each.length < LONG && !each.startsWith(MARK))) return each;
    const number = numbers.get(each) ?? numbers.size;
    numbers.set(each, number);
    return `${MARK}${number}`;
  });
  return `[${JSON.stringify([...numbers.keys()])},${body}]`;
}

/** Throws if it is no text of `packed`. */
export function unpacked(text: string): unknown {
  const [texts, body] = JSON.parse(text) as [readonly string[], unknown];
  return JSON.parse(JSON.stringify(body), (_, each: unknown) =>
    typeof each === "string" && each.startsWith(MARK) ? texts[Number(each.slice(1))] : each,
  );
}
