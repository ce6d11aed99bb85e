"""Exact units and the formulation codes that tell dry from liquid."""

from fractions import Fraction as F

from refuse import NotCovered

GAL = F("3.785411784")  # litres
LB = F("0.45359237")  # kilograms
ACRE = F("4046.8564224")  # square metres, the international acre

VOLUME = {"gal": GAL, "qt": GAL / 4, "pt": GAL / 8, "floz": GAL / 128, "L": F(1), "mL": F(1, 1000)}
MASS = {"lb": LB, "oz": LB / 16, "kg": F(1), "g": F(1, 1000)}

# Of the international list of two-letter codes: solids and liquids that are
# diluted in a tank. Any other code is refused.
DRY = {"WG", "WP", "SG", "SP", "WT", "ST", "WS", "SS"}
LIQUID = {"SL", "SC", "EC", "EW", "ME", "CS", "SE", "OD", "SO", "DC", "ZC", "EO", "OF", "SU", "AL"}


def convert(unit, to, density_lb_gal):
    """How many `to` one `unit` of a product is."""
    for table in (VOLUME, MASS):
        if unit in table and to in table:
            return table[unit] / table[to]
    if density_lb_gal is None:
        raise NotCovered(["a weight has to become a volume, or back, and no density is known"])
    if unit in VOLUME:
        return VOLUME[unit] / GAL * density_lb_gal * LB / MASS[to]
    return MASS[unit] / LB / density_lb_gal * GAL / VOLUME[to]


def rate_amount(rate, unit, acres, spray_gal):
    """The amount a recipe line asks for, and the unit it is in."""
    if unit == "%v/v":
        return rate * spray_gal / 100, "gal"
    name, base = unit.split("/")
    return rate * {
        "ac": acres,
        "ha": acres * ACRE / 10000,
        "100gal": spray_gal / 100,
        "100L": spray_gal * GAL / 100,
    }[base], name
