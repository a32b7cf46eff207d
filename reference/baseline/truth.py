#!/usr/bin/env python3
"""The benchmark day, integrated far more exactly than anybody needs.

Writes truth.csv: the 42 final values of the day by SciPy's implicit Radau method at a relative
tolerance of 1e-10. The equations and numbers are those of cvode_day.c, written down a second time;
they are invented for timing and are no model of anybody's pots.

usage: truth.py > truth.csv        needs: numpy, scipy
"""
import math

import numpy as np
import scipy
from scipy.integrate import solve_ivp

R = 8.314462618
BURNER_W, BASE_W_K, LOSS_W_K = 3200.0, 180.0, 8.0
CONTENT_J_K, BASE_J_K, AIR_C = 118e3, 8e3, 20.0
WASH_FLOW, WASH_HELD, WASH_CELLS = 25 / 2700, 0.5, 20
RTOL = 1e-10


def mash(power_w):
    def rates(t, y):
        starch, dextrin, alpha, beta, _, _, _, limit, content_c, base_c = y
        inverse = 1 / (content_c + 273.15)
        x65, x68 = -(inverse - 1 / 338.15) / R, -(inverse - 1 / 341.15) / R
        act = math.exp(x65 * 60e3)
        opened = math.exp(x65 * 108e3) / 300 * starch
        a, b = alpha * act, beta * act
        cut_a, cut_b = a * dextrin * 0.004, b * dextrin * 0.002
        limit_b, limit_a = b * limit * 0.0008, a * limit * 0.0004
        heat = (base_c - content_c) * BASE_W_K
        return [
            -opened,
            opened - cut_a - cut_b,
            -math.exp(x68 * 224e3) / 3600 * alpha,
            -math.exp(x65 * 410e3) / 1200 * beta,
            0.05 * cut_a + 0.1 * limit_a,
            cut_b + limit_b,
            0.15 * cut_a + 0.9 * limit_a,
            0.8 * cut_a - limit_b - limit_a,
            (heat - (content_c - AIR_C) * LOSS_W_K) / CONTENT_J_K,
            (power_w - heat - (base_c - AIR_C)) / BASE_J_K,
        ]
    return rates


def wash(t, y):
    k = WASH_FLOW / WASH_HELD
    cells = y[:WASH_CELLS]
    above = np.concatenate([[0.0], cells[:-1]])
    return np.concatenate([k * (above - cells), [WASH_FLOW, cells[-1] * WASH_FLOW]])


def boil(power_w, boiling):
    def rates(t, y):
        mass, _, content_c, base_c, acid, bitter, _, colour = y
        inverse = 1 / (content_c + 273.15)
        k1 = math.exp(27.395 - 11858 * inverse) / 60
        k2 = math.exp(29.042 - 12994 * inverse) / 60
        k3 = math.exp((inverse - 1 / 373.15) * (-180e3 / R)) * 3.1e-4
        heat = (base_c - content_c) * BASE_W_K
        net = heat - (content_c - AIR_C) * LOSS_W_K
        return [
            -net / 2.26e6 if boiling else 0.0,
            0.0,
            0.0 if boiling else net / (mass * 4180),
            (power_w - heat) / BASE_J_K,
            -k1 * acid,
            k1 * acid - k2 * bitter,
            k2 * bitter,
            -k3 * colour,
        ]
    return rates


def run(rates, y, seconds, crossing=None):
    """crossing: (state, threshold, +1 rising or -1 falling). Gives elapsed time, hit, state."""
    events = None
    if crossing:
        index, threshold, direction = crossing
        events = lambda t, u: u[index] - threshold
        events.terminal, events.direction = True, direction
    s = solve_ivp(rates, (0, seconds), y, "Radau", rtol=RTOL, atol=0.1 * RTOL, events=events)
    assert s.success, s.message
    return s.t[-1], s.status == 1, s.y[:, -1]


def hold(y, target, seconds):
    burning = False
    while seconds > 1e-6:
        crossing = (8, target, 1) if burning else (8, target - 0.5, -1)
        elapsed, hit, y = run(mash(BURNER_W if burning else 0.0), y, seconds, crossing)
        seconds -= elapsed
        if not hit:
            break
        burning = not burning
    return y


def day():
    y = np.array([1.0, 0, 1, 1, 0, 0, 0, 0, 50, 50])
    first, _, y = run(mash(BURNER_W), y, 7200, (8, 63.0, 1))
    y = hold(y, 63.0, 1800)
    second, _, y = run(mash(BURNER_W), y, 7200, (8, 72.0, 1))
    y = hold(y, 72.0, 1200)
    extract = y[1] + y[4] + y[5] + y[6] + y[7]
    bed = np.full(WASH_CELLS + 2, extract)
    bed[-2:] = 5.0, 5.0 * extract
    _, _, bed = run(wash, bed, 2700)
    kettle = np.array([bed[-2], bed[-1], 70, 70, 1, 0, 0, 1.0])
    third, _, kettle = run(boil(BURNER_W, False), kettle, 14400, (2, 99.0, 1))
    _, _, kettle = run(boil(BURNER_W, True), kettle, 3600)
    return [*y, first + second, *bed, *kettle, third]


print("# what:   final values of the benchmark day: 10 of the mash, both heating times together, s,")
print("#         22 of the wash, 8 of the kettle, time of its heating, s; order as in cvode_day.c")
print(f"# source: truth.py, SciPy {scipy.__version__} solve_ivp, method Radau, relative tolerance 1e-10")
print("# tol:    1e-8 relative: what the method's own tolerance leaves after the whole day")
print("value")
for value in day():
    print(f"{value:.15e}")
