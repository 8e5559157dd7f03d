"""Draws places, days and light from a fixed start and works them out with pvlib.

Usage: solar_live.py [HOW_MANY]
Prints CSV with a header: what,inputs,expected. Inputs and expected values are numbers parted by spaces.
  declination  day                                    -> Cooper, Spencer (degrees)
  day          latitude day                           -> above the air, Cooper and Spencer (MJ/m2); day length (h)
  zenith       latitude day solar_hours               -> cosine of the zenith angle
  incidence    latitude day solar_hours tilt azimuth  -> cosine on the plane (azimuth 0 south, west above zero)
  plane        beam diffuse rb tilt albedo            -> beam, sky, ground on the plane
  cell         peak light air noct per_kelvin         -> cell temperature, power
"""

import csv
import random
import sys

import numpy as np
import pvlib


def text(values):
    return " ".join(repr(float(v)) for v in values)


def declinations(day):
    return np.degrees([pvlib.solarposition.declination_cooper69(day), pvlib.solarposition.declination_spencer71(day)])


def above_air(latitude, day, method, declination):
    """The day's irradiation in MJ/m2 by integration in 10 s steps, not by the closed formula."""
    angles = np.radians((np.arange(8640) + 0.5) / 8640 * 360 - 180)
    zenith = pvlib.solarposition.solar_zenith_analytical(np.radians(latitude), angles, np.radians(declination))
    extra = pvlib.irradiance.get_extra_radiation(day, solar_constant=1367.0, method=method)
    return extra * np.clip(np.cos(zenith), 0, None).mean() * 86400 / 1e6


def main():
    how_many = int(sys.argv[1]) if len(sys.argv) > 1 else 150
    draw = random.Random(2191)
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["what", "inputs", "expected"])
    for _ in range(how_many):
        day, latitude = draw.randint(1, 365), draw.uniform(-75, 75)
        cooper, spencer = declinations(day)
        out.writerow(["declination", text([day]), text([cooper, spencer])])
        cos = np.clip(-np.tan(np.radians(latitude)) * np.tan(np.radians(cooper)), -1, 1)
        length = np.degrees(np.arccos(cos)) * 2 / 15
        days = [above_air(latitude, day, "asce", cooper), above_air(latitude, day, "spencer", spencer), length]
        out.writerow(["day", text([latitude, day]), text(days)])

        hours = draw.uniform(0, 24)
        angle = (hours - 12) * 15
        zenith = pvlib.solarposition.solar_zenith_analytical(*np.radians([latitude, angle, cooper]))
        out.writerow(["zenith", text([latitude, day, hours]), text([np.cos(zenith)])])
        azimuth = pvlib.solarposition.solar_azimuth_analytical(*np.radians([latitude, angle, cooper]), zenith)
        tilt, faces = draw.uniform(0, 90), draw.uniform(-180, 180)
        projection = pvlib.irradiance.aoi_projection(tilt, faces + 180, np.degrees(zenith), np.degrees(azimuth))
        out.writerow(["incidence", text([latitude, day, hours, tilt, faces]), text([projection])])

        height = draw.uniform(10, 60)
        beam_normal, diffuse, albedo = draw.uniform(0, 950), draw.uniform(0, 400), draw.uniform(0, 0.9)
        place = {"surface_tilt": tilt, "surface_azimuth": faces + 180, "solar_zenith": height, "solar_azimuth": 190.0}
        level = beam_normal * np.cos(np.radians(height))
        plane = pvlib.irradiance.get_total_irradiance(
            **place, dni=beam_normal, ghi=level + diffuse, dhi=diffuse, albedo=albedo, model="isotropic"
        )
        rb = pvlib.irradiance.aoi_projection(tilt, faces + 180, height, 190.0) / np.cos(np.radians(height))
        parts = [plane["poa_direct"], plane["poa_sky_diffuse"], plane["poa_ground_diffuse"]]
        out.writerow(["plane", text([level, diffuse, max(rb, 0), tilt, albedo]), text(parts)])

        peak, light, air = draw.uniform(20, 900), draw.uniform(0, 1200), draw.uniform(-35, 45)
        noct, gamma = draw.uniform(42, 55), -draw.uniform(0.0025, 0.005)
        cell = pvlib.temperature.ross(light, air, noct)
        power = pvlib.pvsystem.pvwatts_dc(light, cell, peak, gamma)
        out.writerow(["cell", text([peak, light, air, noct, gamma]), text([cell, power])])


if __name__ == "__main__":
    main()
