#!/usr/bin/env python3
"""A frozen brew day integrated by SciPy: what the program's own integration is held against.

Reads reference/days/NAME.json (numbers of pots, lots and operations) and writes reference/days/NAME.csv. The equations are those of the
program's doc comments, written again; no table, no solver and no code is shared. Every stretch between two events is one `solve_ivp`.
needs: numpy, scipy
"""
import csv
import json
import os
import sys

import numpy as np
from scipy.integrate import solve_ivp

import day_laws as law
from day_laws import REF
from day_plant import (BED, CELL_H, CELLS, FREE_H, FREE_W, FREE_X, HELD, LOW_H, LOW_P, LOW_W, MASH, MOBILE, MOBILE_SHARE, OVER_H, OVER_P,
                       OVER_W, RHO_FLOW, RHO_SOLIDS, SOLIDS, TOTALS, UNDER_H, UNDER_SHARE, UNDER_X, V_EXTRACT, REST, Bed, Plant, Pot)
from place import OUT, ROOT

METHOD = os.environ.get('TWIN_METHOD', 'LSODA')
RTOL = float(os.environ.get('TWIN_RTOL', '1e-9'))
NEEDS = {'Fill': ['pot'], 'Heat': ['pot'], 'Keep': ['pot'], 'Pour': ['from', 'to'], 'DoughIn': ['mash'], 'Rest': ['mash'],
         'Circulate': ['mash'], 'FireMash': ['mash'], 'Sparge': ['liquor', 'mash'], 'RunOff': ['mash', 'kettle'],
         'BringToBoil': ['kettle'], 'Boil': ['kettle'], 'Hop': ['kettle'], 'Stand': ['kettle'], 'Chill': ['kettle'],
         'ToFermenter': ['kettle', 'fermenter'], 'Wait': []}


