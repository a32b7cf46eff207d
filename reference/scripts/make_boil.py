"""Makes checks/boil.csv. Needs: CoolProp, ht, fluids, chemicals, scipy."""
import math

import ht
from CoolProp.CoolProp import HAPropsSI, PropsSI
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from check_rows import Table
from wortlib import *

t = Table("boil")
HT = "ht 1.2.0 with dry air from CoolProp 8.0.0"
g, sigma = 9.80665, 5.670374e-8


def air(T):
    K = T + 273.15
    D = PropsSI("D", "T", K, "P", 101325, "Air"); mu = PropsSI("V", "T", K, "P", 101325, "Air")
    k = PropsSI("L", "T", K, "P", 101325, "Air"); cp = PropsSI("C", "T", K, "P", 101325, "Air")
    return D, mu, k, cp, mu * cp / k


# --- latent heat
for T in (20, 66, 95, 100):
    L = PropsSI("H", "T", T + 273.15, "Q", 1, "Water") - PropsSI("H", "T", T + 273.15, "Q", 0, "Water")
    t.add("heat of evaporation of water", {"T": f"{T} C"}, L / 1000, "kJ/kg", 1, "library", "CoolProp 8.0.0", 6)
L100 = PropsSI("H", "T", 373.124, "Q", 1, "Water") - PropsSI("H", "T", 373.124, "Q", 0, "Water")


def wall_h(Tw, Ta, L):
    D, mu, k, cp, Pr = air(0.5 * (Tw + Ta))
    Gr = g * (Tw - Ta) / (0.5 * (Tw + Ta) + 273.15) * L**3 * D * D / mu**2
    return ht.Nu_vertical_plate_Churchill(Pr, Gr) * k / L, Pr * Gr


def rad(Tw, Ta, eps):
    a, b = Tw + 273.15, Ta + 273.15
    return eps * sigma * (a**4 - b**4) / (a - b)


for Tw, Ta, L in ((66, 20, .4), (80, 20, .4), (100, 20, .4), (100, 5, .4)):
    h, Ra = wall_h(Tw, Ta, L)
    t.add("still-air coefficient on a vertical wall", {"Twall": f"{Tw} C", "Tair": f"{Ta} C", "L": f"{L} m"}, h, "W/(m2 K)", "2%", "library", HT + ", Churchill-Chu", 5)
    t.add("radiation coefficient", {"Twall": f"{Tw} C", "Tair": f"{Ta} C", "eps": 0.2}, rad(Tw, Ta, .2), "W/(m2 K)", "0.1%", "published", "Stefan-Boltzmann law, arithmetic", 5)
    print("wall", Tw, Ta, L, round(h, 3), f"{Ra:.4g}", round(rad(Tw, Ta, .2), 3), round(rad(Tw, Ta, .9), 3))
A = math.pi * .36 * .40
for T in (66, 80, 100):
    q = A * (wall_h(T, 20, .4)[0] + rad(T, 20, .2)) * (T - 20)
    t.add("side loss of a bare kettle, still air", {"D": "0.36 m", "wet height": "0.40 m", "eps": 0.2, "T": f"{T} C", "Tair": "20 C"}, q, "W", "3%", "library", HT, 4)
    print("side W", T, q, "UA", q / (T - 20))
# handbook bare tank
h, _ = wall_h(65.6, 15.6, 1.0)
print("bare steel tank 65.6/15.6, eps .9:", (h + rad(65.6, 15.6, .9)) * 50, "handbook 568 W/m2")
t.add("heat loss of a bare painted steel tank wall, still air", {"Twall": "65.6 C", "Tair": "15.6 C"}, "568", "W/m2", "12%", "handbook", "tank-heating table, 180 Btu/(h ft2); first publication unknown")


# --- wind on the side: Churchill-Bernstein cross flow
def wind_h(u, D, Tw, Ta):
    rho_, mu, k, cp, Pr = air(0.5 * (Tw + Ta))
    return ht.conv_external.Nu_cylinder_Churchill_Bernstein(rho_ * u * D / mu, Pr) * k / D


