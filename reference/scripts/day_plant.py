"""Rates of a whole brewhouse: pots, mash, bed and hops in one vector of fixed places. Used by day_twin.py.

A transcription of the balances in the doc comments of the program; shares no code with it.
"""
import numpy as np

import day_laws as law
from day_laws import REF, h_extract, h_fg, h_water

CELLS = 8
FREE_X, FREE_W, FREE_H, MOBILE, HELD, CELL_H = 0, 1, 2, 3, 11, 19
MOBILE_SHARE, UNDER_X, UNDER_H, UNDER_SHARE, REST, BED = 27, 28, 29, 30, 31, 32
OVER_W, OVER_P, OVER_H, SOLIDS, LOW_W, LOW_P, LOW_H, MASH = 0, 1, 11, 12, 16, 17, 27, 28
TOTALS = ('vapour_kg', 'vapour_j', 'wall_j', 'surface_j', 'flame_j', 'fuel_j', 'electric_j', 'drawn_j', 'chill_j', 'chill_kg',
          'browned_ebc_m3', 'bound_kg', 'tap_kg', 'tap_j')
RHO_FLOW, V_EXTRACT, RHO_SOLIDS = 977.76, 0.61e-3, 1450.0
CW_BED, CX_BED = 4187.07, 2163.57


class Pot:
    def __init__(self, d):
        self.__dict__.update(d)
        self.area = law.pi * d['diameter_m'] ** 2 / 4
        self.girth = law.pi * d['diameter_m']
        self.wall = law.Wall(d['side'])
        self.open = law.Surface(d['surface'])
        self.own = d['base_w_k'] is not None and d['base_j_k'] > 0
        self.metal = d['wall_j_k'] + (0.0 if self.own else d['base_j_k'])

    def split_metal(self):
        """Heat capacity counted with the mash and with the liquid below it: a tenth of the wall is below."""
        if self.under_m3 <= 0:
            return self.metal, 0.0
        below = 0.1 * self.wall_j_k + (self.metal - self.wall_j_k)
        return self.metal - below, below

    def losses(self, vol, t, lid, fired, room):
        """Wall and lid, open surface without vapour, vapour."""
        level = vol / self.area
        wet = self.girth * max(level, 0.0)
        dry = max(self.side_m2 - wet, 0.0)
        wall = (self.side_fired if fired else 1.0) * (wet * self.wall.flux(t) + 0.5 * dry * self.wall.flux(0.5 * (t + room)))
        surface = self.area * vol / (vol + 1e-4)
        vapour = surface * self.open.vapour(t)
        if lid:
            return wall + surface * self.lid_w_m2_k * (t - room), 0.0, vapour * self.lid_share
        return wall, surface * self.open.sensible(t), vapour