class Day:
    def __init__(self, setting):
        self.s = s = setting
        self.parts, self.bed_setting, self.chiller = s['parts'], s['bed'], s['chiller']
        self.pots = [Pot(p) for p in s['pots']]
        self.ops = s['operations']
        n = len(self.pots)
        self.at_mash = 4 * n
        self.at_bed = self.at_mash + MASH
        self.at_hops = self.at_bed + BED
        self.at_totals = self.at_hops + 4 * len(s['hops'])
        self.y = np.zeros(self.at_totals + len(TOTALS))
        self.t_boil = law.t_sat(s['pressure_pa'])
        kinetics = dict(s['kinetics'])
        kinetics['limit'] += s['grist']['limit_shift']
        self.kinetics, self.enzymes = kinetics, law.Enzymes(kinetics, s['mash_ph'])
        cold = s['air_c'] - REF
        for i, pot in enumerate(self.pots):
            self.y[4 * i + 2] = pot.metal * cold
            self.y[4 * i + 3] = pot.base_j_k * cold if pot.own else 0.0
        self.came = dict(water=0.0, extract=0.0, heat=0.0, wetting=0.0, metal=sum(self.y[4 * i + 2] + self.y[4 * i + 3] for i in range(n)))
        self.spilt = (0.0, 0.0, 0.0)
        self.mash_kind, self.grist, self.bed, self.drains = None, None, None, False
        self.boils, self.hops_in = [False] * n, [False] * len(s['hops'])
        self.t, self.start, self.end = 0.0, [None] * len(self.ops), [None] * len(self.ops)
        self.active, self.notes, self.full, self.iodine = [], {}, {}, None
        self.evaluations = 0

    # ---------------------------------------------------------- the clock

    def run(self):
        while True:
            self.start_due()
            if all(e is not None for e in self.end):
                return
            self.stretch()

    def due(self, k):
        op, due = self.ops[k], self.ops[k]['not_before_s']
        for tie in op['after']:
            edge = (self.start if tie['from'] == 'start' else self.end)[tie['operation']]
            if edge is None:
                return np.inf
            due = max(due, edge + tie['delay_s'])
        return due

    def start_due(self):
        again = True
        while again:
            again = False
            for k in range(len(self.ops)):
                if self.start[k] is None and self.due(k) <= self.t + 1e-6:
                    self.begin(k)
                    again = True

    def ends_at(self, k):
        a = self.ops[k]['action']
        timed = ('Wait', 'DoughIn', 'Rest', 'Circulate', 'Boil', 'Stand')
        return self.start[k] + a['for_s'] if a['do'] in timed else np.inf

    def finish(self, k):
        self.active.remove(k)
        self.end[k] = self.t
        if self.ops[k]['action']['do'] == 'ToFermenter':
            self.spill()

    def begin(self, k):
        a, parts = self.ops[k]['action'], self.parts
        for other in list(self.active):
            if self.ops[other]['action'].get('until') == k:
                self.finish(other)
        self.start[k] = self.t
        if a['do'] == 'Fill':
            self.notes[k] = self.mass(a['pot']) + a['mass_kg']
        elif a['do'] in ('Pour', 'Sparge'):
            i = a['from'] if a['do'] == 'Pour' else parts['liquor']
            can = max(self.mass(i) - 970.0 * self.pots[i].left_m3, 0.0)
            self.notes[k] = self.mass(i) - min(a['mass_kg'], can)
            if a['do'] == 'Sparge':
                self.drains = False
        elif a['do'] == 'DoughIn':
            self.dough_in(a['grist_kg'])
        elif a['do'] == 'RunOff' and self.mash_kind == 'nodes':
            self.settle()
        elif a['do'] == 'ToFermenter':
            self.notes[k] = self.kettle_keeps()
        elif a['do'] == 'Hop':
            h = self.s['hops'][a['addition']]
            self.y[self.at_hops + 4 * a['addition']] += h['mass_kg'] * h['alpha'] * h['path']
            self.hops_in[a['addition']] = True
            self.end[k] = self.t
            return
        self.active.append(k)

    def stretch(self):
        t_end = min(self.due(k) for k in range(len(self.ops)) if self.start[k] is None) if None in self.start else np.inf
        ending = None
        for k in self.active:
            if self.ends_at(k) < t_end or (self.ends_at(k) <= t_end and ending is None):
                t_end, ending = self.ends_at(k), k
        plant, watches = self.plant()
        for what, g in watches:
            if what not in ('iodine', 'paste again') and g(self.y) >= 0:
                self.happened(what)
                return
        what = self.integrate(plant, watches, t_end) if t_end - self.t > 1e-9 else None
        if what is not None:
            self.happened(what)
            return
        self.t = max(t_end, self.t)
        if ending is not None:
            self.finish(ending)

    def integrate(self, plant, watches, t_end):
        plant.take_part(self.needed())
        live, full = plant.live, self.y.copy()
        if len(live) == len(TOTALS):
            return None

        def whole(part):
            full[live] = part
            return full

        def event(g):
            def f(_, part):
                return g(whole(part))
            f.terminal, f.direction = True, 1.0
            return f
        assert np.isfinite(t_end) or watches
        stop = t_end if np.isfinite(t_end) else self.t + 6 * 3600.0
        run = solve_ivp(lambda t, part: plant.rates(t, whole(part))[live], (self.t, stop), self.y[live], method=METHOD, rtol=RTOL,
                        atol=RTOL * 1e-2 * self.scales()[live], max_step=120.0, events=[event(g) for _, g in watches] or None)
        self.evaluations += run.nfev
        assert run.status >= 0, run.message
        if run.status == 1:
            hits = [(times[0], n) for n, times in enumerate(run.t_events) if len(times)]
            self.t, n = min(hits)
            self.y[live] = run.y_events[n][0]
            return watches[n][0]
        assert np.isfinite(t_end), 'nothing ended within six hours'
        self.y[live] = run.y[:, -1]
        return None

    def scales(self):
        s = np.ones_like(self.y)
        for i in range(len(self.pots)):
            s[4 * i:4 * i + 4] = (10.0, 1.0, 1e6, 1e5)
        for at in (OVER_H, LOW_H):
            s[self.at_mash + at] = 1e6
        for at in (FREE_H, UNDER_H, *range(CELL_H, CELL_H + CELLS)):
            s[self.at_bed + at] = 1e5
        s[self.at_hops:self.at_totals] = 1e-3
        for k, name in enumerate(TOTALS):
            s[self.at_totals + k] = 1e6 if name.endswith('_j') else 1.0
        return s

    def needed(self):
        out = set()
        for k, op in enumerate(self.ops):
            if self.end[k] is None:
                for key in NEEDS[op['action']['do']]:
                    out.add(op['action'][key] if key in ('pot', 'from', 'to') else self.parts[key])
        return out

    def plant(self):
        """The plant as the operations under way make it, and what is waited for: (who, function that crosses zero upwards)."""
        p, parts, watches = Plant(self), self.parts, []
        tun, kettle, tank = parts['mash'], parts['kettle'], parts['liquor']

        def lighter(i, kg):
            return lambda y: kg - y[4 * i] - y[4 * i + 1]

        def boils(i):
            def f(y):
                return p.pot_t(i, y) - p.boil_c(i, y) if y[4 * i] > 0 else -1.0
            return (lambda y: 1.0) if self.boils[i] else f
        for k in self.active:
            a = self.ops[k]['action']
            do = a['do']
            if do == 'Fill':
                p.flows.append(('tap', a['pot'], a['flow_kg_s']))
                p.lids[a['pot']] = False
                watches.append((k, lambda y, g=lighter(a['pot'], self.notes[k]): -g(y)))
            elif do == 'Heat':
                p.light(a['pot'], a['setting'])
                p.lids[a['pot']] = a['lid']
                watches.append((k, lambda y, i=a['pot'], c=a['to_c']: p.pot_t(i, y) - c))
            elif do == 'Keep':
                p.drives[a['pot']] = ('keep', a['at_c'])
            elif do == 'Pour':
                p.flows.append((a['from'], a['to'], a['flow_m3_s']))
                p.lids[a['to']] = False
                watches.append((k, lighter(a['from'], self.notes[k])))
            elif do == 'DoughIn':
                p.lids[tun] = False
                p.swap += self.pots[tun].under_m3 / 120.0
            elif do == 'Circulate':
                p.swap += a['flow_m3_s']
            elif do == 'FireMash':
                p.light(tun, a['setting'])
                p.swap += a['flow_m3_s']
                p.lids[tun] = False
                watches.append((k, lambda y, c=a['to_c']: p.nodes(y)[0][0][2] - c))
            elif do == 'Sparge':
                p.flows.append((tank, 'mash', a['flow_m3_s']))
                p.lids[tun] = False
                watches.append((k, lighter(tank, self.notes[k])))
            elif do == 'RunOff':
                p.run_off = a['flow_m3_s']
                p.lids[tun] = False
                watches.append((k, lambda y, v=a['until_m3']: p.pot_v(kettle, y) - v))
                if self.drains:
                    watches.append((k, lambda y: 1e-4 - self.bed.drainable(y[self.at_bed:self.at_bed + BED])))
            elif do in ('BringToBoil', 'Boil'):
                p.light(kettle, a['setting'])
                p.lids[kettle] = False
                if do == 'BringToBoil':
                    watches.append((k, boils(kettle)))
            elif do in ('Stand', 'Chill'):
                if do == 'Stand':
                    p.lids[kettle] = a['lid']
                p.coil = a.get('chill', True)
                if a['to_c'] > -273:
                    watches.append((k, lambda y, c=a['to_c']: c - p.pot_t(kettle, y)))
            elif do == 'ToFermenter':
                assert not a['chill']
                p.emptied_from = self.full.setdefault(k, p.pot_v(kettle, self.y))
                p.flows.append((kettle, parts['fermenter'], a['flow_m3_s']))
                watches.append((k, lambda y, v=self.notes[k]: v - p.pot_v(kettle, y)))
            else:
                assert do in ('Wait', 'Rest'), do
        p.take_part(self.needed())
        for i in p.in_play:
            if self.boils[i]:
                watches.append((('rests', i), lambda y, i=i, c=p.boil_c(i, self.y) - 0.3: c - p.pot_t(i, y)))
            elif p.drives[i] is not None:
                watches.append((('boils', i), boils(i)))
        at = self.at_mash
        if p.mash_kind == 'nodes':
            def paste(y):
                return (y[at + OVER_P] + y[at + LOW_P]) / self.grist.starch
            if paste(self.y) > 0.02 + 1e-7:
                watches.append(('iodine', lambda y: 0.02 - paste(y)))
            else:                               # it may turn again when the mash is fired
                watches.append(('paste again', lambda y: paste(y) - 0.02 - 1e-6))
        if p.mash_kind == 'bed' and not self.drains:
            watches.append(('free gone', lambda y: 0.02 - y[self.at_bed + FREE_W]))
        return p, watches

    def happened(self, what):
        if what == 'iodine':
            self.iodine = self.t - self.doughed
        elif what == 'paste again':
            pass
        elif what == 'free gone':
            self.drains = True
        elif isinstance(what, tuple):
            self.boils[what[1]] = what[0] == 'boils'
        else:
            if self.ops[what]['action']['do'] == 'BringToBoil':
                self.boils[self.parts['kettle']] = True
            self.finish(what)

    # ---------------------------------------------------------- what happens at once

    def mass(self, i):
        return self.y[4 * i] + self.y[4 * i + 1]

    def temp(self, i):
        return law.temperature(self.y[4 * i + 2], self.y[4 * i], self.y[4 * i + 1], 0.0, self.pots[i].metal)

    def dough_in(self, grist_kg):
        i, s = self.parts['mash'], self.s
        pot, water, t = self.pots[i], self.y[4 * i], self.temp(i)
        self.grist = g = law.Grist(s['grist'], self.kinetics, grist_kg)
        _, low_metal = pot.split_metal()
        low = min(pot.under_m3 * law.rho_water(t), 0.6 * water)
        low_j = low * law.h_water(t) + low_metal * (t - REF)
        solid, wet = g.inert + sum(g.solids), sum(g.pools[:7])
        grain_j = law.heat(g.moisture, wet, s['grist_c']) + solid * law.h_solid(s['grist_c'])
        wetting_j = s['wetting_factor'] * grist_kg * law.heat_of_wetting(s['grist']['moisture'])
        m = self.at_mash
        self.y[m + OVER_W] = water - low + g.moisture
        self.y[m + OVER_P:m + OVER_P + 10] = g.pools
        self.y[m + OVER_H] = self.y[4 * i + 2] - low_j + grain_j + wetting_j
        self.y[m + SOLIDS:m + SOLIDS + 4] = g.solids
        self.y[m + LOW_W], self.y[m + LOW_H] = low, low_j
        self.y[4 * i:4 * i + 3] = 0.0
        husk = g.inert - g.starch * g.shut
        self.came['water'] += g.moisture
        self.came['extract'] += wet + solid - husk
        self.came['heat'] += grain_j
        self.came['wetting'] += wetting_j
        self.inert, self.end_plato = g.inert, g.end_plato(water + g.moisture)
        self.mash_kind, self.doughed = 'nodes', self.t

    def settle(self):
        """The mash becomes a bed: one concentration and one temperature but for the liquid under the plate."""
        m, pot, b, g = self.at_mash, self.pots[self.parts['mash']], self.bed_setting, self.grist
        y = self.y[m:m + MASH]
        (over, low), solids = Plant(self).nodes(self.y)
        undissolved = y[SOLIDS:SOLIDS + 4].sum() + g.starch * g.shut
        late = min(b['late'] * g.potential, undissolved)
        bed_m3 = b['per_kg_m3'] * g.mass
        liquid = max(bed_m3 - solids / RHO_SOLIDS, 0.2 * bed_m3)
        self.bed = bed = Bed()
        bed.mobile, bed.held = b['mobile'] * liquid, (1 - b['mobile']) * liquid
        bed.under = max(pot.under_m3, 2e-4)
        bed.dead = min(pot.left_m3, 0.95 * bed.under)
        bed.exchange_s, bed.channel, bed.late_s, bed.drain_s = b['exchange_s'], b['channel'], b['late_s'], 240.0
        bed.solids_heat = solids * law.C_SOLID + pot.metal
        bed.retained = b['retained_m3_kg'] * g.mass
        bed.solids = solids - late
        self.undissolved = undissolved - late
        x, w = over[1] + low[1], over[0] + low[0]
        has = w / RHO_FLOW + V_EXTRACT * (x + late)
        assert has >= 1.02 * (bed.left() + bed.held + bed.under), 'a mash this thick packs tighter'
        weaker = (low[1] / low[3]) / (over[1] / over[3])
        free = has - bed.mobile - bed.held - bed.under
        assert free > 0
        c = x / (free + bed.mobile + bed.held + weaker * bed.under)
        s = np.zeros(BED)
        s[FREE_X], s[FREE_W] = c * free, RHO_FLOW * (free - V_EXTRACT * c * free)
        s[MOBILE:MOBILE + CELLS], s[HELD:HELD + CELLS] = c * bed.mobile / CELLS, c * bed.held / CELLS
        s[MOBILE_SHARE], s[UNDER_SHARE], s[UNDER_X], s[REST] = 1.0, 1.0, c * weaker * bed.under, late
        cap_free, cap_cells, cap_under = bed.capacities(s)
        warmer = low[2] - over[2]
        lift = (y[OVER_H] + y[LOW_H] - cap_under * warmer) / (cap_free + cap_cells.sum() + cap_under)
        s[FREE_H], s[CELL_H:CELL_H + CELLS], s[UNDER_H] = cap_free * lift, cap_cells * lift, cap_under * (lift + warmer)
        pools = y[OVER_P:OVER_P + 10] + y[LOW_P:LOW_P + 10]
        sugars = sum(pools[i] * (1 + law.BOUND[i]) for i in (law.GLUCOSE, law.MALTOSE, law.MALTOTRIOSE))
        other_sugar = self.s['grist']['other_sugar_dry'] / self.s['grist']['other_dry']
        self.mash_end = dict(conversion=x / g.potential, fermentable=(sugars + other_sugar * pools[law.OTHER]) / x,
                             temperature=over[2], under=low[2], strength=100 * x / (x + w))
        self.y[self.at_bed:self.at_bed + BED] = s
        self.y[m:m + MASH] = 0.0
        self.mash_kind, self.drains = 'bed', False

    def kettle_keeps(self):
        i = self.parts['kettle']
        held = law.volume(self.y[4 * i], self.y[4 * i + 1], self.temp(i))
        losses, pot = self.s['losses'], self.pots[i]
        if losses['trub_and_hops_m3'] is not None:
            return min(losses['trub_and_hops_m3'], held)
        plato = 100 * self.y[4 * i + 1] / self.mass(i)
        cold = 0.0 if self.chiller['kind'] == 'counterflow' else losses['cold_break']
        hops = sum(h['mass_kg'] * h['held_m3_kg'] for h, is_in in zip(self.s['hops'], self.hops_in) if is_in)
        return min(pot.left_m3 + held * (losses['trub'] * (plato / 12) ** 0.5 + cold) + hops, held)

    def spill(self):
        i = self.parts['fermenter']
        t = self.temp(i)
        share = min(self.s['losses']['hoses_m3'] / law.volume(self.y[4 * i], self.y[4 * i + 1], t), 1.0)
        w, x = share * self.y[4 * i], share * self.y[4 * i + 1]
        self.spilt = (w, x, law.heat(w, x, t))
        self.y[4 * i:4 * i + 3] -= self.spilt


