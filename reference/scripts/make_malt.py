#!/usr/bin/env python3
"""Recomputes checks/malt.csv and proves data/malt.csv against the printed ranges.

usage: make_malt.py        needs: numpy scipy
"""
import csv
import os

import numpy as np
from mash_model import DEFAULT, mash
from scipy.optimize import brentq
from place import data_in
from table import Table

t = Table('malt.csv')
OURS = 'numpy from the malt analysis relations'
with open(data_in('malt.csv'), newline='') as f:
    malt = {r['class']: r for r in csv.DictReader(x for x in f if not x.startswith('#'))}


def v(cls, key):
    return float(malt[cls][key])


t.calc('M1', 'coarse extract as-is', 'fine_db_pct=81.5;fine_coarse_pct=1.2;moisture_pct=4', (81.5 - 1.2) * .96, '%', .01, OURS)
t.calc('M2', 'fine extract as-is', 'fine_db_pct=81.5;moisture_pct=4', 81.5 * .96, '%', .01, OURS)
LIT = 'Oxford Companion to Beer, Lintner: L = (WK + 16)/3.5'
for wk, e in ((140, 44.57), (200, 61.71), (317, 95.14), (334, 100.0)):   # a specification sheet prints 140 = 45 and 200 = 65
    t.add(f'M3-{wk}', 'Windisch-Kolbach to Lintner', f'wk={wk}', e, 'L', .1, 'handbook', LIT, (wk + 16) / 3.5)
for lo in (4, 160):
    t.calc(f'M4-{lo}', 'malt colour, Lovibond to SRM', f'lovibond={lo}', 1.3546 * lo - .76, 'SRM', .01, 'trade relation SRM = 1.3546 L - 0.76 (common practice)')
for ebc, e in ((2.5, 1.5), (4, 2.1), (12, 5.1), (25, 9.9), (60, 23), (80, 31), (800, 301)):
    t.add(f'M5-{ebc}', 'malt colour, EBC to Lovibond, older pair', f'ebc={ebc}', e, 'L', '2.5%', 'common-practice', 'maltsters\' equivalence sheet 2013: L = 0.375 EBC + 0.56', .375 * ebc + .56)
for l_, in ((3,), (10,), (40,), (100,)):
    t.calc(f'M6-{l_}', 'disagreement of the two colour routes', f'lovibond={l_}', (2.65 * l_ - 1.2) / (1.97 * (1.3546 * l_ - .76)) - 1, '1', .002, '2.65 L - 1.2 against 1.97 (1.3546 L - 0.76)', 4)
t.calc('M7', 'hot-water extract to share of sucrose', 'litre_degrees_per_kg=270', 270 / 386, '1', .001, 'sucrose 386 litre degrees per kg')
t.add('M8', 'effect of 2 % more moisture on a 12 P wort', 'moisture_pct=4 to 6', 11.5, 'P', .3, 'published', 'Noonan, malt analysis article (rule of thumb; the mass balance gives 11.75)', 12 * .94 / .96)
t.calc('M9', 'acid for 5 kg pale malt, single slope', 'ph_dw=5.6;slope=-21;kg=5;to_ph=5.4', 5 * 21 * .2, 'meq', .01, OURS)
t.calc('M10', 'acid for 1 kg of one wheat malt lot', 'ph_dw=6.07;a1=-44.9;a2=-6.0;to_ph=5.5', 44.9 * .57 - 6.0 * .57 ** 2, 'meq', .02, 'quadratic form of deLange 2015, MBAA TQ 52(1); one unpublished lot')
g = (('pilsner malt', 4.0), ('munich malt', .5), ('caramel malt medium', .3), ('chocolate malt', .1))


def need(ph):
    return sum(m * v(c, 'buffer_meq_per_kg_ph') * (v(c, 'ph_dw') - ph) for c, m in g)


t.calc('M11', 'grist in distilled water', 'pilsner malt=4.0;munich malt=0.5;caramel malt medium=0.3;chocolate malt=0.1;data/malt.csv', brentq(need, 3, 8), 'pH', 5e-4, 'root of the charge balance (scipy brentq)')
t.calc('M12', 'total buffer of it', 'as M11', sum(m * v(c, 'buffer_meq_per_kg_ph') for c, m in g), 'meq/pH', .01, OURS)
t.calc('M13', 'acid for that grist to 5.40 in distilled water', 'as M11', need(5.40), 'meq', .02, OURS)
t.add('M14', '1 % acidulated malt lowers a mash by', 'pilsner malt=99;acidulated malt=1', .10, 'pH', .06, 'common-practice', 'rule of thumb of the trade',
      v('pilsner malt', 'ph_dw') - brentq(lambda p: 99 * v('pilsner malt', 'buffer_meq_per_kg_ph') * (v('pilsner malt', 'ph_dw') - p) + v('acidulated malt', 'buffer_meq_per_kg_ph') * (v('acidulated malt', 'ph_dw') - p), 3, 8))
