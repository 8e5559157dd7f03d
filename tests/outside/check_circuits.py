"""Recalculates the electrical side of compiled specs and compares it with the figures rigbinder gives.

    check_circuits.py SPEC BUILD FIGURES [SPEC BUILD FIGURES ...]

Each three are what `rigbinder compile --emit spec|build|figures` prints. Of the spec the fields of the components and
places are read, of the build only which part a kind plays (`electric`), of the figures the results. Circuits, currents,
ratings, sizes, drops and fault currents are worked out here from those fields and the published tables in
tests/reference. Nothing is shared with the program.

Prints, per formula, how many figures were compared and the worst relative error. Fails on any disagreement, on any
figure that is missing here or there, and where a conductor or fuse is not the smallest that does.
"""

import json
import re
import sys
from collections import defaultdict

import electrical_tables as tables
from electrical_tables import AWG, METRIC, RULES, Size
from routes import Routes

# Assumptions of the trade that no standard fixes; rigbinder's documents state the same.
CHARGING_VOLTS = 14.4  # per 12 V of the system
ENGINE_RUNNING_LOW = 12.5  # likewise
CHARGING = 1.2  # highest over nominal voltage where nothing tells it
OUTLET_WATTS = 180.0  # of an outlet among several, NEC 220.14(I)
BRIGHT_SUN = 1.25  # NEC 690.8, besides the continuous factor
FUSE_VOLTS, SWITCH_VOLTS, SHUNT_VOLTS = 0.07, 0.02, 0.05  # at the rating: usual for fuse and switch, by design for a shunt
LEAST_LEFT = 0.25  # of a drop limit: below it the last circuit is held to the limit by itself
IDLE = 0.3  # of its grouped rating: a conductor below it warms no other (IEC 60364-5-52)
MOTOR_START = 1.6  # multiple of its rating that a blade fuse holds while a motor starts

PASSES = {"protection", "disconnect", "shunt", "control", "bus", "transfer", "rcd", "panel", "switch-panel", "ac-panel"}
GIVES = {"charger", "inverter", "inverter-charger", "alternator", "generator"}
WAYS = {"panel", "switch-panel", "ac-panel"}
OWN = {"in-line", "way", "component"}
SAME = 1e-6  # relative; the inputs are the same numbers
NEC_ROUNDING = 0.006  # NEC Chapter 9 Table 8 is printed with three figures


class Part:
    """A component with its fields as plain numbers, words and lists."""

    def __init__(self, name, spec, build):
        self.id = name
        entries = spec["record"]["fields"]
        self.fields = {n: plain(e["value"]) for n, e in entries.items()}
        self.given = {n for n, e in entries.items() if e["given"]}
        electric = build["kind"]["electric"] or {}
        self.role = electric.get("role")
        self.network = electric.get("network")
        self.continuous = electric.get("continuous", False)
        # What a kind says nothing electrical of is held to the tighter limit.
        self.critical = electric.get("critical", not electric)
        self.long_start = electric.get("long_start", False)
        self.count = max(self.get("count", 1), 1)
        self.places = build["places"]
        self.kind = build["kind"]["id"]

    def get(self, name, otherwise=None):
        return self.fields.get(name, otherwise)

    def first(self, name):
        return next(iter(self.get(name) or []), None)


def plain(value):
    """A value of the spec without its wrapping."""
    (kind, inside), = value.items()
    if kind == "quantity":
        return inside["value"]
    if isinstance(inside, list):
        return [item["value"] if isinstance(item, dict) else item for item in inside]
    return inside


def system(volts):
    """Nominal voltage of the system that something of `volts` is made for."""
    return 48.0 if volts > 36 else 24.0 if volts > 18 else 12.0


def network_of(part):
    """Nominal and highest voltage of the DC network that a part is the source of."""
    if part.role == "bank":
        volts = part.get("voltage")
        return system(volts), max(volts, part.get("absorb_voltage", 0.0), part.get("float_voltage", 0.0))
    if part.role == "converter":
        return system(part.get("output_voltage")), part.get("output_voltage")
    return system(part.get("voltage")), system(part.get("voltage")) * CHARGING


class Circuit:
    """One circuit; its fields are those of its owner, for an output with `output_` before the name."""

    def __init__(self, name, owner, source, target, network, feeding):
        self.id, self.owner, self.source, self.target = name, owner, source, target
        self.network, self.feeding = network, feeding
        prefix = "" if feeding in {"supply", "return"} else "output_"
        field = lambda name, otherwise=None: owner.get(prefix + name, otherwise)
        self.run = field("run")
        conductor = field("conductor")
        self.conductor = Size.parse(conductor) if conductor else None
        self.beside = max(field("conductors", 1), 1)  # that share its current, each of its size
        self.switched = feeding == "supply" and bool(owner.get("switched_at"))
        self.lengths = None  # of its conductors, where they are known: there, back, between two switches
        self.pieces = []
        self.protection = field("protection")
        self.bundle = max(field("bundle", 2), 1)
        self.bundle_given = prefix + "bundle" in owner.given
        self.through = field("through", [])
        self.sheathed = field("sheathed", False)

    @property
    def supplies(self):
        """It brings current to the part that owns it."""
        return self.owner is self.target and self.feeding != "return"

    @property
    def is_return(self):
        """It is the negative of a shunt or of a negative bar, on its way back to the bank."""
        return self.feeding == "return" or self.target.role == "shunt"


