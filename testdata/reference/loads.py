"""The loads and routes a day allows: what every solver here chooses from.

A route is one way for a sprayer to do some jobs: their order, which neighbours
share a run, and, following from these, its loads and cleanouts. All routes are
listed, so a solver picks one per sprayer instead of deriving loads from order.
"""

import itertools
import math
from dataclasses import dataclass
from fractions import Fraction as F

import rules
from clock import trip, windows
from day import WATER, seconds
from refuse import NotCovered
from units import DRY, convert, rate_amount

MOST_ROUTES = 3000


@dataclass(frozen=True)
class Load:
    key: tuple  # (sprayer, indices of the run's jobs, number in the run)
    mix: str
    parts: tuple  # (job index, acres)
    last_of: frozenset  # jobs whose last acre is in it
    fill: int  # seconds
    gone: int  # seconds of driving and spraying for jobs whose sprayer was blank
    pieces: tuple  # of its trip, by start
    crops: frozenset

    @property
    def sprayer(self):
        return self.key[0]


@dataclass(frozen=True)
class Route:
    sprayer: str
    jobs: tuple
    loads: tuple
    cleanouts: tuple  # a level or None for each load


def amounts(day, mix, acres, gpa):
    """(product, amount in its stock unit, gallons or None) of each recipe line,
    and the carrier's gallons."""
    spray, found, liquid = acres * gpa, [], F(0)
    for name, rate, unit in day.mixes[mix].recipe:
        p = day.products[name]
        amount, of = rate_amount(rate, unit, acres, spray)
        gal = None if p.form in DRY else amount * convert(of, "gal", p.density)
        liquid += gal or 0
        found.append((p, amount * convert(of, p.unit, p.density), gal))
    return found, spray - liquid


def fill_seconds(day, mix, acres, gpa):
    """R4 without changeovers inside."""
    pad = day.pad
    products, carrier = amounts(day, mix, acres, gpa)
    minutes = F(0)
    for p, amount, gal in products:
        if p.metered:
            minutes += gal / pad["meter_gpm"] + pad["push_min"]
        elif p.pack:
            minutes += math.ceil(amount / p.pack) * pad["bag_sec" if p.form in DRY else "jug_sec"] / 60
        else:
            minutes += amount * convert(p.unit, "lb", p.density) / pad["hopper_lb_per_min"]
        minutes += pad["settle_dry_min" if p.form in DRY else "settle_liquid_min"]
    first = min(carrier, pad["carrier_first"] * acres * gpa)
    longer = max(carrier / pad["carrier_gpm"], first / pad["carrier_gpm"] + minutes)
    return seconds(pad["hookup_min"] + longer + pad["unhook_min"])


def run_parts(day, sprayer, jobs):
    """The parts of each load of a run: [[(job index, acres), ...], ...]."""
    gpa = day.jobs[jobs[0]].gpa
    total = sum(day.jobs[j].acres for j in jobs)
    count = math.ceil(total * gpa / sprayer.tank)
    ends = [total * k / count if day.split == "even" else min(total, sprayer.tank / gpa * k)
            for k in range(1, count + 1)]
    loads, begin = [], F(0)
    for end in ends:
        parts, at = [], F(0)
        for j in jobs:
            lo, hi = max(begin, at), min(end, at + day.jobs[j].acres)
            if hi > lo:
                parts.append((j, hi - lo))
            at += day.jobs[j].acres
        loads.append(parts)
        begin = end
    return loads


