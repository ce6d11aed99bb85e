"""When a load that leaves the pad at t has sprayed each part and is back.

All of these are piecewise linear in t with slope 0 (the sprayer waits in the
field anyway) or 1, with upward jumps where a hold catches it spraying.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Piece:
    """For lo <= t <= hi each of `values` is (slope, value at lo): the moments
    at which the parts are sprayed, in order, and last the return."""

    lo: int
    hi: int
    values: tuple

    def at(self, t):
        return tuple(v + slope * (t - self.lo) for slope, v in self.values)

    def cut(self, lo, hi):
        return Piece(lo, hi, tuple((s, v + s * (lo - self.lo)) for s, v in self.values))


def windows(start, end, closed):
    """What of [start, end) lies in none of the closed spans, in order."""
    open_from, spans = start, []
    for a, b in sorted(closed):
        if a >= end:
            break
        if a > open_from:
            spans.append((open_from, a))
        open_from = max(open_from, b)
    if open_from < end:
        spans.append((open_from, end))
    return spans


def sprayed(spans, work):
    """Pieces (lo, hi, slope, value at lo) of the moment at which `work` seconds
    of spraying that may begin at t are done; t that never get there are left out."""
    found, before = [], -(10**9)
    for i, (opens, shuts) in enumerate(spans):
        inside, gaps = [], 0
        for j in range(i, len(spans)):
            if j > i:
                gaps += spans[j][0] - spans[j - 1][1]
            lo = opens if j == i else max(opens, spans[j][0] - work - gaps + 1)
            hi = min(shuts - 1, spans[j][1] - work - gaps)
            if lo <= hi:
                inside.append((lo, hi, 1, lo + work + gaps))
        if inside and inside[0][0] == opens and before < opens:
            found.append((before, opens - 1, 0, inside[0][3]))
        found += inside
        before = shuts
    return found


def trip(lo, hi, legs):
    """The pieces of a trip that leaves at lo..hi. A leg is (drive, spans, work)
    to a part, or (drive, None, 0) for the way back."""
    pieces = [(lo, hi, (1, lo), ())]  # lo, hi, where the clock stands, what was noted
    for drive, spans, work in legs:
        pieces = [(a, b, (s, v + drive), noted) for a, b, (s, v), noted in pieces]
        if spans is None:
            pieces = [(a, b, now, noted + (now,)) for a, b, now, noted in pieces]
        else:
            pieces = [q for p in pieces for q in _spray(p, sprayed(spans, work))]
    return _merged([Piece(a, b, noted) for a, b, _, noted in pieces])


def _spray(piece, steps):
    a, b, (slope, value), noted = piece
    for lo, hi, step, result in steps:
        if slope == 0:
            if lo <= value <= hi:
                now = (0, result + step * (value - lo))
                yield a, b, now, noted + (now,)
            continue
        first, last = max(a, a + lo - value), min(b, a + hi - value)
        if first <= last:
            moved = tuple((s, v + s * (first - a)) for s, v in noted)
            now = (step, result + step * (value + first - a - lo))
            yield first, last, now, moved + (now,)


def _merged(pieces):
    out = []
    for p in sorted(pieces, key=lambda p: p.lo):
        if out and out[-1].hi + 1 == p.lo and out[-1].at(p.lo) == p.at(p.lo) and \
                [s for s, _ in out[-1].values] == [s for s, _ in p.values]:
            out[-1] = Piece(out[-1].lo, p.hi, out[-1].values)
        else:
            out.append(p)
    return out
