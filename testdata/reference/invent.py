"""Small days by chance, to look for disagreements beyond the written ones."""

import csv
import random

PRODUCTS = [  # name, form, handling, density, groups, pack
    ("glyphosate 5.4 SL", "SL", "metered", "11.3", "glyphosate", ""),
    ("atrazine 4 SC", "SC", "metered", "9.2", "triazine", ""),
    ("2,4-D choline 3.8 SL", "SL", "metered", "9.7", "auxin", ""),
    ("glufosinate 2.3 SL", "SL", "metered", "9.3", "glufosinate", ""),
    ("AMS liquid 3.4 SL", "SL", "metered", "10.2", "conditioner", ""),
    ("mesotrione 4 SC", "SC", "hopper", "10.1", "HPPD", "2.5"),
    ("sulfur 80 WG", "WG", "hopper", "", "micronutrient", "30"),
]
CROPS = ["corn", "soybeans", "wheat"]
SPRAYERS = ["Avocet", "Bunting", "Crake", "Dipper"]


def _write(folder, name, header, rows):
    with (folder / name).open("w", encoding="utf-8", newline="") as sheet:
        csv.writer(sheet).writerows([header.split(","), *rows])


def invent(folder, seed):
    """Writes a day to a new folder; the same seed gives the same day."""
    r = random.Random(seed)
    folder.mkdir(parents=True)
    mixes = _chemistry(folder, r)
    sprayers = SPRAYERS[:r.choice([2, 3, 3, 4])]
    _sprayers(folder, r, mixes, sprayers)
    _jobs(folder, r, mixes, sprayers)
    _rules(folder, r, mixes)
    if r.random() < 0.4:
        spans = [("07:10", "07:50"), ("08:30", "09:05"), ("06:45", "07:05")]
        scopes = ["", "@auxin", "field:Field 0", "sprayer:Bunting", "product:water"]
        _write(folder, "holds.csv", "from,to,scope",
               [(*span, r.choice(scopes)) for span in r.sample(spans, r.randint(1, 3))])
    (folder / "day.yaml").write_text(_settings(r, mixes), encoding="utf-8")


def _chemistry(folder, r):
    _write(folder, "products.csv", "product,form,unit,handling,density_lb_gal,groups,pack",
           [(n, f, "lb" if f == "WG" else "gal", h, d, g, p) for n, f, h, d, g, p in PRODUCTS])
    _write(folder, "stock.csv", "product,container,size,full",
           [(n, "bulk" if h == "metered" else "bag" if f == "WG" else "jug", "5000" if h == "metered" else p,
             1 if h == "metered" else 500) for n, f, h, _, _, p in PRODUCTS])
    mixes = [f"mix {i}" for i in range(r.randint(2, 4))]
    _write(folder, "mixes.csv", "mix,gpa", [(m, r.choice(["8", "10", "12.5", "15"])) for m in mixes])
    recipe = []
    for m in mixes:
        for n, f, h, *_ in r.sample(PRODUCTS[:5], r.randint(1, 2)) + r.sample(PRODUCTS[5:], r.randint(0, 1)):
            rate = ("1.5", "lb/ac") if f == "WG" else r.choice([("24", "floz/ac"), ("1", "qt/ac"), ("1.2", "%v/v")])
            recipe.append((m, n, *rate))
    _write(folder, "recipes.csv", "mix,product,rate,unit", recipe)
    return mixes


def _sprayers(folder, r, mixes, names):
    _write(folder, "sprayers.csv", "sprayer,tank_gal,ac_per_h,available_from,last_mix,wait_per_h",
           [(n, r.choice(["800", "1000", "1200"]), r.choice(["70", "85", "96.5"]),
             r.choice(["", "05:50", "06:07"]), r.choice(["", *mixes]), r.choice(["", "", "175.5"])) for n in names])


def _jobs(folder, r, mixes, names):
    rows = []
    for i, n in enumerate(names * 2):
        if i < len(names) or r.random() < 0.6:
            owner = "" if r.random() < 0.15 else n
            rows.append((f"Field {i}", owner, r.choice(mixes), r.randint(40, 110), r.choice(CROPS),
                         r.choice(["4", "6.5", "9", "13"]), r.choice(["", "", "08:00", "09:15"]),
                         r.choice(["", "2"]), r.choice(["", "", "", "06:50"])))
    _write(folder, "jobs.csv", "field,sprayer,mix,acres,crop,drive_min,due,priority,earliest", rows)


def _rules(folder, r, mixes):
    after = ["@auxin", "@triazine", "@glyphosate", "*", f"mix:{mixes[0]}", "@HPPD"]
    before = ["*", "@glufosinate", "@glyphosate", f"mix:{mixes[-1]}", "@conditioner"]
    rows = [("manifold", r.choice(after), r.choice(before), r.choice(["flush", "wash"])) for _ in range(r.randint(1, 4))]
    rows += [("sprayer", r.choice(after), r.choice(before + ["crop:corn", "crop:soybeans"]),
              r.choice(["water flush", "triple rinse"])) for _ in range(r.randint(0, 2))]
    _write(folder, "rules.csv", "where,after,before,level", rows)


def _settings(r, mixes):
    lines = [f"split: {r.choice(['even', 'full_first'])}", f"share_max_min: {r.choice([4, 10, 15])}",
             'spray_from: "06:30"', "pad:", '  closes: "08:30"', '  overtime_until: "19:00"',
             f"  changeover_min: {r.choice([4, 8])}", "  bays:"]
    for b in range(r.choice([1, 1, 2])):
        hooked = r.sample([p[0] for p in PRODUCTS[:5]], 2)
        last = r.choice(["", f", last_mix: {r.choice(mixes)}"])
        lines.append(f'    - {{name: bay {b}, connections: {r.choice([2, 3, 4])}, hooked: ["{hooked[0]}", "{hooked[1]}"]{last}}}')
    lines += ["costs:", f"  timeliness_per_ac_h: {r.choice(['0.01', '0.05'])}", f"  changeover: {r.choice(['5', '17.5'])}"]
    return "\n".join(lines) + "\n"