class Net:
    """The network of one spec, worked out."""

    def __init__(self, spec, build):
        self.parts = {n: Part(n, c, build["parts"][n]) for n, c in spec["components"].items() if n in build["parts"]}
        devices = spec["use"]["fields"].get("devices", {"value": {"parts": []}})["value"]["parts"]
        devices = [{n: plain(e["value"]) for n, e in record["fields"].items()} for _, record in devices]
        self.plugged = [(d["plugged_into"][0], d.get("one_of"), d["power"]) for d in devices]
        rules = spec["build"]["fields"].get("rules")
        self.rules = RULES[plain(rules["value"]) if rules else "us"]
        zones = {n: plain(p["fields"]["zone"]["value"]) for n, p in spec["places"].items() if "zone" in p["fields"]}
        self.hot = {n for n, zone in zones.items() if zone == "engine-space"}
        flags = lambda flag: {n for n, p in spec["places"].items() if flag in p["fields"] and plain(p["fields"][flag]["value"])}
        self.filled, self.open = flags("insulated"), flags("open")
        lows = [plain(c["fields"][f]["value"]) for c in spec["climates"].values() for f in ("record_low", "low") if f in c["fields"]]
        self.coldest = min(lows, default=None)
        bank = next((p for p in self.parts.values() if p.role == "bank"), None)
        self.house = network_of(bank) if bank else (12.0, 12.0 * CHARGING)
        # Circuits that the program left out (loops) are no matter of this check.
        carry = (c for c in build["wiring"]["conductors"].values() if c["purpose"] in ("circuit", "leg") and c.get("circuit"))
        self.conductors = list(carry)
        self.worst = None  # A short that stands in for one not known yet.
        self.circuits = [c for c in self.draw() if c.id in build["circuits"]]
        self.gives = self.networks()
        self.routes = Routes(spec)
        self.lay()
        self.left_out = sorted(set(build["circuits"]) - {c.id for c in self.circuits})
        self.known, self.shares = {}, {}
        if spec.get("channels"):
            self.count_side_by_side()

    def draw(self):
        for part in self.parts.values():
            if part.get("returns_to"):
                yield from self.one(part.id, part, part.first("returns_to"), part.id, "dc", "return")
            if not part.role:
                continue
            for i, feeder in enumerate(part.get("fed_from") or []):
                name = part.id if i == 0 else f"{part.id}.{i + 1}"
                yield from self.one(name, part, feeder, part.id, part.network, "supply")
            if part.get("shore_from"):
                yield from self.one(f"{part.id}.shore", part, part.first("shore_from"), part.id, "ac", "shore")
            if part.role in GIVES and part.get("feeds"):
                target = self.parts.get(part.first("feeds"))
                to_start = target is not None and target.network == "start"
                network = {"inverter": "ac", "inverter-charger": "ac", "generator": "ac", "alternator": part.network}.get(
                    part.role, "start" if to_start else "dc")
                yield from self.one(f"{part.id}.out", part, part.id, part.first("feeds"), network, "output")

    # --- Routes ----------------------------------------------------------------------------------------------------

    def lay(self):
        """Lengths of the conductors: as given, along the channels, straight; and the runs that come of them."""
        own = defaultdict(list)
        for conductor in self.conductors:
            own[conductor["circuit"]].append(conductor)
        for c in self.circuits:
            given, there, back, known, between = c.run, 0.0, 0.0, True, 0.0
            legs = {True: [], False: []}
            for conductor in own[c.id]:
                live = conductor["carries"] not in {"negative", "neutral", "earth"}
                if conductor["carries"] == "earth":
                    continue
                length = conductor["route"].get("length")
                by_geometry = conductor["route"]["by"] in {"channels", "straight"}
                if by_geometry:
                    ends = [self.place_of(conductor[end]) for end in ("from", "to")]
                    way = self.routes.way(*ends) if None not in ends else None
                    length, pieces = way if way else (None, [])
                    conductor["recalculated"] = length
                    c.pieces += pieces
                if conductor["purpose"] == "beside":
                    continue  # It lies beside one that is counted.
                if conductor["purpose"] == "leg":
                    # Between the switches of a pair the current takes one of two.
                    if c.target.role in PASSES:
                        between = max(between, length or 0.0)
                    elif conductor["carries"] != "line-two":
                        legs[live].append(length)
                    continue
                if length is None:
                    known = False
                    continue
                there, back = (there + length, back) if live else (there, back + length)
            c.in_legs = in_legs(legs, c.target.get("legs"))
            c.lengths = (there, back, between) if known and own[c.id] else None
            if (given is None or c.switched) and c.lengths and there + back > 0.0:
                if c.is_return or not back:
                    c.run = back if c.is_return else there
                else:
                    c.run = max((there + back - self.counted_before(c)) / 2.0, there / 2.0)

    def place_of(self, end):
        """Place of an end: that of its second body, of its part, or of what the part rides on."""
        if end.get("place"):
            return end["place"]
        part = self.parts.get(end["part"])
        for _ in self.parts:
            if part is None or part.places:
                break
            part = self.parts.get(part.first("on"))
        return part.places[0] if part and part.places else None

    def counted_before(self, circuit):
        """What the circuits to bare switches before this one count for the way back already."""
        total, at = 0.0, circuit
        bare = lambda p: p.role in {"protection", "disconnect", "control", "bus"} and p.network == "dc" and not self.mirrors(p)
        while bare(at.source):
            above = [c for c in self.circuits if c.target is at.source and c.network == at.network and c.supplies]
            if not above:
                break
            at = above[0]
            total += at.run or 0.0
        return total

    def mirrors(self, part):
        return any(part.id in (p.get("mirrors") or []) for p in self.parts.values())

    def count_side_by_side(self):
        """Loaded conductors in the same piece of a channel; those that carry little of what they may are left out."""
        laid = [c for c in self.circuits if c.pieces]
        before = {c.id: c.bundle for c in laid}
        for c in laid:
            c.bundle = c.bundle if c.bundle_given else 1
        alone = {}
        for c in laid:
            size = self.size(c)
            may = self.ampacity(c, size) if size else None
            alone[c.id] = product(may) if may else 0.0
        load = {c.id: self.demand(c)[0] for c in laid}
        inside = defaultdict(list)
        for c in laid:
            for piece in c.pieces:
                inside[piece].append(c)
        factor = tables.grouping if self.rules.iec else tables.bundling
        counted = {}
        for together in inside.values():
            for c in together:
                idle = self.rules.iec or self.volts(c) < 50.0
                limit = IDLE * factor(len(together)) if idle else 0.0
                warms = lambda o: not idle or load[o.id] > limit * alone[o.id]
                warm = sum(map(warms, together))
                counted[c.id] = max(counted.get(c.id, 0), warm if warms(c) else warm + 1)
        for c in laid:
            c.bundle = c.bundle if c.bundle_given else counted.get(c.id, before[c.id])
        self.known, self.shares = {}, {}

    def one(self, name, owner, source, target, network, feeding):
        if source in self.parts and target in self.parts:
            circuit = Circuit(name, owner, self.parts[source], self.parts[target], network, feeding)
            # A key of a keypad is told by messages: nothing of the circuit flows through it.
            at = self.parts.get((owner.get("switched_at") or "").partition(".")[0])
            circuit.switched = circuit.switched and not (at and at.get("key"))
            yield circuit

    def networks(self):
        """Nominal and highest voltage of what each part gives on, by its id: sources first, then all they reach."""
        gives = {p.id: network_of(p) for p in self.parts.values() if p.role in {"bank", "start-battery", "converter"}}
        wires = [c for c in self.circuits if c.network in {"dc", "start"} and c.feeding != "return"]
        on = PASSES | {"inverter-charger"}
        for _ in range(2):
            spread = True
            while spread:
                spread = False
                for c in wires:
                    if c.supplies and c.source.id in gives and c.target.role in on and c.target.id not in gives:
                        # Of several feeders the first that is known.
                        first = next(o for o in wires if o.target is c.target and o.supplies and o.source.id in gives)
                        gives[c.target.id] = gives[first.source.id]
                        spread = True
            for c in wires:
                if c.feeding == "output":
                    own = c.source.get("output_voltage")
                    known = gives.get(c.target.id) or (own and (system(own), system(own) * CHARGING))
                    if known:
                        gives.setdefault(c.source.id, known)
                        gives.setdefault(c.target.id, known)
        return gives

    def network(self, circuit):
        """Nominal and highest voltage of a DC circuit."""
        ends = [circuit.target, circuit.source] if circuit.feeding == "output" else [circuit.source]
        known = next((self.gives[end.id] for end in ends if end.id in self.gives), None)
        return known or (self.house if circuit.network == "dc" else (12.0, 12.0 * CHARGING))

    def highest(self, circuit):
        """What a device of the circuit has to break: the voltage while the bank charges."""
        return self.network(circuit)[1] if circuit.network in {"dc", "start"} else self.volts(circuit)

    def leaving(self, part, network):
        return [c for c in self.circuits if c.source is part and c.network == network and c.feeding != "return"]

    def arriving(self, part, network):
        return [c for c in self.circuits if c.target is part and c.network == network and c.feeding != "return"]

    def once(self, what, circuit, work):
        key = (what, circuit.id)
        if key not in self.known:
            self.known[key] = work()
        return self.known[key]

    # --- Voltages and currents -------------------------------------------------------------------------------------

    def volts(self, circuit):
        if circuit.network == "ac":
            return self.rules.ac_volts
        if circuit.network in {"dc", "start"}:
            return self.network(circuit)[0]
        array = next(iter(self.arrays(circuit)), None)
        return array.get("vmp") * array.get("series", 1) if array and array.get("vmp") else 18.0

    def arrays(self, circuit):
        """The arrays whose current comes through a solar circuit."""
        if circuit.source.role == "array":
            return [circuit.source]
        return [a for c in self.arriving(circuit.source, "pv") for a in self.arrays(c)]

    def demand(self, circuit):
        """Lasting current, the part of it that runs for hours, and the largest motor start above it."""
        if circuit.feeding == "return":
            shunt = [c for c in self.arriving(circuit.source, "dc") if c.is_return]
            return together([self.demand(c) for c in shunt or self.answered(circuit)])
        towards = self.outwards(circuit)
        if circuit.network != "dc" or not circuit.supplies:
            return towards
        # Charge current flows back through the same conductor: it carries the one or the other.
        charge = self.charge(circuit.target)
        return tuple(max(one, other) for one, other in zip(charge, towards))

    def answered(self, circuit):
        """The positives whose current comes back through a return."""
        at = circuit.source
        beyond = lambda part: next((c for c in self.circuits if c.target is part and c.is_return), None)
        if at.role != "shunt" and beyond(at) is not None:
            mirrored = self.parts.get(circuit.owner.first("mirrors"))
            own = [c for c in self.arriving(mirrored, "dc") if c.feeding == "supply" and not c.is_return] if mirrored else []
            if own:
                return own
        while at.role != "bank":
            back = beyond(at)
            if back is None:
                return []
            at = back.source
        return [c for c in self.leaving(at, "dc") if c.feeding == "supply" and not c.is_return]

    def outwards(self, circuit):
        """The same for what is drawn alone."""
        return self.once("outwards", circuit, lambda: self.work_outwards(circuit))

    def work_outwards(self, circuit):
        volts, source, target = self.volts(circuit), circuit.source, circuit.target
        if circuit.feeding == "output":
            return steady(self.output(source, volts), source.continuous)
        if circuit.feeding == "shore":
            return self.shore(source, target)
        if circuit.network == "pv":
            return steady(sum(a.get("isc", 0.0) * a.get("parallel", 1) * a.count for a in self.arrays(circuit)), True)
        drawn = self.drawn(target, volts)
        if source.role == "converter" and len(target.get("fed_from")) > 1:
            return at_most(drawn, self.converter_rating(source))
        return at_most(drawn, source.get("rating")) if source.role in {"inlet", "generator"} else drawn

    def shore(self, source, target):
        """What an inverter-charger takes, laid out for no more than its relay and the main breaker let through."""
        most = [a for a in (target.get("transfer_rating"), source.get("rating") if source.role == "ac-panel" else None)
                if a is not None]
        load = min([target.get("shore_limit", target.get("transfer_rating", 0.0)), *most])
        share = self.rules.continuous_factor - 1.0
        lasting = min([load, *((a - load) / share for a in most if share > 0.0)])
        return load, lasting, 0.0

    def output(self, part, volts):
        if part.role in {"inverter", "inverter-charger"}:
            return part.get("power", 0.0) * part.count / volts
        if part.role == "generator":
            return min(part.get("rating"), part.get("power") / volts)
        if part.role == "alternator":
            return part.get("rating", 0.0)
        return part.get("output_current", 0.0) * part.count

    def drawn(self, part, volts):
        if part.role in {"inverter", "inverter-charger"}:
            power, surge = part.get("power"), part.get("surge_power", part.get("power"))
            at = lambda watts: watts * part.count / (part.get("efficiency", 0.85) * part.get("low_cutoff"))
            load = at(power)
            return load, load if part.continuous else 0.0, max(at(surge) - load, 0.0)
        if part.role == "converter":
            watts = part.get("output_voltage") * self.converter_rating(part)
            return steady(watts / (part.get("efficiency") * part.get("low_cutoff")), part.continuous)
        if part.role == "charger":
            return steady(self.charger_input(part, volts), part.continuous)
        if part.role == "outlet":
            return steady(part.get("rating", 0.0), part.continuous)
        if part.role in PASSES:
            through = self.leaving(part, part.network)
            if part.role == "shunt":
                bank = self.parts[part.first("fed_from")]
                through += [c for c in self.leaving(bank, part.network) if c.target is not part]
            share = part.get("diversity", 1.0)
            behind = in_turn([one for c in through for one in self.behind(c, volts)], key=lambda demand: demand[0])
            load, lasting, surge = together(behind)
            whole = load * share, lasting * share, surge
            # Whatever share runs together, the largest load runs whole.
            whole = max([whole, *behind], key=lambda demand: demand[0])
            return at_most(whole, part.get("rating")) if part.role == "ac-panel" else whole
        # Where the draw is a mean, another field tells what full output takes.
        watts = max(part.get("draw", 0.0), part.get("full_draw", 0.0))
        one = part.get("current", watts / volts)
        start = part.get("start_current", 0.0)
        load = one * part.count
        if part.long_start and start > one:
            return start * part.count, load if part.continuous else 0.0, 0.0
        return load, load if part.continuous else 0.0, max(start - one, 0.0)

    def behind(self, circuit, volts):
        """What a circuit adds to what it leaves, each with the word for those of which one runs at a time."""
        to, demand = circuit.target, self.outwards(circuit)
        if to.role != "outlet":
            return [(to.get("one_of"), demand)]
        plugged_in = [(word, watts) for outlet, word, watts in self.plugged if outlet == to.id]
        beside = sum(watts for word, watts in plugged_in if word is None)
        return [(None, at_most(demand, max(OUTLET_WATTS * to.count, beside) / volts)),
                *((word, steady(watts / volts, False)) for word, watts in plugged_in if word is not None)]

    def converter_rating(self, part):
        """What all of the count give without end: by the current, or the power, on the plate."""
        rating = part.get("rating")
        if part.get("power") and "rating" not in part.given:
            rating = part.get("power") / part.get("output_voltage")
        return rating * part.count

    def converter_limit(self, part):
        return self.converter_rating(part) * part.get("current_limit")

    def charger_input(self, part, volts):
        if part.get("input_current") is not None:
            return part.get("input_current") * part.count
        out = part.get("output_current", 0.0) * part.count
        charged = self.gives[part.id][0] if part.id in self.gives else system(part.get("output_voltage"))
        # A relay converts nothing.
        if part.get("efficiency") >= 1.0 and part.network != "ac" and charged == volts:
            return out
        power = out * CHARGING_VOLTS * charged / 12.0 / part.get("efficiency", 0.9)
        if part.network == "ac":
            power /= part.get("power_factor", 1.0)
        return power / (ENGINE_RUNNING_LOW * volts / 12.0 if part.network == "start" else volts)

    def charge(self, part):
        """Charge current that goes back towards the bank through what feeds `part`."""
        if part.role == "inverter-charger":
            return steady(part.get("output_current", 0.0) * part.count, True)
        if part.role == "shunt":
            beside = self.leaving(self.parts[part.first("fed_from")], "dc")
            return together([self.charge(c.target) for c in beside if c.target.role != "shunt"])
        if part.role not in PASSES:
            return 0.0, 0.0, 0.0
        here = [steady(self.output(c.source, self.house), c.source.continuous)
                for c in self.arriving(part, "dc") if c.feeding == "output"]
        further = [self.charge(c.target) for c in self.leaving(part, "dc") if c.supplies and c.target.role != "shunt"]
        return together(here + further)

    def design(self, circuit):
        load, lasting, _ = self.demand(circuit)
        return load + lasting * (self.rules.continuous_factor - 1.0)

    # --- Protection ------------------------------------------------------------------------------------------------

    def device(self, circuit):
        """(where, family, rating): `rating` is `None` where nothing limits the current or none is made."""
        return self.once("device", circuit, lambda: self.work_device(circuit))

    def work_device(self, circuit):
        where, family, rating = self.place(circuit)
        if where == "inherited":
            return self.inherited(circuit)
        if where in OWN and rating is None:
            rating = tables.next_rating(family, max(self.design(circuit), self.floor(circuit)))
        return where, family, rating

    def place(self, circuit):
        given, word = protection(circuit.protection)
        if circuit.protection == "none" and not circuit.is_return:
            return "inherited", None, None
        where, family, rating = self.usual_place(circuit)
        if given is not None:
            if where not in OWN:
                where, family = "in-line", self.usual_family(circuit, given)
            return where, word or family, given
        return where, family, rating

    def usual_place(self, circuit):
        source, target = circuit.source, circuit.target
        if circuit.network == "pv":
            return "source", None, None
        if source.role == "alternator" and circuit.feeding == "output" and target.role == "start-battery":
            return "vehicle", None, None
        if circuit.is_return:
            return "return", None, None
        if target.role == "protection":
            return "component", target.get("family", "class-t"), target.get("rating")
        if circuit.feeding == "shore" and source.role in WAYS:
            return "way", self.rules.breaker, None
        if circuit.network == "ac" and source.role == "generator":
            return "source", None, source.get("rating")
        if circuit.feeding == "shore" or source.role == "inlet":
            inlet = source if source.role == "inlet" else target
            return "source", None, inlet.get("rating", inlet.get("transfer_rating"))
        if circuit.network == "ac" and source.role in {"inverter", "inverter-charger"}:
            return "source", None, self.inverter_limit(source)
        most = max(self.design(circuit), self.floor(circuit))
        if source.role == "converter":
            # Its own limit, or what the others at the same place send into a short of its cable.
            beside = [self.parts[o] for o in target.get("fed_from") if o in self.parts and o != source.id]
            others = sum(self.converter_limit(o) for o in beside if o.role == "converter")
            return "source", None, max(self.converter_limit(source), others)
        if circuit.feeding == "output":
            return "in-line", self.in_line(circuit, most), None
        if source.role in WAYS:
            return "way", self.usual_family(circuit, most), None
        if source.role in {"bus", "bank", "start-battery", "alternator"}:
            return "in-line", self.usual_family(circuit, most), None
        if source.role in PASSES:
            return "inherited", None, None
        if source.role in GIVES and circuit.network != "ac":
            return "in-line", self.in_line(circuit, most), None
        return "nothing", None, None

    def usual_family(self, circuit, amps):
        if circuit.network == "ac":
            return self.rules.breaker
        if circuit.source.role in WAYS:
            return circuit.source.get("family", "blade")
        if circuit.source.role in {"start-battery", "alternator"} and amps <= tables.largest("terminal-cube"):
            return "terminal-cube"
        if circuit.source.role in {"bank", "start-battery", "alternator"}:
            return "class-t"
        return self.in_line(circuit, amps)

    def in_line(self, circuit, amps):
        """Blade fuses are made for 32 V, or 58 V where marked; ISO 8820-3 and -6 ask for 1000 A, and 2000 A at 58 V; class T
        stands beyond. Above 32 V terminal fuses begin at their smallest rating."""
        short = self.worst if self.worst is not None else self.short_before(circuit) or 0.0
        highest = self.highest(circuit)
        prefix = "output_" if circuit.feeding in {"output", "shore"} else ""
        marked = circuit.owner.get(prefix + "protection_voltage")
        blade = marked if marked is not None else 32.0
        held = lambda volts, most: highest <= volts or marked is not None and highest <= min(marked, most)
        if amps <= 30.0 and highest <= blade and held(32.0, 58.0) and short <= 1000.0:
            return "blade"
        cube = marked if marked is not None else 58.0
        in_range = tables.smallest("terminal-cube") <= amps <= tables.largest("terminal-cube")
        if (amps > 30.0 or highest > 32.0) and in_range and highest <= cube and held(58.0, 58.0) and short <= 2000.0:
            return "terminal-cube"
        return "class-t"

    def inverter_limit(self, part):
        own = part.get("power", 0.0) * part.count / self.rules.ac_volts
        return max(own, part.get("transfer_rating", 0.0))

    def inherited(self, circuit):
        source = circuit.source
        if circuit.network == "ac" and source.role in {"inverter", "inverter-charger"}:
            return "source", None, self.inverter_limit(source)
        if source.role not in PASSES:
            return "nothing", None, None
        feeders = [c for c in self.arriving(source, circuit.network) if c.supplies or circuit.network == "ac"]
        devices = [self.device(c) for c in feeders]
        # Behind a transfer switch the larger of the two devices decides.
        where, family, rating = max(devices, key=lambda d: d[2] or 0.0, default=("nothing", None, None))
        return ("upstream" if where in OWN else where), family, rating

    def floor(self, circuit):
        """Least rating of a fuse left open: above every fuse it feeds, and not blown by a motor that starts."""
        return self.once("floor", circuit, lambda: self.work_floor(circuit))

    def work_floor(self, circuit):
        if circuit.network != "dc":
            return 0.0
        below = self.largest_below(circuit)
        load, _, surge = self.demand(circuit)
        start = (load + surge) / MOTOR_START if surge > 0.0 and circuit.supplies else 0.0
        # No two standard ratings are closer than 0.1 A.
        return max(below + 0.1 if below > 0.0 else 0.0, start)

    def largest_below(self, circuit):
        if not (circuit.supplies and circuit.target.role in PASSES):
            return 0.0
        ratings = []
        for c in self.leaving(circuit.target, "dc"):
            if c.supplies:
                # What a short draws there may decide the family, and is not known yet: the larger rating counts.
                rated = [self.rated_for(c, short) for short in (0.0, float("inf"))]
                ratings.append(max(r if r is not None else self.largest_below(c) for r in rated))
        return max(ratings, default=0.0)

    def rated_for(self, circuit, short):
        """Rating of a circuit's own device where a short draws `short`; `None` without one."""
        before, self.worst = self.worst, short
        where, family, rating = self.place(circuit)
        self.worst = before
        if where not in OWN:
            return None
        return rating if rating is not None else tables.next_rating(
            family, max(self.design(circuit), self.floor(circuit)))

    # --- Conductor -------------------------------------------------------------------------------------------------

    def insulation(self, circuit):
        given = circuit.owner.get("insulation")
        classes = [c for c in self.rules.classes if given is not None and c <= given]
        return max(classes, default=self.rules.insulation["ac" if circuit.network == "ac" else "dc"])

    def method(self, circuit):
        """How IEC 60364-5-52 would have it laid: conduit, sheath and mains as a cable in conduit, what stays in one place open."""
        cable = circuit.sheathed or circuit.network == "ac"
        if self.filled & set(circuit.through):
            return "A2" if cable else "A1"
        if cable:
            return "B2"
        source, target = circuit.source.places, circuit.target.places
        stays = not circuit.through and len(source) == 1 and source == target and source[0] not in self.open
        return "C" if stays else "B1"

    def is_hot(self, circuit):
        """Its way, or an end of it, is in the engine space."""
        return bool(self.hot & {*circuit.through, *circuit.source.places, *circuit.target.places})

    def ampacity(self, circuit, size):
        """Table value, factor for the air, factor for the bundle, how many share the current; `None` where the table ends."""
        limit = self.insulation(circuit)
        if self.rules.iec:
            table = tables.b_52(size, limit, self.method(circuit))
            air = tables.warm_air(limit, 50.0 if self.is_hot(circuit) else 30.0)
            return None if table is None else (table, air, tables.grouping(circuit.bundle), circuit.beside)
        table = tables.table_5(size, limit)
        air = tables.engine_space(limit) if self.is_hot(circuit) else 1.0
        return None if table is None else (table, air, tables.bundling(circuit.bundle), circuit.beside)

    def drop(self, circuit, size, nec=False):
        """Volts over both conductors at the load current, and the temperature they are told at: at most the insulation's."""
        limit, load = self.insulation(circuit), self.demand(circuit)[0]
        ambient = 50.0 if self.is_hot(circuit) else 30.0
        ampacity = self.ampacity(circuit, size)
        warm = limit if ampacity is None else ambient + (limit - ambient) * (load / product(ampacity)) ** 2
        resistance = size.nec_ohms_per_metre if nec else size.ohms_per_metre
        return 2.0 * (circuit.run or 0.0) * resistance(min(warm, limit)) * load / circuit.beside, min(warm, limit)

    def drop_limit(self, circuit):
        owner = circuit.owner
        critical = owner.get("critical") if "critical" in owner.given else owner.critical
        return self.rules.critical_drop if critical else self.rules.other_drop

    def feeder(self, circuit):
        """The circuit before this one that loses most; `None` where it leaves a source."""
        if circuit.source.role not in PASSES:
            return None
        feeders = [c for c in self.circuits if c.target is circuit.source and c.network == circuit.network
                   and (c.owner is c.target or c.network == "ac")]
        return max(feeders, key=self.cables, default=None)

    def cables(self, circuit):
        """Lost in the conductors from the source to the end of a circuit."""
        def work():
            feeder, size = self.feeder(circuit), self.size(circuit)
            return (self.cables(feeder) if feeder else 0.0) + (self.drop(circuit, size)[0] if size else 0.0)
        return self.once("cables", circuit, work)

    def devices(self, circuit):
        """Lost in its fuse, the switches and the shunt."""
        where, _, rating = self.device(circuit)
        other = rating or self.design(circuit)
        ohms = FUSE_VOLTS / rating if where in OWN and rating else 0.0
        if circuit.source.role in {"disconnect", "control", "transfer", "rcd", "switch-panel"}:
            ohms += SWITCH_VOLTS / (circuit.source.get("rating") or other)
        if circuit.switched and self.design(circuit):
            ohms += SWITCH_VOLTS / self.design(circuit)
        if circuit.target.role == "shunt":
            ohms += SHUNT_VOLTS / (circuit.target.get("rating") or other)
        return ohms * self.demand(circuit)[0]

    def expected(self, circuit):
        """Lost from the source to the end, as far as what comes after is sized by it."""
        def work():
            feeder, size = self.feeder(circuit), self.size(circuit)
            own = self.drop(circuit, size)[0] if size else 0.0
            return (self.expected(feeder) if feeder else 0.0) + own + self.devices(circuit)
        return self.once("expected", circuit, work)

    def is_last(self, circuit):
        return circuit.target.role not in PASSES and circuit.feeding in {"supply", "shore"} and circuit.network != "pv"

    def left(self, circuit):
        """What of the drop limit is left for the circuit itself."""
        limit, volts = self.drop_limit(circuit), self.volts(circuit)
        if not self.is_last(circuit) or not volts:
            return limit
        feeder = self.feeder(circuit)
        before = self.expected(feeder) if feeder else 0.0
        fuse = FUSE_VOLTS if self.place(circuit)[0] in OWN else 0.0
        switch = SWITCH_VOLTS if circuit.switched else 0.0
        left = limit - (before + fuse + switch) / volts
        left = limit if left < limit * LEAST_LEFT else left
        return left / (1.0 + circuit.in_legs / (2.0 * circuit.run) if circuit.run else 1.0)

    def share(self, circuit):
        """What it is held to: what is left, or twice that and so on where no conductor keeps it."""
        return self.shares.get(circuit.id, self.left(circuit))

    def total(self, circuit):
        """Lost from the source to the end and back: each conductor by its own length, the cables of negative bars."""
        def work():
            feeders = [c for c in self.circuits if c.target is circuit.source and c.network == circuit.network
                       and (c.owner is c.target or c.network == "ac")] if circuit.source.role in PASSES else []
            above = max((self.total(c) for c in feeders), default=0.0)
            return above + self.own_loss(circuit) + self.back_to_bank(circuit)
        return self.once("total", circuit, work)

    def own_loss(self, circuit):
        size = self.size(circuit)
        if size is None:
            return self.devices(circuit)
        share = (sum(circuit.lengths) + circuit.in_legs) / (2.0 * circuit.run) if circuit.lengths and circuit.run else 1.0
        if circuit.network == "start" and circuit.owner.role == "charger" and circuit.lengths and not circuit.lengths[1]:
            # Its one negative goes to the house; the vehicle's side comes back by the body, taken for as long a cable.
            share = 1.0
        return self.drop(circuit, size)[0] * share + self.devices(circuit)

    def back_to_bank(self, circuit):
        negatives = [c for c in self.conductors if c["circuit"] == circuit.id and c["carries"] == "negative"]
        if circuit.is_return or not negatives:
            return 0.0
        lost, at = 0.0, negatives[0]["to"]["part"]
        for _ in self.circuits:
            back = next((c for c in self.circuits if c.target.id == at and c.is_return), None)
            if back is None:
                break
            lost += self.own_loss(back)
            at = back.source.id
        return lost

    def asked(self, circuit):
        """Current the conductor has to carry for good."""
        sun = BRIGHT_SUN if circuit.network == "pv" else 1.0
        where, _, _ = self.place(circuit)
        open_device = where in OWN and self.place(circuit)[2] is None
        return max(self.design(circuit) * sun, self.floor(circuit) if open_device else 0.0)

    def least(self, circuit, series):
        rules = self.rules.least_sheathed if circuit.sheathed else self.rules.least_separate
        if circuit.network == "ac":
            rules = self.rules.least_ac
        rating = self.device(circuit)[2]
        behind = tables.behind_breaker(rating, series) if circuit.network == "ac" and rating else None
        shared = 0.0 if circuit.beside == 1 else 53.0 if series == "awg" else 50.0  # 1/0 AWG, NEC 310.10(G)
        return max(rules, shared, behind.area if behind else 0.0)

    def fails(self, circuit, size, series, margin=0.0):
        """What a size fails by. `margin` widens (above 0) or narrows (below 0) the drop limit."""
        ampacity = self.ampacity(circuit, size)
        carries = product(ampacity) if ampacity else 0.0
        # A return has no device of its own: it carries what the largest in its positives lets through.
        behind = self.answered(circuit) if self.device(circuit)[0] == "return" else [circuit]
        rating = max([self.device(c)[2] or 0.0 for c in behind], default=0.0)
        found = []
        if carries < self.asked(circuit) * (1 - 1e-9):
            found.append("ampacity")
        if carries < rating * (1 - 1e-9):
            found.append("protection")
        if circuit.run is not None:
            share = self.drop(circuit, size)[0] / self.volts(circuit)
            if share > self.share(circuit) * (1 + margin + 1e-9):
                found.append("drop")
        if size.area < self.least(circuit, series) * (1 - 1e-9):
            found.append("least")
        ends = [end for c in self.conductors if c["circuit"] == circuit.id for end in (c["from"], c["to"])]
        ring = max((tables.ring(self.parts[e["part"]], e) for e in ends if e["part"] in self.parts), default=0.0)
        if size.area < ring * (1 - 1e-9):
            found.append("ring")
        return found

    def size(self, circuit):
        """The given size, that of the positive cable for a return, or the smallest that fails by nothing."""
        return self.once("size", circuit, lambda: self.work_size(circuit))

    def work_size(self, circuit):
        where, _, rating = self.device(circuit)
        if where in OWN and rating is None:
            return None  # No fuse of the family is made that large: the spec has an error, nothing is sized.
        if circuit.conductor:
            return circuit.conductor
        least = 0.0
        if self.place(circuit)[0] == "return":
            positives = [s for s in map(self.size, self.answered(circuit)) if s]
            positive = max(positives, key=lambda s: s.area, default=None)
            if positive:
                own = "awg" if positive.gauge is not None else "metric"
                if not self.fails(circuit, positive, own):
                    return positive
                least = positive.area
        series = AWG if self.rules.series == "awg" else METRIC
        does = lambda s: s.area >= least * (1 - 1e-9) and not self.fails(circuit, s, self.rules.series)
        limit, left = self.drop_limit(circuit), self.left(circuit)
        while True:
            self.shares[circuit.id] = min(left, limit)
            size = next((s for s in series if does(s)), None)
            if size or left >= limit or left <= 0.0:
                return size
            left *= 2.0

    # --- Faults ----------------------------------------------------------------------------------------------------

    def bank_resistance(self, bank):
        volts, capacity = bank.get("voltage", 12.8), bank.get("capacity", 0.0) * bank.count
        if bank.get("fault_current"):
            return volts / (bank.get("fault_current") * bank.count)
        if bank.get("internal_resistance"):
            return bank.get("internal_resistance") / bank.count
        ohm_amp_hours, nominal = (0.45, 12.0) if bank.get("chemistry") == "agm" else (0.20, 12.8)
        return ohm_amp_hours / capacity * volts / nominal

    def fault(self, circuit):
        """Current of a short at the place of the circuit's device, cables cold."""
        if self.place(circuit)[0] == "component":
            size = self.size(circuit)
            own = 2.0 * (circuit.run or 0.0) * size.ohms_per_metre(20.0) / circuit.beside if size else 0.0
            return self.short_before(circuit, own)
        return self.short_before(circuit)

    def short_before(self, circuit, ohms=0.0):
        """The same where the circuit leaves the bank's side, `ohms` further on."""
        if circuit.network != "dc":
            return None
        at = circuit.source if circuit.supplies else circuit.target
        source = self.source_at(at)
        return source[0] / (source[1] + ohms) if source else None

    def source_at(self, at, depth=0):
        """Voltage and resistance that a short at a part sees: a bank, a converter that limits itself, or cables to some."""
        if at.role == "bank":
            return at.get("voltage", 12.8), self.bank_resistance(at)
        if at.role == "converter":
            return at.get("output_voltage"), at.get("output_voltage") / self.converter_limit(at)
        if at.role not in PASSES or depth > 100:
            return None
        volts, current = 0.0, 0.0
        for feeder in self.arriving(at, "dc"):
            behind = self.source_at(feeder.source, depth + 1) if feeder.supplies else None
            if behind:
                size = self.size(feeder)
                cable = 2.0 * (feeder.run or 0.0) * size.ohms_per_metre(20.0) / feeder.beside if size else 0.0
                volts, current = max(volts, behind[0]), current + behind[0] / (behind[1] + cable)
        return (volts, volts / current) if current else None

    # --- Panels, sources, banks, strings ---------------------------------------------------------------------------

    def loading(self, part):
        load = lambda c: self.demand(c)[0]
        everywhere = lambda end: [c for c in self.circuits if getattr(c, end) is part]
        fed = max([load(c) for c in everywhere("target") if c.owner is part], default=0.0)
        back = sum(load(c) for c in everywhere("target") if c.feeding == "output")
        out = sum(load(c) for c in everywhere("source") if c.feeding not in {"output", "return"})
        if part.role == "ac-panel":
            return fed
        if part.network == "dc" and fed > 0.0:
            return max(fed, back)
        return max(fed, back, out * part.get("diversity", 1.0))

    def ac_load(self, source):
        loads, open_, seen = [], [(source, 1.0)], {source.id}
        while open_:
            part, share = open_.pop()
            for c in self.leaving(part, "ac"):
                to = c.target
                if to.id in seen:
                    continue
                seen.add(to.id)
                if to.role == "outlet" or (to.role == "charger" and source.role not in {"inlet", "generator"}):
                    continue
                if to.role in PASSES or to.role == "inverter-charger":
                    open_.append((to, share * to.get("diversity", 1.0) if to.role in PASSES else share))
                else:
                    loads.append((to.get("one_of"), self.demand(c)[0] * self.rules.ac_volts * share))
        return sum(in_turn(loads))

    def discharge(self, part):
        return sum(self.each_discharge(part))

    def each_discharge(self, part):
        for c in self.leaving(part, "dc"):
            to = c.target
            if not c.supplies or to.role == "shunt":
                continue
            if to.role in PASSES:
                behind = list(self.each_discharge(to))
                yield max([sum(behind) * to.get("diversity", 1.0), *behind])
            elif to.role == "inverter-charger":
                yield self.drawn(to, self.house)[0]
            else:
                yield self.demand(c)[0]

    def hangs_on(self, part, bank):
        feeders = [c.source for c in self.arriving(part, "dc") if c.supplies and c.source.role != "converter"]
        return part is bank or any(self.hangs_on(feeder, bank) for feeder in feeders)

    def charging(self, bank):
        outputs = [c for c in self.circuits if c.feeding == "output" and c.network == "dc"]
        combined = [p for p in self.parts.values() if p.role == "inverter-charger" and self.hangs_on(p, bank)]
        return sum(self.demand(c)[0] for c in outputs if self.hangs_on(c.target, bank)) + sum(
            p.get("output_current", 0.0) * p.count for p in combined)

    # --- All figures -----------------------------------------------------------------------------------------------

    def figures(self):
        """Every figure by its id."""
        for c in self.circuits:
            where, family, rating = self.device(c)
            if where == "vehicle":
                continue
            yield f"{c.id}.design-current", self.design(c)
            size = self.size(c)
            if size is None:
                continue
            ampacity = self.ampacity(c, size)
            if ampacity:
                yield f"{c.id}.ampacity", product(ampacity)
                if where in OWN and rating is not None:
                    yield f"{c.id}.protection", rating
                    if family and c.network in {"dc", "start"} and not self.rules.iec:
                        yield f"{c.id}.cfr-cap", tables.cfr_cap(product(ampacity), self.volts(c), family)
            if c.run is not None:
                yield f"{c.id}.voltage-drop", self.drop(c, size)[0] / self.volts(c)
                if self.is_last(c) and c.owner is c.target:
                    yield f"{c.id}.total-drop", self.total(c) / self.volts(c)
            if c.network == "dc" and where in OWN and self.fault(c) is not None:
                yield f"{c.id}.fault-current", self.fault(c)
        for part in self.parts.values():
            yield from self.part_figures(part)

    def part_figures(self, part):
        if part.role in PASSES:
            yield f"{part.id}.loading", self.loading(part)
        if part.role in {"inverter", "inverter-charger"} and part.get("power") and part.get("low_cutoff"):
            yield f"{part.id}.inverter-current", self.drawn(part, self.house)[0]
        if part.role in {"inverter", "inverter-charger", "inlet", "generator"}:
            yield f"{part.id}.ac-load", self.ac_load(part)
        if part.role == "array":
            if self.coldest is not None:
                voc = part.get("voc", 0.0) * part.get("series", 1)
                cold = 1.0 + part.get("voc_per_kelvin", -0.0028) * (self.coldest - 25.0)
                yield f"{part.id}.string-voltage", voc * cold
            yield f"{part.id}.string-current", part.get("isc", 0.0) * part.get("parallel", 1) * part.count
        if part.role == "bank":
            volts = part.get("voltage", 12.8)
            share = part.get("usable", 0.5 if part.get("chemistry") == "agm" else 0.8)
            yield f"{part.id}.bank-energy", part.get("capacity", 0.0) * part.count * volts * share
            yield f"{part.id}.bank-fault-current", volts / self.bank_resistance(part)
            yield f"{part.id}.bank-discharge", self.discharge(part)
            yield f"{part.id}.bank-charge", self.charging(part)
            batteries = part.get("parallel", 1)
            if part.get("battery_fuse") and batteries > 1:
                positives = [c for c in self.circuits if c.source is part and c.network == "dc" and c.supplies and not c.is_return]
                yield f"{part.id}.battery-share", sum(self.design(c) for c in positives) / batteries
                # The one that fails takes what all others give.
                yield f"{part.id}.battery-fault-current", volts / self.bank_resistance(part) * (batteries - 1) / batteries


