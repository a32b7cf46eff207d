"""Makes checks/chill.csv. Needs: ht, fluids, CoolProp, scipy."""
import math

import ht
from CoolProp.CoolProp import PropsSI
from scipy.integrate import solve_ivp

from check_rows import Table

t = Table("chill")
CLOSED = "closed form of a stirred pot with a coil in plug flow"
cp, cc = 3980.0, 4184.0


def coil(M, UA, mc, Tc, T0, T1):
    eps = 1 - math.exp(-UA / (mc * cc))
    K = eps * mc * cc / (M * cp)
    s = math.log((T0 - Tc) / (T1 - Tc)) / K
    return eps, K, s


for M, UA, mc, Tc, T1 in ((20.9, 300, .10, 15, 20), (20.9, 300, .10, 15, 25), (20.9, 300, .10, 10, 20), (41.9, 450, .133, 12, 20)):
    e, K, s = coil(M, UA, mc, Tc, 100, T1)
    inp = {"M": f"{M} kg", "UA": f"{UA} W/K", "mc": f"{mc} kg/s", "Tc": f"{Tc} C", "T0": "100 C", "T1": f"{T1} C"}
    t.add("coil chilling time", inp, s, "s", 0.5, "worked-example", CLOSED, 6)
    t.add("coil chilling water", inp, s * mc, "kg", 0.1, "worked-example", CLOSED, 5)
e, K, s = coil(20.9, 300, .10, 15, 100, 20)
t.add("coil effectiveness", {"UA": "300 W/K", "mc": "0.10 kg/s"}, e, "-", 1e-5, "library" if abs(ht.effectiveness_from_NTU(NTU=300 / (.1 * cc), Cr=0.0, subtype="boiler") - e) < 1e-9 else "worked-example", "ht 1.2.0, effectiveness_from_NTU with Cr=0", 6)
R1 = {"M": "20.9 kg", "UA": "300 W/K", "mc": "0.10 kg/s", "Tc": "15 C", "T0": "100 C"}
t.add("wort temperature in a coil-chilled kettle", {**R1, "t": "600 s"}, 15 + 85 * math.exp(-K * 600), "C", 1e-3, "worked-example", CLOSED, 6)
t.add("water leaving the coil", {**R1, "t": "0 s"}, 15 + e * 85, "C", 0.01, "worked-example", CLOSED, 5)
# counterflow
for mw, mc, UA in ((.05, .10, 400), (.05, .05, 400), (.08, .15, 900), (.0333, .10, 500)):
    r = ht.effectiveness_NTU_method(mh=mw, mc=mc, Cph=cp, Cpc=cc, Thi=95, Tci=15, UA=UA, subtype="counterflow")
    inp = {"m_wort": f"{mw} kg/s", "m_water": f"{mc} kg/s", "UA": f"{UA} W/K", "T_wort_in": "95 C", "T_water_in": "15 C", "cp_wort": 3980, "cp_water": 4184}
    t.add("counterflow chiller, wort out", inp, r["Tho"], "C", 0.01, "library", "ht 1.2.0, effectiveness_NTU_method", 5)
    t.add("counterflow chiller, water out", inp, r["Tco"], "C", 0.01, "library", "ht 1.2.0, effectiveness_NTU_method", 5)
e = ht.effectiveness_from_NTU(NTU=600 / (.1 * cp), Cr=cp / cc, subtype="counterflow")
K = e * .1 * cp / (20.9 * cp)
t.add("counterflow chiller returning to a mixed kettle, 100 to 25 C", {"m_wort": "0.10 kg/s", "m_water": "0.10 kg/s", "UA": "600 W/K", "M": "20.9 kg", "Tc": "15 C"}, math.log(85 / 10) / K, "s", 0.5, "library", "ht 1.2.0 effectiveness, closed form", 5)

# --- film coefficients of a coil
def water(T):
    K = T + 273.15
    P = lambda k: PropsSI(k, "T", K, "P", 101325, "Water")
    return dict(rho=P("D"), mu=P("V"), k=P("L"), cp=P("C"), beta=P("isobaric_expansion_coefficient"))


def h_in(mc, di, T, Dcoil=0.25):
    w = water(T)
    v = mc / (w["rho"] * math.pi / 4 * di**2)
    Re = w["rho"] * v * di / w["mu"]; Pr = w["mu"] * w["cp"] / w["k"]
    f = (0.790 * math.log(Re) - 1.64) ** -2
    Nu = ht.turbulent_Gnielinski(Re, Pr, f)
    return Nu * w["k"] / di, Re


def h_out_still(Twort, Twall, do):
    w = water(0.5 * (Twort + Twall))
    Pr = w["mu"] * w["cp"] / w["k"]
    Gr = 9.80665 * w["beta"] * (Twort - Twall) * do**3 * w["rho"] ** 2 / w["mu"] ** 2
    return ht.Nu_horizontal_cylinder_Churchill_Chu(Pr, Gr) * w["k"] / do


