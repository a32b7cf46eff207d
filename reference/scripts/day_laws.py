"""Laws of water, wort, air, fire, mash and hops as they are written in the doc comments of the program, evaluated directly.

Used by day_plant.py and day_twin.py; shares no code with the program and lays nothing out as a table. SI units, temperatures in C.
"""
from math import exp, log, pi

from scipy.optimize import brentq

R = 8.314462618
G = 9.80665
SIGMA = 5.670374419e-8
R_AIR = 287.05
ZERO = 273.15
REF = 65.0                # enthalpies are counted from here
C_SOLID = 0.38 * 4186.0

# ---------------------------------------------------------------- water

CW = (4218.367, -3.150391, 9.375255e-2, -1.3437622e-3, 1.0092097e-5, -2.907845e-8)


def poly(c, x):
    total = 0.0
    for k in reversed(c):
        total = total * x + k
    return total


CW_INT = tuple(c / (n + 1) for n, c in enumerate(CW))
H_REF = poly(CW_INT, REF) * REF


def c_water(t):
    return poly(CW, t)


def h_water(t):
    return poly(CW_INT, t) * t - H_REF


def rho_water(t):
    top = (999.83952 + 16.952577 * t - 7.9905127e-3 * t**2 - 46.241757e-6 * t**3 + 105.84601e-9 * t**4 - 281.03006e-12 * t**5)
    return top / (1 + 16.887236e-3 * t)


def h_fg(t):
    return 2500909 - 2375.061 * t + 0.532988 * t**2 - 1.232857e-2 * t**3


def p_sat(t):
    kelvin = t + ZERO
    x = 1 - kelvin / 647.096
    s = (-7.85951783 * x + 1.84408259 * x**1.5 - 11.7866497 * x**3 + 22.6807411 * x**3.5 - 15.9618719 * x**4 + 1.80122502 * x**7.5)
    return 22.064e6 * exp(647.096 / kelvin * s)


def t_sat(p):
    return brentq(lambda t: p_sat(t) - p, 20.0, 130.0, xtol=1e-12, rtol=1e-15)


# ---------------------------------------------------------------- wort

