"""Makes checks/ferment.csv. Needs: scipy, chemicals."""
import math

import numpy as np
from scipy.integrate import solve_ivp

from check_rows import Table
from wortlib import *

t = Table("ferment")


# ---------------------------------------------------------------- Gee & Ramirez
GR = dict(VG=(35.77, -22.6), VM=(16.4, -11.3), VN=(10.59, -7.16), KG=(-121.3, 68.6), KM=(-19.15, 14.4), KN=(-26.78, 19.9), KpG=(23.33, -10.2), KpM=(55.61, -26.3))


def gee(T, hours, y0=(100, 220, 40, 180, 0)):
    RT = 1.987e-3 * (T + 273.15)
    c = {k: math.exp(a + b / RT) for k, (a, b) in GR.items()}

    def f(tm, y):
        G, M, N, X, E = (max(v, 0) for v in y)
        mG = c["VG"] * G / (c["KG"] + G)
        mM = c["VM"] * M / (c["KM"] + M) * c["KpG"] / (c["KpG"] + G)
        mN = c["VN"] * N / (c["KN"] + N) * c["KpG"] / (c["KpG"] + G) * c["KpM"] / (c["KpM"] + M)
        return [-mG * X, -mM * X, -mN * X, (.134 * mG + .268 * mM + .402 * mN) * X, (1.92 * mG + 3.84 * mM + 5.76 * mN) * X]
    return solve_ivp(f, (0, hours), y0, rtol=1e-9, atol=1e-8, method="LSODA", dense_output=True)


def toro(T, hours):
    K = T + 273.15
    mx0 = math.exp(108.31 - 31934.09 / K); yea = math.exp(89.92 - 26589 / K); ms0 = math.exp(-41.92 + 11654.64 / K)
    mL = math.exp(30.72 - 9501.54 / K); mDT = math.exp(130.16 - 38313 / K); mSD0 = math.exp(33.82 - 10033.28 / K)
    me0 = math.exp(3.27 - 1267.24 / K); ks = math.exp(-119.63 + 34203.95 / K); S0 = 130.0

    def f(tm, y):
        XA, XL, XD, S, E, DY, EA = y
        S = max(S, 0)
        mx = mx0 * S / (.5 * S0 + E); mSD = mSD0 * .5 * S0 / (.5 * S0 + E)
        ms = ms0 * S / (ks + S); me = me0 * S / (ks + S); fi = 1 - E / (.5 * S0)
        return [mx * XA - mDT * XA + mL * XL, -mL * XL, mDT * XA - mSD * XD, -ms * XA, fi * me * XA,
                1.27672e-4 * S * XA - 1.13864e-3 * DY * E, yea * mx * XA]
    return solve_ivp(f, (0, hours), [.08, 1.92, 2, S0, 0, 0, 0], rtol=1e-9, atol=1e-9, method="LSODA", dense_output=True)


G0 = {"glucose0_mol_m3": 100, "maltose0_mol_m3": 220, "maltotriose0_mol_m3": 40, "yeast0_mol_m3": 180, "ethanol0_mol_m3": 0}
T0_ = {"x_active0_g_l": 0.08, "x_lag0_g_l": 1.92, "x_dead0_g_l": 2, "sugar0_g_l": 130}
GRS = "Gee & Ramirez 1994 model and constants, scipy LSODA"
TOS = "de Andres-Toro et al. 1998 model and constants, scipy LSODA"
for T, h in ((12, 24), (12, 48), (12, 96), (16, 48), (16, 100)):
    y = gee(T, h).y[:, -1]
    t.add("maltose, growth model", {"T": f"{T} C", "t": f"{h} h", **G0}, float(y[1]), "mol/m3", 0.05, "published", GRS, 6)
    t.add("ethanol, growth model", {"T": f"{T} C", "t": f"{h} h", **G0}, float(y[4]), "mol/m3", 0.2, "published", GRS, 6)
