"""Published tables for check_circuits.py, from tests/reference where there is a file; otherwise named beside the value."""

import csv
import math
import re
import tomllib
from pathlib import Path
from types import SimpleNamespace

REFERENCE = Path(__file__).resolve().parent.parent / "reference"
KINDS = REFERENCE.parent.parent / "templates" / "kinds"


def rows(name):
    with open(REFERENCE / f"{name}.csv", encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


RHO_20, ALPHA_20 = 1.7241e-8, 0.00393  # IACS copper, IEC 60287-1-1
LAY = 1.02  # of stranded conductors: makes NEC Chapter 9 Table 8 out of the geometry
FOOT = 0.3048

CLASSES = [60, 75, 80, 90, 105, 125, 200]
TABLE_5 = {r["awg"]: {c: float(r[f"t{c}C"]) for c in CLASSES} for r in rows("cfr-33-183-425-table5")}
NOTES = {r["key"]: float(r["factor"]) for r in rows("cfr-33-183-425-table5-notes")}
CLASS_5 = {float(r["area_mm2"]): float(r["plain_max_ohm_km_20C"]) for r in rows("iec60228-class5")}
# Stranded, uncoated.
TABLE_8 = {r["awg"]: float(r["cu_uncoated_ohm_kft_75C"]) for r in rows("nec-ch9-table8") if r["strands"] != "1"}


class Size:
    """A conductor size: AWG (with its gauge) or mm²."""

    def __init__(self, gauge=None, area=None):
        self.gauge = gauge
        # ASTM B258; 1/0 is gauge 0, 4/0 is -3.
        self.area = area if gauge is None else math.pi / 4 * (0.127 * 92 ** ((36 - gauge) / 39)) ** 2

    @staticmethod
    def parse(text):
        over = re.fullmatch(r"\s*(\d)/0\s*AWG\s*", text)
        if over:
            return Size(gauge=1 - int(over[1]))
        found = re.fullmatch(r"\s*([\d.]+)\s*(AWG|mm²|mm2)\s*", text)
        return Size(gauge=int(found[1])) if found[2] == "AWG" else Size(area=float(found[1]))

    @property
    def awg(self):
        return f"{1 - self.gauge}/0" if self.gauge <= 0 else str(self.gauge)

    def __str__(self):
        return f"{self.area:g} mm²" if self.gauge is None else f"{self.awg} AWG"

    def ohms_per_metre(self, celsius):
        """Stranded copper by ASTM geometry; metric sizes by the limit of IEC 60228 class 5."""
        cold = CLASS_5[self.area] * 1e-3 if self.gauge is None else LAY * RHO_20 / (self.area * 1e-6)
        return cold * (1 + ALPHA_20 * (celsius - 20))

    def nec_ohms_per_metre(self, celsius):
        """From the printed resistance at 75 °C."""
        return TABLE_8[self.awg] / (1000 * FOOT) * (1 + ALPHA_20 * (celsius - 20)) / (1 + ALPHA_20 * 55)


# 3 AWG is in the tables but no one stocks it.
AWG = sorted((Size.parse(f"{awg} AWG") for awg in TABLE_5 if awg != "3"), key=lambda s: s.area)
METRIC = [Size(area=area) for area in sorted(CLASS_5)]


def table_5(size, insulation):
    """33 CFR 183.425 Table 5; a metric size counts as the next smaller AWG. `None` below 18 AWG."""
    rows = sorted((Size.parse(f"{awg} AWG").area, awg) for awg in TABLE_5)
    fit = [awg for area, awg in rows if area <= size.area * (1 + 1e-9)]
    return TABLE_5[fit[-1]][insulation] if fit else None


# IEC 60364-5-52, two loaded conductors.
IEC_CLASSES = [60, 70, 90]
B_52 = {70: rows("iec60364-b52-2-pvc2"), 90: rows("iec60364-b52-3-xlpe2")}
B_52_14 = {float(r["ambient_C"]): {70: r["pvc70"], 90: r["xlpe90"]} for r in rows("iec60364-b52-14-ambient")}
B_52_17 = [(int(r["circuits"]), float(r["factor"])) for r in rows("iec60364-b52-17-grouping") if r["item"][0] == "1"]
# Annex D, I = A S^m; method C to 16 mm² and above.
ANNEX_D = {
    70: {"A1": (11.2, 0.6118), "A2": (10.8, 0.6015), "B1": (13.5, 0.625), "B2": (13.1, 0.6), "C": (15.0, 0.6218), "C>": (15.0, 0.625)},
    90: {"A1": (14.9, 0.611), "A2": (14.46, 0.598), "B1": (17.76, 0.625), "B2": (17.25, 0.6), "C": (18.77, 0.628), "C>": (17.0, 0.65)},
}


def b_52(size, insulation, method):
    """Tables B.52.2 and B.52.3; outside their rows the formula of Annex D, above them 5 % less of it."""
    base = 90 if insulation > 70 else 70
    area = size.area * (1 + 1e-9)
    thick = [a for a in (120, 150, 185, 240) if a <= area]
    if thick:
        factor, power = ANNEX_D[base]["C>" if method == "C" else method]
        return float(math.floor(0.95 * factor * thick[-1] ** power))
    fit = [r for r in B_52[base] if float(r["mm2"]) <= area]
    if fit:
        return float(max(fit, key=lambda r: float(r["mm2"]))[f"I_{method}_A"])
    thin = [a for a in (0.75, 1.0) if a <= area]
    if not thin:
        return None
    factor, power = ANNEX_D[base][method]
    return math.floor(2 * factor * thin[-1] ** power) / 2


def warm_air(insulation, ambient):
    """Table B.52.14; 60 °C insulation by the heat balance on the column of 70 °C."""
    if insulation == 60:
        return math.sqrt((60 - ambient) / 40)
    return float(B_52_14[ambient][insulation])


def grouping(conductors):
    """Table B.52.17, item 1, two conductors a circuit; above 20 circuits the heat of 20."""
    circuits = max(math.ceil(conductors / 2), 1)
    return next((f for most, f in B_52_17 if circuits <= most), 0.38 * math.sqrt(20 / circuits))


def engine_space(insulation):
    """Note 1 at 50 °C, or the heat balance where that is stricter."""
    return min(NOTES[f"t{insulation}C"], math.sqrt((insulation - 50) / (insulation - 30)))


def bundling(conductors):
    """Note 2; used at every voltage (house rule)."""
    steps = [(25, "25+"), (7, "7-24"), (4, "4-6"), (3, "3")]
    return next((NOTES[key] for least, key in steps if conductors >= least), 1.0)


def behind_breaker(rating, series):
    """NEC 240.4(D); metric: common practice."""
    steps = [(15, "14 AWG"), (20, "12 AWG"), (30, "10 AWG"), (float("inf"), "8 AWG")]
    if series == "metric":
        steps = [(10, "1.5 mm²"), (20, "2.5 mm²"), (25, "4 mm²"), (32, "6 mm²"), (float("inf"), "10 mm²")]
    return next((Size.parse(word) for most, word in steps if rating <= most * (1 + 1e-9)), None)


# The thinnest conductor in mm² that shops have rings of, by stud: common practice.
THINNEST_RING = {"M10": 3.2, "3/8 in": 3.2, "M12": 8.3, "1/2 in": 8.3, "M8": 0.5, "5/16 in": 0.5}
POSTS = {p.stem: tomllib.loads(p.read_text(encoding="utf-8")).get("posts", []) for p in KINDS.glob("*.toml")}


def ring(part, landing):
    """Least cross-section for the ring of a conductor that lands on a part; 0 where it needs none."""
    name = f"switch-{landing['post']}" if landing.get("switch") else landing["post"]
    for post in POSTS.get(part.kind, []):
        if post["id"] == name and post.get("form") == "ring":
            return THINNEST_RING.get(post.get("thread") or part.get(post.get("thread_from"), ""), 0.0)
    return 0.0


def ratings(start):
    row = next(r for r in rows("fuse-ratings") if r["series"].startswith(start))
    return [float(a) for a in row["ratings_A"].split()]


RATINGS = {
    "blade": ratings("ISO 8820-3 type C"),
    "mini-blade": ratings("ISO 8820-3 type F"),
    "maxi-blade": ratings("ISO 8820-3 type E"),
    "small-bolt-down": ratings("small bolt-down"),
    "large-bolt-down": ratings("large bolt-down"),
    "terminal-cube": ratings("cube terminal fuse"),
    "class-t": ratings("class T"),
    "ac-breaker-us": ratings("NEC 240.6(A)"),
    # IEC 60898-1 preferred values, from memory.
    "ac-breaker-eu": [6.0, 10.0, 13.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0],
}
NAMES = {
    "blade": "blade fuse",
    "mini-blade": "mini blade fuse",
    "maxi-blade": "large blade fuse",
    "small-bolt-down": "small bolt-down fuse",
    "large-bolt-down": "large bolt-down fuse",
    "terminal-cube": "terminal fuse",
    "class-t": "class T fuse",
    "ac-breaker-us": "breaker",
    "ac-breaker-eu": "breaker",
}


def next_rating(family, amps):
    return next((r for r in RATINGS[family] if r + 1e-9 >= amps), None)


def smallest(family):
    return RATINGS[family][0]


def largest(family):
    return RATINGS[family][-1]


def cfr_cap(ampacity, volts, family):
    """33 CFR 183.455(c): 150 % below 50 V; from there the ampacity, or the next rating within 150 %."""
    if volts < 50:
        return 1.5 * ampacity
    above = next_rating(family, ampacity)
    return above if above is not None and above <= 1.5 * ampacity else ampacity


RULES = {
    "us": SimpleNamespace(
        series="awg",
        iec=False,
        classes=CLASSES,
        insulation={"dc": 105, "ac": 105},
        continuous_factor=1.25,  # NEC 210.20, 215.3
        critical_drop=0.03,  # ABYC E-11
        other_drop=0.10,
        ac_volts=120.0,
        breaker="ac-breaker-us",
        least_separate=Size.parse("16 AWG").area,  # 33 CFR 183.425
        least_sheathed=Size.parse("18 AWG").area,
        least_ac=Size.parse("14 AWG").area,  # NEC 240.4(D)
    ),
    "eu": SimpleNamespace(
        series="metric",
        iec=True,
        classes=IEC_CLASSES,
        insulation={"dc": 90, "ac": 70},
        continuous_factor=1.25,
        critical_drop=0.03,  # ISO 10133
        other_drop=0.0666,  # EN 1648-2: 0.8 V of 12 V
        ac_volts=230.0,
        breaker="ac-breaker-eu",
        least_separate=1.0,  # ISO 10133
        least_sheathed=0.75,
        least_ac=1.5,  # IEC 60364-7-721, from memory
    ),
}

# Formulas of the calculation sheet that must all be recalculated.
FORMULAS = {
    "design-current", "ampacity", "protection", "cfr-cap", "voltage-drop", "fault-current", "bank-fault-current",
    "battery-share", "battery-fault-current",
    "bank-energy", "bank-discharge", "bank-charge", "loading", "inverter-current", "ac-load", "string-voltage",
    "string-current",
}
