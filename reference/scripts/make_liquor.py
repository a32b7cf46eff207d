"""Makes checks/liquor.csv. Needs: phreeqpython (PHREEQC engine, database phreeqc.dat), scipy.

Also solves the same cases with the Davies equation, the activity model of the product, and prints the difference.
"""
import math

from phreeqpython import PhreeqPython
from scipy.optimize import brentq

from check_rows import Table

t = Table("liquor")
PQ = "phreeqpython 1.6.2, phreeqc.dat"
pp = PhreeqPython(database="phreeqc.dat")


# ---------------------------------------------------------------- Davies model
def logk(T):
    K = T + 273.15
    lg = math.log10(K)
    k1 = -356.3094 - 0.06091964 * K + 21834.37 / K + 126.8339 * lg - 1684915 / K**2
    k2 = -107.8871 - 0.03252849 * K + 5151.79 / K + 38.92561 * lg - 563713.9 / K**2
    kh = 108.3865 + 0.01985076 * K - 6919.53 / K - 40.45154 * lg + 669365 / K**2
    ks = -171.9065 - 0.077993 * K + 2839.319 / K + 71.595 * lg
    kw = 4470.99 / K - 6.0875 + 0.01706 * K           # pKw, Harned & Hamer form
    return k1, k2, kh, ks, -kw


def A_davies(T):
    """Debye-Hueckel A from the dielectric constant of water (Malmberg & Maryott 1956)."""
    K = T + 273.15
    e = 87.740 - 0.40008 * T + 9.398e-4 * T**2 - 1.410e-6 * T**3
    return 1.82483e6 / (e * K) ** 1.5


def gam(I, z, T=25.0):
    s = math.sqrt(I)
    return 10 ** (-A_davies(T) * z * z * (s / (1 + s) - 0.3 * I))


class Water:
    """Strong ions in mol/L; CT total carbonate. pairs=True adds the ion pairs CaHCO3+ and CaCO3; all others are left out:
    the check shows what that costs."""

    def __init__(s, Ca=0, Mg=0, Na=0, K=0, Cl=0, SO4=0, NO3=0, CT=0, T=25.0, pairs=True):
        s.__dict__.update(Ca=Ca, Mg=Mg, Na=Na, K=K, Cl=Cl, SO4=SO4, NO3=NO3, CT=CT, T=T, pairs=pairs, paired=0.0)

    def pair_constants(s):
        K = s.T + 273.15
        lg = math.log10(K)
        return (10 ** (1209.120 + 0.31294 * K - 34765.05 / K - 478.782 * lg),
                10 ** (-1228.732 - 0.299444 * K + 35512.75 / K + 485.818 * lg))

    def sid(s):
        return 2 * s.Ca + 2 * s.Mg + s.Na + s.K - s.Cl - 2 * s.SO4 - s.NO3

    def spec(s, pH, I):
        k1, k2, kh, ks, kw = logk(s.T)
        g1, g2 = gam(I, 1, s.T), gam(I, 2, s.T)
        h = 10 ** -pH                                   # activity
        K1 = 10**k1 / g1                                # for concentrations of HCO3
        K2 = 10**k2 * g1 / g2
        H, OH = h / g1, 10**kw / h / g1
        c0, c1, c2 = h * h, h * K1, K1 * K2             # shares, not yet scaled
        if not s.pairs:
            d = c0 + c1 + c2
            s.paired = 0.0
            return H, OH, s.CT * c0 / d, s.CT * c1 / d, s.CT * c2 / d
        kb, kc = s.pair_constants()
        kb *= g2                                        # Ca + HCO3 = CaHCO3+, concentrations
        kc *= g2 * g2                                   # Ca + CO3 = CaCO3
        def pairs(free):
            d = c0 + c1 * (1 + kb * free) + c2 * (1 + kc * free)
            return d, s.CT * c1 / d * kb * free, s.CT * c2 / d * kc * free
        free = brentq(lambda f: f + sum(pairs(f)[1:]) - s.Ca, 0, s.Ca, xtol=1e-16) if s.Ca else 0.0
        d, b, c = pairs(free)
        # charge of the pairs is counted on the calcium side: a bicarbonate in CaHCO3+ still takes one charge,
        # a carbonate in CaCO3 two
        return H, OH, s.CT * c0 / d, s.CT * c1 / d + b, s.CT * c2 / d + c

    def I(s, pH, I):
        H, OH, c0, c1, c2 = s.spec(pH, I)
        return 0.5 * (4 * s.Ca + 4 * s.Mg + s.Na + s.K + s.Cl + 4 * s.SO4 + s.NO3 + H + OH + c1 + 4 * c2)

    def charge(s, pH):
        I = 0.01
        for _ in range(8):
            I = s.I(pH, I)
        H, OH, c0, c1, c2 = s.spec(pH, I)
        return s.sid() + H - OH - c1 - 2 * c2

    def pH(s):
        return brentq(s.charge, 2, 12, xtol=1e-10)

    def alk(s, pH):
        I = 0.01
        for _ in range(8):
            I = s.I(pH, I)
        H, OH, c0, c1, c2 = s.spec(pH, I)
        return c1 + 2 * c2 + OH - H