for T, h in ((10, 96), (12, 48), (12, 72), (14, 48)):
    y = toro(T, h).y[:, -1]
    t.add("sugar, industrial lager model", {"T": f"{T} C", "t": f"{h} h", **T0_}, float(y[3]), "g/L", 0.02, "published", TOS, 5)
    t.add("ethanol, industrial lager model", {"T": f"{T} C", "t": f"{h} h", **T0_}, float(y[4]), "g/L", 0.02, "published", TOS, 5)
    t.add("diacetyl, industrial lager model", {"T": f"{T} C", "t": f"{h} h", **T0_}, float(y[5]), "mg/L", 0.003, "published", TOS, 4)

# half and nearly-done times of the two published lager models
for name, fn, conc in (("Gee-Ramirez", gee, lambda y: 180.16 * y[0] + 342.3 * y[1] + 504.4 * y[2]), ("Andres-Toro", toro, lambda y: y[3])):
    for T in (10, 12, 14):
        s = fn(T, 500); g = np.linspace(0, 500, 5001); v = np.array([conc(s.sol(x)) for x in g]); a = 1 - v / v[0]
        q = {lv: float(g[np.argmax(a >= lv)]) for lv in (.05, .5, .95)}
        print(name, T, q)


# ---------------------------------------------------------------- the engineering model of a fermentation
def eng(r20, q10, a0, p, Tfun, hours, y0=0.0):
    f = lambda tm, y: [r20 * q10 ** ((Tfun(tm) - 20) / 10) * (y[0] + a0) * max(1 - y[0], 0) ** p]
    return solve_ivp(f, (0, hours), [y0], rtol=1e-9, atol=1e-11, dense_output=True)


def closed(r, a0, h):
    return (1 + a0) / (1 + math.exp(-r * (1 + a0) * h) / a0) - a0


s = eng(.10, 2.2, .02, 1.0, lambda h: 20, 48)
t.add("share of fermentable extract gone, constant 20 C", {"r20": "0.10 1/h", "a0": 0.02, "p": 1, "t": "48 h"}, closed(.10, .02, 48), "-", 1e-6, "worked-example", "closed form of the fermentation rate law (own model)", 7)
print("closed vs ode", closed(.10, .02, 48), float(s.y[0, -1]))
s = eng(.10, 2.2, .02, 1.3, lambda h: 18, 72)
t.add("share of fermentable extract gone", {"r20": "0.10 1/h", "Q10": 2.2, "a0": 0.02, "p": 1.3, "T": "18 C", "t": "72 h"}, float(s.y[0, -1]), "-", 1e-5, "library", "scipy on the fermentation rate law (own model)", 6)
s = eng(.10, 2.2, .02, 1.3, lambda h: 18 + min(h / 24, 4), 60)
t.add("share of fermentable extract gone, 18 C rising 1 K/d", {"r20": "0.10 1/h", "Q10": 2.2, "a0": 0.02, "p": 1.3, "t": "60 h"}, float(s.y[0, -1]), "-", 1e-5, "library", "scipy on the fermentation rate law (own model)", 6)


def times(r20, q10, a0, p, T):
    s = eng(r20, q10, a0, p, lambda h: T, 700); g = np.linspace(0, 700, 7001); a = s.sol(g)[0]
    return {lv: float(g[np.argmax(a >= lv)]) for lv in (.05, .5, .95)}


print("ale  r.10 a0.02 p1.3 19C", times(.10, 2.2, .02, 1.3, 19))
print("lager r.075 a0.03 p1.2 11C", times(.075, 2.4, .03, 1.2, 11), "12C", times(.075, 2.4, .03, 1.2, 12))
print("kveik r.11 a0.03 33C", times(.10, 1.7, .03, 1.3, 33))

