"""A plan that padturn wrote, as a plan of this model."""

import csv
import json
import subprocess
from fractions import Fraction as F

from count import PARTS, Fill, Plan, Unlawful, opening


def make(padturn, folder, out, *flags):
    """Has padturn plan a day into `out`; returns the document it prints."""
    run = subprocess.run([*padturn, "plan", str(folder), "-o", str(out), "--json", *flags],
                         capture_output=True, text=True, check=False)
    if run.returncode != 0:
        raise RuntimeError(f"padturn ended with {run.returncode}: {run.stderr.strip()}")
    return json.loads(run.stdout)


def _rows(path):
    with path.open(encoding="utf-8-sig", newline="") as sheet:
        return list(csv.DictReader(sheet))


def dollars(out):
    """The parts of its cost, and the total, as it wrote them."""
    return {r["part"]: F(r["dollars"]) for r in _rows(out / "cost.csv") if r["part"] in (*PARTS, "total")}


def starts(out, plan):
    """(load key, the second at which it says the load starts) of all loads."""
    by_load = {r["load"]: r for r in _rows(out / "loads.csv")}
    for route in plan.routes.values():
        for k, load in enumerate(route.loads):
            yield load.key, _seconds(by_load[f"{route.sprayer}-{k + 1}"]["start"])


def _seconds(text):
    moment, _, days = text.partition("+")
    h, m, s = moment.split(":")
    return int(h) * 3600 + int(m) * 60 + int(s) + int(days or 0) * 86400


def read(choices, out):
    """The plan in a folder. A route is known by its loads' acres, which the
    files round to four decimals."""
    sheet = _rows(out / "loads.csv")
    routes, by_id = {}, {}
    for name in choices.day.sprayers:
        mine = sorted((r for r in sheet if r["sprayer"] == name), key=lambda r: int(r["load"].rpartition("-")[2]))
        routes[name] = _route(choices, name, mine)
        by_id.update((r["load"], load) for r, load in zip(mine, routes[name].loads))
    moves = _rows(out / "connections.csv")
    fills = []
    for b, bay in enumerate(choices.day.bays):
        on = opening(choices, b)
        for r in sorted((r for r in sheet if r["bay"] == bay.name), key=lambda r: int(r["seq"])):
            for m in moves:
                if m["load"] == r["load"]:
                    on = (on - {m["off"]}) | {m["on"]}
            fills.append(Fill(by_id[r["load"]], b, on))
    return Plan(routes, tuple(fills))


def _route(choices, name, mine):
    day = choices.day
    wanted = [tuple((j, F(a)) for j, a in (part.split("=") for part in r["jobs"].split(";"))) for r in mine]
    level = {v.name: i for i, v in enumerate(day.cleanout_levels)}
    clean = tuple(level.get(r["cleanout"]) for r in mine)
    for route in choices.routes[name]:
        if len(route.loads) == len(wanted) and all(_same(day, x, w) for x, w in zip(route.loads, wanted)):
            if route.cleanouts != clean:
                raise Unlawful(f"{name}: cleanouts {clean}, expected {route.cleanouts}")
            return route
    raise Unlawful(f"{name}: no route has these loads: {wanted}")


def _same(day, load, wanted):
    return len(load.parts) == len(wanted) and all(
        day.jobs[j].name == name and abs(acres - a) <= F(1, 10_000)
        for (j, acres), (name, a) in zip(load.parts, wanted))