def in_legs(legs, form):
    """Metres with the whole current that lose as much as the legs to the farthest of several fittings that share it alike."""
    there, back = legs[True], legs[False]
    if not there or None in there + back or len(there) != len(back):
        return 0.0
    loops = [a + b for a, b in zip(there, back)]
    fittings = len(loops) + 1
    if form == "star":
        return max(loops) / fittings
    return sum(loop * (fittings - 1 - n) / fittings for n, loop in enumerate(loops))


def steady(amps, continuous):
    return amps, amps if continuous else 0.0, 0.0


def together(demands):
    loads, lasting, surges = [[d[i] for d in demands] for i in range(3)]
    return sum(loads), sum(lasting), max(surges, default=0.0)


def in_turn(all_, key=None):
    """Of those with the same word the largest, and all that have none."""
    words = {word for word, _ in all_ if word is not None}
    largest = [max((one for own, one in all_ if own == word), key=key) for word in sorted(words)]
    return [one for word, one in all_ if word is None] + largest


def at_most(demand, cap):
    load, lasting, surge = demand
    if cap is None or load <= cap:
        return demand
    return cap, lasting * cap / load, surge


def product(factors):
    result = 1.0
    for factor in factors:
        result *= factor
    return result


def protection(text):
    """(rating, family) of a `protection` field."""
    if not text or text.strip() == "none":
        return None, None
    number, _, family = text.partition("A")
    return float(number), family.strip() or None


