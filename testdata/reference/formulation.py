"""The day as an integer program, told to a solver through a small interface.

A solver offers: flag(name), whole(lo, hi, name), at_least(terms, rhs, when),
exactly(terms, rhs, when), circuit(arcs), apart(spans) and minimize(terms,
constant), where terms are (coefficient, variable) pairs and `when` a list of
flags that must all be true for the line to count. Money is in 1/3600
micro-dollars, so that micro-dollars an hour times seconds stay whole; time is
in seconds.

The choices: a route per sprayer; for each bay a circuit through its loads; what
stays on the connections. Everything else follows from them.
"""

from fractions import Fraction as F

import rules
import windows
from count import Fill, Plan, opening
from refuse import NotCovered

DOLLAR = 3_600_000_000


def money(dollars):
    """Dollars in 1/3600 micro-dollars, to the nearest."""
    return round(F(dollars) * DOLLAR)


class Formulation:
    """Tells `solver` a day; `plan` then reads the chosen plan from its values."""

    def __init__(self, choices, solver):
        self.choices, self.day, self.solver = choices, choices.day, solver
        self.pieces = windows.of(choices)
        # With a hold, a load that starts later on purpose can gain: its sprayer
        # pauses instead of waiting, and a pause costs nothing. By R7
        # every load starts as early as it can, so that must then be said.
        self.exact = bool(self.day.holds)
        self.costs, self.fixed = [], 0
        self.route, self.present, self.start, self.moments, self.on_bay, self.arc, self.on = {}, {}, {}, {}, {}, {}, {}
        self.fresh, self.tight, self.waits = {}, {}, {}
        self.places = {name: [{load.key: i for i, load in enumerate(r.loads)} for r in routes]
                       for name, routes in choices.routes.items()}
        self._routes()
        for load in self.loads:
            self._trip(load)
        self._chains()
        self._bays()
        self._jobs()
        self._overtime()
        solver.minimize(self.costs, self.fixed)

    def _routes(self):
        """One route per sprayer, each job on one of them; `present` loads."""
        self.by_load = {}
        for name, routes in self.choices.routes.items():
            flags = [self.solver.flag(f"route {name} {i}") for i in range(len(routes))]
            self.solver.exactly([(1, f) for f in flags], 1)
            for i, route in enumerate(routes):
                self.route[name, i] = flags[i]
                self._cost_of_route(route, flags[i])
                for load in route.loads:
                    self.by_load.setdefault(load.key, (load, []))[1].append(flags[i])
        self.loads = [load for load, _ in self.by_load.values()]
        for key, (load, flags) in self.by_load.items():
            self.present[key] = self.solver.flag(f"present {key}")
            self.solver.exactly([(1, f) for f in flags] + [(-1, self.present[key])], 0)
        for j, job in enumerate(self.day.jobs):
            if not job.sprayer:
                self.solver.exactly([(1, self.route[n, i]) for n, rs in self.choices.routes.items()
                                     for i, r in enumerate(rs) if j in r.jobs], 1)

    def _cost_of_route(self, route, flag):
        """Cleanouts and any-sprayer hours are known with the route."""
        wait, sum_ = self.day.sprayers[route.sprayer].wait, 0
        for load, level in zip(route.loads, route.cleanouts):
            sum_ += load.gone * wait
            if level is not None:
                step = self.day.cleanout_levels[level]
                sum_ += step.seconds * wait + money(step.gal * self.day.rinsate)
        self._pay(sum_, flag)

    def _pay(self, coefficient, variable):
        if coefficient:
            self.costs.append((coefficient, variable))

    def _trip(self, load):
        """The start of a load, when its parts are sprayed and when it is back.
        A load that is not present stands at its earliest start."""
        pieces = self.pieces[load.key]
        if not pieces:
            raise NotCovered([f"not everything fits: {load.key} cannot be done in time"])
        s, key, here = self.solver, load.key, self.present[load.key]
        lo, hi = pieces[0].lo, pieces[-1].hi
        self.start[key] = start = s.whole(lo, hi, f"start {key}")
        absent = self._not(here)
        s.exactly([(1, start)], lo, [absent])
        if len(pieces) == 1 and all(slope for slope, _ in pieces[0].values):
            self.moments[key] = [([(1, start)], v - lo) for _, v in pieces[0].values]
            return
        ends = [p.at(p.lo) for p in pieces] + [p.at(p.hi) for p in pieces]
        variables = [s.whole(min(v), max(v), f"moment {i} {key}") for i, v in enumerate(zip(*ends))]
        flags = [s.flag(f"piece {i} {key}") for i in range(len(pieces))]
        s.exactly([(1, f) for f in flags], 1)
        for p, f in zip(pieces, flags):
            s.at_least([(1, start)], p.lo, [f])
            s.at_least([(-1, start)], -p.hi, [f])
            for (slope, v), x in zip(p.values, variables):
                s.exactly([(1, x)] + ([(-1, start)] if slope else []), v - slope * p.lo, [f])
        self.moments[key] = [([(1, x)], 0) for x in variables]

    def _not(self, flag):
        other = self.solver.flag("not")
        self.solver.exactly([(1, flag), (1, other)], 1)
        return other

    def _chains(self):
        """Along a route each load starts when its sprayer is ready or later; what
        it waits is paid by the sprayer."""
        steps = {}
        for name, routes in self.choices.routes.items():
            for i, route in enumerate(routes):
                before = None
                for load, level in zip(route.loads, route.cleanouts):
                    steps.setdefault((before, load.key, level, name), []).append(self.route[name, i])
                    before = load
            if not self.exact:
                self._wait(name, routes)
            self._turns_apart(name)
        for (before, key, level, name), flags in steps.items():
            terms, constant = self._ready(before, level, name)
            taken = self.solver.flag(f"step {before and before.key} {key}")
            self.solver.exactly([(1, f) for f in flags] + [(-1, taken)], 0)
            gap = [(1, self.start[key])] + [(-c, x) for c, x in terms]
            self.solver.at_least(gap, constant, [taken])
            if self.exact:
                self.solver.exactly(gap, constant, [taken, self._prompt(key)])
                self._wait_of_load(key, gap, constant, taken)

    def _wait(self, name, routes):
        """What a sprayer waits, as the sum of the gaps along its route. Where a
        return is the start plus a constant, all starts but the last cancel out,
        which closes days that a wait per load does not."""
        wait = self.solver.whole(0, self.day.last_end - self.day.opens, f"wait {name}")
        self._pay(self.day.sprayers[name].wait, wait)
        for i, route in enumerate(routes):
            terms, constant, before = [], 0, None
            for load, level in zip(route.loads, route.cleanouts):
                ready, plus = self._ready(before, level, name)
                terms += [(-1, self.start[load.key])] + [(c, x) for c, x in ready]
                constant += plus
                before = load
            if terms:
                self.solver.at_least([(1, wait)] + terms, -constant, [self.route[name, i]])

    def _wait_of_load(self, key, gap, constant, taken):
        """The wait as one gap, which is better where holds break the turns."""
        if key not in self.waits:
            self.waits[key] = self.solver.whole(0, self.day.last_end - self.day.opens, f"wait {key}")
            self._pay(self.day.sprayers[key[0]].wait, self.waits[key])
        self.solver.at_least([(1, self.waits[key])] + [(-c, x) for c, x in gap], -constant, [taken])

    def _turns_apart(self, name):
        """A sprayer's turns never overlap: the steps imply it, and it is said
        again because it bounds what a route can wait."""
        self.solver.apart([
            (self.start[x.key], min(p.at(p.hi)[-1] - p.hi for p in self.pieces[x.key]), self.present[x.key])
            for x in self.loads if x.sprayer == name])

    def _prompt(self, key):
        """True: the load starts when the sprayer is ready; false: when its
        set-up is done. Only asked for where `exact`."""
        if key not in self.tight:
            flag = self.solver.flag(f"prompt {key}")
            self.tight[key] = (flag, self._not(flag))
        return self.tight[key][0]

    def _ready(self, before, level, name):
        """When a sprayer is ready for its next load, as (terms, constant)."""
        clean = 0 if level is None else self.day.cleanout_levels[level].seconds
        if before is None:
            return [], max(self.day.sprayers[name].available_from + clean, self.day.opens)
        terms, constant = self.moments[before.key][-1]
        return terms, constant + clean

    def _bays(self):
        for b in range(len(self.day.bays)):
            loads = [x for x in self.loads if b in self.choices.bays_for(x.mix)]
            for load in loads:
                self.on_bay[b, load.key] = self.solver.flag(f"bay {b} {load.key}")
            self._connections(b, loads)
            self._circuit(b, loads)
            self.solver.apart([(self.start[x.key], x.fill, self.on_bay[b, x.key]) for x in loads])
        for load in self.loads:
            here = [(1, self.on_bay[b, load.key]) for b in self.choices.bays_for(load.mix)]
            self.solver.exactly(here + [(-1, self.present[load.key])], 0)
            self._pay(money(self.day.changeover), self.fresh[load.key])
        # Said again for all bays together, which is easier to reckon with.
        self.solver.at_once([(self.start[x.key], x.fill, self.present[x.key]) for x in self.loads], len(self.day.bays))

    def _connections(self, b, loads):
        """Which products stay on the connections while a load is filled."""
        needed = frozenset().union(*(self.choices.hooked_up(x.mix, b) for x in loads)) if loads else frozenset()
        # Products that no load needs matter only for how many can be taken off.
        watched = needed | opening(self.choices, b) if self.exact else needed
        for load in loads:
            need = self.choices.hooked_up(load.mix, b)
            for p in watched - need:
                self.on[b, load.key, p] = self.solver.flag(f"on {b} {load.key} {p}")
            room = self.choices.free_connections(b) - len(need)
            others = [(-1, self.on[b, load.key, p]) for p in watched - need]
            if others and len(others) > room:
                self.solver.at_least(others, -room)
            if load.key not in self.fresh:
                most = max(len(self.choices.hooked_up(load.mix, c)) for c in self.choices.bays_for(load.mix))
                self.fresh[load.key] = self.solver.whole(0, most, f"fresh {load.key}")
        self.watched = watched

    def _circuit(self, b, loads):
        """The order of a bay: 0 is its opening and closing."""
        nodes = {load.key: i + 1 for i, load in enumerate(loads)}
        idle = self.solver.flag(f"idle {b}")
        arcs = [(0, 0, idle)]
        for load in loads:
            n = nodes[load.key]
            off = self._not(self.on_bay[b, load.key])
            first, last = self.solver.flag(f"first {b} {load.key}"), self.solver.flag(f"last {b} {load.key}")
            arcs += [(n, n, off), (0, n, first), (n, 0, last)]
            self.arc[b, None, load.key] = first
            self._follow(b, None, load, first)
        for a in loads:
            for x in loads:
                if a is not x and self._may_follow(b, a, x):
                    flag = self.solver.flag(f"arc {b} {a.key} {x.key}")
                    arcs.append((nodes[a.key], nodes[x.key], flag))
                    self.arc[b, a.key, x.key] = flag
                    self._follow(b, a, x, flag)
        self.solver.circuit(arcs)

    def _may_follow(self, b, a, x):
        """Whether x can be filled on bay b right after a: there is time, and they
        belong to two sprayers, or stand on a common route, in this order, with
        nothing between them that only this bay fills."""
        if self.pieces[a.key][0].lo + a.fill > self.pieces[x.key][-1].hi:
            return False
        if a.sprayer != x.sprayer:
            return not self._same_any_job(a, x)
        return any(all(self.choices.bays_for(y.mix) != [b] for y in between)
                   for between in self._between(a, x))

    def _between(self, a, x):
        """What lies between two loads, on each of the routes with both in this order."""
        for places, route in zip(self.places[a.sprayer], self.choices.routes[a.sprayer]):
            if places.get(a.key, len(places)) < places.get(x.key, -1):
                yield route.loads[places[a.key] + 1:places[x.key]]

    def _same_any_job(self, a, x):
        """Two sprayers' loads of one any-sprayer job are never both present."""
        return bool(set(a.key[1]) & set(x.key[1]))

    def _follow(self, b, a, x, arc):
        """x is filled on bay b right after a, or first where a is None."""
        day, s, need = self.day, self.solver, self.choices.hooked_up(x.mix, b)
        level = rules.rinse(day, a.mix if a else day.bays[b].last_mix, x.mix)
        rinse = 0
        if level is not None:
            step = day.rinse_levels[level]
            rinse = step.seconds
            self._pay(step.seconds * day.crew + money(step.gal * day.rinsate), arc)
        was_on = (lambda p: self._was_on(b, a, p)) if a else (lambda p: p in opening(self.choices, b))
        missing = [(p, was_on(p)) for p in sorted(need)]
        fresh = [(1, self.fresh[x.key])] + [(1, w) for _, w in missing if not isinstance(w, bool)]
        sure = sum(1 - w if isinstance(w, bool) else 1 for _, w in missing)
        (s.exactly if self.exact else s.at_least)(fresh, sure, [arc])
        kept = [(p, was_on(p)) for p in sorted(self.watched - need)]
        for p, w in kept:
            stays = [(-1, self.on[b, x.key, p])]
            s.at_least(stays if isinstance(w, bool) else stays + [(1, w)], -w if isinstance(w, bool) else 0, [arc])
        if self.exact:
            gone = [(1, self.on[b, x.key, p]) for p, _ in kept] + [(-1, w) for _, w in kept if not isinstance(w, bool)]
            s.at_least(gone + [(1, self.fresh[x.key])], sum(w for _, w in kept if isinstance(w, bool)), [arc])
        free = ([(-1, self.start[a.key])], a.fill) if a else ([], day.opens)
        gap = [(1, self.start[x.key]), (-day.changeover_s, self.fresh[x.key])] + free[0]
        s.at_least(gap, free[1] + rinse, [arc])
        if self.exact:
            self._prompt(x.key)
            s.exactly(gap, free[1] + rinse, [arc, self.tight[x.key][1]])

    def _was_on(self, b, a, p):
        """True, or the flag that says it: variables may be ints, so a constant is
        told from a variable by being a bool."""
        return True if p in self.choices.hooked_up(a.mix, b) else self.on[b, a.key, p]

    def _jobs(self):
        """Timeliness of every part, lateness of every job."""
        late = {}
        for load in self.loads:
            here = self.present[load.key]
            first = self.pieces[load.key][0]
            base = first.at(first.lo)
            for i, (j, acres) in enumerate(load.parts):
                job, (terms, constant) = self.day.jobs[j], self.moments[load.key][i]
                rate = round(acres * job.priority * self.day.timeliness)
                # An absent load stands at its first moment: only what lies
                # beyond it is paid by time, the rest by being there.
                for c, x in terms:
                    self._pay(rate * c, x)
                self.fixed += rate * (constant - base[i])
                self._pay(rate * (base[i] - self.day.opens), here)
                if j in load.last_of and max(p.at(p.hi)[i] for p in self.pieces[load.key]) > job.due:
                    if j not in late:
                        late[j] = self.solver.whole(0, 2 * 86400, f"late {job.name}")
                        self._pay(round(job.priority * self.day.late), late[j])
                    self.solver.at_least([(1, late[j])] + [(-c, x) for c, x in terms], constant - job.due, [here])

    def _overtime(self):
        day = self.day
        if day.last_end > day.closes:
            over = self.solver.whole(0, day.last_end - day.closes, "overtime")
            self._pay(day.overtime, over)
            for load in self.loads:
                self.solver.at_least([(1, over), (-1, self.start[load.key])], load.fill - day.closes,
                                     [self.present[load.key]])

    def plan(self, value):
        """The plan that is chosen where value(variable) gives values."""
        chosen = lambda flag: value(flag) > 0.5
        routes = {name: next(r for i, r in enumerate(rs) if chosen(self.route[name, i]))
                  for name, rs in self.choices.routes.items()}
        fills = []
        for b in range(len(self.day.bays)):
            follow = {a: x for (bay, a, x), flag in self.arc.items() if bay == b and chosen(flag)}
            at, was = follow.get(None), opening(self.choices, b)
            while at is not None:
                load = self.by_load[at][0]
                was = self._kept(b, load, was, chosen)
                fills.append(Fill(load, b, was))
                at = follow.get(at)
        return Plan(routes, tuple(fills))

    def _kept(self, b, load, was, chosen):
        """What is on the connections for a load. The program may drop products
        that could stay; here they stay while there is room."""
        need = self.choices.hooked_up(load.mix, b)
        wanted = need | {p for p in was - need if (b, load.key, p) in self.on and chosen(self.on[b, load.key, p])}
        for p in sorted(was - wanted):
            if len(wanted) < self.choices.free_connections(b):
                wanted |= {p}
        return frozenset(wanted)

    def hint(self, plan, starts):
        """(variable, value) pairs of a given plan, for a solver that takes hints."""
        chosen = {route for route in plan.routes.values()}
        for (name, i), flag in self.route.items():
            yield flag, int(self.choices.routes[name][i] in chosen)
        last = {}
        order = {}
        for fill in plan.fills:
            order[fill.bay, fill.load.key] = last.get(fill.bay)
            last[fill.bay] = fill.load.key
            yield self.start[fill.load.key], starts[fill.load.key]
            for (b, key, p), flag in self.on.items():
                if (b, key) == (fill.bay, fill.load.key):
                    yield flag, int(p in fill.on)
        for (b, a, x), flag in self.arc.items():
            yield flag, int((b, x) in order and order[b, x] == a)
        for (b, key), flag in self.on_bay.items():
            yield flag, int((b, key) in order)
