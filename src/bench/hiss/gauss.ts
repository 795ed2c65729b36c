/** Nodes and weights of Gauss and Legendre on −1 to 1: exact for polynomials up to degree 2n − 1. */
export interface Rule {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

/** P_n(x) and its derivative by the recurrence of Bonnet. */
function legendre(n: number, x: number): { readonly value: number; readonly slope: number } {
  let [before, value] = [1, x];
  for (let k = 2; k <= n; k++) [before, value] = [value, ((2 * k - 1) * x * value - (k - 1) * before) / k];
  return { value, slope: (n * (x * value - before)) / (x * x - 1) };
}

/** The rule with n nodes; the zeros of P_n by Newton's method from Chebyshev's. */
export function gaussLegendre(n: number): Rule {
  const nodes = Array.from({ length: n }, (_, k) => {
    let x = Math.cos((Math.PI * (k + 0.75)) / (n + 0.5));
    for (let step = 0; step < 8; step++) {
      const { value, slope } = legendre(n, x);
      x -= value / slope;
    }
    return x;
  });
  return {
    nodes,
    weights: nodes.map((x) => 2 / ((1 - x * x) * legendre(n, x).slope ** 2)),
  };
}
