/** What the 0 V net is called elsewhere: at the bench, in other languages, on schematics. */
const GROUND = /^(gnd|ground|earth|mass|masse|masa|erde|common|com|frame|0|0v)$/i;

/** Says what the 0 V net is called here, if one of these nets has a usual name for it. */
export function chassisMeant(names: readonly string[]): string | undefined {
  const other = names.find((name) => GROUND.test(name));
  return other && `the 0 V net is called chassis: write that for "${other}", or wire ${other} to chassis`;
}
