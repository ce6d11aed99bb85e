"""What the reference model covers. Anything else is refused, with reasons."""

from fractions import Fraction as F

import rules
from loads import amounts
from refuse import NotCovered
from units import DRY, LIQUID, convert

TOLERANCE = F(1, 1_000_000)  # of a stock unit


def check_records(day):
    """Refuses what can be seen before loads are made."""
    reasons = []
    if (day.folder / "progress.csv").exists():
        reasons.append("progress.csv: replanning is not modelled")
    if day.water_limited:
        reasons.append("pad.water: limited water is not modelled")
    if any(h.scope.startswith("bay:") for h in day.holds):
        reasons.append("holds.csv: a bay that is shut is not modelled")
    if day.split not in ("even", "full_first"):
        reasons.append(f"split {day.split} is not known")
    for p in day.products.values():
        if p.form not in DRY | LIQUID:
            reasons.append(f"products.csv: formulation code {p.form} is not known to be dry or liquid")
    reasons += [f"mix {m.name} breaks a tank rule" for m in day.mixes.values() if rules.tank_breach(day, m)]
    if reasons:
        raise NotCovered(reasons)


def check_choices(choices):
    """Refuses what needs the day's loads to be seen."""
    day, reasons = choices.day, []
    for mix in {j.mix for j in day.jobs}:
        reasons += _connections(choices, mix)
    reasons += _stock(day)
    for load in choices.loads.values():
        reasons += _tank_life(day, load)
    if reasons:
        raise NotCovered(list(dict.fromkeys(reasons)))


def _connections(choices, mix):
    bays = choices.bays_for(mix)
    if not bays:
        yield f"no bay gives the carrier of mix {mix}"
    for b in bays:
        if len(choices.hooked_up(mix, b)) > choices.free_connections(b):
            yield f"mix {mix} does not fit on the connections of {choices.day.bays[b].name}: changeovers inside a load"


def needs(day):
    """What all jobs need of each product, in its stock unit; carriers too."""
    total = {}
    for job in day.jobs:
        lines, carrier = amounts(day, job.mix, job.acres, job.gpa)
        if carrier < 0:
            raise NotCovered([f"mix {job.mix}: more liquid product than spray"])
        for p, amount, _ in lines:
            total[p.name] = total.get(p.name, 0) + amount
        name = day.mixes[job.mix].carrier
        if name in day.products:
            p = day.products[name]
            total[name] = total.get(name, 0) + carrier * convert("gal", p.unit, p.density)
    return total


def _stock(day):
    carriers = {m.carrier for m in day.mixes.values()}
    bulk = carriers | {r["product"] for r in day.stock + day.deliveries if r["container"] == "bulk"}
    for name, need in needs(day).items():
        there = [r for r in day.stock if r["product"] == name]
        full = [F(r["size"]) for r in there for _ in range(int(F(r["full"])))]
        opened = [F(r["open"]) for r in there if r.get("open")]
        if sum(full) + sum(opened) + TOLERANCE < need:
            yield f"{name}: the stock at the opening is less than the day needs"
        elif day.products[name].metered and name not in bulk:
            containers = full + opened
            if min(containers) < need or len(containers) < len(day.bays):
                yield f"{name}: a tote could run dry, or there are fewer than bays"


def _tank_life(day, load):
    lives = [day.products[p].tank_life for p in day.mixes[load.mix].products if p in day.products]
    life = min((x for x in lives if x is not None), default=None)
    if life is None:
        return
    for p in load.pieces:
        slope, out = p.values[-2]
        if out - p.lo > life or out + slope * (p.hi - p.lo) - p.hi > life:
            yield f"mix {load.mix}: its tank life could bind"
