#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""A few formulas of the egg farm in Python with a library of units: how many variants a second.

  tests/bench/plain.py                                the rate, over a grid of four axes
  tests/bench/plain.py COLDEST WIND DIAMETER WIRE     one variant: degC, mph, in, AWG (see tests/plain.lua)
"""
import itertools
import math
import sys
import time

try:
    import pint
except ImportError:
    print("six formulas in Python with units: left out, pint is not installed (on Debian: python3-pint)")
    sys.exit(0)

LEAVES_OUT = """\
Python with units leaves out: all rules, the other five posts, the other cases of wind, other tilts and racks, the
  tables, cut lists, prices and the order, messages, sources, and what is unknown"""

u = pint.UnitRegistry()
degC, psf, lbf, ft, inch = u.degC, u.lbf / u.ft ** 2, u.lbf, u.ft, u.inch

# Numbers of the job, and of the pages that its sheets name.
resistance = {10: 1.24, 8: 0.778, 6: 0.491, 4: 0.308, 3: 0.245}       # ohm/kft, stranded copper
resistance = {wire: r * u.ohm / (1000 * ft) for wire, r in resistance.items()}
slope = 2 * 1722 * u.mm + 20 * u.mm                                   # of the modules
width = 72.5 * inch                                                   # that a middle post carries
tilt, front, back = 35 * u.degree, 0.20, 0.80
windward, leeward = -2.5 + 2 / 3 * 0.1, -0.5 - 2 / 3 * 0.1            # case B between 30 and 37.5 degrees
above_ground = 77.32 * inch                                           # the post's top, as its sheet has it
soil = 150 * psf / ft


def variant(coldest, wind, diameter, wire):
    cold = 4 * 39.2 * u.V * (1 - 0.0025 / u.delta_degC * (coldest - u.Quantity(25, degC)))
    drop = 2 * 104 * ft * resistance[wire] * 2 * 13.11 * u.A / (4 * 32.8 * u.V)

    kz = 2.01 * (15 / 900) ** (2 / 9.5)
    q = 0.00256 * psf / u.mph ** 2 * kz * math.exp(-0.0000362 * 1080) * wind ** 2
    half = q * 0.85 * 0.85 * slope / 2 * width
    side = -half * (windward * (0.75 - front) + leeward * (0.25 - front)) / (back - front) * math.sin(tilt) * 0.6

    depth, last = 4 * ft, 0 * ft
    while abs(depth - last) > 1e-9 * ft:
        a = 2.34 * side / (2 * soil * min(depth / 3, 12 * ft) * diameter)
        last, depth = depth, (depth + a / 2 * (1 + (1 + 4.36 * above_ground / a) ** 0.5)) / 2

    concrete = (math.pi / 4 * diameter ** 2 - (5.5 * inch) ** 2) * (66 * inch - 6 * inch)
    bags = math.ceil((concrete * 1.1 / (0.6 * ft ** 3)).to("").magnitude - 1e-9)
    return cold, drop, q, side, depth, bags


def given(coldest, wind, diameter):
    return u.Quantity(coldest, degC), wind * u.mph, diameter * inch


def main():
    if len(sys.argv) == 5:
        coldest, wind, diameter = given(*map(float, sys.argv[1:4]))
        cold, drop, q, side, depth, bags = variant(coldest, wind, diameter, int(sys.argv[4]))
        print("%.9g %.9g %.9g %.9g %.9g %d" % (cold.to("V").magnitude, drop.to("").magnitude, q.to(psf).magnitude,
                                               side.to("lbf").magnitude, depth.to("ft").magnitude, bags))
        return
    done, before = 0, time.process_time()
    for coldest, wind, d, wire in itertools.product(range(-30, -10, 2), range(85, 113, 3), range(12, 22),
                                                    (10, 8, 6, 4, 3)):
        variant(*given(coldest, wind, d), wire)
        done += 1
        if time.process_time() - before > 2:
            break
    print(LEAVES_OUT)
    print("%-34s %9.0f a second" % ("six formulas in Python with units", done / (time.process_time() - before)))


main()