def rows(day):
    """(id, quantity, value, unit, size below which a number counts as small)."""
    out = []
    for k, op in enumerate(day.ops):
        out.append((f'start {op["id"]}', 'start of the operation', day.start[k], 's', 0))
        out.append((f'end {op["id"]}', 'end of the operation', day.end[k], 's', 0))
    y = day.y
    for i, pot in enumerate(day.pots):
        if i != day.parts['mash']:
            out.append((f'{pot.key} temperature', 'at the end of the day', day.temp(i), 'C', 20.0))
        out.append((f'{pot.key} water', 'at the end of the day', y[4 * i], 'kg', 1.0))
        out.append((f'{pot.key} extract', 'at the end of the day', y[4 * i + 1], 'kg', 0.1))
        if pot.own:
            out.append((f'{pot.key} base', 'heat over 65 C at the end of the day', y[4 * i + 3], 'J', 1e6))
    b, bed = y[day.at_bed:day.at_bed + BED], day.bed
    out += [('mash conversion', 'when it settled', day.mash_end['conversion'], '1', 0.1),
            ('mash fermentable', 'when it settled', day.mash_end['fermentable'], '1', 0.1),
            ('mash temperature', 'when it settled', day.mash_end['temperature'], 'C', 20.0),
            ('mash strength', 'when it settled', day.mash_end['strength'], 'P', 1.0),
            ('iodine normal', 'from dough-in', day.iodine, 's', 0)]
    names = (['free extract', 'free water', 'free heat'] + [f'mobile extract {i + 1}' for i in range(CELLS)]
             + [f'held extract {i + 1}' for i in range(CELLS)] + [f'cell heat {i + 1}' for i in range(CELLS)]
             + ['mobile share', 'under extract', 'under heat', 'under share', 'late extract'])
    for name, value in zip(names, b):
        unit = 'J' if 'heat' in name else '1' if 'share' in name else 'kg'
        out.append((f'bed {name}', 'at the end of the day', value, unit, {'J': 1e6, '1': 0.1, 'kg': 0.1}[unit]))
    for k in range(len(day.s['hops'])):
        for n, name in enumerate(('alpha in the hops', 'alpha', 'iso-alpha', 'degraded')):
            out.append((f'hop {k + 1} {name}', 'at the end of the day', y[day.at_hops + 4 * k + n], 'kg', 1e-3))
    for k, name in enumerate(TOTALS):
        unit = {'kg': 'kg', 'j': 'J', 'm3': 'EBC m3'}[name.rsplit('_', 1)[1]]
        out.append((f'total {name}', 'over the day', y[day.at_totals + k], unit, {'kg': 0.1, 'J': 1e6, 'EBC m3': 0.01}[unit]))
    return out + ledger(day, b, bed)


