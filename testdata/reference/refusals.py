"""Checks that the model refuses what it does not cover: python refusals.py

Each row spoils a day that is covered and names the words of the refusal. A row
that is answered, or refused for another reason, fails.
"""

import shutil
import sys
import tempfile
from pathlib import Path

from refuse import NotCovered
from solve import choices_of

DAYS = Path(__file__).resolve().parent / "days"

# (day, file, text that is replaced, by what, the refusal); no text: appended.
ROWS = [
    ("rinses", "day.yaml", "  bays:", "  water: {on_hand_gal: 900}\n  bays:", "limited water"),
    ("rinses", "day.yaml", "connections: 5", "connections: 2, tower: 3", "unknown key pad.bays.tower"),
    ("changeovers", "day.yaml", "connections: 2", "connections: 1", "changeovers inside a load"),
    ("magazine", "day.yaml", "carriers: [water, 28-0-0]", "carriers: [water]", "no bay gives the carrier"),
    ("rinses", "stock.csv", "atrazine 4 SC,bulk,1000,1,", "atrazine 4 SC,bulk,1000,0,5", "less than the day needs"),
    ("rinses", "stock.csv", "atrazine 4 SC,bulk,1000,1,", "atrazine 4 SC,tote,100,2,5", "a tote could run dry"),
    ("two-bays", "stock.csv", "glyphosate 5.4 SL,bulk,2000,1,", "glyphosate 5.4 SL,tote,2000,1,", "fewer than bays"),
    ("rinses", "progress.csv", "", "load,state,at\n", "progress.csv"),
    ("holds", "holds.csv", "", "07:00,07:30,other,bay:bay 1,meter\n", "a bay that is shut"),
    ("holds", "products.csv", "15,48", "15,1.5", "tank life could bind"),
    ("rinses", "rules.csv", "", "tank,@HPPD,@triazine,forbid\n", "breaks a tank rule"),
    ("rinses", "jobs.csv", "drive_min", "drive_hours", "unknown column drive_hours"),
    ("rinses", "products.csv", "atrazine 4 SC,SC", "atrazine 4 SC,GR", "formulation code GR"),
    ("units", "mixes.csv", "fallow,10", "fallow,0.2", "more liquid product than spray"),
    ("rinses", "surprise.csv", "", "a,b\n", "surprise.csv is not read"),
]


def spoil(folder, name, old, new):
    path = folder / name
    text = path.read_text(encoding="utf-8") if path.exists() else ""
    if old not in text:
        raise AssertionError(f"{path}: {old!r} is not there to be replaced")
    path.write_text(text.replace(old, new, 1) if old else text + new, encoding="utf-8")


def refusal(day, name, old, new):
    """What the model says to the spoilt day; "" where it answers."""
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / day
        shutil.copytree(DAYS / day, folder)
        spoil(folder, name, old, new)
        try:
            choices_of(folder, keep_order=True)
        except NotCovered as e:
            return str(e)
    return ""


def main():
    failed = 0
    for day, name, old, new, want in ROWS:
        said = refusal(day, name, old, new)
        if want not in said:
            failed += 1
            print(f"{day}/{name} with {new!r}: expected a refusal with {want!r}, got {said!r}")
    print(f"{len(ROWS) - failed} of {len(ROWS)} days that are not covered are refused")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
