#!/usr/bin/env python3
"""Reference form of the lauter model, integrated with SciPy.

Python transcription for checking the product; it shares no code with it. SI units, degrees C outside.
needs: numpy, scipy
"""
import numpy as np
from scipy.integrate import solve_ivp
from scipy.special import erfc, erfcx, gammaincc

G = 9.80665
V_EXTRACT = 0.61e-3      # m3 per kg dissolved extract
RHO_70 = 977.76          # kg/m3 water at 70 C


def water_viscosity(t):
    """Pa s, 0-100 C: three-constant power law, within 2.5 % of IAPWS (constants from memory, error measured in make_lauter.py)."""
    return 2.414e-5 * 10 ** (247.8 / (t + 273.15 - 140.0))


def wort_viscosity(plato, t, kappa=1.65):
    """Pa s; kappa 1 is a sucrose solution, 1.65 barley wort."""
    c = 2.70 * np.exp(-505.0 * (1 / 293.15 - 1 / (t + 273.15)))
    return water_viscosity(t) * np.exp(kappa * c * plato / (100 - plato))


def ogata_banks(pv, pe):
    """Relative concentration leaving a bed after a step of its inlet."""
    a, b = (1 - pv) / (2 * np.sqrt(pv / pe)), (1 + pv) / (2 * np.sqrt(pv / pe))
    return 0.5 * (erfc(a) + np.exp(pe - b * b) * erfcx(b))


def tanks(pv, n):
    return gammaincc(n, n * pv)


def permeability(dp, k0=5e-11, p_a=2500.0, n=2.0):
    return k0 * (1 + dp / p_a) ** -n


def flow(head, area, depth, mu, k, valve_area, cd=0.6, r_screen=5e8, rho=RHO_70):
    """m3/s through bed, screen and valve in series, for a fixed permeability: a q^2 + b q - rho g h = 0."""
    a = rho / (2 * (cd * valve_area) ** 2)
    b = mu / area * (depth / k + r_screen)
    return (-b + np.sqrt(b * b + 4 * a * rho * G * head)) / (2 * a)


def settled_flow(head, area, depth, mu, valve_area, k0=5e-11, p_a=2500.0, n=2.0, **kw):
    """Flow with the compaction that this flow itself makes; the low-pressure root, found by bisection on dp."""
    lo, hi = 0.0, RHO_70 * G * head
    for _ in range(200):
        dp = 0.5 * (lo + hi)
        k = permeability(dp, k0, p_a, n)
        q = flow(head, area, depth, mu, k, valve_area, **kw)
        if mu * q * depth / (k * area) > dp:
            lo = dp
        else:
            hi = dp
    return q, dp


def wash(grist=5.0, y=0.7776, conversion=0.95, moisture=0.04, strike=15.0, bed_per_kg=1.8, mobile=0.55, cells=8, tau_im=300.0,
         channel=0.15, under=1.5, under_mixed=0.9, cover=1.0, flow_l_min=0.95, late=0.015, tau_late=3600.0, volume=30.0):
    """Continuous sparge at constant level in litres and kilograms; returns drawn volume, plato at the valve, extract out, total.

    Order from the top: `cover` litres of free liquid, `cells` bed cells (mobile and held liquid), the space under the plate.
    A share `channel` of the flow passes beside the bed. `late` of the extract is still in the particles and dissolves with tau_late.
    """
    ext = grist * y * conversion
    water = strike + grist * moisture
    solids = grist * (1 - moisture - y * conversion)
    liquid = water + ext * V_EXTRACT * 1e3                   # litres; water counted as 1 kg/L
    bed = bed_per_kg * grist - solids / 1.45
    th_m, th_i = mobile * bed, (1 - mobile) * bed
    free = max(liquid - bed - under, cover)
    c0 = ext / liquid                                        # kg/L
    q = flow_l_min / 60.0
    n = cells
    late_kg = late * grist * y

    def rhs(t, s):
        v_free, x_free = s[0], s[1]
        xm, xi = s[2:2 + n], s[2 + n:2 + 2 * n]
        x_u, rest = s[2 + 2 * n], s[3 + 2 * n]
        cm, ci = xm / (th_m / n), xi / (th_i / n)
        cf, cu = x_free / max(v_free, 1e-9), x_u / under
        spa = q / (1 + np.exp(min((v_free - cover) / 0.02, 500)))   # sparge opens smoothly when the cover is reached
        up = np.concatenate(([cf], cm[:-1]))
        qb = q * (1 - channel)
        ex = th_i / n / tau_im * (ci - cm)
        d = rest / tau_late
        dxm = qb * (up - cm) + ex
        dxi = -ex + d / n
        dxu = qb * cm[-1] + q * channel * cf - q * cu
        return np.concatenate(([spa - q, -q * cf], dxm, dxi, [dxu, -d, q * cu]))
    s0 = np.concatenate(([free, c0 * free], np.full(n, c0 * th_m / n), np.full(n, c0 * th_i / n),
                         [c0 * under * under_mixed, late_kg, 0.0]))
    # extract missing under the plate is not created: total is what the state holds
    tot0 = s0[1] + s0[2:2 + 2 * n + 1].sum() + s0[3 + 2 * n]
    te = np.linspace(0, volume / q, 601)
    sol = solve_ivp(rhs, (0, te[-1]), s0, method='LSODA', t_eval=te, rtol=1e-8, atol=1e-10)
    s = sol.y
    cu = s[2 + 2 * n] / under
    tot = s[1] + s[2:2 + 2 * n + 1].sum(axis=0) + s[3 + 2 * n] + s[4 + 2 * n]
    plato = 100 * cu / (1.0 + cu * (1 - V_EXTRACT * 1e3))
    return te * q, plato, s[4 + 2 * n], tot / tot0 - 1, tot0