def h_out_stir(u, T, do):
    w = water(T)
    Pr = w["mu"] * w["cp"] / w["k"]
    return ht.conv_external.Nu_cylinder_Churchill_Bernstein(w["rho"] * u * do / w["mu"], Pr) * w["k"] / do


do, di = 9.53e-3, 8.0e-3
Acoil = math.pi * do * 15.2
t.add("outer area of a coil", {"do": "9.53 mm", "length": "15.2 m"}, Acoil, "m2", 1e-3, "worked-example", "geometry", 4)
hi, Re = h_in(.10, di, 30)
ho = h_out_still(60, 30, do)
t.add("film inside a coil tube, water", {"mc": "0.10 kg/s", "di": "8.0 mm", "T": "30 C"}, hi, "W/(m2 K)", "10%", "library", "ht 1.2.0, Gnielinski with a smooth-tube friction factor, straight tube", 4)
t.add("film outside a coil tube, still water", {"T": "60 C", "Twall": "30 C", "do": "9.53 mm"}, ho, "W/(m2 K)", "10%", "library", "ht 1.2.0, Churchill-Chu horizontal cylinder", 4)
print("hi", hi, Re, "ho still", ho, [(u, round(h_out_stir(u, 60, do))) for u in (.05, .1, .2, .3, .5)])
for u in (0.1, 0.3):
    t.add("film outside a coil tube, stirred", {"u": f"{u} m/s", "T": "60 C", "do": "9.53 mm"}, h_out_stir(u, 60, do), "W/(m2 K)", "10%", "library", "ht 1.2.0, Churchill-Bernstein cross flow, water", 4)
for lab, h in (("still, one turn alone", ho), ("stirred 0.1 m/s", h_out_stir(.1, 60, do)), ("stirred 0.3 m/s", h_out_stir(.3, 60, do))):
    U = 1 / (1 / h + do / di / hi)
    print(lab, "U", round(U), "UA", round(U * Acoil))
U = 1 / (1 / h_out_stir(.1, 60, do) + do / di / hi)
t.add("coil U stirred at 0.1 m/s, copper", {"mc": "0.10 kg/s", "di": "8.0 mm", "do": "9.53 mm", "u": "0.1 m/s", "T": "60 C"}, U, "W/(m2 K)", "12%", "library", "ht 1.2.0 films in series", 4)
# --- ice
m, T0, T1 = 20.9, 35.0, 20.0
ice = m * 3980 * (T0 - T1) / (333550 + 4200 * T1)
t.add("clean ice put into wort", {"M": "20.9 kg", "from": "35 C", "to": "20 C", "ice": "0 C"}, ice, "kg", 0.01, "worked-example", "heat of melting 333.55 kJ/kg (CRC), heat balance", 4)
t.add("heat taken by 5 kg ice in a bath ending at 5 C", {"ice": "5 kg at 0 C"}, 5 * (333.55 + 4.2 * 5), "kJ", 1, "worked-example", "heat balance", 5)
# --- overnight in a sealed can
UA, C = 4.5, 20.9 * 3980
t.add("sealed 20 L can cooling in air, time to 30 C", {"C": f"{C:.0f} J/K", "UA": f"{UA} W/K", "T0": "95 C", "Tair": "20 C"}, C / UA * math.log(75 / 10) / 3600, "h", 0.05, "worked-example", "Newton cooling", 4)
k1 = lambda T: 7.9e11 * math.exp(-11858 / (T + 273.15)); k2 = lambda T: 4.1e12 * math.exp(-12994 / (T + 273.15))
Tt = lambda s: 20 + 75 * math.exp(-s * 60 * UA / C)
y = solve_ivp(lambda s, y: [-k1(Tt(s)) * y[0], k1(Tt(s)) * y[0] - k2(Tt(s)) * y[1]], (0, 1200), [1, 0], rtol=1e-10, atol=1e-12).y[:, -1]
CAN = {"C": f"{C:.0f} J/K", "UA": f"{UA} W/K", "T0": "95 C", "Tair": "20 C", "t": "1200 min"}
t.add("iso-alpha from hops carried into that can, share of alpha", CAN, float(y[1]), "-", 1e-3, "library", "scipy on the Malowicki & Shellhammer constants", 4)
ks = lambda T: math.log(2) / (35 * 2 ** ((100 - T) / 6))
q = solve_ivp(lambda s, y: [-ks(Tt(s)) * y[0]], (0, 1200), [1], rtol=1e-10, atol=1e-12).y[0, -1]
t.add("DMS precursor turned into DMS in that can", {**CAN, "pH": 5.4}, float(1 - q), "-", 1e-3, "library", "scipy on first-order DMS release and stripping", 4)
print("no chill iso", y, "SMM converted", 1 - q)
t.write()
