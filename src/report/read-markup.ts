/** XML from strangers, as a tree: no document types, no entities but XML's own, no endless depth. */
import { XMLParser, XMLValidator } from "fast-xml-parser";

/** An element; attributes by their names with prefix. */
export interface ElementNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** Elements and text, in order. */
  readonly children: readonly (ElementNode | string)[];
}

export interface Unreadable {
  readonly message: string;
}

/** Elements inside each other; a worksheet has nine. */
const DEEPEST = 40;

/** The root element of a document, or why there is none to be had. Never throws. */
export function readMarkup(text: string): ElementNode | Unreadable {
  if (!text.trimStart().startsWith("<")) return { message: "it is no XML" };
  if (/<!(DOCTYPE|ENTITY)/i.test(text)) {
    return { message: "it declares a document type, which no worksheet needs" };
  }
  try {
    const valid = XMLValidator.validate(text);
    if (valid !== true) {
      const { msg, line } = valid.err;
      return { message: `it is damaged, line ${line}${harmless(msg)}` };
    }
    if (tooDeep(text)) return { message: "its elements lie too deep inside each other" };
    return root(text);
  } catch {
    return { message: "it is damaged, or made to do harm" };
  }
}

const LONGEST = 80;

/** What the parser says, unless it quotes the file at length. */
function harmless(message: string): string {
  const plain = /^[\x20-\x7e]*$/.test(message) && message.length <= LONGEST;
  return plain ? `: ${message.replace(/\.$/, "")}` : "";
}

function root(text: string): ElementNode | Unreadable {
  const parser = new XMLParser({
    preserveOrder: true,
    ignoreAttributes: false,
    attributeNamePrefix: "",
    parseTagValue: false,
    parseAttributeValue: false,
    processEntities: false,
    trimValues: false,
    ignoreDeclaration: true,
    ignorePiTags: true,
  });
  const found = (parser.parse(text) as readonly RawNode[])
    .map(nodeOf)
    .find((node) => typeof node !== "string");
  return found ?? { message: "it holds no element" };
}

/** `{ NAME: children, ":@": attributes }`, or `{ "#text": words }`. */
type RawNode = Readonly<Record<string, unknown>>;

function nodeOf(raw: RawNode): ElementNode | string {
  const name = Object.keys(raw).find((key) => key !== ":@") ?? "#text";
  const content = raw[name];
  if (name === "#text" || !Array.isArray(content)) return unescaped(String(content ?? ""));
  const given = (raw[":@"] ?? {}) as Readonly<Record<string, unknown>>;
  const attributes = Object.entries(given).map(([key, value]) => [key, unescaped(String(value))] as const);
  return { name, attributes: Object.fromEntries(attributes), children: (content as RawNode[]).map(nodeOf) };
}

function tooDeep(text: string): boolean {
  let depth = 0;
  for (const [, closing, , self] of text.matchAll(/<(\/?)([A-Za-z_][\w:.-]*)[^>]*?(\/?)>/g)) {
    depth += closing === "/" ? -1 : self === "/" ? 0 : 1;
    if (depth > DEEPEST) return true;
  }
  return false;
}

const ENTITIES: Readonly<Record<string, string>> = { lt: "<", gt: ">", quot: '"', apos: "'", amp: "&" };

/** The five entities of XML itself, and characters by their number; whatever else is left as it stands. */
const unescaped = (text: string): string =>
  text.replace(/&(?:(lt|gt|quot|apos|amp)|#(\d{1,7})|#x([\da-f]{1,6}));/gi, (whole, name, decimal, hex) => {
    if (name !== undefined) return ENTITIES[String(name).toLowerCase()]!;
    const code = decimal === undefined ? Number.parseInt(hex, 16) : Number(decimal);
    return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : whole;
  });