# ---------------------------------------------------------------- constants
pk = {}
for T in (0.01, 25, 66, 95):
    w = pp.add_solution({"temp": T, "pH": 7, "units": "mmol/kgw", "C": 1e-3, "Ca": 1e-3})
    k1, k2, kh, ks, kw = logk(T)
    pk[T] = (-k1, -k2, kh, -ks, -kw)
for T, v in ((25, (6.3519, 10.3289, -1.4682, 8.4798)), (66, (6.2997, 10.1327, -1.8225, 8.8226)), (95, (6.4013, 10.1439, -1.9618, 9.1927))):
    for n, i, tol in (("pK1 carbonic acid", 0, .002), ("pK2 carbonic acid", 1, .002), ("log KH of CO2, mol/(kg atm)", 2, .002), ("pKsp calcite", 3, .002)):
        t.add(n, {"T": f"{T} C"}, v[i], "-", tol, "library", PQ + "; laws of Plummer & Busenberg 1982")
        print(n, T, v[i], round(pk[T][i], 4))
print("pKw law", [(T, round(pk[T][4], 3)) for T in pk], " PHREEQC 14.938 13.9948 12.8785 12.3195")
print("A", [(T, round(A_davies(T), 4)) for T in (0, 25, 66, 95)])

# ---------------------------------------------------------------- water W1
ION = dict(Ca=2.0, Mg=0.4, Na=1.0, Cl=1.3)


def W1(temp=25, acid=0.0, **extra):
    d = {"temp": 25, "pH": 7.5, "units": "mmol/kgw", "Ca": 2.0, "Mg": 0.4, "Na": 1.0, "Cl": 1.3, "S(6)": 1.0, "Alkalinity": 2.5}
    s = pp.add_solution(d)
    if acid:
        s.add("HCl", acid)
    for k, v in extra.items():
        s.add(k, v)
    if temp != 25:
        s.change_temperature(temp)
    return s


s = W1()
CT = sum(v for k, v in s.species_molalities.items() if "CO3" in k or k == "CO2") * 1e3  # mmol/kg
print("W1 pH", s.pH, "CT", CT, "I", s.I, "SI calcite", s.si("Calcite"), "alk?")
t.add("W1 total carbonate", {"water": "W1", "T": "25 C"}, float(CT), "mmol/kg", 0.015, "library", PQ, 5)
t.add("W1 ionic strength", {"water": "W1"}, s.I, "mol/kg", "2%", "library", PQ, 4)
t.add("W1 calcite saturation index", {"water": "W1"}, s.si("Calcite"), "-", 0.03, "library", PQ, 3)

# Davies: find CT so that alk = 2.5 at pH 7.5, strong ions as given
dav = Water(Ca=2e-3, Mg=.4e-3, Na=1e-3, Cl=1.3e-3, SO4=1e-3)
dav.CT = brentq(lambda c: (setattr(dav, "CT", c), dav.alk(7.5) - 2.5e-3)[1], 1e-4, 1e-2)
print("Davies CT", dav.CT * 1e3, "sid", dav.sid() * 1e3, "pH", dav.pH())


dav0 = Water(Ca=2e-3, Mg=.4e-3, Na=1e-3, Cl=1.3e-3, SO4=1e-3, pairs=False)
dav0.CT = brentq(lambda c: (setattr(dav0, "CT", c), dav0.alk(7.5) - 2.5e-3)[1], 1e-4, 1e-2)


def dav_pH(acid=0.0, T=25.0, pairs=True):
    w = Water(Ca=2e-3, Mg=.4e-3, Na=1e-3, Cl=1.3e-3 + acid * 1e-3, SO4=1e-3, CT=(dav if pairs else dav0).CT, T=T, pairs=pairs)
    return w.pH()


