#!/usr/bin/env python3
"""Fits the law of docs/theory.md, E6 (solver/physics/openings.cpp, with_onset) to table.txt and prints its constants.

    K = A/Re + E S(o/Re) + (K_high - E) S(200 o/Re),   S(y) = sqrt(1 + y^2) - y
A (creep and friction) and K_high (E6, E8) are those of the program. Needs numpy and scipy."""
import math
import os
import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.optimize import least_squares

BLEVINS = [250, 85, 52, 30, 17, 11, 7.7, 5.5, 3.8, 2.8, 2, 1.5, 1.1, .78, .53, .35, .08]
curve = PchipInterpolator(np.arange(2, 19) * 0.05, np.log(BLEVINS))
NAMES = ['early_thin', 'early_round', 'early_slot', 'early_thin_fall', 'early_thick_fall', 'thin_wall', 'onset_thin',
         'onset_thick', 'onset_fall']
START = [2.08, 1.85, 1.55, .45, .15, .12, 12, 10, .6]


def high(f, ratio):
    tau = 1 / (1 + (ratio / .68) ** 4)
    if f < 0.03:
        return tau / .61 ** 2 + (1 - tau) * 1.49
    thick = .5 * (1 - f) + 1 - f * f
    return tau * math.exp(curve(f)) * f * f + (1 - tau) * thick


def viscous(kind, f, t):
    if kind == 'round':
        return 2 * (6 * math.pi * (1 - .344 * f ** 1.5 - .31 * f ** 3) + 32 * t)
    grating = 32 / math.pi if f < 0.03 else 4 * math.pi * f * f / -math.log(math.cos(math.pi * f / 2))
    return 2 * (grating + 12 * t)


def law(kind, f, t, re, q):
    thin, round_, slot, thin_fall, thick_fall, wall, onset_thin, onset_thick, fall = q
    ratio = t if kind == 'round' else t / 2
    share = 1 / (1 + (ratio / wall) ** 2)
    thick = (round_ if kind == 'round' else slot) * (1 - thick_fall * f)
    early = (1 - f) * (thick + share * (thin * (1 - thin_fall * f) - thick))
    onset = (onset_thick + (onset_thin - onset_thick) * share) * (1 - fall * f)
    s = lambda y: math.hypot(1, y) - y
    return viscous(kind, f, t) / re + early * s(onset / re) + (high(f, ratio) - early) * s(200 * onset / re)


rows = [line.split() for line in open(os.path.join(os.path.dirname(os.path.abspath(__file__)), 'table.txt'))]
rows = [(r[0], *map(float, r[1:])) for r in rows if r[0] != '#']
rows = [r for r in rows if r[3] > 1 and not (r[0] == 'slot' and r[3] > 300)]
fit = least_squares(lambda q: [math.log(law(*r[:4], q) / r[6]) for r in rows], START)
for name, value in zip(NAMES, fit.x):
    print('%-18s %.3f' % (name, abs(value)))
print('%d rows, rms %.3f, worst %.3f' % (len(rows), np.sqrt(np.mean(fit.fun ** 2)), abs(fit.fun).max()))