class Comparison:
    """What agreed, how closely, and what did not."""

    def __init__(self):
        self.count = defaultdict(int)
        self.worst = defaultdict(lambda: (0.0, ""))
        self.faults = []

    def close(self, formula, name, got, own, tolerance=SAME):
        error = abs(got - own) / max(abs(own), 1e-12) if got != own else 0.0
        self.count[formula] += 1
        if error > self.worst[formula][0]:
            self.worst[formula] = (error, name)
        if error > tolerance:
            self.faults.append(f"{name}: {got:.6g}, recalculated {own:.6g}")

    def equal(self, what, name, got, own):
        self.count[what] += 1
        if got != own:
            self.faults.append(f"{name}: {what} {got}, recalculated {own}")

    def true(self, what, name, holds):
        self.count[what] += 1
        if not holds:
            self.faults.append(f"{name}: {what} does not hold")


def compare(label, net, figures, to):
    own = dict(net.figures())
    formulas = {name.rsplit(".", 1)[1] for name in own} | tables.FORMULAS
    given = {name: f for name, f in figures.items() if f["formula"] in formulas}
    for name in net.left_out:
        to.faults.append(f"{label} {name}: a circuit that the fields of the spec do not make")
    for name in sorted(given.keys() - own.keys()):
        to.faults.append(f"{label} {name}: not recalculated")
    for name in sorted(own.keys() - given.keys()):
        to.faults.append(f"{label} {name}: no such figure")
    for name in own.keys() & given.keys():
        to.close(given[name]["formula"], f"{label} {name}", given[name]["value"][1], own[name])
    for conductor in net.conductors:
        if conductor.get("recalculated") is not None:
            name = f"{label} {conductor['id']}"
            to.close("route", name, conductor["route"]["length"], conductor["recalculated"])
    for circuit in net.circuits:
        if f"{circuit.id}.ampacity" in given:
            compare_conductor(label, net, circuit, given, to)