for u in (1, 3):
    h = wind_h(u, .36, 100, 20)
    t.add("wind on an upright cylinder", {"u": f"{u} m/s", "D": "0.36 m", "Twall": "100 C", "Tair": "20 C"}, h, "W/(m2 K)", "3%", "library", HT + ", Churchill-Bernstein", 4)
    print("wind", u, h)


# --- open surface below boiling: Shah
def humid(T, RH, P=101325):
    W = HAPropsSI("W", "T", T + 273.15, "P", P, "R", RH)
    v = HAPropsSI("V", "T", T + 273.15, "P", P, "R", RH)   # m3 per kg dry air
    return W, 1 / v, (1 + W) / v


def shah(Tw, Ta, RH):
    Ww, dw, mw = humid(Tw, 1.0)
    Wr, dr, mr = humid(Ta, RH)
    return 35 * dw * (mr - mw) ** (1 / 3) * (Ww - Wr)


for T in (40, 50, 60, 66, 70, 80, 90, 95):
    e = shah(T, 20, .5)
    t.add("evaporation from a still open surface", {"Twater": f"{T} C", "Tair": "20 C", "RH": 0.5}, e, "kg/(m2 h)", "2%", "library", "Shah relation with humid air from CoolProp 8.0.0", 4)
    print("shah", T, round(e, 3))
def shah_simple(Tw, Ta, RH, p=101325.0):
    """Evaporation of an open surface below the boil, ideal humid air."""
    def st(T, rh):
        pv = min(rh * PropsSI("P", "T", T + 273.15, "Q", 0, "Water"), p)
        K = T + 273.15
        return (p - pv) / (287.05 * K), (p - 0.378 * pv) / (287.05 * K), 0.62198 * pv / (287.05 * K)   # d, rho, d W
    dw, rw, vw = st(Tw, 1.0)
    dr, rr, vr = st(Ta, RH)
    return 35 * (rr - rw) ** (1 / 3) * (vw - dw * vr / dr)


print("ideal humid air:", [(T, round(shah_simple(T, 20, .5), 3)) for T in (40, 66, 80, 95, 99.9)])
hb = {48.9: 1.136, 60.0: 2.082, 65.6: 2.713, 71.1: 3.470, 76.7: 4.353, 82.2: 5.489, 87.8: 6.814, 93.3: 8.454}
for T, q in hb.items():
    Lw = PropsSI("H", "T", T + 273.15, "Q", 1, "Water") - PropsSI("H", "T", T + 273.15, "Q", 0, "Water")
    m = shah(T, 15.6, .5) / 3600 * Lw / 1000
    t.add("evaporation heat from an open tank, still air", {"Twater": f"{T} C", "Tair": "15.6 C"}, f"{q}", "kW/m2", "18%", "handbook", "tank-heating table for still 60 F air; first publication unknown. Shah 2002 states 18.2 % mean deviation")
    print("  handbook", T, q, "Shah", round(m, 3), f"{100*(m/q-1):.1f} %")

# --- fuel
H = {"C3H8": -104.68, "CO2": -393.51, "H2O": -241.83}
lhv = -(3 * H["CO2"] + 4 * H["H2O"] - H["C3H8"]) / 44.0956
t.add("lower heating value of propane", {}, lhv, "MJ/kg", 0.15, "published", "standard heats of formation (CRC), arithmetic", 5)
t.add("propane burnt at 20 kW", {"P": "20 kW"}, 20 / lhv / 1000 * 3600, "kg/h", 0.01, "published", "from the value above", 4)
t.add("air needed per kg propane, no excess", {}, 5 * 31.998 / 44.0956 / 0.2314, "kg/kg", 0.1, "published", "stoichiometry", 4)
print("LHV", lhv, "air", 5 * 31.998 / 44.0956 / 0.2314)


def eta(x, eta_full, n=0.2, Tb=60.0, Tf=1300.0, Tref=60.0):
    N = -math.log(1 - eta_full)
    return (1 - math.exp(-N * x ** -n)) * (Tf - Tb) / (Tf - Tref)