for T in (66, 80, 95):
    x = W1(T)
    t.add("pH of W1 heated in a closed vessel", {"water": "W1", "T": f"{T} C"}, x.pH, "pH", 0.02, "library", PQ, 5)
    print("closed", T, round(x.pH, 3), "Davies with pairs", round(dav_pH(0, T), 3), "without", round(dav_pH(0, T, False), 3))
for a in (0.5, 1.0, 1.5, 2.0, 2.25):
    x = W1(acid=a)
    t.add("pH of W1 with strong acid, closed", {"water": "W1", "acid": f"{a} mmol/kg", "T": "25 C"}, x.pH, "pH", 0.02, "library", PQ, 5)
    print("acid", a, round(x.pH, 3), "Davies", round(dav_pH(a), 3))
for target in (6.0, 5.8, 5.5, 5.2):
    f = lambda a: W1(acid=a).pH - target
    a = brentq(f, 0.5, 2.45, xtol=1e-5)
    ad = brentq(lambda q: dav_pH(q) - target, 0.5, 2.45)
    t.add("strong acid to bring W1 to a pH, closed", {"water": "W1", "pH": target, "T": "25 C"}, a, "mmol/kg", "1%", "library", PQ, 5)
    print("acid for", target, round(a, 4), "Davies", round(ad, 4))


def opened(x, logp, T=25):
    y = x.copy() if hasattr(x, "copy") else x
    return y.equalize(["CO2(g)"], [logp])


for lp, tol in ((-3.4, 0.02), (-2.0, 0.02)):
    x = opened(W1(), lp)
    t.add("pH of W1 open to CO2, nothing precipitates", {"water": "W1", "log10 pCO2/atm": lp, "T": "25 C"}, x.pH, "pH", tol, "library", PQ, 5)
    kh = 10 ** logk(25)[2]
    # Davies, open: CT follows from pCO2
    def res(pH):
        w = Water(Ca=2e-3, Mg=.4e-3, Na=1e-3, Cl=1.3e-3, SO4=1e-3, CT=2e-3)
        def co2(log_ct):
            w.CT = 10**log_ct
            return math.log10(w.spec(pH, 0.0085)[2] / (kh * 10**lp))
        w.CT = 10 ** brentq(co2, -6, 1)
        H, OH, c0, c1, c2 = w.spec(pH, 0.0085)
        return w.sid() + H - OH - c1 - 2 * c2
    print("open", lp, round(x.pH, 3), "Davies", round(brentq(res, 5.5, 9.0), 3))
for T, lp in ((66, -2.0), (95, -2.0), (95, -3.4)):
    x = W1(T).equalize(["CO2(g)", "Calcite"], [lp, 0])
    ca = x.total("Ca", units="mmol")
    t.add("pH of W1 after CO2 loss and full calcite precipitation", {"water": "W1", "log10 pCO2/atm": lp, "T": f"{T} C"}, x.pH, "pH", 0.04, "library", PQ, 5)
    t.add("calcium of W1 after CO2 loss and full calcite precipitation", {"water": "W1", "log10 pCO2/atm": lp, "T": f"{T} C"}, ca, "mmol/kg", "5%", "library", PQ, 5)
    print("precip", T, lp, round(x.pH, 3), ca)
for lp in (-1.5, -2.0, -3.4):
    x = W1(acid=2.1434).equalize(["CO2(g)"], [lp])
    t.add("pH of W1 acidified to 5.50, then open to CO2", {"water": "W1", "acid": "2.1434 mmol/kg", "log10 pCO2/atm": lp, "T": "25 C"}, x.pH, "pH", 0.03, "library", PQ, 4)
    print("acid then open", lp, round(x.pH, 3))
for lime in (0.5, 1.0, 1.4, 1.5):
    x = W1(); x.add("Ca(OH)2", lime); x = x.equalize(["Calcite"], [0])
    t.add("pH of W1 with slaked lime, chalk settled", {"water": "W1", "lime": f"{lime} mmol/kg", "T": "25 C"}, x.pH, "pH", 0.06, "library", PQ, 4)
    t.add("calcium of W1 with slaked lime, chalk settled", {"water": "W1", "lime": f"{lime} mmol/kg", "T": "25 C"}, x.total("Ca", units="mmol"), "mmol/kg", "4%", "library", PQ, 4)
    print("lime", lime, round(x.pH, 3), round(x.total("Ca", units="mmol"), 4))