class Choices:
    """All loads and routes of a day, and what the bays do to them."""

    def __init__(self, day, keep_order=True):
        self.day, self.keep_order = day, keep_order
        self.loads = {}
        self._runs = {}
        self.routes = {name: list(self._routes(s)) for name, s in day.sprayers.items()}

    def bays_for(self, mix):
        """Indices of the bays that give the mix's carrier."""
        carrier = self.day.mixes[mix].carrier
        return [b for b, bay in enumerate(self.day.bays) if carrier in bay.carriers]

    def hooked_up(self, mix, bay):
        """The products of a mix that need a connection beside the plumbed ones."""
        metered = {p for p, _, _ in self.day.mixes[mix].recipe if self.day.products[p].metered}
        return frozenset(metered - set(self.day.bays[bay].plumbed))

    def free_connections(self, bay):
        return self.day.bays[bay].connections - len(self.day.bays[bay].plumbed)

    def _routes(self, sprayer):
        own = [j for j, job in enumerate(self.day.jobs) if job.sprayer == sprayer.name]
        free = [j for j, job in enumerate(self.day.jobs) if not job.sprayer]
        count = 0
        for n in range(len(free) + 1):
            for extra in itertools.combinations(free, n):
                jobs = sorted(own + list(extra))
                for order in [tuple(jobs)] if self.keep_order else itertools.permutations(jobs):
                    for runs in self._partitions(sprayer, order):
                        count += 1
                        if count > MOST_ROUTES:
                            raise NotCovered([f"sprayer {sprayer.name} has more than {MOST_ROUTES} routes"])
                        yield self._route(sprayer, order, runs)

    def _partitions(self, sprayer, order):
        """The ways to cut a job order into runs."""
        if not order:
            yield ()
            return
        jobs = [self.day.jobs[j] for j in order]
        may = [rules.may_share(self.day, a, b, sprayer) for a, b in zip(jobs, jobs[1:])]
        for joined in itertools.product(*[(False, True) if m else (False,) for m in may]):
            runs = [[order[0]]]
            for j, with_last in zip(order[1:], joined):
                if with_last:
                    runs[-1].append(j)
                else:
                    runs.append([j])
            yield tuple(tuple(r) for r in runs)

    def _route(self, sprayer, order, runs):
        history = [("sprayed", sprayer.last_mix, frozenset())] if sprayer.last_mix else []
        loads, levels = [], []
        for load in (x for run in runs for x in self._run(sprayer, run)):
            level = rules.cleanout(self.day, history, load.mix, load.crops)
            if level is not None:
                history.append(("cleaned", level, None))
            history.append(("sprayed", load.mix, load.crops))
            loads.append(load)
            levels.append(level)
        return Route(sprayer.name, order, tuple(loads), tuple(levels))

    def _run(self, sprayer, run):
        key = (sprayer.name, run)
        if key not in self._runs:
            split = run_parts(self.day, sprayer, run)
            last = {j: k for k, parts in enumerate(split) for j, _ in parts}
            self._runs[key] = [self._load(sprayer, run, k, parts, frozenset(j for j, _ in parts if last[j] == k))
                               for k, parts in enumerate(split)]
            self.loads.update((x.key, x) for x in self._runs[key])
        return self._runs[key]

    def _load(self, sprayer, run, k, parts, last_of):
        day = self.day
        first = day.jobs[parts[0][0]]
        fill = fill_seconds(day, first.mix, sum(a for _, a in parts), first.gpa)
        legs, gone, previous = [], 0, None
        for j, acres in parts:
            job = day.jobs[j]
            drive = seconds(rules.between(day, previous, job, sprayer) if previous
                            else rules.from_pad(day, job, sprayer))
            work = math.ceil(acres * sprayer.seconds_per_acre)
            legs.append((drive, self._spans(sprayer, job), work))
            gone += 0 if job.sprayer else drive + work
            previous = job
        back = seconds(rules.from_pad(day, previous, sprayer))
        gone += 0 if previous.sprayer else back
        legs[0] = (legs[0][0] + fill, *legs[0][1:])
        pieces = _home_by(trip(day.opens, day.last_end - fill, legs + [(back, None, 0)]), sprayer.available_until)
        return Load((sprayer.name, run, k), first.mix, tuple(parts), last_of, fill, gone, tuple(pieces),
                    frozenset(day.jobs[j].crop for j, _ in parts))

    def _spans(self, sprayer, job):
        """When a part may be sprayed."""
        mix, day = self.day.mixes[job.mix], self.day
        scopes = {"", "sprayer:" + sprayer.name, "field:" + job.field}
        scopes |= {"product:" + p for p in mix.products}
        scopes |= {"@" + g for p in mix.products if p != WATER for g in day.products[p].groups}
        return windows(max(day.spray_from, job.earliest), day.spray_until,
                       [(h.start, h.end) for h in day.holds if h.scope in scopes])


def _home_by(pieces, until):
    kept = []
    for p in pieces:
        slope, back = p.values[-1]
        hi = min(p.hi, p.lo + until - back) if slope else (p.hi if back <= until else p.lo - 1)
        if hi >= p.lo:
            kept.append(p.cut(p.lo, hi))
    return kept
