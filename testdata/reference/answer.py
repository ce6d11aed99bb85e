"""What a solver answers."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Answer:
    solver: str
    status: str  # optimal, feasible, infeasible, unknown
    plan: object  # None without one
    dollars: float | None  # of the plan, as the solver counts
    bound: float | None  # dollars; no plan costs less
    seconds: float