class Bed:
    """Constants of a settled bed."""

    def left(self):
        return min(max(self.retained - self.held, 0.02 * self.mobile), self.mobile)

    def under_left(self):
        return min(max(self.dead, 0.02 * self.under), self.under)

    def free(self, b):
        return b[FREE_W] / RHO_FLOW + V_EXTRACT * b[FREE_X]

    def water(self, b):
        cells = b[MOBILE:HELD + CELLS].sum()
        vol = b[MOBILE_SHARE] * self.mobile + self.held + b[UNDER_SHARE] * self.under
        return b[FREE_W] + RHO_FLOW * (vol - V_EXTRACT * (cells + b[UNDER_X] + b[REST]))

    def extract(self, b):
        """Dissolved extract, without what dissolves late."""
        return b[FREE_X] + b[MOBILE:HELD + CELLS].sum() + b[UNDER_X]

    def heat(self, b):
        return b[FREE_H] + b[CELL_H:CELL_H + CELLS].sum() + b[UNDER_H]

    def mean(self, b):
        return REF + self.heat(b) / (CW_BED * self.water(b) + CX_BED * self.extract(b) + self.solids_heat)

    def volume(self, b):
        return (max(self.free(b), 0.0) + b[MOBILE_SHARE] * self.mobile + self.held + b[UNDER_SHARE] * self.under
                + self.solids / RHO_SOLIDS)

    def drainable(self, b):
        return (max(b[MOBILE_SHARE] * self.mobile - self.left(), 0.0) + max(b[UNDER_SHARE] * self.under - self.under_left(), 0.0)
                + max(self.free(b), 0.0))

    def under_water(self, b):
        return RHO_FLOW * (b[UNDER_SHARE] * self.under - V_EXTRACT * b[UNDER_X])

    def under_mean(self, b):
        return REF + b[UNDER_H] / (CW_BED * self.under_water(b) + CX_BED * b[UNDER_X])

    def capacities(self, b):
        """Of the free liquid, each cell, and the liquid under the plate."""
        def liquid(vol, x, own):
            return CW_BED * RHO_FLOW * (vol - V_EXTRACT * x - own) + CX_BED * x
        cell = (b[MOBILE_SHARE] * self.mobile + self.held) / CELLS
        cells = np.array([liquid(cell, b[MOBILE + i] + b[HELD + i], V_EXTRACT * b[REST] / CELLS) + self.solids_heat / CELLS
                          for i in range(CELLS)])
        return CW_BED * b[FREE_W] + CX_BED * b[FREE_X], cells, liquid(b[UNDER_SHARE] * self.under, b[UNDER_X], 0.0)

    def rates(self, b, wanted, wall_w, surface_w, vapour, draining):
        """d/dt of all states; what leaves at the outlet: water, extract, heat."""
        d = np.zeros(BED)
        mobile, under = b[MOBILE_SHARE] * self.mobile, b[UNDER_SHARE] * self.under
        step = np.arange(CELLS + 1) / CELLS
        if draining:
            through = min(wanted, max(mobile - self.left(), 0.0) / self.drain_s)
            face = through * step
            out = min(wanted, through + max(under - self.under_left(), 0.0) / 20.0)
            channel = 0.0
        else:
            channel = self.channel * wanted
            face = (wanted - channel + (self.under - under) / self.drain_s
                    + (self.mobile - mobile) / self.drain_s * (1 - step))
            out = wanted
        free = max(self.free(b), 1e-9)
        cap_free, cap_cells, cap_under = self.capacities(b)
        # extract and heat per volume, from above to below
        c = np.concatenate(([b[FREE_X] / free], b[MOBILE:MOBILE + CELLS] / (mobile / CELLS)))
        lift = b[CELL_H:CELL_H + CELLS] / cap_cells
        e = np.concatenate(([b[FREE_H] / free],
                            (CW_BED * RHO_FLOW * (1 - V_EXTRACT * c[1:]) + CX_BED * c[1:]) * lift))
        c_under, e_under = b[UNDER_X] / under, b[UNDER_H] / under
        swap = self.held / CELLS / self.exchange_s * (b[HELD:HELD + CELLS] / (self.held / CELLS) - c[1:])
        late = b[REST] / self.late_s
        d[FREE_X] = -(face[0] + channel) * c[0]
        d[FREE_W] = -(face[0] + channel) * RHO_FLOW * (1 - V_EXTRACT * c[0]) - vapour
        d[FREE_H] = -(face[0] + channel) * e[0]
        d[MOBILE:MOBILE + CELLS] = face[:-1] * c[:-1] - face[1:] * c[1:] + swap
        d[HELD:HELD + CELLS] = late / CELLS - swap
        d[CELL_H:CELL_H + CELLS] = face[:-1] * e[:-1] - face[1:] * e[1:] - wall_w / CELLS
        d[CELL_H if draining else FREE_H] -= surface_w
        d[REST] = -late
        d[MOBILE_SHARE] = (face[0] - face[-1]) / self.mobile
        d[UNDER_X] = face[-1] * c[-1] + channel * c[0] - out * c_under
        d[UNDER_H] = face[-1] * e[-1] + channel * e[0] - out * e_under
        d[UNDER_SHARE] = (face[-1] + channel - out) / self.under
        return d, (out * RHO_FLOW * (1 - V_EXTRACT * c_under), out * c_under, out * e_under)


