"""The cost of one plan, counted step by step in exact fractions.

No solver is used here: it follows the clock, load after load, as the rules
tell it. It is what a solver's answer is held against, and what another
program's plan is counted with.
"""

from dataclasses import dataclass
from fractions import Fraction as F

import rules

PARTS = ("wait", "cleanout", "any_sprayer", "rinse", "rinsate", "changeover", "late", "overtime", "timeliness")


@dataclass(frozen=True)
class Fill:
    """A load at its place on a bay, and what is on the connections beside the
    plumbed products while it is filled."""

    load: object
    bay: int
    on: frozenset


@dataclass(frozen=True)
class Plan:
    routes: dict  # sprayer: Route
    fills: tuple  # of each bay in its order; bays in any mixture


@dataclass(frozen=True)
class Count:
    starts: dict  # load key: second
    dollars: dict  # part: Fraction

    @property
    def total(self):
        return sum(self.dollars.values())


class Unlawful(Exception):
    """The plan breaks a rule."""


@dataclass
class _Bay:
    free: int
    mix: str
    on: frozenset


def opening(choices, b):
    """What is on a bay's free connections at the opening."""
    return frozenset(choices.day.bays[b].hooked)


def count(choices, plan):
    """Counts a plan; raises Unlawful."""
    return _Counter(choices, plan).run()


class _Counter:
    def __init__(self, choices, plan):
        self.choices, self.day, self.plan = choices, choices.day, plan
        self.dollars = dict.fromkeys(PARTS, F(0))
        self.starts, self.back, self.done, self.latest = {}, {}, {}, 0
        self.before = {}  # load key: (key of the sprayer's load before, cleanout level)
        for route in plan.routes.values():
            last = None
            for load, level in zip(route.loads, route.cleanouts):
                self.before[load.key] = (last, level)
                last = load.key

    def run(self):
        day = self.day
        queues = {b: [f for f in self.plan.fills if f.bay == b] for b in range(len(day.bays))}
        if sorted(f.load.key for f in self.plan.fills) != sorted(self.before):
            raise Unlawful("the bays do not fill the routes' loads")
        bays = [_Bay(day.opens, bay.last_mix, opening(self.choices, b)) for b, bay in enumerate(day.bays)]
        while any(queues.values()):
            ripe = [b for b, q in queues.items() if q and self._ready(q[0].load.key) is not None]
            if not ripe:
                raise Unlawful("loads wait for each other in a circle")
            self._fill(bays[ripe[0]], queues[ripe[0]].pop(0))
        self._jobs()
        self._pay("overtime", max(0, self.latest - day.closes), day.overtime)
        return Count(self.starts, self.dollars)

    def _pay(self, part, secs, micro_per_h):
        self.dollars[part] += F(secs * micro_per_h, 3_600_000_000)

    def _ready(self, key):
        """The moment the sprayer is ready for this load; None while unknown."""
        last, level = self.before[key]
        back = self.day.sprayers[key[0]].available_from if last is None else self.back.get(last)
        if back is None:
            return None
        return back + (0 if level is None else self.day.cleanout_levels[level].seconds)

    def _fill(self, bay, fill):
        day, load = self.day, fill.load
        sprayer = day.sprayers[load.sprayer]
        level = self.before[load.key][1]
        if level is not None:
            step = day.cleanout_levels[level]
            self._pay("cleanout", step.seconds, sprayer.wait)
            self.dollars["rinsate"] += step.gal * day.rinsate
        earliest = max(self._ready(load.key), day.opens)
        start = max(self._set_up(bay, fill), earliest)
        self._pay("wait", start - earliest, sprayer.wait)
        self._pay("any_sprayer", load.gone, sprayer.wait)
        piece = next((p for p in load.pieces if p.lo <= start <= p.hi), None)
        if piece is None:
            raise Unlawful(f"{load.key} starts too late")
        moments = piece.at(start)
        for (j, acres), sprayed in zip(load.parts, moments):
            weight = acres * day.jobs[j].priority * day.timeliness
            self.dollars["timeliness"] += weight * (sprayed - day.opens) / 3_600_000_000
            if j in load.last_of:
                self.done[j] = sprayed
        self.starts[load.key], self.back[load.key] = start, moments[-1]
        bay.free, bay.mix, bay.on = start + load.fill, load.mix, fill.on
        self.latest = max(self.latest, bay.free)

    def _set_up(self, bay, fill):
        """When rinse and changeovers before a load are done."""
        day, need = self.day, self.choices.hooked_up(fill.load.mix, fill.bay)
        fresh = fill.on - bay.on
        if not need <= fill.on or not fresh <= need or len(bay.on - fill.on) > len(fresh) or \
                len(fill.on) > self.choices.free_connections(fill.bay) or \
                fill.bay not in self.choices.bays_for(fill.load.mix):
            raise Unlawful(f"{fill.load.key}: wrong products on the connections, or wrong bay")
        done = bay.free + len(fresh) * day.changeover_s
        self.dollars["changeover"] += len(fresh) * day.changeover
        level = rules.rinse(day, bay.mix, fill.load.mix)
        if level is not None:
            step = day.rinse_levels[level]
            done += step.seconds
            self._pay("rinse", step.seconds, day.crew)
            self.dollars["rinsate"] += step.gal * day.rinsate
        return done

    def _jobs(self):
        for j, job in enumerate(self.day.jobs):
            if j not in self.done:
                raise Unlawful(f"job {job.name} is not sprayed")
            late = max(0, self.done[j] - job.due)
            self.dollars["late"] += F(late) * job.priority * self.day.late / 3_600_000_000
