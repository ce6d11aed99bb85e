"""The cheapest plan by trying all of them: for tiny days, no solver at all."""

import itertools
import time

from answer import Answer
from count import Fill, Plan, Unlawful, count, opening

MOST_PLANS = 8_000


def solve(choices):
    """Tries every plan; None where there are more than MOST_PLANS."""
    began, best = time.monotonic(), None
    plans = list(itertools.islice(_plans(choices), MOST_PLANS + 1))
    if len(plans) > MOST_PLANS:
        return None
    for plan in plans:
        try:
            total = count(choices, plan).total
        except Unlawful:  # it does not fit into the day
            continue
        if best is None or total < best[0]:
            best = total, plan
    took = time.monotonic() - began
    if best is None:
        return Answer("exhaust", "infeasible", None, None, None, took)
    return Answer("exhaust", "optimal", best[1], float(best[0]), float(best[0]), took)


def _plans(choices):
    free = {j for j, job in enumerate(choices.day.jobs) if not job.sprayer}
    for routes in itertools.product(*choices.routes.values()):
        done = [j for r in routes for j in r.jobs if j in free]
        if len(done) == len(free) == len(set(done)):
            by_sprayer = {r.sprayer: r for r in routes}
            seen = set()
            contents = tuple(opening(choices, b) for b in range(len(choices.day.bays)))
            for fills in _orders(choices, tuple(r.loads for r in routes), contents):
                per_bay = tuple(sorted(fills, key=lambda f: f.bay))
                if per_bay not in seen:
                    seen.add(per_bay)
                    yield Plan(by_sprayer, per_bay)


def _orders(choices, chains, contents):
    if not any(chains):
        yield ()
        return
    for i, chain in enumerate(chains):
        if not chain:
            continue
        rest = chains[:i] + (chain[1:],) + chains[i + 1:]
        for b in choices.bays_for(chain[0].mix):
            for on in _contents(choices, chain[0], b, contents[b]):
                for tail in _orders(choices, rest, contents[:b] + (on,) + contents[b + 1:]):
                    yield (Fill(chain[0], b, on), *tail)


def _contents(choices, load, b, was):
    """What can be on the connections for a load: a product comes off only for
    want of room, and any that the load does not need may be the one."""
    need = choices.hooked_up(load.mix, b)
    spare = sorted(was - need)
    room = min(len(spare), choices.free_connections(b) - len(need))
    for kept in itertools.combinations(spare, room):
        yield need | frozenset(kept)
