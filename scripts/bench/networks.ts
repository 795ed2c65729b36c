import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { KINDS, type Kind } from "./circuits.ts";
import type { MultiplyAdd } from "./loops.ts";
import type { Measured } from "./one-network.ts";
import { hasPython, PythonContender } from "./python.ts";
import { type Demand, type Findings, type Line, mustAgree, together } from "./results.ts";
import { interleave } from "./sampling.ts";
import { denseSolution, differenceOf, type Solution } from "./task.ts";

const SIZES = [100, 1_000, 10_000, 100_000];
const ALLOWED = 1e-8;
/** Residuals are relative to the largest term of their row. */
const ALLOWED_RESIDUAL = 1e-9;
const MOST_SECONDS = 600;
/** Above so many nodes fewer samples must do. */
const FEW_ABOVE = 50_000;

/** (d) Large circuits of three kinds, each measured in a process of its own. */
export async function networks(multiplyAdd: MultiplyAdd): Promise<Findings> {
  const found: Findings[] = [];
  for (const kind of Object.keys(KINDS) as Kind[]) {
    const measured = new Map<number, Measured>();
    for (const size of SIZES) {
      const one = inAProcess(kind, size);
      if (one !== undefined) measured.set(size, { ...one, solution: { re: [], im: [] } });
      found.push({ lines: linesOf(kind, size, one, multiplyAdd), demands: [] });
      if (kind === "grid") found.push(await besideSuperlu(size, one));
    }
    if (kind !== "grid") found.push({ lines: [], demands: growths(kind, measured) });
  }
  return together(found);
}

const PHASES = {
  built: ({ build }: Measured) => build,
  "operating point": ({ point }: Measured) => point,
  "first frequency": ({ order }: Measured) => order,
  "all of these": ({ build, point, order }: Measured) => build + point + order,
  "factorisation and solve, direct current": ({ dc }: Measured) => dc,
  "factorisation and solve, a frequency": ({ ac }: Measured) => ac,
};

function growths(kind: Kind, measured: ReadonlyMap<number, Measured>): Demand[] {
  const [small, large] = [measured.get(1_000), measured.get(100_000)];
  return Object.entries(PHASES).map(([name, of]) => ({
    item: "networks",
    what: `${KINDS[kind]}: growth of the cost a node from 1 000 to 100 000, ${name}`,
    ...(small && large && { found: of(large) / large.nodes / (of(small) / small.nodes) }),
    wanted: 2,
    sense: "at most",
    unit: "times",
  }));
}

function inAProcess(kind: Kind, size: number): Measured | undefined {
  const words = [
    "--expose-gc",
    "--max-old-space-size=6000",
    fileURLToPath(import.meta.url),
    "--network",
    kind,
    String(size),
  ];
  const { status, stdout } = spawnSync(process.execPath, words, {
    encoding: "utf8",
    maxBuffer: 2 ** 29,
    timeout: MOST_SECONDS * 1000,
    stdio: ["ignore", "pipe", "ignore"],
  });
  return status === 0 ? JSON.parse(stdout) : undefined;
}

function linesOf(kind: Kind, size: number, m: Measured | undefined, multiplyAdd: MultiplyAdd): Line[] {
  if (m === undefined) {
    const what = `${KINDS[kind]}, ${size} nodes`;
    return [{ item: "networks", what, per: "node", note: "no end within the time and memory allowed" }];
  }
  const difference = check(m);
  const what = `${KINDS[kind]}, ${m.nodes} nodes: `;
  const line = (phase: string, seconds: number, more: Partial<Line> = {}): Line => ({
    item: "networks",
    what: what + phase,
    per: "node",
    min: seconds / m.nodes,
    ...more,
  });
  const counts = (all: number) => `${(all / m.nodes).toFixed(1)} multiply-adds a node`;
  return [
    line("built", m.build, {
      note: `${Math.round(m.bytes / m.nodes)} bytes a node held in all, ${m.fill} entries of fill`,
    }),
    line("operating point, ordering included", m.point, { note: `${m.steps} Newton steps` }),
    line("first frequency, ordering included", m.order, { difference }),
    line("factorisation and solve, direct current", m.dc, {
      limit: (m.multiplyAdds.dc * multiplyAdd.real) / m.nodes,
      note: counts(m.multiplyAdds.dc),
    }),
    line("factorisation and solve, a frequency", m.ac, {
      limit: (m.multiplyAdds.ac * multiplyAdd.complex) / m.nodes,
      note: counts(m.multiplyAdds.ac),
    }),
  ];
}

/** Small ones against the dense reference, all by what is left of their equations. */
function check({ solution, residual, task, nodes }: Measured): number {
  mustAgree(`${nodes} nodes, residual`, residual, ALLOWED_RESIDUAL);
  if (task === undefined || nodes > 200) return residual;
  return mustAgree(`${nodes} nodes`, compare(solution, denseSolution(task, task.omega[0]!)), ALLOWED);
}

/** Compares what is known of the first. */
function compare(a: Measured["solution"], b: Solution): number {
  const known = a.re.flatMap((value, k) => (value === null || Number.isNaN(value) ? [] : [k]));
  return differenceOf(a, b, known);
}

/** splu on the same complex matrix. */
async function besideSuperlu(size: number, measured: Measured | undefined): Promise<Findings> {
  const timed = measured !== undefined && hasPython() ? await superlu(measured) : undefined;
  const demand: Demand = {
    item: "networks",
    what: `2-D grid, ${size} nodes: factorisation and solve, in those of splu`,
    ...(timed && measured && { found: measured.ac / timed.seconds }),
    wanted: 3,
    sense: "at most",
    unit: "times",
  };
  return { lines: timed === undefined ? [] : [timed.line], demands: [demand] };
}

async function superlu({ task, solution, nodes }: Measured) {
  const python = await new PythonContender("splu", task!).load();
  const [timing] = await interleave([python.contender("splu")], nodes > FEW_ABOVE ? 3 : 10);
  const { real, imag } = await python.solutions();
  python.close();
  const { min, median } = timing!;
  const line: Line = {
    item: "networks",
    what: `2-D grid, ${nodes} nodes: scipy.sparse.linalg.splu, factorisation and solve, a frequency`,
    per: "node",
    min: min / nodes,
    median: median / nodes,
    difference: mustAgree("splu", compare(solution, { re: real[0]!, im: imag[0]! }), ALLOWED),
  };
  return { line, seconds: min };
}
