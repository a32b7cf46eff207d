"""Makes checks/wort.csv. Needs: iapws, CoolProp, scipy."""
import math

from CoolProp.CoolProp import PropsSI
from iapws import IAPWS95
from scipy.optimize import brentq

from check_rows import Table
from wortlib import *

t = Table("wort")
ICU = "ICUMSA sucrose density (Bubnik et al. 1995), arithmetic on its coefficients"

# --- water against IAPWS-95
for T in (4, 20, 40, 66, 80, 99.9):
    w = IAPWS95(T=T + 273.15, P=0.101325)
    t.add("water density", {"T": f"{T} C", "p": "101.325 kPa"}, w.rho, "kg/m3", 0.02, "library", "iapws 1.5.5, IAPWS-95")
for T in (20, 66, 95):
    w = IAPWS95(T=T + 273.15, P=0.101325)
    t.add("water heat capacity", {"T": f"{T} C"}, w.cp * 1000, "J/(kg K)", 5, "library", "iapws 1.5.5, IAPWS-95", 6)
    t.add("water viscosity", {"T": f"{T} C"}, w.mu * 1e6, "uPa s", "1%", "library", "iapws 1.5.5, IAPWS", 6)
    t.add("water conductivity", {"T": f"{T} C"}, w.k, "W/(m K)", "1%", "library", "iapws 1.5.5, IAPWS", 5)

# --- sucrose density
for P, T, tol in ((5, 20, .01), (12, 20, .01), (12, 40, .02), (12, 60, .02), (12, 80, .02), (20, 20, .01), (25, 80, .02)):
    t.add("wort density", {"P": P, "T": f"{T} C"}, rho(P, T), "kg/m3", tol, "published", ICU)
# handbook table of sucrose solutions, specific gravity 20/20 by weight in air
SGT = {1: 1.00387, 2: 1.00777, 3: 1.01170, 5: 1.01964, 8: 1.03179, 10: 1.04002, 12: 1.04836, 14: 1.05681, 16: 1.06541,
       18: 1.07412, 20: 1.08297, 22: 1.09193, 24: 1.10101}
worst = 0
for P, S in SGT.items():
    t.add("specific gravity 20/20, weights in air", {"P": P}, f"{S:.5f}", "-", 0.0001, "handbook",
          "sucrose table, Appendix I Table 1-1 of the food handbook ISBN 978-1-4757-6967-8")
    print("SG", P, S, "apparent", round(sg20_apparent(P) - S, 6), "true", round(sg20_true(P) - S, 6), "ASBC", round(asbc_inv(P) - S, 6))
    worst = max(worst, abs(sg20_apparent(P) - S), abs(asbc_inv(P) - S))
print("worst |model - handbook SG|", worst)
t.add("sucrose solution weight in air at 20 C", {"P": 10}, "8.65468", "lb/US gal", 0.0015, "handbook",
      "same table; 1 lb/US gal = 119.8264 kg/m3")
print("lb/gal check", (rho(10, 20) - AIR * (1 - rho(10, 20) / BRASS)) / 119.8264, rho(10, 20) / 119.8264)
for S in (1.030, 1.048, 1.080):
    t.add("extract from SG 20/20, ASBC cubic", {"SG": S}, asbc(S), "degP", 0.002, "published", "ASBC polynomial, arithmetic")
    t.add("extract from true SG 20/20", {"SG": S}, plato_from_sg20(S), "degP", 0.002, "published", ICU)
print("max |ASBC - ICUMSA| 2..25 P:", max(abs(asbc(sg20_apparent(P)) - P) for P in range(2, 26)))
print("ASBC at S=1:", asbc(1.0), " NBS at S=1:", nbs(1.0))
for P in (8, 12, 20):
    t.add("SG 20/20 from extract, NBS cubic", {"P": P}, brentq(lambda S: nbs(S) - P, .98, 1.2), "-", 0.00005, "published",
          "NBS polynomial, root by scipy")
t.add("thermal shrinkage of wort", {"P": 12, "from": "100 C", "to": "20 C"}, 1 - rho(12, 100) / rho(12, 20), "-", 2e-5, "published", ICU, 5)
t.add("thermal shrinkage of wort", {"P": 12, "from": "66 C", "to": "20 C"}, 1 - rho(12, 66) / rho(12, 20), "-", 2e-5, "published", ICU, 5)
# --- mixing
m1, m2 = 10 * rho(18, 66) / 1000, 10 * rho_w(66) / 1000
Pm = 18 * m1 / (m1 + m2)
t.add("mixing: extract of 10 L of 18 P and 10 L of water, both at 66 C", {"P1": 18, "V1": "10 L", "V2": "10 L", "T": "66 C"}, Pm, "degP", 1e-3, "worked-example", "mass balance, densities by " + ICU)
t.add("mixing: volume at 66 C", {"as": "above"}, (m1 + m2) / rho(Pm, 66) * 1000, "L", 2e-3, "worked-example", "mass balance, densities by " + ICU)
print("mix vol", (m1 + m2) / rho(Pm, 66) * 1000)
# --- hydrometer
for P, T, Tc in ((12, 20, 20), (12, 40, 20), (12, 60, 20), (8, 30, 15.56), (12, 10, 20)):
    t.add("hydrometer reading", {"P": P, "T": f"{T} C", "Tcal": f"{Tc} C", "beta": "25e-6 /K"}, hydrometer(rho(P, T), T, Tc), "SG", 2e-5,
          "worked-example", "float balance with glass expansion; density by " + ICU)
    print("hydro", P, T, Tc, hydrometer(rho(P, T), T, Tc))
