"""A day folder as plain records: exact fractions, whole seconds, names.

Only reading happens here. A file, column or key that this reader does not
know is refused, because it may mean something that the model leaves out.
"""

import csv
import math
from dataclasses import dataclass, field
from fractions import Fraction as F
from pathlib import Path

import yaml

from refuse import NotCovered

NEVER = 10**7
WATER = "water"

COLUMNS = {
    "jobs.csv": "job field sprayer mix acres customer crop drive_min lat lon earliest due priority gpa note",
    "mixes.csv": "mix gpa carrier note",
    "recipes.csv": "mix product rate unit step",
    "products.csv": "product form unit handling density_lb_gal groups pack reorder_at tank_life_h rainfast_h"
    " max_wind_mph epa_reg_no restricted signal_word ppe",
    "stock.csv": "product container size full open",
    "deliveries.csv": "at product container size count",
    "sprayers.csv": "sprayer tank_gal boom_ft mph efficiency ac_per_h road_mph available_from available_until"
    " last_mix wait_per_h",
    "rules.csv": "where after before level reason",
    "holds.csv": "from to kind scope reason",
    "forecast.csv": "from to wind_mph gust_mph rain_in temp_f",
}

# The defaults of day.yaml, as the README lists them. What only replans look at
# (freeze_min, change_told) is read and not used.
TOP = {"date": None, "units": "us", "spray_from": "06:00", "spray_until": "21:00", "split": "even",
       "share_max_min": "15", "adding_order": None, "pad": {}, "costs": {}, "freeze_min": None,
       "rinse_levels": [{"name": "flush", "min": "2", "gal": "10"}, {"name": "wash", "min": "10", "gal": "40"}],
       "cleanout_levels": [{"name": "water flush", "min": "10", "gal": "50"},
                           {"name": "triple rinse", "min": "40", "gal": "120"},
                           {"name": "agent cleanout", "min": "90", "gal": "300"}]}
PAD = {"lat": None, "lon": None, "between_min": None, "opens": "06:00", "closes": "19:00", "overtime_until": None,
       "bays": [{"name": "bay 1"}], "carrier_gpm": "200", "carrier_first": "0.5", "meter_gpm": "10",
       "hookup_min": "3", "unhook_min": "2", "jug_sec": "75", "bag_sec": "90", "hopper_lb_per_min": "60",
       "push_min": "0.5", "push_gal": "5", "settle_dry_min": "3", "settle_liquid_min": "1", "changeover_min": "8",
       "water": None, "rinsate_gal": None}
BAY = {"name": None, "connections": "3", "plumbed": [], "hooked": [], "last_mix": "", "carriers": [WATER]}
COSTS = {"wait_per_h": "250", "crew_per_h": "68", "changeover": "5", "rinsate_per_gal": "0.5", "late_per_h": "50",
         "overtime_per_h": "102", "timeliness_per_ac_h": "0.01", "change_told": None}


def clock(text):
    """Seconds after midnight of HH:MM or HH:MM+1."""
    moment, _, days = text.partition("+")
    hours, minutes = moment.split(":")
    return int(hours) * 3600 + int(minutes) * 60 + int(days or 0) * 86400


def seconds(minutes):
    """A duration in minutes, rounded up once to whole seconds."""
    return math.ceil(minutes * 60)


@dataclass(frozen=True)
class Product:
    name: str
    form: str
    unit: str
    metered: bool
    density: F | None
    groups: tuple
    pack: F | None
    tank_life: F | None  # seconds
    max_wind: F | None


@dataclass
class Mix:
    name: str
    gpa: F
    carrier: str
    recipe: list = field(default_factory=list)  # (product name, rate, unit)

    @property
    def products(self):
        """All that is in it, the carrier too."""
        return {self.carrier, *(p for p, _, _ in self.recipe)}


@dataclass(frozen=True)
class Job:
    name: str
    field: str
    sprayer: str  # "" for any
    mix: str
    acres: F
    crop: str
    drive_min: F | None
    place: tuple | None  # (lat, lon)
    earliest: int
    due: int
    priority: F
    gpa: F