def ledger(day, b, bed):
    y, parts = day.y, day.parts
    total = {name: y[day.at_totals + k] for k, name in enumerate(TOTALS)}
    ferm, kettle = parts['fermenter'], parts['kettle']
    others = [i for i in range(len(day.pots)) if i not in (ferm, kettle)]
    under_w = bed.under_water(b)
    water = [('in', 'liquor', total['tap_kg']), ('in', 'water of malt and sugar', day.came['water']),
             ('out', 'vapour', total['vapour_kg']), ('out', 'bound by splitting starch', total['bound_kg']),
             ('out', 'held by the grain', bed.water(b) - under_w), ('out', 'left under the false bottom', under_w),
             ('out', 'left in the tank', sum(y[4 * i] for i in others)),
             ('out', 'left in the kettle with trub and hops', y[4 * kettle]),
             ('out', 'hoses, chiller and spilling', day.spilt[0]), ('out', 'in the fermenter', y[4 * ferm])]
    extract = [('in', 'starch and other extract of the grist, and sugar', day.came['extract']),
               ('in', 'water bound by splitting starch', total['bound_kg']),
               ('out', 'not dissolved', day.undissolved + b[REST]), ('out', 'held by the grain', bed.extract(b) - b[UNDER_X]),
               ('out', 'left under the false bottom', b[UNDER_X]), ('out', 'left in other pots', sum(y[4 * i + 1] for i in others)),
               ('out', 'left in the kettle with trub and hops', y[4 * kettle + 1]),
               ('out', 'hoses, chiller and spilling', day.spilt[1]), ('out', 'in the fermenter', y[4 * ferm + 1])]
    energy = [('in', 'flames', total['flame_j']), ('in', 'elements and plates', total['electric_j']),
              ('in', 'wetting of the grist', day.came['wetting']),
              ('in', 'cold liquor, grain and sugar, counted from 65 °C', day.came['heat'] + total['tap_j']),
              ('in', 'cold metal, counted from 65 °C', day.came['metal']),
              ('out', 'vapour', total['vapour_j']), ('out', 'walls, lids and bases', total['wall_j']),
              ('out', 'open surfaces', total['surface_j']), ('out', 'chilling water', total['chill_j']),
              ('out', 'left in tun and grain, counted from 65 °C', bed.heat(b)),
              ('out', 'left in the other pots, counted from 65 °C', sum(y[4 * i + 2] + y[4 * i + 3] for i in (*others, kettle))),
              ('out', 'hoses, chiller and spilling, counted from 65 °C', day.spilt[2]),
              ('out', 'in the fermenter, counted from 65 °C', y[4 * ferm + 2] + y[4 * ferm + 3])]
    out = []
    for name, unit, small, entries in (('water', 'kg', 1.0, water), ('extract', 'kg', 0.1, extract), ('energy', 'J', 1e6, energy)):
        sides = {side: sum(v for s, _, v in entries if s == side) for side in ('in', 'out')}
        assert abs(sides['in'] - sides['out']) < 1e-6 * sum(abs(v) for _, _, v in entries), (name, sides)
        out += [(f'ledger {name} {side}: {what}', 'over the day', value, unit, small) for side, what, value in entries]
    return out


def main(name):
    with open(os.path.join(ROOT, 'days', name + '.json'), encoding='utf-8') as f:
        day = Day(json.load(f))
    day.run()
    source = f'SciPy solve_ivp {METHOD}, rtol {RTOL:g}'
    path = os.path.join(OUT, 'days', name + '.csv')
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, 'w', newline='', encoding='utf-8') as f:
        w = csv.writer(f, lineterminator='\n')
        w.writerow(['id', 'quantity', 'expected', 'unit', 'tolerance', 'source'])
        for id_, quantity, value, unit, small in rows(day):
            tolerance = 0.5 if unit == 's' else 1e-4 * max(abs(value), small)
            w.writerow([id_, quantity, f'{value:.8g}', unit, f'{tolerance:.3g}', source])
    print(f'{name}: {day.t / 3600:.2f} h, {day.evaluations} evaluations -> {path}')


if __name__ == '__main__':
    main(sys.argv[1] if len(sys.argv) > 1 else 'windfall-amber')