h = lambda P: hydrometer(rho(P, 35.0), 35.0, 20) - 1.0400
P35 = brentq(h, 0, 30)
t.add("extract from hydrometer", {"reading": 1.0400, "T": "35 C", "Tcal": "20 C"}, P35, "degP", 0.003, "worked-example", "root of the row type above")
t.add("hydrometer reading in pure water", {"P": 0, "T": "30 C", "Tcal": "15 C", "beta": "25e-6 /K"},
      IAPWS95(T=303.15, P=0.101325).rho * (1 + 25e-6 * 15) / IAPWS95(T=288.15, P=0.101325).rho, "SG", 1e-5, "library", "iapws 1.5.5 densities, float balance with glass expansion")
# sensitivities
d = 1e-4
print("dR/dP", (hydrometer(rho(12 + d, 20), 20, 20) - hydrometer(rho(12, 20), 20, 20)) / d, "dR/dT 20", (hydrometer(rho(12, 20 + d), 20 + d, 20) - hydrometer(rho(12, 20), 20, 20)) / d,
      "dR/dT 60", (hydrometer(rho(12, 60 + d), 60 + d, 20) - hydrometer(rho(12, 60), 60, 20)) / d)
# --- heat capacity etc.
for P, T in ((12, 20), (12, 66), (12, 100), (20, 66)):
    t.add("wort heat capacity", {"P": P, "T": f"{T} C"}, float(cp_wort(P, T)), "J/(kg K)", 5, "published", "sugar-industry formula as printed in Llano 2005, arithmetic")
for P, T in ((10, 66), (20, 20)):
    k = (0.565 + 1.80e-3 * T - 5.8e-6 * T * T) * (1 - 0.54 * P / 100)
    t.add("wort thermal conductivity", {"P": P, "T": f"{T} C"}, k, "W/(m K)", "2%", "from-memory", "Riedel 1949 form for sugar solutions", 4)
# --- boiling
for z, p in ((0, 101325), (500, 0), (1000, 0), (1609, 0), (2000, 0), (3000, 0)):
    p = p or 101325 * (1 - 2.25577e-5 * z) ** 5.25588
    t.add("air pressure, standard atmosphere", {"z": f"{z} m"}, p / 1000, "kPa", 0.01, "published", "ISO 2533 standard atmosphere, arithmetic", 6)
    t.add("boiling point of water", {"p": f"{p/1000:.3f} kPa"}, PropsSI("T", "P", p, "Q", 0, "Water") - 273.15, "C", 0.02, "library", "CoolProp 8.0.0 (IAPWS-95)", 6)
for p in (98, 100, 103):
    t.add("boiling point of water", {"p": f"{p} kPa"}, PropsSI("T", "P", p * 1e3, "Q", 0, "Water") - 273.15, "C", 0.02, "library", "CoolProp 8.0.0 (IAPWS-95)", 6)
for T in (60, 80, 100):
    a = 133.322368 * 10 ** (8.07131 - 1730.63 / (233.426 + T))
    print("Antoine err %", T, 100 * (a / PropsSI("P", "T", T + 273.15, "Q", 0, "Water") - 1))
    t.add("saturation pressure of water", {"T": f"{T} C"}, PropsSI("P", "T", T + 273.15, "Q", 0, "Water") / 1000, "kPa", "0.1%", "library", "CoolProp 8.0.0", 6)
for P in (10, 12, 20):
    m = 1000 * P / (100 - P) / 342.3
    t.add("boiling point rise, sucrose, dilute", {"P": P}, 0.5128 * m, "K", 0.02, "published", "ebullioscopic constant 0.5128 K kg/mol, arithmetic", 4)
for T in (20, 66, 100):
    K = T + 273.15
    tau = 1 - K / 647.096
    lnp = 647.096 / K * (-7.85951783 * tau + 1.84408259 * tau**1.5 - 11.7866497 * tau**3 + 22.6807411 * tau**3.5 - 15.9618719 * tau**4 + 1.80122502 * tau**7.5)
    hf = 2500.909 - 2.375061 * T + 5.32988e-4 * T**2 - 1.232857e-5 * T**3
    cw = 4218.367 - 3.150391 * T + 9.375255e-2 * T**2 - 1.3437622e-3 * T**3 + 1.0092097e-5 * T**4 - 2.907845e-8 * T**5
    L = (PropsSI("H", "T", K, "Q", 1, "Water") - PropsSI("H", "T", K, "Q", 0, "Water")) / 1000
    c = PropsSI("C", "T", K, "P", 2e5, "Water")
    print("fits", T, 22.064e6 * math.exp(lnp) / PropsSI("P", "T", K, "Q", 0, "Water") - 1, hf - L, cw - c)
    t.add("heat of evaporation of water", {"T": f"{T} C"}, L, "kJ/kg", 0.1, "library", "CoolProp 8.0.0", 7)
    t.add("heat capacity of water at 2 bar", {"T": f"{T} C"}, c, "J/(kg K)", 1.0, "library", "CoolProp 8.0.0", 6)
