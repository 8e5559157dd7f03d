"""Draws vehicles, loads, low points and lids from a fixed start and works them out with numpy and scipy.

Usage: statics_live.py [HOW_MANY]
Prints CSV without a header. Rows begin with what they are about:
  axles,wheelbase,front0,rear0,"m@x@y@z; ...",track,front,rear,left,height
    by solving the three equations of balance (forces, moments about the front axle, moments about the middle)
  angle,distance,height,radius,degrees
    smallest angle of a line through the point that meets the tyre, by search: no closed form
  breakover,wheelbase,aft,height,radius,degrees
    180 degrees less the angle at the point between the two lines that touch the tyres, by search
  lid,struts,mass,length,centre,arm_lid,arm_body,body_angle,open_angle,rest,force
    by virtual work: the strut's force times its change of length is the lid's change of height
"""

import csv
import math
import sys

import numpy as np
from scipy.optimize import brentq

G = 9.80665


def axles(draw):
    wheelbase, track = draw.uniform(2.5, 4.6), draw.uniform(1.4, 1.9)
    front, rear = draw.uniform(700, 1500), draw.uniform(500, 1400)
    n = int(draw.integers(0, 12))
    items = [(draw.uniform(0.5, 300), draw.uniform(-0.8, wheelbase + 1.6), draw.uniform(-1, 1), draw.uniform(0, 3)) for _ in range(n)]
    masses = np.array([i[0] for i in items])
    x, y, z = (np.array([i[k] for i in items]) for k in (1, 2, 3))
    total = front + rear + masses.sum()
    # Unknown: front, rear. Vertical balance; moments about the front axle, the empty rear load kept as a force there.
    loads = np.linalg.solve([[1.0, 1.0], [0.0, wheelbase]], [total, rear * wheelbase + masses @ x])
    # Unknown: left, right. The empty vehicle stands evenly at +- track / 2.
    sides = np.linalg.solve([[1.0, 1.0], [track / 2, -track / 2]], [total, masses @ y])
    height = f"{np.average(z, weights=masses):.12g}" if n else ""
    text = "; ".join("@".join(f"{v!r}" for v in map(float, i)) for i in items)
    return ["axles", wheelbase, front, rear, text, track, loads[0], loads[1], sides[0], height]


def touching(distance, height, radius):
    """Angle of the line from the point that just touches the circle on the side of the ground."""
    centre = np.array([0.0, radius])
    point = np.array([distance, height])

    def clearance(angle):
        # Distance of the circle's centre from a line through the point with this slope, less the radius.
        along = np.array([math.cos(angle), math.sin(angle)])
        off = centre - point
        return (along[0] * off[1] - along[1] * off[0]) - radius

    grid = np.linspace(-math.pi / 2, math.pi / 2, 2001)
    values = [clearance(a) for a in grid]
    roots = [brentq(clearance, a, b, xtol=1e-14) for a, b, fa, fb in zip(grid, grid[1:], values, values[1:]) if fa * fb < 0]
    # The line must leave the tyre below: it touches nearer to the ground than the centre.
    low = []
    for angle in roots:
        along = np.array([math.cos(angle), math.sin(angle)])
        foot = point + along * ((centre - point) @ along)
        if foot[1] < radius:
            low.append(angle)
    return low[0] if len(low) == 1 else None


def angle(draw):
    while True:
        radius = draw.uniform(0.25, 0.45)
        distance, height = draw.uniform(radius * 1.05, 2.5), draw.uniform(0.02, 1.2)
        found = touching(distance, height, radius)
        if found is not None:
            return ["angle", distance, height, radius, math.degrees(found)]


def breakover(draw):
    while True:
        wheelbase, radius = draw.uniform(2.5, 4.6), draw.uniform(0.25, 0.45)
        aft, height = draw.uniform(0.3, 0.7) * wheelbase, draw.uniform(0.05, 0.4)
        front, rear = touching(aft, height, radius), touching(wheelbase - aft, height, radius)
        if front is not None and rear is not None:
            to_front = np.array([-math.cos(front), -math.sin(front)])
            to_rear = np.array([math.cos(rear), -math.sin(rear)])
            interior = math.degrees(math.acos(float(np.clip(to_front @ to_rear, -1, 1))))
            return ["breakover", wheelbase, aft, height, radius, 180 - interior]


def lid(draw):
    while True:
        struts, mass = int(draw.integers(1, 4)), draw.uniform(2, 40)
        length = draw.uniform(0.4, 1.8)
        centre, arm_lid, arm_body = length * draw.uniform(0.3, 0.7), draw.uniform(0.1, 0.4), draw.uniform(0.1, 0.4)
        body, opened, rest = draw.uniform(20, 90), draw.uniform(40, 85), draw.uniform(0, 20)

        def strut(phi):
            tip = arm_lid * np.exp(1j * math.radians(rest + phi))
            foot = arm_body * np.exp(1j * math.radians(rest - body))
            return abs(tip - foot)

        def height(phi):
            return centre * math.sin(math.radians(rest + phi))

        step = 1e-4
        work = mass * G * (height(opened + step) - height(opened - step))
        travel = strut(opened + step) - strut(opened - step)
        if body + opened < 170 and abs(arm_lid - arm_body) > 0.02 and travel > 1e-9 and work > 1e-9:
            return ["lid", struts, mass, length, centre, arm_lid, arm_body, body, opened, rest, work / travel / struts]


def main():
    how_many = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    draw = np.random.default_rng(19)
    write = csv.writer(sys.stdout)
    for make in (axles, angle, breakover, lid):
        for _ in range(how_many):
            write.writerow([v if isinstance(v, (str, int)) else repr(float(v)) for v in make(draw)])


if __name__ == "__main__":
    main()
