"""Holds padturn against the reference solvers, day by day.

python compare.py [DAY ...]            the given folders; without any, all in days/
python compare.py --invent N [--seed S] N days by chance, kept where they disagree

padturn plans each day; then
- its plan is counted by count.py: the same cost part by part, and every load
  starts at the same second;
- CP-SAT solves the day to optimality, HiGHS too where it can in time, and
  every plan is tried where there are few: all agree, and what a solver thinks
  its plan costs is what count.py counts;
- padturn's cost is that optimum: never below it, and not above it.
All to a cent. PADTURN is the command (default: go run ./cmd/padturn). Days
are planned with free job order and, where padturn has --keep-order, with that.
Ends with 0 when all agree.
"""

import argparse
import os
import shlex
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import cpsat
import exhaust
import invent
import mip
import padplan
from count import PARTS, Unlawful, count
from refuse import NotCovered
from solve import choices_of

HERE = Path(__file__).resolve().parent
CENT = 0.01
HALF = CENT / 2
CP_SECONDS = 30
MIP_SECONDS = 8
EFFORT = "normal"
MIP_LOADS = 8  # HiGHS is asked for days up to so many loads


def command():
    given = os.environ.get("PADTURN")
    return shlex.split(given) if given else ["go", "run", "./cmd/padturn"]


def keep_order_flag(padturn):
    """["--keep-order"] where padturn has it."""
    text = subprocess.run([*padturn, "plan", "--help"], capture_output=True, text=True, check=True).stdout
    return ["--keep-order"] if "--keep-order" in text else []


def count_padturn(choices, out):
    """(cost of padturn's plan, what differs between its account and ours)."""
    plan = padplan.read(choices, out)
    ours, theirs = count(choices, plan), padplan.dollars(out)
    wrong = [f"{part}: padturn ${float(theirs[part]):.4f}, here ${float(ours.dollars[part]):.4f}"
             for part in PARTS if abs(ours.dollars[part] - theirs[part]) > HALF]
    if abs(ours.total - theirs["total"]) > HALF:
        wrong.append(f"total: padturn ${float(theirs['total']):.4f}, here ${float(ours.total):.4f}")
    wrong += [f"{key} starts at {at} s, here {ours.starts[key]} s"
              for key, at in padplan.starts(out, plan) if at != ours.starts[key]]
    return plan, ours, wrong


def solvers(choices, loads, hint):
    yield cpsat.solve(choices, CP_SECONDS, hint=hint)
    if choices.keep_order:  # one of the two job orders with all solvers is enough
        return
    if loads <= MIP_LOADS:
        yield mip.solve(choices, MIP_SECONDS)
    tried = exhaust.solve(choices)
    if tried is not None:
        yield tried


def check_answer(choices, answer):
    """What is wrong between a solver and count.py."""
    if answer.plan is None:
        # Running out of time says nothing; "infeasible" denies padturn's plan.
        return [f"{answer.solver}: {answer.status}"] if answer.status == "infeasible" else []
    try:
        counted = float(count(choices, answer.plan).total)
    except Unlawful as e:
        return [f"{answer.solver}'s plan breaks a rule: {e}"]
    if abs(counted - answer.dollars) > HALF:
        return [f"{answer.solver} says ${answer.dollars:.4f}, its plan counts ${counted:.4f}"]
    return []


def compare(folder, padturn, keep, closed):
    """A line of figures and the list of disagreements; counts in `closed` who
    proved the day."""
    choices = choices_of(folder, keep_order=bool(keep))
    with tempfile.TemporaryDirectory() as scratch:
        out, began = Path(scratch) / "plan", time.monotonic()
        padplan.make(padturn, folder, out, "--effort", EFFORT, *keep)
        took = time.monotonic() - began
        plan, ours, wrong = count_padturn(choices, out)
    total, loads = float(ours.total), len(plan.fills)
    cells = [f"{folder.name:18} {loads:3} loads  padturn {total:10.4f} {took:5.1f} s"]
    for answer in solvers(choices, loads, (plan, ours.starts)):
        wrong += check_answer(choices, answer)
        if answer.plan is None:
            cells.append(f"{answer.solver} {answer.status} {answer.seconds:5.1f} s")
            continue
        closed[answer.solver] = closed.get(answer.solver, 0) + (answer.status == "optimal")
        cells.append(f"{answer.solver} {answer.dollars:10.4f} {answer.status} {answer.seconds:5.1f} s")
        if answer.solver == "cp-sat" and answer.status != "optimal":
            wrong.append(f"CP-SAT did not close the day in {CP_SECONDS} s, bound ${answer.bound:.4f}")
        if answer.status == "optimal" and total < answer.dollars - HALF:
            wrong.append(f"padturn is ${answer.dollars - total:.4f} BELOW {answer.solver}'s optimum")
        if answer.status == "optimal" and total > answer.dollars + HALF:
            wrong.append(f"padturn is ${total - answer.dollars:.4f} above {answer.solver}'s optimum")
    return "  ".join(cells), wrong


def judge(folder, padturn, keep, closed):
    """Prints how a day went; says whether all agree, None where it is refused."""
    try:
        line, wrong = compare(folder, padturn, keep, closed)
    except NotCovered as e:
        print(f"{folder.name}: refused: {e}", flush=True)
        return None
    except (Unlawful, RuntimeError) as e:
        line, wrong = folder.name, [f"{type(e).__name__}: {e}"]
    print(line, *(f"  DISAGREE {w}" for w in wrong), sep="\n", flush=True)
    return not wrong


def invented(count, seed):
    """Folders of invented days, one after the other."""
    root = Path(tempfile.mkdtemp(prefix="reference-days-"))
    for s in range(seed, seed + count):
        invent.invent(root / str(s), s)
        yield root / str(s)
    print("the days are in", root)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("day", nargs="*", type=Path)
    parser.add_argument("--invent", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    written = [p.resolve() for p in args.day] or sorted(p for p in (HERE / "days").iterdir() if p.is_dir())
    os.chdir(HERE.parent.parent)
    padturn, closed, went = command(), {}, []
    kept = keep_order_flag(padturn)
    for flags in [[], kept] if kept else [[]]:
        print("job order:", "as in the file" if flags else "free", flush=True)
        went += [judge(f, padturn, flags, closed)
                 for f in (invented(args.invent, args.seed) if args.invent else written)]
    print(f"{went.count(True)} of {len(went)} agree to a cent, {went.count(None)} refused; proved by",
          ", ".join(f"{name} {n}" for name, n in closed.items()))
    # A chance day may be one that is not modelled; a written one is there to be solved.
    return 1 if False in went or (None in went and not args.invent) or True not in went else 0


if __name__ == "__main__":
    sys.exit(main())