# ---------------------------------------------------------------- heat, CO2, pitch, oxygen
OG, FG, V = 1.048, 1.010, 20.0
OE, AE = asbc(OG), asbc(FG); RE = real_extract(OE, AE); A = alcohol(OE, RE)
mw = V * OG * rho_w(20) / 1000
# Balling: 100 g beer comes from (100 + 1.0665 A) g wort
mb = mw * 100 / (100 + 1.0665 * A)
eth = mb * A / 100; dE = 2.0665 * eth; co2 = 0.9565 * eth
t.add("extract fermented", {"V": "20 L", "OG": OG, "FG": FG}, dE, "kg", 0.003, "published", "Balling balance, arithmetic", 5)
t.add("ethanol made", {"as": "above"}, eth, "kg", 0.002, "published", "Balling balance, arithmetic", 5)
t.add("carbon dioxide made", {"as": "above"}, co2, "kg", 0.002, "published", "Balling balance, arithmetic", 5)
t.add("yeast dry matter made", {"as": "above"}, 0.11 * eth, "kg", 0.002, "published", "Balling balance, arithmetic", 4)
t.add("heat of fermentation", {"as": "above", "q": "586 kJ/kg"}, dE * 586, "kJ", 3, "published", "252 BTU/lb of the brewing trade; see the thermochemistry row", 5)
t.add("rise without loss", {"as": "above", "cp": "4000 J/(kg K)"}, dE * 586e3 / (mb * 4000), "K", 0.1, "worked-example", "heat balance", 4)
t.add("balance: extract = ethanol + CO2 + yeast", {"ethanol": "1 g"}, "2.0665", "g", 0.0001, "published", "Balling: 1 + 0.9565 + 0.11", 5)
print("ferment", dE, eth, co2, mb, dE * 586, dE * 586e3 / (mb * 4000))
F_ = 0.66; e_ = 12 * F_ / 2.0665
t.add("real extract from the fermented share", {"OE": 12, "F": F_}, 100 * 12 * (1 - F_) / (100 - 1.0665 * e_), "degP", 1e-3, "published", "Balling balance of the fermented share, arithmetic", 5)
t.add("alcohol from the fermented share", {"OE": 12, "F": F_}, 100 * e_ / (100 - 1.0665 * e_), "g/100 g", 1e-3, "published", "Balling balance of the fermented share, arithmetic", 5)
# thermochemistry of maltose -> ethanol(aq) + CO2(g)
Hf = dict(maltose_aq=-2238.1, glucose_aq=-1263.1, water=-285.83, eth_aq=-288.3, co2g=-393.51)
qm = -(4 * Hf["eth_aq"] + 4 * Hf["co2g"] - Hf["maltose_aq"] - Hf["water"]); qg = -(2 * Hf["eth_aq"] + 2 * Hf["co2g"] - Hf["glucose_aq"])
import chemicals
def hfs(name):
    cas = chemicals.CAS_from_any(name)
    return {"s": chemicals.Hfs(cas), "l": chemicals.Hfl(cas), "g": chemicals.Hfg(cas)}
try:
    su, et, wa, co = hfs("sucrose"), hfs("ethanol"), hfs("water"), hfs("carbon dioxide")
    q_pure = -(4 * et["l"] + 4 * co["g"] - su["s"] - wa["l"]) / 1000
    q_aq = q_pure + 4 * 10.6 + 5.4     # heat of solution of ethanol -10.6, of sucrose +5.4 kJ/mol
    print("sucrose kJ/mol pure", q_pure, "aq", q_aq, "kJ/kg", q_aq / .3423)
    t.add("heat of fermentation of sucrose from heats of formation", {"states": "sugar and ethanol in water, CO2 gas"}, q_aq / .3423, "kJ/kg", 25, "library", "chemicals 1.5.2 heats of formation; heats of solution -10.6 and +5.4 kJ/mol from memory", 4)
except Exception as e:
    print("chemicals", e)
print("maltose", qm, qm / .3423, "glucose", qg, qg / .18016)
t.add("heat of fermentation in use, range", {}, "586-652", "kJ/kg", "", "published", "brewing trade 252 BTU/lb = 586; 651-652 in cooling practice and Boulton 1979")
t.add("cells to pitch, ale", {"V": "20 L", "P": 12, "rate": "0.75e6 per mL and degP"}, "180e9", "cells", "1%", "published", "Fix, Principles of Brewing Science; arithmetic")
t.add("cells to pitch, lager", {"V": "20 L", "P": 12, "rate": "1.5e6 per mL and degP"}, "360e9", "cells", "1%", "published", "Fix, arithmetic")
for T, o in ((0, 14.6), (5, 12.8), (10, 11.3), (15, 10.1), (20, 9.09), (25, 8.26), (30, 7.56)):
    t.add("oxygen in air-saturated water", {"T": f"{T} C", "p": "101.325 kPa"}, f"{o}", "mg/L", 0.05, "published", "EN 25814 table")
