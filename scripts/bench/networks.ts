import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { KINDS, type Kind } from "./circuits.ts";
import type { MultiplyAdd } from "./loops.ts";
import type { Measured } from "./one-network.ts";
import { hasPython, PythonContender } from "./python.ts";
import { type Demand, type Findings, type Line, mustAgree } from "./results.ts";
import { interleave } from "./sampling.ts";
import { denseSolution, differenceOf, type Solution } from "./task.ts";

const SIZES = [100, 1_000, 10_000, 100_000];
const ALLOWED = 1e-8;
/** Residuals are relative to the largest term of their row. */
const ALLOWED_RESIDUAL = 1e-9;
const MOST_SECONDS = 300;

/** (d) Large circuits of three kinds, each measured in a process of its own. */
export async function networks(multiplyAdd: MultiplyAdd): Promise<Findings> {
  const lines: Line[] = [];
  const demands: Demand[] = [];
  const python = hasPython();
  for (const kind of Object.keys(KINDS) as Kind[]) {
    const totals = new Map<number, number>();
    const again = new Map<number, number>();
    for (const size of SIZES) {
      const measured = inAProcess(kind, size);
      if (measured === undefined) {
        lines.push({
          item: "networks",
          what: `${KINDS[kind]}, ${size} nodes`,
          per: "node",
          note: "no end within time and memory",
        });
        if (kind === "grid") demands.push(besideSuperlu(size, undefined));
        continue;
      }
      totals.set(size, totalOf(measured));
      again.set(size, measured.ac / measured.nodes);
      lines.push(...linesOf(kind, measured, multiplyAdd));
      if (kind === "grid" && python) {
        const { line, factor } = await superlu(measured);
        lines.push(line);
        demands.push(besideSuperlu(size, factor));
      } else if (kind === "grid") demands.push(besideSuperlu(size, undefined));
    }
    if (kind !== "grid") {
      demands.push(growth(`${KINDS[kind]}: everything once`, totals));
      demands.push(growth(`${KINDS[kind]}: factorisation and solve, one frequency`, again));
    }
  }
  return { lines, demands };
}

/** Everything once: build, both orderings, operating point and one frequency. */
const totalOf = ({ build, point, order, nodes }: Measured) => (build + point + order) / nodes;

function growth(what: string, costs: ReadonlyMap<number, number>): Demand {
  const [small, large] = [costs.get(1_000), costs.get(100_000)];
  return {
    item: "networks",
    what: `${what}: growth of the cost a node from 1 000 to 100 000 nodes`,
    ...(small && large && { found: large / small }),
    wanted: 2,
    sense: "at most",
    unit: "times",
  };
}

const besideSuperlu = (size: number, found: number | undefined): Demand => ({
  item: "networks",
  what: `2-D grid, ${size} nodes: factorisation and solve, in those of splu`,
  ...(found !== undefined && { found }),
  wanted: 3,
  sense: "at most",
  unit: "times",
});

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

function linesOf(kind: Kind, m: Measured, multiplyAdd: MultiplyAdd): Line[] {
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
    line("factorisation and solve, one frequency", m.ac, {
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
async function superlu({ task, solution, nodes, ac }: Measured) {
  const python = await new PythonContender("splu", task!).load();
  const [timing] = await interleave([python.contender("splu")], nodes > 50_000 ? 3 : 10);
  const { real, imag } = await python.solutions();
  python.close();
  const difference = mustAgree("splu", compare(solution, { re: real[0]!, im: imag[0]! }), ALLOWED);
  const line: Line = {
    item: "networks",
    what: `2-D grid, ${nodes} nodes: scipy.sparse.linalg.splu and solve, one frequency`,
    per: "node",
    min: timing!.min / nodes,
    median: timing!.median / nodes,
    difference,
  };
  return { line, factor: ac / timing!.min };
}
