"""The formulation as a mixed integer program in HiGHS.

A line that counts only when flags are true becomes a big-M line, M from the
bounds of its variables. A circuit becomes degree lines: a loop apart from the
bay's opening would have loads start after themselves, which the start times of
the formulation forbid, since every filling takes time.
"""

import time

import highspy

from answer import Answer
from formulation import DOLLAR, Formulation

INF = highspy.kHighsInf


class Mip:
    """The solver interface of formulation.py on a Highs model."""

    def __init__(self):
        self.highs = highspy.Highs()
        self.highs.silent()
        self.bounds = []

    def _column(self, lo, hi, whole):
        self.highs.addVar(lo, hi)
        self.bounds.append((lo, hi))
        column = len(self.bounds) - 1
        if whole:
            self.highs.changeColIntegrality(column, highspy.HighsVarType.kInteger)
        return column

    def flag(self, name):
        return self._column(0, 1, True)

    def whole(self, lo, hi, name):
        # Times and counts are whole by themselves once the flags are.
        return self._column(lo, hi, False)

    def at_least(self, terms, rhs, when=()):
        row = {}
        for c, x in terms:
            row[x] = row.get(x, 0) + c
        if when:
            least = sum(c * self.bounds[x][0 if c > 0 else 1] for x, c in row.items())
            big = max(0, rhs - least)
            for f in when:
                row[f] = row.get(f, 0) - big
            rhs -= big * len(when)
        row = {x: c for x, c in row.items() if c}
        if row:
            self.highs.addRow(rhs, INF, len(row), list(row), [float(c) for c in row.values()])
        elif rhs > 0:
            self.highs.addRow(1, INF, 0, [], [])  # cannot hold

    def exactly(self, terms, rhs, when=()):
        self.at_least(terms, rhs, when)
        self.at_least([(-c, x) for c, x in terms], -rhs, when)

    def circuit(self, arcs):
        for side in (0, 1):
            for node in sorted({a[side] for a in arcs}):
                self.exactly([(1, a[2]) for a in arcs if a[side] == node], 1)

    def apart(self, spans):
        """Implied by the other lines; only CP-SAT gains by it."""

    def at_once(self, spans, most):
        """Implied too."""

    def minimize(self, terms, constant):
        cost = {}
        for c, x in terms:
            cost[x] = cost.get(x, 0) + c
        for x, c in cost.items():
            self.highs.changeColCost(x, c / DOLLAR)
        self.highs.changeObjectiveOffset(constant / DOLLAR)


def solve(choices, seconds):
    """Solves a day on one thread."""
    backend = Mip()
    formulation = Formulation(choices, backend)
    for option, value in (("time_limit", float(seconds)), ("mip_rel_gap", 0.0), ("mip_abs_gap", 1e-4),
                          ("threads", 1), ("random_seed", 1), ("mip_feasibility_tolerance", 1e-9),
                          ("primal_feasibility_tolerance", 1e-9)):
        backend.highs.setOptionValue(option, value)
    began = time.monotonic()
    backend.highs.run()
    took, info = time.monotonic() - began, backend.highs.getInfo()
    status = backend.highs.getModelStatus()
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        name = "infeasible" if status == highspy.HighsModelStatus.kInfeasible else "unknown"
        return Answer("highs", name, None, None, None, took)
    values = list(backend.highs.getSolution().col_value)
    name = "optimal" if status == highspy.HighsModelStatus.kOptimal else "feasible"
    return Answer("highs", name, formulation.plan(values.__getitem__), info.objective_function_value,
                  info.mip_dual_bound, took)