x = pp.add_solution({"temp": 25, "pH": 7, "units": "mmol/kgw"}).equalize(["CO2(g)", "Calcite"], [-3.4, 0])
t.add("calcite in pure water, open", {"log10 pCO2/atm": -3.4, "T": "25 C"}, x.pH, "pH", 0.02, "library", PQ, 5)
t.add("calcium from calcite in pure water, open", {"log10 pCO2/atm": -3.4, "T": "25 C"}, x.total("Ca", units="mmol"), "mmol/kg", "3%", "library", PQ, 4)
x = pp.add_solution({"temp": 25, "pH": 7, "units": "mmol/kgw"}).equalize(["CO2(g)"], [0.0])
t.add("pure water under CO2", {"pCO2": "1 atm", "T": "25 C"}, x.pH, "pH", 0.02, "library", PQ, 4)
x = pp.add_solution({"temp": 25, "pH": 7, "units": "mmol/kgw"}); x.add("NaHCO3", 2)
t.add("baking soda in pure water, closed", {"NaHCO3": "2 mmol/kg", "T": "25 C"}, x.pH, "pH", 0.02, "library", PQ, 4)
x = pp.add_solution({"temp": 25, "pH": 7, "units": "mmol/kgw"}); x.add("H3PO4", 10)
t.add("phosphoric acid in pure water", {"H3PO4": "10 mmol/kg", "T": "25 C"}, x.pH, "pH", 0.02, "library", PQ, 4)
for T in (25, 66, 100):
    y = pp.add_solution({"temp": T, "pH": 7, "units": "mmol/kgw"}).equalize(["Gypsum"], [0])
    g = y.total("Ca", units="mmol")
    t.add("solubility of gypsum in pure water", {"T": f"{T} C"}, g * 172.17 / 1000, "g/kg", "5%", "library", PQ, 4)
    print("gypsum", T, g)

# ---------------------------------------------------------------- bookkeeping
M = dict(Ca=40.078, Mg=24.305, Na=22.98977, Cl=35.453, S=32.06, O=15.999, H=1.008, C=12.011, P=30.973762)
SO4 = M["S"] + 4 * M["O"]; HCO3 = M["H"] + M["C"] + 3 * M["O"]; H2O = 2 * M["H"] + M["O"]; CO3 = M["C"] + 3 * M["O"]
gyp = M["Ca"] + SO4 + 2 * H2O; cc2 = M["Ca"] + 2 * M["Cl"] + 2 * H2O
caco3 = M["Ca"] + CO3
t.add("calcium from 2 g gypsum and 2 g calcium chloride dihydrate in 10 L of pure water", {"gypsum": "2 g", "CaCl2.2H2O": "2 g", "V": "10 L"}, (2 / gyp + 2 / cc2) * M["Ca"] / 10 * 1000, "mg/L", "0.2%", "published", "standard atomic masses, arithmetic", 5)
t.add("sulfate, same", {"as": "above"}, 2 / gyp * SO4 / 10 * 1000, "mg/L", "0.2%", "published", "standard atomic masses, arithmetic", 5)
t.add("chloride, same", {"as": "above"}, 2 / cc2 * 2 * M["Cl"] / 10 * 1000, "mg/L", "0.2%", "published", "standard atomic masses, arithmetic", 5)
t.add("1 meq/L as calcium carbonate", {}, caco3 / 2, "mg/L", 0.02, "published", "standard atomic masses", 5)
t.add("1 meq/L in German degrees", {}, (M["Ca"] + M["O"]) / 2 / 10, "degdH", 0.002, "published", "1 degdH = 10 mg/L CaO", 4)
t.add("residual alkalinity of W1", {"alk": "2.5 meq/L", "Ca": "2.0 mmol/L", "Mg": "0.4 mmol/L"}, 2.5 - 4 / 3.5 - 0.8 / 7, "meq/L", 0.001, "published", "Kolbach 1953 relation, arithmetic", 5)
t.add("residual alkalinity of W1 as CaCO3", {"as": "above"}, (2.5 - 4 / 3.5 - 0.8 / 7) * caco3 / 2, "mg/L", 0.1, "published", "Kolbach 1953 relation, arithmetic", 4)
# acids
def lac(pH): return 1 / (1 + 10 ** (3.86 - pH))
def pho(pH):
    h = 10**-pH; a, b, c = 10**-2.148, 10**-7.198, 10**-12.35
    d = h**3 + h * h * a + h * a * b + a * b * c
    return (h * h * a + 2 * h * a * b + 3 * a * b * c) / d