for T, w, o in ((10, 10.9, 8.0), (20, 8.9, 6.6)):
    t.add("oxygen in air-saturated wort of 15 degP", {"T": f"{T} C"}, f"{o}", "mg/L", 0.4, "handbook", f"Oxford Companion to Beer, entry oxygen; the same entry gives {w} for water")
def o2w(T): return 14.603 - 0.4021 * T + 7.69e-3 * T**2 - 6.92e-5 * T**3
print("O2 fit", [(T, round(o2w(T), 2)) for T in (0, 5, 10, 15, 20, 25, 30)], "15P", [round(o2w(T) * (1 - .0177 * 15), 2) for T in (10, 20)])
for T in (10, 20):
    t.add("oxygen in air-saturated wort, water law lowered by extract", {"T": f"{T} C", "P": 15}, o2w(T) * (1 - .0177 * 15), "mg/L", 0.05, "worked-example", "oxygen of water lowered by extract, arithmetic", 4)
co2m3 = co2 / 44.01 * 8.314462 * 293.15 / 101325 * 1000
EX = {"V": "20 L", "OG": OG, "FG": FG}
t.add("volume of that carbon dioxide at 20 C", EX, co2m3 * 1000, "L", 2, "worked-example", "ideal gas", 4)
t.add("share in a sealed room", {**EX, "room_m3": 30}, co2m3 / 30 * 100, "% v/v", 0.02, "worked-example", "ideal gas", 3)
# ---------------------------------------------------------------- fermenter temperature
UA = 4.0
def therm(r20, T0, Ta):
    M = mb
    def f(tm, y):
        a, T = y
        da = r20 * 2.2 ** ((T - 20) / 10) * (a + .02) * max(1 - a, 0) ** 1.3
        return [da, (586e3 * dE * da - UA * 3600 * (T - Ta)) / (M * 4000)]
    s = solve_ivp(f, (0, 200), [0, T0], rtol=1e-9, atol=1e-9, max_step=.5)
    return float(s.y[1].max()), float(s.t[s.y[1].argmax()])
mx, tmx = therm(.10, 19, 19)
t.add("highest temperature of an uncooled fermenter", {"V": "20 L", "OG": 1.048, "FG": 1.010, "r20": "0.10 1/h", "Q10": 2.2, "a0": 0.02, "p": 1.3, "UA": "4 W/K", "T0=Tair": "19 C"}, mx, "C", 0.02, "library", "scipy on the fermentation rate law with its heat (own model)", 5)
print("peak", mx, tmx, therm(.16, 19, 19))
# ---------------------------------------------------------------- diacetyl
def diac(Tfun, hours, y_al=8e-6, kd20=.035, q_d=3.0, kr20=.15, q_r=2.5):
    # per litre: real extract fermented 100 g/L in total, acetolactate in mg/L
    def f(tm, y):
        a, AL, DY = y
        T = Tfun(tm)
        da = .10 * 2.2 ** ((T - 20) / 10) * (a + .02) * max(1 - a, 0) ** 1.3
        kd = kd20 * q_d ** ((T - 20) / 10); kr = kr20 * q_r ** ((T - 20) / 10)
        return [da, 1.0 * da - kd * AL, .652 * kd * AL - kr * DY]
    return solve_ivp(f, (0, hours), [0, 0, 0], rtol=1e-9, atol=1e-10, dense_output=True)
for T in (11, 19):
    s = diac(lambda h: T, 700); g = np.linspace(0, 700, 7001); y = s.sol(g); tot = y[2] + .652 * y[1]
    print("diacetyl", T, "peak potential", tot.max(), "t<0.1:", float(g[np.where(tot > .1)[0].max()]), "a=.95 at", float(g[np.argmax(y[0] >= .95)]))
s = diac(lambda h: 19, 168)
y = s.y[:, -1]
t.add("potential diacetyl after 7 d at 19 C", {"acetolactate made": "1.0 mg/L", "k_d20": "0.035 1/h", "Q_d": 3.0, "k_r20": "0.15 1/h", "Q_r": 2.5, "r20": "0.10 1/h", "Q10": 2.2, "a0": 0.02, "p": 1.3}, float(y[2] + .652 * y[1]), "mg/L", 0.002, "library", "scipy on acetolactate decay and diacetyl reduction (own model)", 4)
t.write()
