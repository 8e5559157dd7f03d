"""Draws cases of water and heat from a fixed start and works them out with independent libraries.

Usage: water_heat_live.py [HOW_MANY]
Prints CSV with a header: what,inputs,expected (numbers separated by spaces). Libraries: fluids (friction, bends), ht
(insulated cylinders, plane walls), CoolProp (water), PsychroLib (moist air).
"""

import csv
import math
import random
import sys

import CoolProp.CoolProp as water
import fluids
import ht
import psychrolib

psychrolib.SetUnitSystem(psychrolib.SI)
KELVIN = 273.15
PRESSURE = 101325.0


def density(celsius):
    return water.PropsSI("D", "T", celsius + KELVIN, "P", PRESSURE, "Water")


def viscosity(celsius):
    return water.PropsSI("V", "T", celsius + KELVIN, "P", PRESSURE, "Water")


def pipe(draw):
    while True:
        bore = draw.uniform(6e-3, 25e-3)
        flow = 10 ** draw.uniform(-0.3, 1.4)
        celsius = draw.uniform(2, 65)
        rough = draw.choice([1.5e-6, 1e-5, 4.5e-5])
        speed = flow / 60000 / (math.pi / 4 * bore**2)
        reynolds = fluids.Reynolds(V=speed, D=bore, rho=density(celsius), mu=viscosity(celsius))
        if not 2000 < reynolds < 4000:
            break
    length = draw.uniform(0.1, 20)
    factor = fluids.friction_factor(Re=reynolds, eD=rough / bore)
    along = factor * length / bore * density(celsius) * speed**2 / 2 / 1000
    radius = draw.uniform(1, 6)
    bend = fluids.bend_rounded(Di=bore, angle=90, fd=factor, bend_diameters=radius, method="Rennels")
    return [bore, flow, celsius, rough, length, radius], [along, bend]


def liquid(draw):
    celsius = draw.uniform(1, 95)
    return [celsius], [density(celsius), viscosity(celsius)]


def tank(draw):
    litres, cold, hot = draw.uniform(2, 150), draw.uniform(2, 20), draw.uniform(35, 85)
    enthalpy = [water.PropsSI("H", "T", t + KELVIN, "P", PRESSURE, "Water") for t in (cold, hot)]
    return [litres, cold, hot], [litres / 1000 * density(cold) * (enthalpy[1] - enthalpy[0]) / 3600]


def air(draw):
    celsius, humidity, altitude = draw.uniform(-35, 45), draw.uniform(0.05, 1), draw.uniform(0, 4000)
    pressure = psychrolib.GetStandardAtmPressure(altitude)
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure)
    return [celsius, humidity, altitude], [
        pressure,
        psychrolib.GetSatVapPres(celsius),
        ratio,
        psychrolib.GetMoistAirDensity(celsius, ratio, pressure),
        psychrolib.GetTDewPointFromRelHum(celsius, humidity),
    ]


def leak(draw):
    celsius, humidity, altitude = draw.uniform(-35, 15), draw.uniform(0.2, 1), draw.uniform(0, 3000)
    volume, changes = draw.uniform(3, 25), draw.uniform(0, 4)
    pressure = psychrolib.GetStandardAtmPressure(altitude)
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure)
    dense = psychrolib.GetMoistAirDensity(celsius, ratio, pressure)
    return [celsius, humidity, altitude, volume, changes], [dense * 1006 * volume * changes / 3600]


def sleeve(draw):
    outside = draw.uniform(8e-3, 60e-3)
    bore = outside * draw.uniform(0.6, 0.9)
    thick, k, film = draw.uniform(3e-3, 40e-3), draw.uniform(0.02, 0.3), draw.uniform(5, 40)
    warm, cold = draw.uniform(3, 25), draw.uniform(-40, -1)
    outer = outside + 2 * thick
    resistance = ht.conduction.R_cylinder(outside, outer, k, 1.0) + 1 / (film * math.pi * outer)
    mass = 1000 * math.pi / 4 * bore**2
    return [bore, outside, thick, k, film, warm, cold], [
        (warm - cold) / resistance,
        mass * 4200 * resistance * math.log((warm - cold) / -cold),
        mass * 334000 * resistance / -cold,
    ]


def wall(draw):
    films = [draw.choice([0.10, 0.13, 0.17]), 0.04]
    layers = [(draw.uniform(1e-3, 80e-3), draw.uniform(0.02, 2)) for _ in range(draw.randint(1, 5))]
    resistance = sum(films) + sum(t * ht.k_to_thermal_resistivity(k) for t, k in layers)
    return films + [n for layer in layers for n in layer], [1 / resistance]


def main():
    draw = random.Random(20270514)
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 150
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["what", "inputs", "expected"])
    for case in (pipe, liquid, tank, air, leak, sleeve, wall):
        for _ in range(many):
            inputs, expected = case(draw)
            out.writerow([case.__name__, " ".join(map(repr, inputs)), " ".join(repr(float(e)) for e in expected)])


if __name__ == "__main__":
    main()
