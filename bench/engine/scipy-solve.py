"""Solves what comes on standard input with SciPy's stiff solvers; asks the other side for the right-hand side."""

import json
import struct
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import csr_matrix

source, sink = sys.stdin.buffer, sys.stdout.buffer
task = json.loads(source.readline())
start = np.array(task["start"])
scale = np.array(task["scale"])
n = len(start)
pattern = csr_matrix(
    (np.ones(len(task["columns"])), task["columns"], task["begin"]), shape=(n, n)
)
counts = {"calls": 0, "waiting": 0.0}


def slope(t, y):
    sink.write(struct.pack("<d", t) + y.astype("<f8").tobytes())
    sink.flush()
    counts["calls"] += 1
    return np.frombuffer(source.read(8 * n), dtype="<f8")


began = time.process_time()
y, now, steps, factors = start, 0.0, 0, 0
for until in task["stops"]:
    solution = solve_ivp(
        slope,
        (now, until),
        y,
        method=task["method"],
        rtol=task["rtol"],
        atol=task["rtol"] * scale,
        jac_sparsity=pattern,
        t_eval=[until],
    )
    if not solution.success:
        sys.exit(solution.message)
    # A moment that is not a number says that a stretch is over.
    sink.write(struct.pack("<d", float("nan")) + np.zeros(n).tobytes())
    sink.flush()
    y, now = solution.y[:, -1], until
    factors += solution.nlu
cpu = time.process_time() - began
sink.write(struct.pack("<d", float("inf")) + y.astype("<f8").tobytes())
sink.flush()
print(json.dumps({"cpu_s": cpu, "factors": factors, **counts}), file=sys.stderr)
