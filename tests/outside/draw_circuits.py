"""Writes specs with networks drawn at random, the same every time: for check_circuits.py.

    draw_circuits.py FOLDER COUNT

They hold what the demo specs do not: both rules at 12, 24 and 48 V, bundles, engine spaces, given and missing
conductors and fuses, panels behind panels, several sources. Many break rules; the figures must be right all the same.
"""

import random
import sys
from pathlib import Path

AWG = ["18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "2 AWG", "1/0 AWG", "4/0 AWG"]
METRIC = ["0.75 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2", "16 mm2", "25 mm2", "50 mm2", "95 mm2"]
DC_LOADS = [
    ("fridge", "draw", 30, 120), ("light-zone", "draw", 2, 60), ("water-pump", "draw", 30, 160),
    ("roof-fan", "draw", 10, 60), ("air-heater", "draw", 10, 60), ("usb-outlet", None, 0, 0),
    ("air-conditioner", "draw", 200, 900), ("air-compressor", "current", 8, 40), ("satellite-terminal", "draw", 30, 150),
    ("bank-heater", "draw", 20, 200), ("power-step", "current", 2, 15), ("light-bar", "draw", 20, 300),
]


class Draw:
    """One spec; only `random()` is used, which every version of Python gives alike."""

    def __init__(self, number):
        self.rng = random.Random(183_425_000 + number)
        self.number = number
        self.tables = []
        self.devices = {}

    def chance(self, share):
        return self.rng.random() < share

    def pick(self, items):
        return items[int(self.rng.random() * len(items))]

    def between(self, low, high, digits=1):
        return round(low + (high - low) * self.rng.random(), digits)

    def add(self, name, kind, fields):
        if self.chance(0.6):
            fields = {**fields, "place": self.pick(["living", "living", "floor", "wall"])}
        lines = [f"[component.{name}]", f'kind = "{kind}"']
        for field, value in fields.items():
            if isinstance(value, bool):
                value = str(value).lower()
            elif isinstance(value, str):
                value = f'"{value}"'
            elif isinstance(value, list):
                value = "[" + ", ".join(f'"{v}"' for v in value) + "]"
            lines.append(f"{field} = {value}")
        self.tables.append("\n".join(lines))
        return name

    def route(self, longest=9.0, prefix=""):
        """Fields of a circuit."""
        fields = {prefix + "run": f"{self.between(0.1, longest, 2)} m"} if self.chance(0.95) else {}
        if self.chance(0.25):
            fields[prefix + "through"] = self.pick([["engine"], ["engine"], ["living"], ["wall"], ["wall", "engine"]])
        if self.chance(0.3):
            fields[prefix + "bundle"] = self.pick([1, 2, 3, 4, 6, 7, 24, 25, 40])
        if self.chance(0.3):
            fields[prefix + "sheathed"] = True
        if self.chance(0.2):
            fields[prefix + "conductor"] = self.pick(AWG if self.chance(0.5) else METRIC)
        if not prefix and self.chance(0.15):
            fields["insulation"] = f"{self.pick([60, 70, 75, 80, 90, 105, 125, 200])} °C"
        if not prefix and self.chance(0.2):
            fields["critical"] = self.chance(0.5)
        return fields

    def protected(self, share, words):
        return {"protection": self.pick(words)} if self.chance(share) else {}

    def spec(self):
        rules = self.pick(["us", "eu"])
        self.volts = self.pick([12, 12, 12, 24, 48])
        low = self.between(-40, 5)
        place = '[place]\nengine = { about = "Engine bay", zone = "engine-space" }\nliving = { about = "Living space", zone = "cabin" }\nwall = { about = "Filled wall", insulated = true }\nfloor = { about = "Floor", open = true }'
        self.store()
        bus = self.main()
        self.distribution(bus)
        self.charging(bus)
        self.mains(bus)
        head = f'spec = 2\n\n[build]\ntitle = "Drawn {self.number}"\nrules = "{rules}"\nhandover = 2027-05-14\n'
        climate = f'[climate.cold]\nmonth = 1\nlatitude = "45 °"\nirradiation = "1.5 kWh/m2"\nlow = "{low} °C"\nhigh = "10 °C"\n'
        if self.chance(0.7):
            climate += f'record_low = "{round(low - self.between(0, 15), 1)} °C"\n'
        use = ""
        if self.devices:
            of = lambda fields: ", ".join(f'{field} = "{value}"' for field, value in fields.items())
            use = "[use]\n" + "\n".join(f"devices.{name} = {{ {of(fields)} }}" for name, fields in self.devices.items())
        return "\n\n".join([head, use, climate, place, *self.tables]) + "\n"

    def store(self):
        bank = {
            "chemistry": self.pick(["lfp", "lfp", "agm"]),
            "capacity": f"{self.between(60, 900, 0):g} Ah",
            "voltage": f"{self.volts * 12.8 / 12:g} V",
        }
        if self.chance(0.3):
            bank["fault_current"] = f"{self.between(1500, 12000, 0):g} A"
        elif self.chance(0.3):
            bank["internal_resistance"] = f"{self.between(0.5, 6)} mΩ"
        if self.chance(0.3):
            bank["usable"] = f"{self.between(40, 95, 0):g} %"
        if self.chance(0.2):
            bank["count"] = 2
        if self.chance(0.4):
            bank["absorb_voltage"] = f"{self.volts / 12 * self.pick([14.2, 14.4, 14.6]):g} V"
        self.add("bank", "battery-bank", bank)
        if self.chance(0.5):
            self.add("shunt", "battery-monitor", {"fed_from": "bank", **self.route(1.0)})

    def main(self):
        """Bank to busbar."""
        family = {"family": self.pick(["class-t", "terminal-cube", "large-bolt-down"])} if self.chance(0.4) else {}
        rating = {"rating": f"{self.pick([100, 200, 250, 300, 400])} A"} if self.chance(0.3) else {}
        self.add("main-fuse", "main-fuse", {"fed_from": "bank", **self.route(0.6), **family, **rating})
        at = "main-fuse"
        if self.chance(0.8):
            at = self.add("disconnect", "battery-disconnect", {"fed_from": at, **self.route(1.0)})
        return self.add("bus", "busbar", {"fed_from": at, **self.route(1.0)})

    def distribution(self, bus):
        panels = []
        for n in range(1 + int(self.rng.random() * 3)):
            at = bus
            if self.chance(0.4):
                at = self.add(f"fuse-{n}", "terminal-fuse", {"fed_from": at, **self.route(0.5)})
            if self.chance(0.3):
                at = self.add(f"cutout-{n}", "low-voltage-disconnect",
                              {"fed_from": at, **self.route(1.0), "rating": f"{self.pick([60, 150])} A"})
            fields = {"fed_from": at, "diversity": f"{self.between(30, 100, 0):g} %", "ways": 24, **self.route(6.0),
                      **self.protected(0.2, ["40 A", "60 A terminal-cube", "80 A small-bolt-down", "none"])}
            panels.append(self.add(f"panel-{n}", self.pick(["fuse-panel", "switch-panel"]), fields))
        if self.chance(0.6):
            family = {"family": "mini-blade"} if self.chance(0.3) else {}
            panels.append(self.add("sub", "sub-panel", {"fed_from": self.pick(panels), "ways": 12, **family, **self.route(),
                                                        **self.protected(0.3, ["20 A", "30 A", "15 A mini-blade"])}))
        if self.chance(0.6):
            panels.append(self.converted(bus))
        for n in range(4 + int(self.rng.random() * 14)):
            kind, field, least, most = self.pick(DC_LOADS)
            fields = {}
            if field:
                fields[field] = f"{self.between(least, most)} {'A' if field == 'current' else 'W'}"
            if self.chance(0.2):
                fields["count"] = 1 + int(self.rng.random() * 4)
            if kind in {"fridge", "water-pump", "air-compressor", "power-step"} and self.chance(0.5):
                fields["start_current"] = f"{self.between(5, 80)} A"
            at = self.pick(panels) if self.chance(0.9) else bus
            if kind == "light-zone" and self.chance(0.5):
                at = self.add(f"dimmer-{n}", "dimmer", {"fed_from": at, **self.route(4.0)})
                self.add(f"load-{n}", kind, {"fed_from": at, **fields, **self.route(), **self.protected(0.1, ["3 A", "none"])})
                continue
            words = ["3 A", "5 A", "10 A", "15 A", "25 A", "none", "20 A mini-blade", "50 A maxi-blade"]
            self.add(f"load-{n}", kind, {"fed_from": at, **fields, **self.route(), **self.protected(0.2, words)})

    def converted(self, bus):
        """A panel behind converters of another voltage."""
        up = self.volts < 24 and self.chance(0.5)
        out = self.pick([24.0, 24.5, 48.0] if up else [12.0, 12.5, 13.8])
        fields = {"output_voltage": f"{out:g} V", "efficiency": f"{self.between(80, 97, 0):g} %",
                  "current_limit": f"{self.between(100, 200, 0):g} %"}
        fields |= {"power": f"{self.between(50, 900, 0):g} W"} if self.chance(0.4) else {"rating": f"{self.between(5, 70, 0):g} A"}
        if self.chance(0.3):
            fields["low_cutoff"] = f"{self.volts / 12 * self.between(9.5, 11.5):.2f} V"
        kind, ids = "step-up-converter" if up else "step-down-converter", []
        for n in range(self.pick([1, 1, 2, 3])):
            mark = {"protection_voltage": self.pick(["58 V", "80 V"])} if self.chance(0.3) else {}
            count = {"count": 2} if self.chance(0.2) else {}
            ids.append(self.add(f"step-{n}", kind, {"fed_from": bus, **fields, **count, **mark, **self.route(1.5)}))
        at = self.add("low-bus", "busbar", {"fed_from": ids if len(ids) > 1 else ids[0], **self.route(1.0)})
        return self.add("low-panel", "fuse-panel", {"fed_from": at, "ways": 24, **self.route(2.0)})

    def charging(self, bus):
        out = lambda: {"feeds": bus, **self.route(2.0, "output_"),
                       **({"output_protection": self.pick(["60 A", "100 A terminal-cube", "40 A"])} if self.chance(0.15) else {})}
        if self.chance(0.6):
            self.add("starter", "starter-battery", {"capacity": "90 Ah"})
            fields = {"output_current": f"{self.between(10, 80, 0):g} A", "efficiency": f"{self.between(80, 97, 0):g} %"}
            if self.chance(0.2):
                fields["input_current"] = f"{self.between(10, 90)} A"
            self.add("dc-dc", "dc-dc-charger", {"fed_from": "starter", **fields, **self.route(), **out()})
            if self.chance(0.3):
                self.add("winch", "winch", {"fed_from": "starter", "current": f"{self.between(60, 420, 0):g} A", **self.route(3.0)})
        for n in range(int(self.rng.random() * 3)):
            module = {"power": f"{self.between(80, 250, 0):g} W", "voc": f"{self.between(20, 45)} V",
                      "isc": f"{self.between(4, 14)} A", "vmp": f"{self.between(17, 37)} V", "imp": f"{self.between(4, 12)} A",
                      "series": 1 + int(self.rng.random() * 3), "parallel": 1 + int(self.rng.random() * 3)}
            if self.chance(0.3):
                module["voc_per_kelvin"] = f"{self.between(-0.4, -0.2, 2)} %"
            if self.chance(0.2):
                module["count"] = 2
            at = self.add(f"array-{n}", "solar-array", module)
            if self.chance(0.7):
                at = self.add(f"isolator-{n}", "pv-isolator", {"fed_from": at, **self.route()})
            self.add(f"mppt-{n}", "solar-controller",
                     {"fed_from": at, "output_current": f"{self.between(10, 60, 0):g} A", **self.route(3.0), **out()})

    def mains(self, bus):
        """AC: inverter, shore supply, both, or an inverter-charger."""
        way = self.pick(["none", "inverter", "shore", "both", "combined"])
        if way == "none":
            return
        power = {"power": f"{self.between(300, 3000, 0):g} W", "efficiency": f"{self.between(84, 95, 0):g} %",
                 "low_cutoff": f"{self.between(10.4, 11.8) * self.volts / 12:.2f} V"}
        if self.chance(0.2):
            power["count"] = 2
        if self.chance(0.6):
            power["surge_power"] = f"{self.between(3000, 7000, 0):g} W"
        at = None
        if way in {"shore", "both", "combined"}:
            self.add("inlet", "shore-inlet", {"rating": f"{self.pick([15, 16, 30, 32])} A"})
            at = self.add("shore-unit", "consumer-unit", {"fed_from": "inlet", "rating": f"{self.pick([16, 20, 30])} A", "ways": 8, **self.route(3.0)})
            if self.chance(0.6):
                self.add("shore-charger", "shore-charger", {"fed_from": at, "output_current": f"{self.between(10, 60, 0):g} A",
                                                            **self.route(2.0), "feeds": bus, **self.route(2.0, "output_")})
        supply = self.route(1.5) | self.protected(0.2, ["200 A class-t", "250 A terminal-cube"])
        if self.chance(0.4):
            supply["conductors"] = 2
        if way == "combined":
            self.add("inverter", "inverter-charger", {**power, "fed_from": bus, "shore_from": at, **supply,
                                                      "output_current": f"{self.between(20, 100, 0):g} A",
                                                      "transfer_rating": f"{self.pick([16, 30])} A", "feeds": "ac-panel",
                                                      **self.route(2.0, "output_")})
            at = None
        elif way == "both":
            at = self.add("transfer", "transfer-switch", {"fed_from": at, "rating": "30 A", **self.route(2.0),
                                                          **self.protected(0.5, ["16 A", "20 A", "30 A"])})
        if way in {"inverter", "both"}:
            target = "transfer" if way == "both" else "ac-panel"
            self.add("inverter", "inverter", {**power, "fed_from": bus, **supply, "feeds": target, **self.route(2.0, "output_")})
        if at and self.chance(0.7):
            at = self.add("rcd", "residual-current-device", {"fed_from": at, "rating": "30 A", "trip_current": "5 mA", **self.route(1.0)})
        panel = {"rating": f"{self.pick([10, 16, 20, 25])} A", "ways": 12, "diversity": f"{self.between(50, 100, 0):g} %"}
        self.add("ac-panel", "consumer-unit", panel | ({"fed_from": at, **self.route(1.0)} if at else {}))
        for n in range(1 + int(self.rng.random() * 3)):
            self.add(f"outlets-{n}", "ac-outlet", {"fed_from": "ac-panel", "rating": f"{self.pick([15, 16, 20])} A",
                                                   "count": 1 + int(self.rng.random() * 3), **self.route()})
        for n in range(int(self.rng.random() * 4)):
            self.add(f"ac-load-{n}", self.pick(["microwave", "cooktop-induction", "water-heater-ac"]),
                     {"fed_from": "ac-panel", "draw": f"{self.between(400, 2200, 0):g} W", **self.route(),
                      **self.protected(0.2, ["10 A", "16 A", "20 A"]), **({"one_of": "heat"} if self.chance(0.4) else {})})
        for n in range(int(self.rng.random() * 4)):
            self.devices[f"device-{n}"] = {"plugged_into": "outlets-0", "power": f"{self.between(20, 1800, 0):g} W", "hours": "30 min",
                                           **({"one_of": "heat"} if self.chance(0.4) else {})}


def main(folder, count):
    for number in range(int(count)):
        name = Path(folder) / f"drawn-{number:02}.toml"
        name.write_text(Draw(number).spec(), encoding="utf-8")


if __name__ == "__main__":
    main(*sys.argv[1:])