m88 = 1.206 * 0.88 / 90.078 * 1000
m10 = 1.053 * 0.10 / 97.994 * 1000
t.add("lactic acid 88 % w/w, concentration", {"density": "1.206 g/mL"}, "11.81", "mol/L", "0.5%", "handbook", "maker's dilution rule: 84.7 mL to 1 L is 1 N")
for pH in (5.2, 5.4, 5.5, 6.0):
    t.add("acid charge of lactic 88 %", {"pH": pH, "pKa": 3.86}, m88 * lac(pH), "meq/mL", "0.5%", "published", "acid constants of the CRC handbook, arithmetic", 5)
    t.add("acid charge of phosphoric 10 %", {"pH": pH, "pKa": "2.148,7.198,12.35"}, m10 * pho(pH), "meq/mL", "0.5%", "published", "acid constants of the CRC handbook, arithmetic", 5)
t.add("lactic 88 % for 20 L of W1 to pH 5.5", {"V": "20 L", "acid": "2.144 meq/L"}, 20 * 2.144 / (m88 * lac(5.5)), "mL", 0.04, "library", PQ + " dose, with the acid strength above", 4)

# ---------------------------------------------------------------- mash test case (synthetic malts), with Davies water
MALT = [(4.0, 5.72, 45), (0.5, 5.45, 50), (0.3, 4.70, 70), (0.1, 4.60, 75)]
B = sum(m * b for m, _, b in MALT)
MSTR = "|".join(f"{m}:{p}:{b}" for m, p, b in MALT)
t.add("grist alone in distilled water", {"malts kg,pHDI,b": MSTR}, sum(m * b * p for m, p, b in MALT) / B, "pH", 0.0005, "worked-example", "buffer-weighted mean of the mash charge balance", 5)
V = 14.0
I0 = dav.I(7.5, 0.008)


def z(pH, w=dav):
    """mean charge of total carbonate, meq per mmol"""
    I = 0.0085
    H, OH, c0, c1, c2 = w.spec(pH, I)
    return -(c1 + 2 * c2) / w.CT


def mash(pH, ca=True):
    CTm = dav.CT * 1e3
    f = sum(m * b * (p - pH) for m, p, b in MALT)
    f += V * CTm * (z(pH) - z(7.5))
    if ca:
        f -= V * (4.0 / 3.5 + 0.8 / 7)
    return f


def mash_pH(mL=0.0, ca=True):
    return brentq(lambda p: mash(p, ca) - mL * m88 * lac(p), 4, 7)


for lab, mL, ca in (("no Ca, Mg term", 0, False), ("with Ca, Mg term", 0, True), ("2 mL lactic 88 %", 2, True)):
    p = mash_pH(mL, ca)
    print("mash", lab, round(p, 4))
    t.add("mash pH of the test grist with 14 L of W1, " + lab, {"V": "14 L", "water": "W1", "malts kg,pHDI,b": MSTR}, p, "pH", 0.005, "worked-example", "mash charge balance with Davies activities, root by scipy", 5)
mL = brentq(lambda q: mash_pH(q) - 5.40, 0, 10)
print("mL for 5.40", mL)
t.add("lactic 88 % to bring that mash to pH 5.40", {"as": "above"}, mL, "mL", 0.05, "worked-example", "mash charge balance, root by scipy", 4)
# published trends
for ca, p in ((0, 5.74), (100, 5.48), (200, 5.39), (300, 5.28)):
    t.add("mash pH as calcium rises (trend only)", {"Ca": f"{ca} mg/L"}, f"{p}", "pH", 0.15, "published", "Taylor, as quoted in Briggs et al. 2004, Brewing: Science and Practice; seen second-hand")
t.add("fall of mash pH from room temperature to 65 C", {"T": "65 C"}, "0.35", "pH", 0.1, "handbook", "Briggs et al. 2004")
t.add("fall of mash pH from room temperature to 78 C", {"T": "78 C"}, "0.45", "pH", 0.1, "handbook", "Briggs et al. 2004")
t.add("malt in distilled water", {"malt": "base"}, "5.75", "pH", 0.15, "handbook", "Palmer, How to Brew, 2006: 5.7-5.8")
t.add("malt in distilled water", {"malt": "caramel"}, "4.65", "pH", 0.35, "handbook", "Palmer, How to Brew, 2006: 4.5-4.8")
t.add("change of mash pH by dark malt", {"share": 0.2}, "-0.5", "pH", 0.25, "handbook", "Palmer, How to Brew, 2006")
t.write()
