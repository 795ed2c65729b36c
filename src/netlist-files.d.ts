declare module "*.netlist" {
  const text: string;
  export default text;
}
