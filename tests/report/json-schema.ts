/** As much of JSON Schema 2020-12 as the schema in docs/ uses; any other word is refused. */
type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };
type Schema = Readonly<Record<string, Json>>;

const COMMENTS = new Set(["$schema", "$id", "$defs", "title", "description"]);

const isObject = (value: Json): value is { readonly [key: string]: Json } =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const TYPES: Readonly<Record<string, (value: Json) => boolean>> = {
  object: isObject,
  array: Array.isArray,
  string: (value) => typeof value === "string",
  number: (value) => typeof value === "number",
  integer: Number.isInteger,
  boolean: (value) => typeof value === "boolean",
  null: (value) => value === null,
};

function resolve(root: Schema, reference: string): Schema {
  return reference
    .replace(/^#\//, "")
    .split("/")
    .reduce<Json>((found, key) => (isObject(found) ? (found[key] ?? null) : null), root) as Schema;
}

type Rule = (value: Json, argument: Json, schema: Schema, root: Schema, at: string) => readonly string[];

const when = (fails: boolean, message: string): readonly string[] => (fails ? [message] : []);

const RULES: Readonly<Record<string, Rule>> = {
  $ref: (value, to, _, root, at) => faults(value, resolve(root, String(to)), root, at),
  oneOf: (value, options, _, root, at) => {
    const tried = (options as Schema[]).map((option) => faults(value, option, root, at));
    const fitting = tried.filter((found) => found.length === 0).length;
    return fitting === 1 ? [] : [`${at} fits ${fitting} alternatives`, ...tried.flat()];
  },
  type: (value, type, _, __, at) =>
    when(![type].flat().some((each) => TYPES[String(each)]!(value)), `${at} is no ${type}`),
  const: (value, wanted, _, __, at) => when(value !== wanted, `${at} is not ${wanted}`),
  enum: (value, wanted, _, __, at) => when(!(wanted as Json[]).includes(value), `${at} is none of ${wanted}`),
  minimum: (value, least, _, __, at) =>
    when((value as number) < (least as number), `${at} is below ${least}`),
  maximum: (value, greatest, _, __, at) =>
    when((value as number) > (greatest as number), `${at} is above ${greatest}`),
  exclusiveMinimum: (value, least, _, __, at) =>
    when((value as number) <= (least as number), `${at} is not above ${least}`),
  minLength: (value, least, _, __, at) =>
    when(String(value).length < (least as number), `${at} is too short`),
  minItems: (value, least, _, __, at) =>
    when((value as Json[]).length < (least as number), `${at} has too few items`),
  required: (value, keys, _, __, at) =>
    (keys as string[]).filter((key) => isObject(value) && !(key in value)).map((key) => `${at} lacks ${key}`),
  items: (value, each, _, root, at) =>
    Array.isArray(value) ? value.flatMap((item, i) => faults(item, each as Schema, root, `${at}[${i}]`)) : [],
  properties: (value, properties, _, root, at) =>
    Object.entries(properties as Record<string, Schema>).flatMap(([key, schema]) =>
      isObject(value) && key in value ? faults(value[key]!, schema, root, `${at}.${key}`) : [],
    ),
  additionalProperties: (value, rest, { properties = {} }, root, at) =>
    Object.entries(isObject(value) ? value : {})
      .filter(([key]) => !(key in (properties as object)))
      .flatMap(([key, item]) =>
        rest === false ? [`${at} may not have ${key}`] : faults(item, rest as Schema, root, `${at}.${key}`),
      ),
};

/** Why `value` does not fit `schema`; empty if it does. */
export function faults(value: Json, schema: Schema, root: Schema = schema, at = "output"): readonly string[] {
  return Object.entries(schema)
    .filter(([word]) => !COMMENTS.has(word))
    .flatMap(([word, argument]) => {
      const rule = RULES[word];
      return rule === undefined
        ? [`unknown word ${word} in the schema`]
        : rule(value, argument, schema, root, at);
    });
}
