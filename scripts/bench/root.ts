/** The project's folder, put in when the benchmark is bundled. */
declare const ROOT: string;
const root = ROOT;

export { root as ROOT };