def compare_conductor(label, net, circuit, given, to):
    name = f"{label} {circuit.id}"
    word, insulation, table, air, bundle, read = given[f"{circuit.id}.ampacity"]["inputs"]
    size = Size.parse(word.split("× ")[-1])
    to.equal("conductor size", name, word, (f"{circuit.beside} × " if circuit.beside > 1 else "") + str(net.size(circuit)))
    to.equal("insulation", name, insulation, f"{net.insulation(circuit)} °C")
    parts = net.ampacity(circuit, size)
    to.equal("table ampacity", name, table[1], parts[0])
    to.close("engine-space factor", name, air[1], parts[1])
    to.close("bundling factor", name, bundle[1], parts[2])
    rule = f"IEC 60364-5-52, method {net.method(circuit)}" if net.rules.iec else "33 CFR 183.425 Table 5"
    to.equal("ampacity table", name, read, rule)
    where, family, rating = net.device(circuit)
    device = given.get(f"{circuit.id}.protection")
    if device:
        # Poles and curve are words beside the rating, which is what is reckoned.
        printed = re.sub(r" (\d-pole|\dP|[BCD])(?= )", "", device["inputs"][2])
        to.equal("device", name, printed, f"{number(rating)} A {tables.NAMES[family]}")
    sized = not circuit.conductor and net.place(circuit)[0] != "return"
    if sized:
        fails = [f for f in net.fails(circuit, size, net.rules.series)]
        to.true("chosen size does", name, not fails)
        below = [s for s in (AWG if net.rules.series == "awg" else METRIC) if s.area < size.area * (1 - 1e-9)]
        to.true("next smaller size fails", name, not below or net.fails(circuit, below[-1], net.rules.series))
        if rating is not None:
            to.true("conductor carries its fuse", name, rating <= product(parts) * (1 + 1e-9))
        if where in OWN and net.place(circuit)[2] is None:
            asked = max(net.design(circuit), net.floor(circuit))
            smaller = [r for r in tables.RATINGS[family] if r < rating]
            to.true("fuse carries the current", name, rating >= asked * (1 - 1e-9))
            to.true("next smaller fuse does not", name, not smaller or smaller[-1] < asked)
    if net.place(circuit)[0] == "return" and not circuit.conductor:
        positives = [s for s in map(net.size, net.answered(circuit)) if s]
        to.true("return as large as its positive", name, all(s.area <= size.area * (1 + 1e-9) for s in positives))
        to.true("return carries its current", name, net.design(circuit) <= product(parts) * (1 + 1e-9))
    drop = given.get(f"{circuit.id}.voltage-drop")
    if drop:
        volts, warm = net.drop(circuit, size)
        to.close("drop in volts", name, drop["inputs"][4][1], volts)
        to.close("conductor temperature", name, drop["inputs"][3][1], warm)
        if size.gauge is not None and volts > 0.0:
            to.close("drop by NEC Table 8", name, drop["inputs"][4][1], net.drop(circuit, size, nec=True)[0], NEC_ROUNDING)


def number(value):
    return f"{value:g}"


def main(paths):
    if not paths or len(paths) % 3:
        sys.exit(__doc__)
    comparison = Comparison()
    circuits = 0
    for at in range(0, len(paths), 3):
        spec, build, figures = (json.load(open(path, encoding="utf-8")) for path in paths[at : at + 3])
        net = Net(spec, build)
        circuits += len(net.circuits)
        compare(paths[at].rsplit("/", 1)[-1].removesuffix(".json"), net, figures["figures"], comparison)
    print(f"{len(paths) // 3} specs, {circuits} circuits, {sum(comparison.count.values())} comparisons")
    for what in sorted(comparison.count):
        error, name = comparison.worst[what]
        print(f"{what}: {comparison.count[what]} compared, worst {error:.1e}{' at ' + name if error else ''}")
    for fault in comparison.faults[:200]:
        print(f"DISAGREES {fault}")
    print(f"{len(comparison.faults)} disagreements")
    return 1 if comparison.faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
