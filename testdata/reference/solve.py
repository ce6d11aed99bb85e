"""Solves one day folder: python solve.py DAY [--free-order] [--seconds N] [--solver S]."""

import argparse
import sys

import cover
import cpsat
import exhaust
import mip
from count import PARTS, Unlawful, count
from day import Day
from loads import Choices
from refuse import NotCovered


def choices_of(folder, keep_order):
    """The choices of a day that is covered; raises NotCovered."""
    try:
        day = Day(folder)
        cover.check_records(day)
        choices = Choices(day, keep_order)
    except (KeyError, ValueError, TypeError) as e:
        raise NotCovered([f"the day cannot be read: {e!r}"]) from e
    cover.check_choices(choices)
    return choices


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("day")
    parser.add_argument("--free-order", action="store_true", help="job order is free, as for padturn without --keep-order")
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--solver", choices=("cp-sat", "highs", "exhaust"), default="cp-sat")
    args = parser.parse_args()
    try:
        choices = choices_of(args.day, not args.free_order)
        answer = {"cp-sat": lambda: cpsat.solve(choices, args.seconds, args.workers),
                  "highs": lambda: mip.solve(choices, args.seconds),
                  "exhaust": lambda: exhaust.solve(choices)}[args.solver]()
    except NotCovered as e:
        print("refused:", *e.reasons, sep="\n- ", file=sys.stderr)
        return 2
    if answer is None or answer.plan is None:
        print("no plan:", "too many to try" if answer is None else f"{answer.status} in {answer.seconds:.1f} s")
        return 1
    try:
        counted = count(choices, answer.plan)
    except Unlawful as e:
        print("the solver's plan breaks a rule:", e, file=sys.stderr)
        return 3
    print(f"{answer.solver}: {answer.status} in {answer.seconds:.1f} s, ${answer.dollars:.4f}, bound ${answer.bound:.4f}")
    for part in PARTS:
        print(f"  {part:12} {float(counted.dollars[part]):10.4f}")
    print(f"  {'total':12} {float(counted.total):10.4f}")
    for fill in answer.plan.fills:
        at = counted.starts[fill.load.key]
        jobs = " ".join(choices.day.jobs[j].name for j, _ in fill.load.parts)
        print(f"  {choices.day.bays[fill.bay].name}  {at // 3600:02}:{at // 60 % 60:02}:{at % 60:02}  "
              f"{fill.load.sprayer}: {jobs}, {fill.load.mix}; on {', '.join(sorted(fill.on)) or 'nothing'}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