@dataclass(frozen=True)
class Sprayer:
    name: str
    tank: F
    seconds_per_acre: F
    road_mph: F
    available_from: int
    available_until: int
    last_mix: str
    wait: int  # micro-dollars an hour


@dataclass(frozen=True)
class Bay:
    name: str
    connections: int
    plumbed: tuple
    hooked: tuple
    last_mix: str
    carriers: tuple


@dataclass(frozen=True)
class Level:
    name: str
    seconds: int
    gal: F


@dataclass(frozen=True)
class Rule:
    where: str
    after: str
    before: str
    level: int  # its place among the levels; -1 for a tank rule


@dataclass(frozen=True)
class Hold:
    start: int
    end: int
    scope: str


def rows(folder, name):
    """The rows of a sheet as dictionaries of stripped text; [] without it."""
    path = folder / name
    if not path.exists():
        return []
    with path.open(encoding="utf-8-sig", newline="") as sheet:
        lines = [line for line in csv.reader(sheet) if any(cell.strip() for cell in line)]
    header = [cell.strip().lower() for cell in lines[0]]
    unknown = set(header) - set(COLUMNS[name].split())
    if unknown:
        raise NotCovered([f"{name}: unknown column {c}" for c in sorted(unknown)])
    return [{h: c.strip() for h, c in zip(header, line)} for line in lines[1:]]


def number(row, column, blank=None):
    text = row.get(column, "")
    return F(text) if text else blank


def moment(row, column, blank):
    text = row.get(column, "")
    return clock(text) if text else blank


def fill_in(given, defaults, where):
    """Given keys over the defaults; an unknown key is refused."""
    given = given or {}
    unknown = set(given) - set(defaults)
    if unknown:
        raise NotCovered([f"day.yaml: unknown key {where}{k}" for k in sorted(unknown)])
    return {**defaults, **{k: v for k, v in given.items() if v not in ("", None)}}


def micro(dollars):
    """Dollars in whole micro-dollars."""
    return round(F(dollars) * 1_000_000)


