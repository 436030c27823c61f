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
Python with units leaves out: all rules, the other five posts, lift and thrust, what members bear, how they bend, wind
  along the row, snow, other tilts and racks, the tables, cut lists, prices and the order, messages, sources, and
  what is unknown"""

u = pint.UnitRegistry()
degC, psf, lbf, ft, inch = u.degC, u.lbf / u.ft ** 2, u.lbf, u.ft, u.inch

# Numbers of the job, and of the pages that its sheets name.
resistance = {10: 1.24, 8: 0.778, 6: 0.491, 4: 0.308, 3: 0.245}       # ohm/kft, stranded copper
resistance = {wire: r * u.ohm / (1000 * ft) for wire, r in resistance.items()}
slope, row = 2 * 1722 * u.mm + 20 * u.mm, 4 * 1134 * u.mm + 3 * 20 * u.mm
spacing, stack, edge, below_ground = 72.5 * inch, 11 * inch, 24 * inch, 60 * inch
tilt = 35 * u.degree
# The free roof's coefficients at 30 and 37.5 deg, both halves of the slope: high and low edge, A and B, both flows.
halves = ((-1.8, -1.8, -1.8, -1.8), (-2.5, -0.5, -2.4, -0.6), (-1.5, -1.8, -1.5, -1.8), (-2.3, -1.1, -2.2, -1.1),
          (2.1, 2.1, 2.1, 2.2), (2.6, 1.0, 2.7, 1.1), (0.6, -1.0, 0.7, -0.9), (1.6, 0.1, 1.9, 0.3))
soil = 150 * psf / ft


def top(at, ground):
    return edge + at * slope * math.sin(tilt) - stack * math.cos(tilt) - ground


def variant(coldest, wind, diameter, wire):
    cold = 4 * 39.2 * u.V * (1 - 0.0025 / u.delta_degC * (coldest - u.Quantity(25, degC)))
    drop = 2 * 104 * ft * resistance[wire] * 2 * 13.11 * u.A / (4 * 32.8 * u.V)

    kz = 2.01 * (15 / 900) ** (2 / 9.5)
    q = 0.00256 * psf / u.mph ** 2 * kz * math.exp(-0.0000362 * 1080) * wind ** 2
    most = max(abs(a + b + 2 / 3 * (c + d - a - b)) / 2 for a, b, c, d in halves) * q * 0.85 * 0.85
    over = (row - 2 * spacing) / 2
    width = 1.25 * spacing - 1.5 * over ** 2 / spacing          # the middle one of three, rails run through
    force = 0.6 * max(most, 16 * psf) * slope * width * math.sin(tilt)      # 16 psf at least, on what stands upright
    front, back = top(0.20, -0.5 * inch), top(0.80, 0.25 * inch)
    turn = 0.68 * below_ground
    fixed = 1 / (1 + (back / front) ** 3)                       # the front line alone leaves it nothing
    side = force * max(fixed, 1 / (1 + ((back + turn) / (front + turn)) ** 2))

    depth, last = 4 * ft, 0 * ft
    while abs(depth - last) > 1e-9 * ft:
        a = 2.34 * side / (2 * soil * min(depth / 3, 12 * ft) * diameter)
        last, depth = depth, (depth + a / 2 * (1 + (1 + 4.36 * back / a) ** 0.5)) / 2

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
