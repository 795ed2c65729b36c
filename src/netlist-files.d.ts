declare module "*.netlist" {
  const text: string;
  export default text;
}

declare module "*.html" {
  const text: string;
  export default text;
}
