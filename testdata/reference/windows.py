"""When each load can start at all, along the routes that have it.

A sprayer is back no sooner than its loads before take, and must leave what comes
after them time enough. All solvers gain by tight windows.
"""

import math


def of(choices):
    """The pieces of each load's trip, cut to the window in which it can start."""
    first, last = {}, {}
    for routes in choices.routes.values():
        for route in routes:
            _route(choices.day, route, first, last)
    return {key: [p.cut(max(p.lo, first[key]), min(p.hi, last[key])) for p in load.pieces
                  if max(p.lo, first[key]) <= min(p.hi, last[key])]
            for key, load in choices.loads.items() if key in first}


def _route(day, route, first, last):
    """Widens the windows `first` to `last` by what one route allows."""
    ready = max(day.sprayers[route.sprayer].available_from, day.opens)
    for i, (load, level) in enumerate(zip(route.loads, route.cleanouts)):
        clean = 0 if level is None else day.cleanout_levels[level].seconds
        if i == 0:
            ready = max(day.sprayers[route.sprayer].available_from + clean, day.opens)
        else:
            ready += clean
        first[load.key] = min(first.get(load.key, math.inf), ready)
        ready = min((p.at(max(p.lo, ready))[-1] for p in load.pieces if p.hi >= ready), default=math.inf)
    back = math.inf
    for load, level in reversed(list(zip(route.loads, route.cleanouts))):
        latest = max((_latest(p, back) for p in load.pieces), default=-math.inf)
        last[load.key] = max(last.get(load.key, -math.inf), latest)
        back = latest - (0 if level is None else day.cleanout_levels[level].seconds)


def _latest(piece, back):
    """The latest start of a piece that is back by then, or nothing."""
    slope, value = piece.values[-1]
    if value > back:
        return -math.inf
    return min(piece.hi, piece.lo + back - value) if slope else piece.hi