t.add('M15', '20 % dark crystal lowers a mash by', 'pale malt=80;caramel malt dark=20', .5, 'pH', .25, 'published', 'Palmer, How to Brew',
      v('pale malt', 'ph_dw') - brentq(lambda p: 80 * v('pale malt', 'buffer_meq_per_kg_ph') * (v('pale malt', 'ph_dw') - p) + 20 * v('caramel malt dark', 'buffer_meq_per_kg_ph') * (v('caramel malt dark', 'ph_dw') - p), 3, 8))
rng = (('pilsner malt', 'extract_fine_db_pct', 80.8, 83), ('pale malt', 'extract_fine_db_pct', 81, 82.5), ('munich malt', 'extract_fine_db_pct', 79, 82), ('wheat malt', 'extract_fine_db_pct', 83, 84.5),
       ('brown malt', 'extract_fine_db_pct', 76, 78.5), ('caramel malt medium', 'extract_fine_db_pct', 74.5, 78), ('pilsner malt', 'dp_wk', 200, 300), ('pale malt', 'dp_wk', 124, 212), ('wheat malt', 'dp_wk', 280, 350),
       ('munich malt', 'dp_wk', 70, 180), ('munich malt', 'colour_ebc', 14, 18), ('chocolate malt', 'colour_ebc', 1000, 1300), ('black malt', 'colour_ebc', 1350, 1550), ('roasted barley', 'colour_ebc', 1220, 1500),
       ('amber malt', 'colour_ebc', 50, 75), ('brown malt', 'colour_ebc', 110, 130), ('pale malt', 'moisture_pct', 3, 4), ('flaked barley', 'moisture_pct', 4, 13), ('pilsner malt', 'ph_dw', 5.6, 5.9), ('caramel malt dark', 'ph_dw', 4.5, 4.8))
UNIT = {'extract_fine_db_pct': '%', 'moisture_pct': '%', 'dp_wk': 'WK', 'colour_ebc': 'EBC', 'ph_dw': 'pH'}
for i, (c, k, lo, hi) in enumerate(rng):
    t.add(f'R{i+1:02}', f'{k} inside the printed range', f'class={c}', round((lo + hi) / 2, 3), UNIT[k], round((hi - lo) / 2, 3), 'handbook' if k == 'ph_dw' else 'common-practice',
          'Palmer, How to Brew; Briggs et al.' if k == 'ph_dw' else 'maltsters\' specification sheets; Moritz and Fuller 1941 for flaked barley', v(c, k))
t.add('R21', 'grist average needed to convert itself', 'unit=Lintner', 35, 'L', 5, 'handbook', 'Oxford Companion to Beer: 30-40')
g2 = (('pale malt', 3.0), ('flaked maize', 1.0))
dp = sum(m * (1 - 0) * v(c, 'dp_wk') for c, m in g2) / 4
t.calc('R22', 'grist diastatic power', 'pale malt=3;flaked maize=1', (dp + 16) / 3.5, 'L', .05, LIT)
# fermentable share of each class's extract when mashed at 65 C with enough enzyme
print('\nclass: fermentable share of its extract at 65 C (class by class)')
base = mash(65)
for c in malt:
    fg, other, pre = v(c, 'extract_fine_db_pct') / 100, v(c, 'other_solubles_db_pct') / 100, v(c, 'preformed_sugar_db_pct') / 100
    if fg <= 0:
        continue
    share = base['sugar_yield'][0] / base['dissolved'][0] * (1 - DEFAULT['limit'] - v(c, 'limit_share_shift')) / (1 - DEFAULT['limit'])
    hyd = 1.056
    f_ = (pre + max(fg - other, 0) / 1.042 * share * hyd) / fg
    print(f'{c:26} {f_:.2f}')
    if c in ('pilsner malt', 'munich malt', 'caramel malt medium', 'chocolate malt', 'flaked maize'):
        t.calc('P-' + c.replace(' ', '-'), 'fermentable share of the class extract', f'class={c};t_c=65;grist=laboratory', f_, '1', .005, 'malt class shares with the mash model at 65 C', 3)
for r in malt.values():
    assert 0 <= float(r['other_solubles_db_pct']) <= float(r['extract_fine_db_pct']) + .6, r['class']
    assert float(r['preformed_sugar_db_pct']) <= float(r['other_solubles_db_pct']) or float(r['other_solubles_db_pct']) == 0, r['class']
assert np.isfinite(base['conversion'][0])
t.write()