# --- refractive index
for bx in (5, 10, 12, 20):
    t.add("refractive index of sucrose, 20 C, 589.3 nm", {"Bx": bx}, nd_sucrose(bx), "-", 2e-5, "published", "ICUMSA polynomial, root by scipy", 7)
slope = (nd_sucrose(12) - nd_sucrose(0)) / 12
print("n slope per Bx", slope, "n0", nd_sucrose(0))
# beer refractometer: additive model
KA = 0.00061
def bx_beer(OE, AE, k=1.04):
    RE = real_extract(OE, AE); A = alcohol(OE, RE)
    return k * RE + KA / slope * A, RE, A
for ri, rf in ((10, 5), (12, 6), (12, 6.5), (15, 7.5), (18, 9)):
    lin = 1 - 0.00085683 * ri + 0.0034941 * rf
    cub = 1 - 0.0044993 * ri + 0.011774 * rf + 0.00027581 * ri**2 - 0.0012717 * rf**2 - 7.28e-6 * ri**3 + 6.3293e-5 * rf**3
    AE = brentq(lambda a: bx_beer(ri, a)[0] / 1.04 - rf, -3, ri)
    print("refr", ri, rf, "linear", round(lin, 5), "cubic", round(cub, 5), "additive model", round(asbc_inv(AE), 5))
    t.add("final gravity from refractometer, published fit 1", {"ri": ri, "rf": rf}, lin, "SG", 0.002, "common-practice", "linear regression on 68 home beers, arithmetic; tolerance is the spread of such fits", 6)
t.add("refractometer reading of beer, additive model", {"OE": 12, "AE": 2.5, "k": 1.04, "nA": 0.00061}, bx_beer(12, 2.5)[0], "Bx", 0.02, "worked-example", "refractometer reading as extract plus alcohol, arithmetic", 5)
# --- Balling
for og, fg in ((1.048, 1.010), (1.060, 1.012), (1.080, 1.018)):
    OE, AE = asbc(og), asbc(fg); RE = real_extract(OE, AE); A = alcohol(OE, RE)
    t.add("real extract", {"OG": og, "FG": fg}, RE, "degP", 0.005, "published", "Balling relations with the ASBC cubic, arithmetic", 5)
    t.add("alcohol by mass", {"OG": og, "FG": fg}, A, "g/100 g", 0.005, "published", "Balling relations with the ASBC cubic, arithmetic", 5)
    t.add("alcohol by volume", {"OG": og, "FG": fg}, A * fg / 0.7907, "% v/v", 0.03, "published", "Balling relations, arithmetic; tolerance covers the ethanol gravity in use", 5)
t.add("original extract from A and RE", {"A": 4.0, "RE": 4.2}, 100 * (2.0665 * 4 + 4.2) / (100 + 1.0665 * 4), "degP", 1e-3, "published", "Balling formula as given by Nielsen et al., arithmetic", 6)
for n, OE, A, RE, AE in (("RPB-I", 14.08, 4.72, 5.28, 3.11), ("RPB-II", 14.54, 5.14, 4.88, 2.53), ("proprietary", 17.67, 6.56, 5.38, 2.45), ("CMBTC", 11.34, 3.82, 3.80, 2.01), ("Navarro", 12.75, 4.21, 4.74, 2.79)):
    oe = 100 * (2.0665 * A + RE) / (100 + 1.0665 * A)
    t.add("mean original extract of a measured data set, from its A and RE", {"set": n, "A": A, "RE": RE}, f"{OE}", "degP", 0.30, "published", "Cutaia, Reid, Speers 2009, Table III")
    t.add("mean real extract of a measured data set, from its OE and AE", {"set": n, "OE": OE, "AE": AE}, f"{RE}", "degP", 0.25, "published", "Cutaia, Reid, Speers 2009, Table III")
    print(n, "OE", OE, round(oe, 3), "RE", RE, round(real_extract(OE, AE), 3), "A", A, round(alcohol(OE, RE), 3))
# ethanol density for ABV
et = PropsSI("D", "T", 293.15, "P", 101325, "Ethanol"); print("ethanol SG20/20", et / rho_w(20))
t.add("density of pure ethanol", {"T": "20 C"}, et, "kg/m3", 0.5, "library", "CoolProp 8.0.0", 6)
for F in (0.60, 0.65, 0.69, 0.72):        # W17
    e = 12 * F / 2.0665
    re_ = 100 * 12 * (1 - F) / (100 - 1.0665 * e)
    t.add("fermentability (apparent limit) from the fermentable share of the extract mass", {"F": F, "OE": "12 P"}, (12 - re_) / 12 / 0.8192, "-", 0.0005, "worked-example", "Balling balance and real from apparent extract, arithmetic", 5)

t.write()