class Plant:
    """What the operations under way do to the state `y`; made anew for every stretch of the day."""

    def __init__(self, day):
        self.day = day
        n = len(day.pots)
        self.drives = [None] * n          # ('flame', Flame), ('electric', into base, into liquid, drawn), ('keep', C)
        self.lids = [True] * n
        self.flows = []                   # (from or 'tap', to or 'mash', rate)
        self.swap = day.bed_setting['seep_m3_s']
        self.run_off = 0.0
        self.coil = False
        self.emptied_from = None          # what the kettle held when it began to be emptied, m3

    def light(self, i, setting):
        h = self.day.pots[i].heater
        if h['kind'] == 'flame':
            self.drives[i] = ('flame', law.Flame(h, setting))
        elif h['kind'] == 'element':
            self.drives[i] = ('electric', 0.0, setting * h['power_w'] * h['share'], setting * h['power_w'])
        elif h['kind'] == 'plate':
            self.drives[i] = ('electric', setting * h['power_w'] * h['share'], 0.0, setting * h['power_w'])

    def take_part(self, needed):
        day, y = self.day, self.day.y
        self.mash_kind = None
        if day.mash_kind and day.parts['mash'] in needed:
            self.mash_kind = day.mash_kind
        self.in_play = []
        for i in range(len(day.pots)):
            wet = y[4 * i] > 0
            if i not in needed or (day.mash_kind and i == day.parts['mash'] and not wet):
                continue
            flows = any(i in (a, b) for a, b, _ in self.flows) or (self.run_off > 0 and i == day.parts['kettle'])
            if wet or flows or self.drives[i] is not None:
                self.in_play.append(i)
        live = [4 * i + k for i in self.in_play for k in range(4)]
        if self.mash_kind == 'nodes':
            live += range(day.at_mash, day.at_mash + MASH)
        if self.mash_kind == 'bed':
            live += range(day.at_bed, day.at_bed + BED)
        if self.mash_kind:
            live.append(4 * day.parts['mash'] + 3)
        for k, is_in in enumerate(day.hops_in):
            if is_in:
                live += range(day.at_hops + 4 * k, day.at_hops + 4 * k + 4)
        live += range(day.at_totals, day.at_totals + len(TOTALS))
        self.live = np.array(sorted(set(live)))

    # ---------------------------------------------------------- seen

    def pot_t(self, i, y):
        t = law.temperature(y[4 * i + 2], max(y[4 * i], 0.0), max(y[4 * i + 1], 0.0), 0.0, self.day.pots[i].metal)
        return t

    def pot_v(self, i, y, t=None):
        return law.volume(max(y[4 * i], 0.0), max(y[4 * i + 1], 0.0), self.pot_t(i, y) if t is None else t)

    def boil_c(self, i, y):
        return law.boiling(self.day.t_boil, y[4 * i + 1] / (y[4 * i] + y[4 * i + 1]))

    def nodes(self, y):
        """Water, extract, temperature, volume of the mash and of the liquid below it."""
        m = y[self.day.at_mash:self.day.at_mash + MASH]
        over_metal, low_metal = self.day.pots[self.day.parts['mash']].split_metal()
        solids = self.day.inert + m[SOLIDS:SOLIDS + 4].sum()
        out = []
        for w, p, h, dry, metal in ((m[OVER_W], m[OVER_P:OVER_P + 10], m[OVER_H], solids, over_metal),
                                    (m[LOW_W], m[LOW_P:LOW_P + 10], m[LOW_H], 0.0, low_metal)):
            x = law.dissolved(p)
            out.append((w, x, law.temperature(h, w, x, dry, metal), w / RHO_FLOW + V_EXTRACT * x))
        return out, solids

    # ---------------------------------------------------------- rates

    def rates(self, t, y):
        day = self.day
        d = np.zeros_like(y)
        self.temp = {i: self.pot_t(i, y) for i in self.in_play}
        self.vol = {i: self.pot_v(i, y, self.temp[i]) for i in self.in_play}
        self.liquids_move(y, d)
        if self.mash_kind == 'nodes':
            self.mash(y, d)
        elif self.mash_kind == 'bed':
            self.bed(y, d)
        for i in self.in_play:
            self.pot(i, y, d)
        self.kettle(y, d)
        return d

    def count(self, d, name, amount):
        d[self.day.at_totals + TOTALS.index(name)] += amount

    def liquids_move(self, y, d):
        day = self.day
        for a, b, rate in self.flows:
            if a == 'tap':
                dw, dx, dh = rate, 0.0, rate * h_water(day.s['source_c'])
                self.count(d, 'tap_kg', dw)
                self.count(d, 'tap_j', dh)
            else:
                share = rate / max(self.vol[a], 1e-7)
                dw, dx = max(y[4 * a], 0.0) * share, max(y[4 * a + 1], 0.0) * share
                dh = law.heat(dw, dx, self.temp[a])
                d[4 * a:4 * a + 3] -= (dw, dx, dh)
            if b != 'mash':
                d[4 * b:4 * b + 3] += (dw, dx, dh)
            elif self.mash_kind == 'nodes':
                d[day.at_mash + OVER_W] += dw
                d[day.at_mash + OVER_H] += dh
            elif self.mash_kind == 'bed':
                d[day.at_bed + FREE_W] += dw
                d[day.at_bed + FREE_H] += dh

    def fire(self, i, base, t, loss, capacity, d):
        """Heat into the base and into the contents."""
        drive = self.drives[i]
        if drive is None:
            return 0.0, 0.0
        if drive[0] == 'flame':
            q = drive[1].heat(base)
            self.count(d, 'flame_j', q)
            self.count(d, 'fuel_j', drive[1].fuel)
            return 0.85 * q, 0.15 * q
        if drive[0] == 'electric':
            self.count(d, 'electric_j', drive[1] + drive[2])
            self.count(d, 'drawn_j', drive[3])
            return drive[1], drive[2]
        heater = self.day.pots[i].heater
        flame = heater['kind'] == 'flame'
        share = heater['share_full'] if flame else heater['share']
        most = share * (heater['fuel_power_w'] if flame else heater['power_w'])
        q = min(max(loss + capacity * (drive[1] - t) / 120.0, 0.0), most)
        self.count(d, 'flame_j' if flame else 'electric_j', q)
        self.count(d, 'fuel_j' if flame else 'drawn_j', q / share)
        return 0.0, q

    def losses(self, i, vol, t):
        fired = self.drives[i] is not None and self.drives[i][0] == 'flame'
        return self.day.pots[i].losses(vol, t, self.lids[i], fired, self.day.s['air_c'])

    def below(self, i, base):
        """Loss of a base to the air below; none over a fire or on a plate that is on."""
        pot = self.day.pots[i]
        bare = self.drives[i] is None or pot.heater['kind'] == 'element'
        return pot.base_loss_w_k * (base - self.day.s['air_c']) if bare else 0.0

    def pot(self, i, y, d):
        pot, t, vol = self.day.pots[i], self.temp[i], self.vol[i]
        w, x = max(y[4 * i], 0.0), max(y[4 * i + 1], 0.0)
        wall, surface, vapour = self.losses(i, vol, t)
        capacity = 4190.0 * w + 1700.0 * x + pot.metal
        latent = h_fg(t)
        base = REF + y[4 * i + 3] / pot.base_j_k if pot.own else t
        below = self.below(i, base)
        to_base, to_liquid = self.fire(i, base, t, wall + surface + vapour * latent + below, capacity, d)
        into = to_base - below
        if pot.own:
            into = pot.base_w_k * w / (w + 0.2) * (base - t)
            d[4 * i + 3] += to_base - into - below
        d[4 * i + 2] += into + to_liquid - wall - surface
        self.count(d, 'wall_j', wall + below)
        self.count(d, 'surface_j', surface)
        c = self.day.chiller
        if self.coil and i == self.day.parts['kettle'] and c['kind'] in ('coil', 'bath'):
            flow = c['coolant_kg_s'] * law.c_water(c['inlet_c'])
            q = (1 - law.exp(-c['ua_w_k'] / flow)) * flow * (t - c['inlet_c'])
            d[4 * i + 2] -= q
            self.count(d, 'chill_j', q)
            self.count(d, 'chill_kg', c['coolant_kg_s'])
        if w <= 0:
            vapour = 0.0
        elif self.day.boils[i]:
            # what is left once all that comes and goes has brought its own enthalpy, and the superheat within 120 s
            net = d[4 * i + 2] - d[4 * i] * h_water(t) - d[4 * i + 1] * h_extract(t)
            vapour = max((net + capacity * (t - self.boil_c(i, y)) / 120.0) / latent, vapour)
        q = vapour * (h_water(t) + latent)
        d[4 * i] -= vapour
        d[4 * i + 2] -= q
        self.count(d, 'vapour_kg', vapour)
        self.count(d, 'vapour_j', q)

    def tun_base(self, y, d, at, t, loss, capacity):
        """The tun's base and fire against the liquid at place `at`."""
        i = self.day.parts['mash']
        pot = self.day.pots[i]
        base = REF + y[4 * i + 3] / pot.base_j_k if pot.own else t
        below = self.below(i, base)
        to_base, to_liquid = self.fire(i, base, t, loss + below, capacity, d)
        self.count(d, 'wall_j', below)
        if pot.own:
            into = pot.base_w_k * (base - t)
            d[4 * i + 3] += to_base - into - below
            d[at] += into + to_liquid
        else:
            d[at] += to_base + to_liquid - below

    def mash(self, y, d):
        day = self.day
        m, tun = day.at_mash, day.parts['mash']
        (over, low), solids = self.nodes(y)
        water = over[0] + low[0]
        for (w, x, t, _), at_w, at_p in ((over, m + OVER_W, m + OVER_P), (low, m + LOW_W, m + LOW_P)):
            out, bound = day.enzymes.liquid(t + law.ZERO, w, water / w, day.end_plato, y[at_p:at_p + 10])
            d[at_p:at_p + 10] += out
            d[at_w] -= bound
            self.count(d, 'bound_kg', bound)
        gel = day.enzymes.granules(over[2] + law.ZERO, 100 * over[1] / (over[0] + over[1]), day.grist.shift)
        out_s, out_l = day.grist.wetting(y[m + SOLIDS:m + SOLIDS + 4], gel)
        d[m + SOLIDS:m + SOLIDS + 4] += out_s
        d[m + OVER_P:m + OVER_P + 10] += out_l
        # equal volumes both ways through the screen, and heat through the plate
        a, b = self.swap / over[3], self.swap / low[3]
        q = (a * law.heat(over[0], over[1], over[2]) - b * law.heat(low[0], low[1], low[2])
             + day.bed_setting['plate_w_m2_k'] * day.pots[tun].area_m2 * (over[2] - low[2]))
        moved = np.concatenate(([a * over[0] - b * low[0]], a * y[m + OVER_P:m + OVER_P + 10] - b * y[m + LOW_P:m + LOW_P + 10], [q]))
        d[m + OVER_W:m + OVER_H + 1] -= moved
        d[m + LOW_W:m + LOW_H + 1] += moved
        wall, surface, vapour = self.losses(tun, over[3] + low[3] + solids / RHO_SOLIDS, over[2])
        latent = h_fg(over[2])
        steam = vapour * (h_water(over[2]) + latent)
        d[m + OVER_W] -= vapour
        d[m + OVER_H] -= wall + surface + steam
        for name, amount in (('wall_j', wall), ('surface_j', surface), ('vapour_kg', vapour), ('vapour_j', steam)):
            self.count(d, name, amount)
        self.tun_base(y, d, m + LOW_H, low[2], wall + surface + vapour * latent, 4190.0 * water)

    def bed(self, y, d):
        day, bed = self.day, self.day.bed
        at, tun = day.at_bed, day.parts['mash']
        b = y[at:at + BED]
        mean = bed.mean(b)
        wall, surface, vapour = self.losses(tun, bed.volume(b), mean)
        if day.drains:
            vapour = 0.0
        steam = vapour * (h_water(mean) + h_fg(mean))
        limit = day.bed_setting['flow_limit_m3_s']
        wanted = self.run_off if limit is None else min(self.run_off, limit)
        out, (dw, dx, dh) = bed.rates(b, wanted, wall, surface + steam, vapour, day.drains)
        d[at:at + BED] += out
        for name, amount in (('wall_j', wall), ('surface_j', surface), ('vapour_kg', vapour), ('vapour_j', steam)):
            self.count(d, name, amount)
        kettle = day.parts['kettle']
        if kettle in self.in_play:
            d[4 * kettle:4 * kettle + 3] += (dw, dx, dh)
        self.tun_base(y, d, at + UNDER_H, bed.under_mean(b), 0.0, bed.under * 4.1e6)

    def kettle(self, y, d):
        """Hops, and colour made by heat."""
        day, i = self.day, self.day.parts['kettle']
        if i not in self.in_play:
            return
        t, vol = self.temp[i], self.vol[i]
        w, x = y[4 * i], y[4 * i + 1]
        if w > 0 and any(day.hops_in):
            # once the kettle is being emptied only what is still in it reacts, as strong as it was
            full = self.emptied_from or vol
            k1, k2 = law.iso_rates(t + law.ZERO)
            left = min(vol / full, 1.0)
            k1, k2 = left * k1 * day.s['bitterness']['k1'], left * k2 * day.s['bitterness']['k2']
            places = [(k, day.at_hops + 4 * k) for k, is_in in enumerate(day.hops_in) if is_in]
            phi = law.reacting_share(sum(max(y[p + 1], 0.0) for _, p in places) / full, day.s['wort_ph'])
            for k, p in places:
                leaves = day.s['hops'][k]['extraction_per_s'] * y[p]
                turns, lost = k1 * phi * y[p + 1], k2 * y[p + 2]
                d[p:p + 4] += (-leaves, leaves - turns, turns - lost, lost)
        if x > 0 and t >= 60.0:                     # where the law begins to hold
            flame = self.drives[i] is not None and self.drives[i][0] == 'flame'
            made = law.browning(100 * x / (w + x), t, day.s['wort_ph'], 1.3 if flame else 1.0)
            self.count(d, 'browned_ebc_m3', vol * made)