class Day:
    """All records of one day folder."""

    def __init__(self, folder):
        self.folder = folder = Path(folder)
        for path in sorted(folder.glob("*.csv")):
            if path.name not in COLUMNS:
                raise NotCovered([f"{path.name} is not read"])
        self._settings(folder / "day.yaml")
        self.products = {r["product"]: self._product(r) for r in rows(folder, "products.csv")}
        self._mixes()
        self.sprayers = {r["sprayer"]: self._sprayer(r) for r in rows(folder, "sprayers.csv")}
        self.jobs = [self._job(i, r) for i, r in enumerate(rows(folder, "jobs.csv"))]
        self.rules = [self._rule(r) for r in rows(folder, "rules.csv")]
        self.holds = [Hold(clock(r["from"]), clock(r["to"]), r.get("scope", "")) for r in rows(folder, "holds.csv")]
        self.holds += self._forecast()
        self.stock, self.deliveries = rows(folder, "stock.csv"), rows(folder, "deliveries.csv")

    def _settings(self, path):
        # BaseLoader leaves every scalar as it is written, so numbers stay exact.
        text = path.read_text(encoding="utf-8") if path.exists() else ""
        top = fill_in(yaml.load(text, Loader=yaml.BaseLoader), TOP, "")
        pad = fill_in(top["pad"], PAD, "pad.")
        cost = fill_in(top["costs"], COSTS, "costs.")
        self.spray_from, self.spray_until = clock(top["spray_from"]), clock(top["spray_until"])
        self.split, self.share_max = top["split"], F(top["share_max_min"])
        self.opens, self.closes = clock(pad["opens"]), clock(pad["closes"])
        self.last_end = clock(pad["overtime_until"]) if pad["overtime_until"] else self.closes
        self.water_limited = pad["water"] is not None
        self.place = (float(pad["lat"]), float(pad["lon"])) if pad["lat"] else None
        self.between = F(pad["between_min"]) if pad["between_min"] else None
        self.pad = {k: F(pad[k]) for k in (
            "carrier_gpm", "carrier_first", "meter_gpm", "hookup_min", "unhook_min", "jug_sec", "bag_sec",
            "hopper_lb_per_min", "push_min", "settle_dry_min", "settle_liquid_min", "changeover_min")}
        self.changeover_s = seconds(self.pad["changeover_min"])
        self.bays = [self._bay(fill_in(b, BAY, "pad.bays.")) for b in pad["bays"]]
        self.rinse_levels = [Level(v["name"], seconds(F(v["min"])), F(v["gal"])) for v in top["rinse_levels"]]
        self.cleanout_levels = [Level(v["name"], seconds(F(v["min"])), F(v["gal"])) for v in top["cleanout_levels"]]
        self.wait, self.crew, self.late, self.overtime = (
            micro(cost[k]) for k in ("wait_per_h", "crew_per_h", "late_per_h", "overtime_per_h"))
        self.changeover, self.rinsate = F(cost["changeover"]), F(cost["rinsate_per_gal"])
        self.timeliness = micro(cost["timeliness_per_ac_h"])

    def _bay(self, b):
        return Bay(b["name"], int(b["connections"]), tuple(b["plumbed"]), tuple(b["hooked"]), b["last_mix"],
                   tuple(b["carriers"]))

    def _product(self, r):
        life = number(r, "tank_life_h")
        return Product(r["product"], r["form"].upper(), r["unit"], r["handling"] == "metered",
                       number(r, "density_lb_gal"),
                       tuple(g.strip() for g in r.get("groups", "").split(";") if g.strip()), number(r, "pack"),
                       life * 3600 if life is not None else None, number(r, "max_wind_mph"))

    def _mixes(self):
        self.mixes = {r["mix"]: Mix(r["mix"], F(r["gpa"]), r.get("carrier") or WATER)
                      for r in rows(self.folder, "mixes.csv")}
        for r in rows(self.folder, "recipes.csv"):
            self.mixes[r["mix"]].recipe.append((r["product"], F(r["rate"]), r["unit"]))

    def _sprayer(self, r):
        rate = number(r, "ac_per_h") or (
            number(r, "boom_ft") * number(r, "mph", F(14)) * number(r, "efficiency", F("0.85")) / F("8.25"))
        wait = number(r, "wait_per_h")
        return Sprayer(r["sprayer"], F(r["tank_gal"]), 3600 / rate, number(r, "road_mph", F(25)),
                       moment(r, "available_from", self.opens), moment(r, "available_until", NEVER),
                       r.get("last_mix", ""), self.wait if wait is None else micro(wait))

    def _job(self, i, r):
        place = (float(r["lat"]), float(r["lon"])) if r.get("lat") else None
        return Job(r.get("job") or str(i + 1), r["field"], r.get("sprayer", ""), r["mix"], F(r["acres"]),
                   r.get("crop", ""), number(r, "drive_min"), place, moment(r, "earliest", 0),
                   moment(r, "due", NEVER), number(r, "priority", F(1)),
                   number(r, "gpa", self.mixes[r["mix"]].gpa))

    def _rule(self, r):
        levels = {"manifold": self.rinse_levels, "sprayer": self.cleanout_levels, "tank": []}[r["where"]]
        place = [v.name for v in levels].index(r["level"]) if levels else -1
        return Rule(r["where"], r["after"], r["before"], place)

    def _forecast(self):
        for r in rows(self.folder, "forecast.csv"):
            start, end = clock(r["from"]), clock(r["to"])
            if number(r, "rain_in", F(0)) > 0:
                yield Hold(start, end, "")
            wind = max(number(r, "wind_mph", F(0)), number(r, "gust_mph", F(0)))
            for p in self.products.values():
                if p.max_wind is not None and wind > p.max_wind:
                    yield Hold(start, end, "product:" + p.name)