for x in (1.0, 0.5, 0.3):
    t.add("share of a turned-down burner that reaches the pot", {"share of full flame": x, "eta_full": 0.40, "n": 0.2, "Tbase": "60 C"}, eta(x, .4), "-", 1e-4, "worked-example", "burner share by turndown and base temperature, arithmetic (own model)", 4)
t.add("share of a burner that reaches a boiling pot", {"share of full flame": 1, "eta_full": 0.40, "Tbase": "110 C"}, eta(1, .4, Tb=110), "-", 1e-4, "worked-example", "burner share by turndown and base temperature, arithmetic (own model)", 4)
print("eta", [round(eta(x, .4), 3) for x in (1, .7, .5, .3, .2)], eta(1, .4, Tb=110))

# --- heat up and boil
M, cp = 28.0, 4000.0
for P, UA in ((2500, 0), (3500, 8), (5000, 8)):
    if UA:
        tt = -(M * cp / UA) * math.log((P - UA * (100 - 20)) / (P - UA * (66 - 20)))
    else:
        tt = M * cp * 34 / P
    t.add("time to heat 28 kg from 66 to 100 C", {"P into liquid": f"{P} W", "UA": f"{UA} W/K", "cp": "4000 J/(kg K)", "Tair": "20 C"}, tt, "s", 0.5, "worked-example", "closed form of the heat-up balance", 6)
for P in (2.5, 3.5, 5.0, 8.0):
    t.add("boil-off", {"P into liquid": f"{P} kW", "dry losses": "600 W"}, (P * 1000 - 600) / L100 * 3600, "kg/h", "0.2%", "worked-example", "energy balance of the boil, latent heat from CoolProp", 5)
m0 = 28.0 * rho(10.5, 20) / 1000
m1 = m0 - 4.0
P1 = 10.5 * m0 / m1
t.add("concentration in the boil", {"V": "28.0 L at 20 C", "P": 10.5, "boil-off": "4.0 kg"}, P1, "degP", 0.002, "worked-example", "mass balance, ICUMSA density", 6)
t.add("volume after, at 20 C", {"as": "above"}, m1 / rho(P1, 20) * 1000, "L", 0.003, "worked-example", "mass balance, ICUMSA density", 6)
t.add("volume after, at 99 C", {"as": "above"}, m1 / rho(P1, 99) * 1000, "L", 0.005, "worked-example", "mass balance, ICUMSA density", 6)
mh = 28.0 * rho(10.5, 99) / 1000
t.add("same, 28.0 L read at 99 C instead: extract after", {"V": "28.0 L at 99 C", "P": 10.5, "boil-off": "4.0 kg"}, 10.5 * mh / (mh - 4), "degP", 0.002, "worked-example", "mass balance, ICUMSA density", 6)
# cooling with the lid on
for UA in (3, 5):
    C = 28 * 4000 + 5 * 500
    t.add("kettle with lid, 60 min from 67 C", {"C": f"{C} J/K", "UA": f"{UA} W/K", "Tair": "20 C"}, 20 + 47 * math.exp(-UA * 3600 / C), "C", 0.01, "worked-example", "Newton cooling", 5)

# --- boiling base: Rohsenow
W = lambda prop, Q: PropsSI(prop, "T", 373.124, "Q", Q, "Water")
for q in (20e3, 50e3):
    te = brentq(lambda dT: ht.boiling_nucleic.Rohsenow(rhol=W("D", 0), rhog=W("D", 1), mul=W("V", 0), kl=W("L", 0), Cpl=W("C", 0), Hvap=L100, sigma=PropsSI("I", "T", 373.124, "Q", 0, "Water"), Te=dT, Csf=0.013, n=1) * dT - q, 0.5, 40)
    t.add("base superheat in a rolling boil, water", {"q": f"{q/1000:.0f} kW/m2", "Csf": 0.013}, te, "K", "30%", "library", "ht 1.2.0, Rohsenow relation", 3)
    print("Rohsenow", q, te)

