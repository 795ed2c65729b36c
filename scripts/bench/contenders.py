"""Solves (G + jwC) x = b with numpy and scipy, for comparison. Started by the benchmark, which asks line by line
on standard input and gets one line of JSON for each: so that samples of all contenders come in turn."""
import json
import sys
import time

import numpy
import scipy.sparse
import scipy.sparse.linalg


class Task:
    """Matrices of one circuit on one pattern, right-hand side, angular frequencies; real where all are 0."""

    def __init__(self, path):
        with open(path, encoding="utf8") as file:
            data = json.load(file)
        self.omegas = numpy.array(data["omega"])
        self.real = not self.omegas.any()
        self.b = numpy.array(data["b"], dtype=float if self.real else complex)
        places = (data["row"], data["column"])
        shape = (data["size"], data["size"])
        # both on the pattern of all places: a sum of two matrices would lose what is zero in one
        self.g = scipy.sparse.csc_matrix((data["g"], places), shape)
        self.c = scipy.sparse.csc_matrix((data["c"], places), shape)


class Batched:
    """numpy.linalg.solve on all frequencies at once."""

    def __init__(self, task):
        self.g = task.g.toarray()
        self.c = task.c.toarray()
        self.s = 1j * task.omegas[:, None, None]
        self.b = numpy.broadcast_to(task.b[:, None], (len(task.omegas), len(task.b), 1)).copy()

    def solve(self):
        return numpy.linalg.solve(self.g + self.s * self.c, self.b)[:, :, 0]


class Superlu:
    """scipy.sparse.linalg.splu, one factorisation a frequency; only the values are written anew."""

    def __init__(self, task):
        self.task = task
        self.a = task.g.copy() if task.real else task.g.astype(complex)

    def at(self, omega):
        if not self.task.real:
            self.a.data = self.task.g.data + 1j * omega * self.task.c.data
        return scipy.sparse.linalg.splu(self.a).solve(self.task.b)

    def solve(self):
        return [self.at(omega) for omega in self.task.omegas]


KINDS = {"numpy": Batched, "splu": Superlu}


def main():
    contender = None
    for line in sys.stdin:
        words = json.loads(line)
        if words["do"] == "load":
            contender = KINDS[words["kind"]](Task(words["file"]))
            answer = {}
        elif words["do"] == "sample":
            start = time.perf_counter()
            contender.solve()
            answer = {"seconds": time.perf_counter() - start}
        else:
            x = numpy.array(contender.solve(), dtype=complex)
            answer = {"real": x.real.tolist(), "imag": x.imag.tolist()}
        print(json.dumps(answer), flush=True)


main()
