"""Which rinse or cleanout the rules ask for, and who may share a run."""

import math

EARTH_MILES = 3958.7613
DETOUR = 1.3


def matches(day, selector, product, mix):
    """Whether a selector names this product of this mix."""
    if selector == "*":
        return True
    if selector.startswith("@"):
        return product in day.products and selector[1:] in day.products[product].groups
    if selector.startswith("mix:"):
        return mix.name == selector[4:]
    return product == selector


def _carries_over(day, rule, earlier, later):
    """Something only the earlier mix holds is named by `after`, something of the
    later one by `before`."""
    return (any(matches(day, rule.after, p, earlier) for p in earlier.products - later.products)
            and any(matches(day, rule.before, p, later) for p in later.products))


def rinse(day, earlier, later):
    """The level of the rinse between two mixes (names) on a bay, or None."""
    if not earlier or earlier == later:
        return None
    e, n = day.mixes[earlier], day.mixes[later]
    found = [r.level for r in day.rules if r.where == "manifold" and _carries_over(day, r, e, n)]
    return max(found, default=None)


def cleanout(day, history, mix, crops):
    """The level of the cleanout before a load of `mix` on `crops`, or None.
    History is a list, oldest first, of ("sprayed", mix, crops) and
    ("cleaned", level, None)."""
    found = [r.level for r in day.rules if r.where == "sprayer"
             and any(_soils(day, r, day.mixes[e], on, day.mixes[mix], crops) for e, on in _since(history, r.level))]
    return max(found, default=None)


def _since(history, level):
    for what, value, crops in reversed(history):
        if what == "sprayed":
            yield value, crops
        elif value >= level:
            return


def _soils(day, rule, earlier, earlier_crops, later, crops):
    if not rule.before.startswith("crop:"):
        return earlier.name != later.name and _carries_over(day, rule, earlier, later)
    crop = rule.before[5:]
    return crop in crops and any(
        matches(day, rule.after, p, earlier) and (p not in later.products or crop not in earlier_crops)
        for p in earlier.products)


def tank_breach(day, mix):
    """Whether two products of the mix may not share a tank."""
    for r in day.rules:
        if r.where == "tank":
            for p in mix.products:
                if matches(day, r.after, p, mix) and any(
                        q != p and matches(day, r.before, q, mix) for q in mix.products):
                    return True
    return False


def _great_circle(a, b):
    la, lb = math.radians(a[0]), math.radians(b[0])
    h = (math.sin((lb - la) / 2) ** 2
         + math.cos(la) * math.cos(lb) * math.sin(math.radians(b[1] - a[1]) / 2) ** 2)
    return 2 * EARTH_MILES * math.asin(math.sqrt(h))


def _over_road(a, b, sprayer):
    return _great_circle(a, b) * DETOUR / float(sprayer.road_mph) * 60


def from_pad(day, job, sprayer):
    """Minutes from the pad to a job's field, one way."""
    return job.drive_min if job.drive_min is not None else _over_road(day.place, job.place, sprayer)


def between(day, a, b, sprayer):
    """Minutes between two fields."""
    if a.place and b.place:
        return _over_road(a.place, b.place, sprayer)
    over_pad = from_pad(day, a, sprayer) + from_pad(day, b, sprayer)
    return over_pad if day.between is None else min(over_pad, day.between)


def may_share(day, a, b, sprayer):
    """Whether two neighbouring jobs may be filled as one run."""
    if (a.mix, a.gpa) != (b.mix, b.gpa) or between(day, a, b, sprayer) > day.share_max:
        return False
    ruled = {r.before[5:] for r in day.rules if r.where == "sprayer" and r.before.startswith("crop:")}
    return a.crop == b.crop or not {a.crop, b.crop} & ruled
