"""Makes checks/package.csv. Needs: phreeqpython, fluids, scipy."""
import math

import fluids
from phreeqpython import PhreeqPython
from scipy.optimize import brentq
from scipy.stats import norm

from check_rows import Table
from wortlib import *

t = Table("package")
G_VOL = 1.9768          # g/L per volume of CO2 at 0 C, 101.325 kPa
EXP = "exponential Henry form fitted to the beer chart, arithmetic; bounded by the pure-water rows"


def coef(T): return 10 * math.exp(-10.73797 + 2617.25 / (T + 273.15))       # g/(L bar), absolute pressure of CO2
def vol(p_gauge, T, atm=1.01325): return coef(T) * (p_gauge + atm) / G_VOL
def gauge(v, T, atm=1.01325): return v * G_VOL / coef(T) - atm


# volume constant
from CoolProp.CoolProp import PropsSI
d0 = PropsSI("D", "T", 273.15, "P", 101325, "CO2")
t.add("density of CO2 gas at 0 C and 101.325 kPa", {}, d0, "g/L", 0.002, "library", "CoolProp 8.0.0 (Span-Wagner)", 5)
print("CO2 density", d0)
for T in (0, 4, 10, 15, 20, 25, 30):
    t.add("CO2 in beer per bar", {"T": f"{T} C"}, coef(T), "g/(L bar)", "3%", "common-practice", EXP, 4)
pp = PhreeqPython(database="phreeqc.dat")
for T in (0.01, 4, 10, 20):
    s = pp.add_solution({"temp": T, "pH": 7, "units": "mmol/kgw"}).equalize(["CO2(g)"], [0.0])
    co2 = s.species_molalities.get("CO2", 0) * 44.0095
    t.add("CO2 in pure water at 1 atm of CO2 (upper bound for beer)", {"T": f"{T} C"}, co2, "g/kg", "3%", "library", "phreeqpython 1.6.2, phreeqc.dat", 4)
    print("water", T, round(co2, 3), "beer", round(coef(T) * 1.01325, 3), "ratio", round(coef(T) * 1.01325 / co2, 3))
for F, v, psi in ((38, 2.5, 11.3), (50, 2.5, 17.6), (68, 2.5, 27.6)):
    T = (F - 32) / 1.8
    t.add("carbonation chart, gauge pressure", {"T": f"{F} F", "CO2": f"{v} vol"}, f"{psi}", "psi", 1.0 if F < 60 else 2.0, "handbook", "carbonation chart of the ASBC methods (Beer-13 type); origin undocumented, see Speers & MacIntosh 2013")
    print("chart", F, psi, "exp", round(gauge(v, T) * 14.5038, 2))
for T, g in ((20, 0.0), (4, 1.0)):
    t.add("CO2 at equilibrium", {"T": f"{T} C", "gauge": f"{g} bar"}, coef(T) * (g + 1.01325), "g/L", 0.01, "common-practice", EXP, 4)
z = 1500; patm = 1.01325 * (1 - 2.25577e-5 * z) ** 5.25588
t.add("gauge pressure for a carbonation", {"CO2": "2.5 vol", "T": "4 C", "z": "0 m"}, gauge(2.5, 4), "bar", 0.02, "common-practice", EXP, 4)
t.add("gauge pressure for a carbonation", {"CO2": "2.5 vol", "T": "4 C", "z": "1500 m"}, gauge(2.5, 4, patm), "bar", 0.02, "common-practice", EXP + "; local air pressure", 4)
for T, v in ((0, 1.7), (8, 1.3), (12, 1.12), (20, 0.88)):
    t.add("CO2 left after fermentation, chart", {"warmest_T": f"{T} C"}, f"{v}", "vol", 0.12, "common-practice", "priming chart; agrees with saturation at 1 atm of CO2")
# --- sugars
M = dict(glucose=180.156, sucrose=342.297, water=18.015, CO2=44.0095)
y = {"sucrose": 4 * M["CO2"] / M["sucrose"], "glucose": 2 * M["CO2"] / M["glucose"], "glucose monohydrate": 2 * M["CO2"] / (M["glucose"] + M["water"])}
for n, v in y.items():
    t.add("CO2 from priming sugar, full conversion", {"sugar": n}, v, "g/g", 0.0005, "published", "stoichiometry", 4)
need = 19.0 * (2.5 * G_VOL - coef(20) * 1.01325)
t.add("CO2 to add for 2.5 vol", {"V": "19.0 L", "T warmest": "20 C"}, need, "g", 0.3, "worked-example", EXP + ", mass balance", 4)
for n in y:
    t.add("priming sugar for 2.5 vol", {"V": "19.0 L", "T warmest": "20 C", "sugar": n}, need / y[n], "g", 0.5, "worked-example", "stoichiometry", 4)