EXCESS = ((385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
          (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
          (59.7712, 7.2491, 12.3630, -35.4791),
          (-47.2207, -21.6977, 27.6301),
          (18.3184, 12.3081))


def rho_wort(w, t):
    x = (t - 20) / 100
    return rho_water(t) + sum(x**j * w * poly(row, w) for j, row in enumerate(EXCESS))


def volume(water, extract, t):
    mass = water + extract
    return mass / rho_wort(extract / mass, t) if mass > 0 else 0.0


def h_extract(t):
    """Integral of c_w - 2511 + 7.5 T from 65 C."""
    return h_water(t) - 2511 * (t - REF) + 3.75 * (t * t - REF * REF)


def h_solid(t):
    return C_SOLID * (t - REF)


def heat(water, extract, t):
    return water * h_water(t) + extract * h_extract(t)


def temperature(joule, water, extract, solids, metal, guess=65.0):
    """Inverse of the sum of all enthalpies at one temperature."""
    t = guess
    for _ in range(60):
        held = heat(water, extract, t) + solids * h_solid(t) + metal * (t - REF)
        slope = (water + extract) * c_water(t) + extract * (-2511 + 7.5 * t) + solids * C_SOLID + metal
        step = (joule - held) / slope
        t += step
        if abs(step) < 1e-10:
            return t
    raise ArithmeticError('no temperature')


def boiling(t_water, w):
    """1.1 times the rise of a dilute sucrose solution."""
    return t_water + 1.1 * 0.5128 * 1000 * w / ((1 - w) * 342.3)


# ---------------------------------------------------------------- air and walls


def air(kelvin):
    """Conductivity, kinematic viscosity, Prandtl number."""
    mu = 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)
    k = 2.64638e-3 * kelvin**1.5 / (kelvin + 245.4 * 10 ** (-12 / kelvin))
    return k, mu * R_AIR * kelvin / 101325.0, 1006.5 * mu / k


def film_still(wall, room, height):
    film = 0.5 * (wall + room) + ZERO
    k, nu, pr = air(film)
    ra = G * abs(wall - room) * height**3 * pr / (film * nu**2)
    return (0.825 + 0.387 * ra ** (1 / 6) / (1 + (0.492 / pr) ** (9 / 16)) ** (8 / 27)) ** 2 * k / height


def film_wind(speed, diameter, wall, room):
    if speed <= 0:
        return 0.0
    k, nu, pr = air(0.5 * (wall + room) + ZERO)
    re = speed * diameter / nu
    n = 0.3 + 0.62 * re**0.5 * pr ** (1 / 3) / (1 + (0.4 / pr) ** (2 / 3)) ** 0.25 * (1 + (re / 282000) ** 0.625) ** 0.8
    return n * k / diameter


def film_radiation(wall, room, emissivity):
    a, b = wall + ZERO, room + ZERO
    return emissivity * SIGMA * (a * a + b * b) * (a + b)


class Wall:
    """Loss per wetted area: q = (h_c + h_r)(T_o - T_a) m = (T - T_o)/(t/k) m, h_c = (h_still^3 + h_wind^3)^(1/3)."""

    def __init__(self, d):
        self.d = d
        self.height = max(d['wetted_height_m'], 0.02)

    def film(self, outer):
        d = self.d
        still = film_still(outer, d['air_c'], self.height)
        wind = film_wind(d['wind_m_s'], d['diameter_m'], outer, d['air_c'])
        return (still**3 + wind**3) ** (1 / 3) + film_radiation(outer, d['air_c'], d['emissivity'])

    def flux(self, t):
        """Below the air's temperature: its mirror image."""
        d = self.d
        room, r = d['air_c'], d['insulation_m2_k_w']
        lift = abs(t - room)
        if lift == 0:
            return 0.0
        sign = 1.0 if t > room else -1.0
        outer = room + lift
        if r > 0:
            share = 0.2
            for _ in range(60):             # the film varies slowly with the outer face
                new = 1 / (1 + r * self.film(room + share * lift))
                done = abs(new - share) < 1e-13
                share = new
                if done:
                    break
            outer = room + share * lift
        return sign * d['multiplier'] * self.film(outer) * (outer - room)


class Surface:
    """Vapour (Shah) and sensible heat of an open surface below the boil."""

    def __init__(self, d):
        self.d = d

    def vapour(self, t):
        d = self.d
        p = d['pressure_pa']

        def moist(c, pv):
            gas = R_AIR * (c + ZERO)
            return (p - 0.378 * pv) / gas, (p - pv) / gas, 0.62198 * pv / (p - pv)
        rho_r, _, w_r = moist(d['air_c'], d['humidity'] * p_sat(d['air_c']))
        rho_w, d_w, w_w = moist(t, p_sat(t))
        e = 35 * d_w * max(rho_r - rho_w, 0.0) ** (1 / 3) * (w_w - w_r)
        return max(e, 0.0) * d['wind_factor'] * d['multiplier'] / 3600

    def sensible(self, t):
        d = self.d
        return (6.0 * d['wind_factor'] + film_radiation(t, d['air_c'], 0.95)) * (t - d['air_c'])


class Flame:
    def __init__(self, d, setting):
        n = -log(1 - d['share_full'])
        eta = (1 - exp(-n * setting ** -d['turn_down_exponent'])) / (1 + d['wind_sensitivity'] * d['wind_m_s'])
        self.fuel = setting * d['fuel_power_w']
        self.top = d['flame_c']
        self.per_k = self.fuel * eta / (d['flame_c'] - 60.0)

    def heat(self, base):
        return self.per_k * (self.top - base)


# ---------------------------------------------------------------- mash

BOUND = (0.0, 18.015 / 1621.41, 18.015 / 1621.41, 18.015 / 162.141, 18.015 / 324.282, 18.015 / 486.423, 0.0)
PASTE, DEXTRIN, LIMIT, GLUCOSE, MALTOSE, MALTOTRIOSE, OTHER, ALPHA, BETA, DEBRANCH = range(10)


def arrhenius(e, ref, kelvin):
    return exp(-e / R * (1 / kelvin - 1 / ref))


def dissolved(pools):
    return sum(pools[i] * (1 + BOUND[i]) for i in range(7))


class Enzymes:
    """Activity and loss of the three enzymes; both are held below 30 C and above 90 C."""

    def __init__(self, k, ph):
        self.k = k

        def bell(pk):
            def bare(x):
                return 1 / (1 + 10 ** (pk[0] - x) + 10 ** (x - pk[1]))
            return bare(ph) / bare(0.5 * (pk[0] + pk[1]))
        self.ph = {'alpha': bell(k['alpha_pk']), 'beta': bell(k['beta_pk']), 'debranch': 1.0}
        self.at_65 = {name: self.bare(k[name], 338.15) for name in self.ph}

    @staticmethod
    def bare(law, kelvin):
        unfolded = exp(law['unfolding_j_mol'] / R * (1 / (law['half_c'] + ZERO) - 1 / kelvin))
        return arrhenius(law['activation_j_mol'], 338.15, kelvin) / (1 + unfolded)

    def at(self, kelvin):
        kelvin = min(max(kelvin, 303.15), 363.15)
        activity, loss = [], []
        for name in ('alpha', 'beta', 'debranch'):
            activity.append(self.ph[name] * self.bare(self.k[name], kelvin) / self.at_65[name])
            law = self.k[name + '_loss']
            free = law['per_s'] * arrhenius(law['activation_j_mol'], 338.15, kelvin)
            loss.append(free / (1 + (free / law['fastest_per_s']) ** 4) ** 0.25)
        return activity, loss

    def granules(self, kelvin, plato, shift):
        """Gelatinisation of large and small granules, 1/s; held below 25 C and above 100 C."""
        k = self.k
        gel = kelvin - k['gel_shift_k'] - shift - k['gel_k_per_plato'] * (plato - k['gel_plato'])
        gel = min(max(gel, 298.15), 373.15)
        out = []
        for name in ('large_granules', 'small_granules'):
            free = k[name]['per_s'] * arrhenius(k[name]['activation_j_mol'], 333.15, gel)
            out.append(1 / (1 / free + 1 / k['swelling_per_s']))
        return out

    def liquid(self, kelvin, water, dilution, end_plato, pools):
        """Rates of the ten pools of one node, and the water that splitting binds."""
        k = self.k
        x = dissolved(pools)
        plato = 100 * x / (x + water)
        (act_a, act_b, act_d), (lose_a, lose_b, lose_d) = self.at(kelvin)
        maltose = 1000 * pools[MALTOSE] * (1 + BOUND[MALTOSE]) / water
        a = pools[ALPHA] * dilution * act_a
        b = pools[BETA] * dilution * act_b / (1 + maltose / k['maltose_g_kg'])
        d = pools[DEBRANCH] * dilution * act_d
        lam = min(max(k['limit'] + k['limit_per_plato'] * (end_plato - k['limit_plato']), 0.05), 0.60)
        v1 = k['paste_alpha_per_s'] * a * pools[PASTE]
        v2 = k['paste_beta_per_s'] * b * pools[PASTE]
        v3 = k['dextrin_beta_per_s'] * b * pools[DEXTRIN]
        v4 = k['dextrin_alpha_per_s'] * a * pools[DEXTRIN]
        v5 = k['limit_per_s'] * d * pools[LIMIT]
        phi = k['direct_sugar']
        s = phi * v1 + v4
        split = k['sugar_split']
        out = [0.0] * 10
        out[PASTE] = -v1 - v2
        out[DEXTRIN] = (1 - phi) * (1 - lam) * v1 - v3 - v4 + v5
        out[LIMIT] = (1 - phi) * lam * v1 + lam * v2 - v5
        out[GLUCOSE] = split[0] * s
        out[MALTOSE] = (1 - lam) * v2 + v3 + split[1] * s
        out[MALTOTRIOSE] = split[2] * s
        out[ALPHA] = -lose_a * exp(-k['alpha_loss']['shelter_per_plato'] * plato) * pools[ALPHA]
        out[BETA] = -lose_b * exp(-k['beta_loss']['shelter_per_plato'] * plato) * pools[BETA]
        out[DEBRANCH] = -lose_d * exp(-k['debranch_loss']['shelter_per_plato'] * plato) * pools[DEBRANCH]
        return out, sum(out[i] * BOUND[i] for i in range(7))


class Grist:
    """The pools with which a grist of this mass starts."""

    def __init__(self, g, k, mass):
        scale = mass / g['mass_kg']
        dry = g['dry_kg'] * scale
        self.other = dry * g['other_dry']
        self.starch = dry * g['starch_dry']
        opened = self.starch * (1 - k['shut'])
        grit = k['grit'] + k['dough_loss']
        wet = 1 - grit
        cooked = g['gelatinised']
        raw = wet * (1 - cooked) * opened
        self.solids = [grit * opened, grit * self.other, (1 - k['small']) * raw, k['small'] * raw]
        enzymes = [g['alpha'] * k['alpha_factor'], g['beta'] * k['beta_factor'], 1.0]
        self.pools = [wet * cooked * opened, 0.0, 0.0, 0.0, 0.0, 0.0, wet * self.other] + [wet * e for e in enzymes]
        self.inert = dry - self.other - opened
        self.moisture = mass * g['moisture']
        self.potential = dry * g['extract_fine_dry']
        self.per_other = [e / self.other for e in enzymes]
        self.cooked, self.small, self.shift = cooked, k['small'], g['gel_shift_k']
        self.tau = k['grit_s'] * exp(0.25 * (100 * g['fine_coarse_dry'] - 1.5))
        self.mass, self.shut = mass, k['shut']

    def end_plato(self, water):
        return 100 * self.potential / (self.potential + water)

    def wetting(self, solids, gel):
        """Rates of the four solid pools and what they give to the ten liquid ones."""
        starch, other = solids[0] / self.tau, solids[1] / self.tau
        large, small = gel[0] * solids[2], gel[1] * solids[3]
        raw = (1 - self.cooked) * starch
        out_s = [-starch, -other, (1 - self.small) * raw - large, self.small * raw - small]
        out_l = [0.0] * 10
        out_l[PASTE] = large + small + self.cooked * starch
        out_l[OTHER] = other
        for place, share in zip((ALPHA, BETA, DEBRANCH), self.per_other):
            out_l[place] = share * other
        return out_s, out_l


def heat_of_wetting(moisture):
    return 39e3 * exp(-13.5 * moisture)


# ---------------------------------------------------------------- kettle


def iso_rates(kelvin):
    """Isomerisation and loss of iso-alpha in buffer, 1/s."""
    return 7.9e11 * exp(-11858 / kelvin) / 60, 4.1e12 * exp(-12994 / kelvin) / 60


def reacting_share(alpha, ph):
    limit = 0.090 * (1 + 10 ** (ph - 5.5)) / (1 + 10 ** (5.2 - 5.5))
    return 1.0 if alpha <= limit else (limit + 0.5 * (alpha - limit)) / alpha


def browning(plato, t, ph, fire):
    """EBC per second."""
    return 0.9 / 3600 * plato / 12 * exp(-1e5 / R * (1 / (t + ZERO) - 1 / 373.15)) * max(1 + 0.5 * (ph - 5.4), 0.0) * fire