# --- foam
mv = 4.627 / 3600
j = mv / (PropsSI("D", "T", 373.124, "Q", 1, "Water") * math.pi / 4 * .36**2)
t.add("vapour velocity through the surface", {"boil-off": "4.627 kg/h", "D": "0.36 m"}, j, "m/s", "1%", "worked-example", "continuity, vapour density from CoolProp", 4)
t.add("foam height at foam life 4 s", {"as": "above", "foam life": "4 s"}, 4 * j * 1000, "mm", "1%", "worked-example", "foam height as life times gas velocity (Bikerman's unit), arithmetic", 3)
print("j", j)


# --- DMS
def k_smm(T, pH=5.4):
    half = 35 * 2 ** ((100 - T) / 6) * math.exp(-0.521 * (pH - 5.4))
    return math.log(2) / half


for T, pH, m in ((100, 5.4, 60), (100, 5.4, 90), (100, 5.2, 60), (95, 5.4, 60)):
    t.add("share of DMS precursor left", {"T": f"{T} C", "pH": pH, "t": f"{m} min"}, math.exp(-k_smm(T, pH) * m), "-", 1e-3, "published", "first order, half-life 35 min (Wilson & Booer 1979), doubling per 6 K, arithmetic", 4)
t.add("rate constant of DMS precursor in boiling wort", {"T": "100 C"}, "0.02", "1/min", 0.002, "published", "Wilson & Booer 1979")
t.add("half-life of DMS precursor, pH 5.2", {"T": "100 C"}, "38", "min", 2.0, "published", "Dickenson 1979")
t.add("half-life of DMS precursor, pH 5.5", {"T": "100 C"}, "32.5", "min", 2.0, "published", "Dickenson 1979")
t.add("rate of free DMS leaving a boil of 17 %/h", {"evaporation": "17 %/h"}, "0.18", "1/min", 0.02, "published", "Wilson & Booer 1979")
print("stripping factor K =", 0.18 / (0.17 / 60))
S0 = 1000.0
kv = 63.5 * (4.6 / 27) / 60
sol = solve_ivp(lambda tm, y: [-k_smm(100) * y[0], k_smm(100) * y[0] - kv * y[1]], (0, 60), [S0, 0], rtol=1e-10, atol=1e-9)
S1, D1 = sol.y[:, -1]
t.add("DMS precursor after 60 min boil", {"S0": "1000 ug/L", "T": "100 C", "pH": 5.4, "boil-off": "4.6 kg/h of 27 kg"}, S1, "ug/L", 1, "library", "scipy on first-order DMS release and stripping", 5)
t.add("free DMS after 60 min boil", {"as": "above", "K": 63.5}, D1, "ug/L", 0.5, "library", "scipy on first-order DMS release and stripping", 4)
f = lambda tm, y: [-k_smm(98 - 18 * tm / 20) * y[0], k_smm(98 - 18 * tm / 20) * y[0]]
s2 = solve_ivp(f, (0, 20), [S1, D1], rtol=1e-10, atol=1e-9).y[:, -1]
t.add("free DMS after a covered stand 98 to 80 C in 20 min", {"as": "above"}, s2[1], "ug/L", 0.5, "library", "scipy on first-order DMS release and stripping", 4)
print("DMS", S1, D1, s2)
Ea = 8.314462 * math.log(2) / (1 / (94 + 273.15) - 1 / (100 + 273.15))
t.add("activation energy implied by doubling per 6 K", {"T": "94-100 C"}, Ea / 1000, "kJ/mol", 1, "published", "arithmetic on the doubling rule", 4)

# --- colour
for mcu in (5, 10, 20, 40):
    t.add("beer colour from grist", {"MCU": mcu}, 1.4922 * mcu**0.6859, "SRM", 0.02, "common-practice", "power law of Morey (letter, about 1995), arithmetic; an agreement among brewers, not a measurement", 5)
t.add("grist colour units", {"malt": "4.5 kg at 2 degL", "V": "20 L"}, 4.5 * 2 / 20 * 2.20462 * 3.785412, "MCU", 0.01, "worked-example", "lb degL per US gal", 5)
t.add("EBC from SRM", {"SRM": 10}, 19.7, "EBC", 0.05, "published", "EBC = 25 A430, SRM = 12.7 A430")
t.write()