print("need", need, {n: need / v for n, v in y.items()})
# --- unfinished fermentation
dP = 0.004 / (0.0042017)            # degP apparent per 4 points of SG near 1.010
d_AE = asbc(1.014) - asbc(1.010)
d_RE = 0.8192 * d_AE                 # at constant OE
g_ext = d_RE / 100 * rho(2.5, 20)
v = g_ext * 0.9565 / 2.0665 / G_VOL
t.add("extra CO2 if 4 SG points still ferment in the bottle", {"AE": "1.014 to 1.010"}, v, "vol", 0.05, "worked-example", "Balling balance", 4)
print("4 points:", d_AE, d_RE, g_ext, v)


# --- bottle with head space: p such that total CO2 = dissolved + gas
def bottle(v_tot, T, phi=0.04, air=1.0):
    """v_tot volumes of CO2 per volume of beer; phi head space per beer volume; air bar trapped at 20 C. Gauge pressure, bar."""
    K = T + 273.15
    def f(p):                        # p: CO2 partial pressure, bar abs
        return coef(T) * p + phi * p * 1e5 * 44.0095e-3 / (8.314462 * K) - v_tot * G_VOL
    p = brentq(f, 0, 50)
    return p + air * K / 293.15 - 1.01325


for v_, T in ((2.5, 20), (2.5, 30), (3.0, 30), (4.0, 30), (2.5, 40)):
    t.add("bottle pressure, no head space", {"CO2": f"{v_} vol", "T": f"{T} C"}, gauge(v_, T), "bar gauge", 0.03, "common-practice", EXP, 4)
t.add("bottle pressure with head space and no air", {"CO2": "2.5 vol", "T": "20 C", "head space": "4 % of beer"}, bottle(2.5, 20, .04, 0.0), "bar gauge", 0.02, "worked-example", "gas balance of beer and head space", 4)
t.add("bottle pressure with head space filled at 1 bar of air", {"CO2": "2.5 vol", "T": "20 C", "head space": "4 %"}, bottle(2.5, 20, .04, 1.0), "bar gauge", 0.02, "worked-example", "gas balance of beer and head space", 4)
print("bottle", bottle(2.5, 20, .04, 0), bottle(2.5, 20, .04, 1), gauge(2.5, 20))
# --- chance of a burst
import random
def p_burst(v_mean, v_sd, T, s_med, s_gsd, n=200000, seed=1):
    rnd = random.Random(seed)
    c = 0
    for _ in range(n):
        p = bottle_lin(max(rnd.gauss(v_mean, v_sd), 0), T)
        s = s_med * math.exp(rnd.gauss(0, math.log(s_gsd)))
        c += p > s
    return c / n
k20 = {T: (bottle(2, T), bottle(4, T)) for T in (25, 30)}
def bottle_lin(v, T):
    a, b = k20[T]; return a + (b - a) * (v - 2) / 2
def p_burst_exact(v_mean, v_sd, T, s_med, s_gsd):
    from scipy.integrate import quad
    a, b = k20[T]
    f = lambda x: norm.pdf(x) * norm.cdf(math.log(max(a + (b - a) * (v_mean + v_sd * x - 2) / 2, 1e-9) / s_med) / math.log(s_gsd))
    return quad(f, -6, 6, limit=200)[0]
for lab, v_, sd, T, med, gsd in (("planned 2.5 vol, used one-way bottle", 2.5, .2, 25, 12, 1.35), ("4 points too early, used one-way bottle", 4.4, .3, 30, 12, 1.35)):
    pr = p_burst_exact(v_, sd, T, med, gsd)
    print(lab, pr, bottle_lin(v_, T), p_burst(v_, sd, T, med, gsd, 40000))
    t.add("chance that a bottle bursts: " + lab, {"CO2": f"{v_} +- {sd} vol", "T": f"{T} C", "strength median": f"{med} bar", "gsd": gsd, "head space": "4 %, 1 bar air"}, pr, "-", "5%", "library", "scipy quad on carbonation against bottle strength (own model, strength from memory)", 3)
# --- lines
t.add("lift in a line", {"rise": "1 ft"}, 0.3048 * 1010 * 9.80665 / 6894.757, "psi", 0.01, "worked-example", "hydrostatics", 4)
Q = 2 * 29.5735e-6
for d_in in (3 / 16, 1 / 4):
    d = d_in * .0254; vlo = Q / (math.pi / 4 * d * d); Re = 1010 * vlo * d / 1.7e-3
    dp = fluids.friction_factor(Re=Re, eD=0) * 0.3048 / d * 1010 * vlo**2 / 2 / 6894.757
    t.add("friction of a smooth line at 2 US fl oz/s", {"bore": f"{d_in} in", "mu": "1.7 mPa s"}, dp, "psi/ft", "10%", "library", "fluids 1.3.1", 3)
    print("line", d_in, Re, dp)
# --- glass
t.add("new bottle proof, lowest of the standards met", {}, "12", "bar", "", "published", "GB 4544 beer bottle; trade states 12-16 bar for other grades; test methods ISO 7458, ASTM C147")
t.write()
