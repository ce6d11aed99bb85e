"""Costs that padturn and general solvers reach on days of up to 150 loads.

python table.py DAYS [--seconds 5] [--out results.md]

DAYS is a folder of day folders (see the README). Jobs stay in file order. For
each day padturn takes the largest effort whose whole process ends within the
seconds on these cores; CP-SAT has as many seconds on two workers, its model
being built beforehand, and then ten times as many. It starts from first come,
first served. A last run starts from padturn's plan, to see whether it is
improved. HiGHS, for which larger days are hopeless, has ten times the
seconds on days of up to 12 loads. All plans are counted by count.py.
"""

import argparse
import os
import sys
import tempfile
import time
from dataclasses import dataclass, replace
from pathlib import Path

import highspy
import ortools

import cpsat
import mip
import padplan
from compare import HALF, HERE, check_answer, command
from count import count
from solve import choices_of

SMALL = 12  # loads: HiGHS is asked, and CP-SAT simplifies the program at length
TIMES = 10  # the longer runs of the solvers

HEAD = """# Costs beside those of general solvers

Made by table.py with padturn given {seconds:g} s for its whole process, OR-Tools CP-SAT
{ortools} given {seconds:g} s and {longer:g} s on 2 workers (building its model not counted), and
HiGHS {highs} given {longer:g} s on one thread for the smallest days. Two cores of a machine
that others used too; how to make it stands in the README, how it is set up in table.py.

The days are the benchmark family's, without what the reference model does not count
(weather, limited water, totes that run dry) and with any-sprayer jobs shared out; jobs
stay in file order; neighbours share loads but in days called *alone*. Costs are in
dollars and counted by count.py; *proved* stands where the plan was proved the best,
and else its gap, as a share of its plan's cost. *From ours* is CP-SAT with {longer:g} s started
from padturn's plan.

| day | loads | first come | padturn | effort | seconds | CP-SAT {seconds:g} s | CP-SAT {longer:g} s | from ours | HiGHS {longer:g} s | padturn above the best % |
|---|---|---|---|---|---|---|---|---|---|---|
"""


@dataclass
class Ours:
    """A plan of padturn's."""

    total: float
    bound: float
    hint: tuple  # the plan and its starts
    effort: int
    seconds: float
    proved: bool


def run(padturn, folder, choices, effort):
    with tempfile.TemporaryDirectory() as scratch:
        out, began = Path(scratch) / "plan", time.monotonic()
        document = padplan.make(padturn, folder, out, "--effort", str(effort), "--keep-order")
        took = time.monotonic() - began
        plan = padplan.read(choices, out)
    counted = count(choices, plan)
    return Ours(float(counted.total), float(document["search"]["bound_dollars"]), (plan, counted.starts), effort, took,
                document["search"]["status"] == "proved")


def largest_effort(padturn, folder, choices, seconds):
    """padturn's plan with about the largest effort that ends within the seconds."""
    best = run(padturn, folder, choices, 5000)
    effort = best.effort
    for _ in range(6):
        effort = int(effort * min(10, 0.9 * seconds / best.seconds))
        if best.proved or best.seconds > 0.75 * seconds or effort <= best.effort:
            break
        now = run(padturn, folder, choices, effort)
        if now.seconds > seconds:
            effort = int((effort + best.effort) / 3)
            now = run(padturn, folder, choices, effort)
            return now if now.seconds <= seconds else best
        best = now
    return best


def counted(choices, answer):
    """The answer with its plan's cost as count.py has it: a plan that is not proved
    may be cheaper than its solver thinks, where a time is later than it must be."""
    if answer.plan is None or answer.status == "optimal":
        wrong = check_answer(choices, answer)
    else:
        total = float(count(choices, answer.plan).total)
        wrong = [f"{answer.solver} says ${answer.dollars:.4f}, its plan counts ${total:.4f}"]
        if total <= answer.dollars + HALF:
            return replace(answer, dollars=total)
    if wrong:
        raise RuntimeError("; ".join(wrong))
    return answer


def cell(answer):
    if answer.plan is None:
        return f"none ({answer.status})"
    if answer.status == "optimal":
        return f"{answer.dollars:.2f} proved"
    return f"{answer.dollars:.2f} ({100 * (1 - answer.bound / answer.dollars):.0f} %)"


def line(folder, padturn, seconds):
    """A row of the table, and whether a solver's plan is cheaper than padturn's."""
    choices = choices_of(folder, keep_order=True)
    first = run(padturn, folder, choices, 0)
    ours = largest_effort(padturn, folder, choices, seconds)
    loads = len(ours.hint[0].fills)
    answers = [cpsat.solve(choices, limit, hint=hint, large=loads > SMALL)
               for limit, hint in ((seconds, first.hint), (TIMES * seconds, first.hint), (TIMES * seconds, ours.hint))]
    if loads <= SMALL:
        answers.append(mip.solve(choices, TIMES * seconds))
    answers = [counted(choices, a) for a in answers]
    best = min([ours.total, *(a.dollars for a in answers if a.plan)])
    cells = [folder.name, str(loads), f"{first.total:.2f}",
             f"{ours.total:.2f}" + (" proved" if ours.proved else f" ({100 * (1 - ours.bound / ours.total):.0f} %)"),
             str(ours.effort), f"{ours.seconds:.1f}", *(cell(a) for a in answers), *["-"] * (4 - len(answers)),
             f"{100 * (ours.total / best - 1):.2f}"]
    return f"| {' | '.join(cells)} |", ours.total > best + HALF


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("days", type=Path)
    parser.add_argument("--seconds", type=float, default=5)
    parser.add_argument("--out", type=Path, default=HERE / "results.md")
    args = parser.parse_args()
    days, out = args.days.resolve(), args.out.resolve()
    os.chdir(HERE.parent.parent)
    if "PADTURN" not in os.environ:
        parser.error("PADTURN must name a built program: go run would be timed too")
    padturn, cheaper = command(), []
    text = HEAD.format(seconds=args.seconds, longer=TIMES * args.seconds, ortools=ortools.__version__,
                       highs=highspy.Highs().version())
    for folder in sorted(p for p in days.iterdir() if p.is_dir()):
        row, is_cheaper = line(folder, padturn, args.seconds)
        print(row, flush=True)
        text += row + "\n"
        if is_cheaper:
            cheaper.append(folder)
            print(f"  a solver's plan is cheaper: {folder}", flush=True)
        out.write_text(text, encoding="utf-8")
    print(len(cheaper), "days on which a solver's plan is cheaper")
    return 0


if __name__ == "__main__":
    sys.exit(main())
