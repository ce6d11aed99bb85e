"""The formulation in OR-Tools CP-SAT."""

import math

from ortools.sat.python import cp_model

from answer import Answer
from formulation import DOLLAR, Formulation


HINT_SECONDS = 20


class CpSat:
    """The solver interface of formulation.py on a CpModel."""

    def __init__(self):
        self.model, self.unit = cp_model.CpModel(), 1

    def flag(self, name):
        return self.model.new_bool_var(name)

    def whole(self, lo, hi, name):
        return self.model.new_int_var(lo, hi, name)

    def at_least(self, terms, rhs, when=()):
        self._enforce(self._sum(terms) >= rhs, when)

    def exactly(self, terms, rhs, when=()):
        self._enforce(self._sum(terms) == rhs, when)

    def _sum(self, terms):
        return cp_model.LinearExpr.weighted_sum([x for _, x in terms], [c for c, _ in terms])

    def _enforce(self, line, when):
        added = self.model.add(line)
        if when:
            added.only_enforce_if(list(when))

    def circuit(self, arcs):
        self.model.add_circuit(arcs)

    def apart(self, spans):
        """Spans (start, size, flag) whose flags are true do not overlap."""
        self.model.add_no_overlap(self._spans(spans))

    def at_once(self, spans, most):
        """At most so many of the spans whose flags are true overlap."""
        self.model.add_cumulative(self._spans(spans), [1] * len(spans), most)

    def _spans(self, spans):
        return [self.model.new_optional_fixed_size_interval_var(start, size, here, "span")
                for start, size, here in spans]

    def minimize(self, terms, constant):
        # Dividing by the common divisor keeps the objective's numbers small.
        self.unit, self.constant = math.gcd(*[c for c, _ in terms]) or 1, constant
        self.model.minimize(self._sum([(c // self.unit, x) for c, x in terms]))


def solve(choices, seconds, workers=2, hint=None, large=False):
    """Solves a day; `hint` is (plan, its starts). On a `large` day the search
    begins at once, where simplifying the program takes longer than there is."""
    backend = CpSat()
    formulation = Formulation(choices, backend)
    if hint:
        _start_from(backend.model, formulation.hint(*hint))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = 1
    solver.parameters.relative_gap_limit = 0
    if large:
        solver.parameters.cp_model_probing_level = 0
        solver.parameters.max_presolve_iterations = 1
    status = solver.solve(backend.model)
    dollars = lambda units: (units * backend.unit + backend.constant) / DOLLAR
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Answer("cp-sat", solver.status_name(status).lower(), None, None, None, solver.wall_time)
    return Answer("cp-sat", solver.status_name(status).lower(), formulation.plan(solver.value),
                  dollars(solver.objective_value), dollars(solver.best_objective_bound), solver.wall_time)


def _start_from(model, hints):
    """Hints a whole solution: what the given values leave open is found first,
    with them fixed, so that the search begins with a plan and not with a riddle."""
    for variable, value in hints:
        model.add_hint(variable, value)
    solver = cp_model.CpSolver()
    solver.parameters.fix_variables_to_their_hinted_value = True
    solver.parameters.max_time_in_seconds = HINT_SECONDS
    solver.parameters.num_workers = 1
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return
    model.clear_hints()
    for i, value in enumerate(solver.response_proto.solution):
        model.add_hint(model.get_int_var_from_proto_index(i), value)
