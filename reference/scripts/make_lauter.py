#!/usr/bin/env python3
"""Recomputes checks/lauter.csv with the bed model of lauter_model.py and closed forms.

usage: make_lauter.py        needs: numpy scipy
"""
import numpy as np
from lauter_model import (G, RHO_70, ogata_banks, permeability, settled_flow, tanks, wash, water_viscosity, wort_viscosity)
from scipy.integrate import quad
from scipy.optimize import least_squares, minimize_scalar
from table import Table

t = Table('lauter.csv')
OURS = 'numpy from the lauter equations'
HBV = 'handbook sucrose viscosities, second-hand or from memory'
for p, c, e, tol in ((20, 20, 1.945, '3%'), (30, 20, 3.187, '2%'), (40, 20, 6.162, '4%'), (30, 40, 1.833, '2%'), (30, 60, 1.20, '2%')):
    t.add(f'V1-{p}-{c}', 'sucrose solution viscosity', f'plato={p};t_c={c};kappa=1', e, 'mPa s', tol, 'handbook', HBV, 1e3 * wort_viscosity(p, c, 1.0))
for c, e in ((20, 1.0016), (66, .42675), (76, .37253), (80, .35405)):
    t.add(f'V2-{c}', 'water viscosity', f't_c={c}', e, 'mPa s', '2.5%', 'library', 'IAPWS 2008 viscosity (table)', 1e3 * water_viscosity(c))
t.add('V3', 'congress wort of barley malt', 'plato=8.6;t_c=20', 1.55, 'mPa s', .10, 'common-practice', 'malt specification range 1.45-1.65', 1e3 * wort_viscosity(8.6, 20))
t.add('V4', 'wort 24 P against 16 P', 't_c=75', 1.5, '1', .05, 'published', 'Hansen 2008, MBAA talk on lauter tun theory', wort_viscosity(24, 75) / wort_viscosity(16, 75))
t.add('V5', 'flow of 20 P wort against 15 P', 't_c=75', .80, '1', .05, 'common-practice', 'equipment makers: about 20 % slower', wort_viscosity(15, 75) / wort_viscosity(20, 75))
for p in (0, 8.6, 12, 16, 20, 24):
    for c in (20, 65, 75, 78):
        t.calc(f'V6-{p}-{c}', 'wort viscosity', f'plato={p};t_c={c};kappa=1.65', 1e3 * wort_viscosity(p, c), 'mPa s', '0.5%', OURS, 4)
t.calc('V7', 'cooler sparge: viscosity 65 C / 78 C', 'plato=12', wort_viscosity(12, 65) / wort_viscosity(12, 78), '1', .01, OURS, 4)
t.calc('D1', 'Darcy flow', 'k_m2=2.7e-11;dp_pa=1500;depth_m=0.35;mu_pa_s=0.7e-3', 2.7e-11 * 1500 / .35 / .7e-3 * 6e4, 'L/(min m2)', '0.1%', OURS)
t.calc('D2', 'Darcy flow', 'k_m2=1e-11;dp_pa=500;depth_m=0.25;mu_pa_s=0.8e-3', 1e-11 * 500 / .25 / .8e-3 * 6e4, 'L/(min m2)', '0.1%', OURS)
t.calc('D3', 'Kozeny-Carman, constant 180', 'd_mm=0.2;porosity=0.45', (.2e-3) ** 2 * .45 ** 3 / 180 / .55 ** 2, 'm2', '0.5%', OURS)
for d in (.10, .15, .20, .30):
    for e in (.40, .50):
        t.calc(f'D4-{d}-{e}', 'Kozeny-Carman', f'd_mm={d};porosity={e}', (d * 1e-3) ** 2 * e ** 3 / 180 / (1 - e) ** 2, 'm2', '0.5%', OURS, 3)
t.add('D5', 'pressure for the same flow at viscosity x1.5 and depth x2', 'mu_factor=1.5;depth_factor=2', 3, '1', 1e-9, 'published', 'Hansen 2008, MBAA talk (statement); Darcy')
t.calc('D6', 'superficial flow in a kettle', 'l_per_min=0.95;diameter_m=0.40', .95 / (np.pi * .04), 'L/(min m2)', '0.5%', OURS)
A = np.pi * .04
q_max = minimize_scalar(lambda dp: -permeability(dp) * dp, bounds=(100, 9000), method='bounded').x
t.add('D7', 'bed pressure difference of greatest flow', 'p_a=2500;n=2', 2500, 'Pa', 50, 'published', 'Hansen 2008, MBAA talk: above 25 mbar the bed collapses', q_max)
mu = wort_viscosity(18, 70)
for h in (.10, .15, .25, .35, .50):
    q, dp = settled_flow(h, A, .20, mu, np.pi * .0127 ** 2 / 4)
    t.calc(f'D8-{int(100*h)}', 'settled flow, valve fully open', f'head_m={h};diameter_m=0.40;depth_m=0.20;plato=18;t_c=70;bore_mm=12.7;cd=0.6;k0=5e-11;p_a=2500;n=2;r_screen=5e8', q * 6e4, 'L/min', '0.5%', 'bisection on the bed pressure of a compressible bed', 5)
    t.calc(f'D9-{int(100*h)}', 'bed pressure then', 'as D8', dp, 'Pa', '0.5%', 'as D8', 5)
k = 2.7e-11
t.calc('D10', 'falling level through a bed, laminar', 'k_m2=2.7e-11;depth_m=0.20;mu_pa_s=0.7e-3;from_head_m=0.40;to_head_m=0.25', .7e-3 * .20 / (k * RHO_70 * G) * np.log(.40 / .25) / 60, 'min', '0.5%', 't = mu L/(k rho g) ln(h1/h2)')
a_v = .6 * np.pi * .0127 ** 2 / 4
t.calc('D11', 'falling level, valve only', 'diameter_m=0.40;bore_mm=12.7;cd=0.6;from_head_m=0.40;to_head_m=0.05', A / a_v * np.sqrt(2 / G) * (np.sqrt(.40) - np.sqrt(.05)), 's', '0.5%', 't = A/(Cd Av) sqrt(2/g) (sqrt h1 - sqrt h2)')
for dia in (.30, .35, .40, .45):
    t.calc(f'D12-{dia}', 'settled bed depth', f'grist_kg=5;bed_l_per_kg=1.8;diameter_m={dia}', 9e-3 / (np.pi * dia * dia / 4), 'm', '0.5%', OURS, 4)
for dia in (.30, .40):
    a_, dep = np.pi * dia * dia / 4, 9e-3 / (np.pi * dia * dia / 4)
    q, dp = settled_flow(.20, a_, dep, mu, np.pi * .0127 ** 2 / 4)
    t.calc(f'D13-{dia}', 'settled flow of that bed, valve open', f'head_m=0.20;diameter_m={dia};rest as D8', q * 6e4, 'L/min', '0.5%', 'as D8', 4)
c_mob, c_held, c_sol = 4.186 * .55 * (1.8 - .1824 / 1.45), 4.186 * .45 * (1.8 - .1824 / 1.45), .1824 * .38 * 4.186
t.calc('D14', 'lag of the temperature front against the flow', 'bed_l_per_kg=1.8;mobile=0.55;undissolved=0.1824', 1 + (c_held + c_sol) / c_mob, '1', .01, OURS, 4)
# matched flow
t.calc('M1', 'time to uncover the bed', 'diameter_m=0.40;cover_from_mm=50;cover_to_mm=25;l_per_min=0.95;mismatch=0.10', A * 25 / (.95 * .10), 'min', .1, 't = A dh/(Q e)')
t.calc('M2', 'flow of a sinking liquor tank against its start', 'head_from_m=0.60;head_to_m=0.35', np.sqrt(.35 / .60), '1', .001, 'Q goes with the square root of head')
t.calc('M3', 'time constant of self-levelling, turbulent valve', 'diameter_m=0.40;head_m=0.35;l_per_min=0.95', 2 * A * .35 * 1e3 / .95, 'min', '0.5%', 'tau = 2 A h/Q')
t.calc('M4', 'level at rest after a 10 % mismatch', 'head_m=0.35;mismatch=0.10', .35 * (1.1 ** 2 - 1) * 1e3, 'mm', .5, 'h = h0 (1+e)^2: higher than most walls, so it does not save the day')
rng = np.random.default_rng(1)
e_in, e_out = rng.normal(0, .12, 40000), rng.normal(0, .12, 40000)
drift = .95 * 20 * (np.exp(e_in) - np.exp(e_out))
t.calc('M5', 'drift of the level volume in 20 min without looking, sd', 'l_per_min=0.95;setting_ln_sd=0.12 at each valve', drift.std(), 'L', .1, 'numpy Monte Carlo, 40000 draws', 3)
# washing
for pe in (10, 20, 40):
    for pv in (.5, 1, 1.5, 2):
        t.calc(f'W1-{pe}-{pv}', 'front behind a step, dispersion', f'peclet={pe};pore_volumes={pv}', ogata_banks(pv, pe), '1', 1e-4, 'Ogata and Banks 1961, evaluated with scipy erfcx', 4)
for pe in (5, 20):
    for pv in (.5, 1, 1.5, 2):
        t.calc(f'W2-{pe}-{pv}', 'share recovered', f'peclet={pe};pore_volumes={pv}', quad(lambda x: 1 - ogata_banks(x, pe), 1e-9, pv, limit=200)[0], '1', 5e-4, 'integral of the line above (scipy quad)', 4)
for n in (1, 3, 10):
    t.calc(f'W3-{n}-1', 'outlet of N tanks', f'tanks={n};pore_volumes=1', tanks(1, n), '1', 1e-4, 'regularised upper gamma function (scipy)', 4)
for pv in (.5, 1.5, 2, 3):
    t.calc(f'W3-3-{pv}', 'outlet of N tanks', f'tanks=3;pore_volumes={pv}', tanks(pv, 3), '1', 1e-4, 'regularised upper gamma function (scipy)', 4)
vol, pl, ext, clo, tot = wash()
KW = 'grist_kg=5;y=0.7776;conversion=0.95;moisture=0.04;strike_kg=15;flow_l_min=0.95;defaults of the bed model'
for x in (.1, 3, 5, 8, 12, 16, 20, 24):
    t.calc(f'W4-{x}', 'strength at the valve, continuous sparge', KW + f';drawn_l={x}', np.interp(x, vol, pl), 'P', .03, 'lauter_model.wash (scipy LSODA)', 4)
for x in (20, 25, 27):
    t.calc(f'W5-{x}', 'share of extract drawn', KW + f';drawn_l={x}', np.interp(x, vol, ext) / tot, '1', .001, 'lauter_model.wash (scipy LSODA)', 4)
t.add('W6', 'extract balance over the whole run', KW, 0, '1', 1e-6, 'library', 'conservation', np.abs(clo).max())
bv, bp, *_ = wash(channel=0, tau_im=.5, cells=8, cover=.03, under=.03, under_mixed=1, late=0, volume=32)
cc = bp / 100
rel = cc / (1 - cc * .39)
rel /= rel[3]
bed = 9 - 5 * (.96 - .7776 * .95) / 1.45
free = 15.2 + 5 * .7776 * .95 * .61 - bed - .03
for pv in (.5, 1, 1.5, 2):
    t.add(f'W9-{pv}', 'bed model in its limit of N tanks (no bypass, fast exchange, no free volumes)', f'cells=8;pore_volumes={pv}', round(float(tanks(pv, 8)), 4), '1', .01, 'library', 'regularised upper gamma function (scipy)', np.interp(free - .03 + pv * bed, bv, rel))
stop = vol[np.argmax(pl < 2.25)] / 5
t.add('W7', 'run-off per kg when the runnings reach 2-2.5 P', KW, 5.2, 'L/kg', .4, 'common-practice', 'home continuous sparge 5.0-5.4 L/kg', stop)
obs = np.array([1, .973, .889, .735])
x = np.array([0, 1, 1.5, 2.0])


def shape(p):
    v2, p2, *_ = wash(under_mixed=1.0, late=0.0, channel=p[1], cells=8, tau_im=p[2], cover=1.0)
    sg = p2 / (258.6 - 227.1 * p2 / 258.2)
    return np.interp(x * p[0] + .05, v2, sg) / np.interp(.05, v2, sg)


fit = least_squares(lambda p: shape(p) - obs, [8.0, .05, 120.0], bounds=([3, 0, 10], [14, .3, 900]), diff_step=.02)
for xi, o, s in zip(x, obs, shape(fit.x)):
    t.add(f'W8-{xi}', 'gravity points of run-off against first wort', f'relative_volume={xi};one free volume scale, channel and exchange time', o, '1', .04, 'common-practice', 'one brewery\'s lautering log, means of 23 brews, unpublished', s)
print('fitted scale L, channel, tau_im:', np.round(fit.x, 3))
# drains
def drains(m, n, v=27.0, a=1.0, d=0.0):
    r = a * m + d
    return 1 - (r / (v / n + r)) ** n


for m in (3, 4, 5, 6, 7, 8):
    for n in (1, 2, 3, 4):
        t.calc(f'B1-{m}-{n}', 'equal drains, share recovered', f'grist_kg={m};retained_l_per_kg=1;run_off_l=27;drains={n}', 100 * drains(m, n), '%', .02, OURS, 4)
t.calc('B2', 'with 1 L under the plate', 'grist_kg=5;drains=2;dead_l=1', 100 * drains(5, 2, d=1), '%', .02, OURS, 4)
for s in (.5, .6, .3):
    t.calc(f'B3-{s}', 'two unequal drains', f'grist_kg=5;first_share={s};run_off_l=27', 100 * (1 - 5 / (27 * s + 5) * 5 / (27 * (1 - s) + 5)), '%', .02, OURS, 4)
t.calc('B4', 'limit of many drains', 'grist_kg=5;run_off_l=27', 100 * (1 - np.exp(-27 / 5)), '%', .02, OURS, 4)
e, w = 5 * .7776, 15.2
p1 = 100 * e / (e + w)
sg = 1 + p1 / (258.6 - 227.1 * p1 / 258.2)
vw = (e + w) / (sg * .9982)
t.calc('B5', 'worked example: first wort', 'grist_kg=5;extract_as_is=0.7776;moisture=0.04;liquor_kg=15', p1, 'P', .02, OURS, 5)
t.calc('B6', 'wort volume at 20 C', 'as B5', vw, 'L', .03, OURS, 5)
t.calc('B7', 'one drain, 5 L retained', 'as B5', 100 * (1 - 5 / vw), '%', .1, OURS, 4)
t.calc('B8', 'refilled with as much as was drained, drained again', 'as B5', 100 * (1 - (5 / vw) ** 2), '%', .1, OURS, 4)
t.add('B9', 'liquor held by spent grain', 'grist_kg=50;wet_kg=60;water_share=0.80', .96, 'L/kg', 1e-9, 'worked-example', 'German brewing-school worked example', 60 * .8 / 50)
t.calc('B10', 'water held per kg of dry undissolved matter in B9', 'as B9', 60 * .8 / (60 * .2), 'kg/kg', .01, OURS, 3)
t.calc('B11', 'same for the home value 1.0 L/kg at 0.182 kg/kg undissolved', 'retained=1.0;undissolved=0.1824', 1 / .1824, 'L/kg', .05, OURS, 3)
t.add('B12', 'brewhouse yield, German form', 'grist_kg=4;hot_l=23.0;plato=12;sg=1.04837', 69.44, '%', .05, 'worked-example', 'textbook form P SG V 0.96/m', 12 * 1.04837 * 23 * .96 / 4)
for p, e in ((14, .7), (16, 1.0), (18, 1.2)):
    t.add(f'B13-{p}', 'sparge liquor over main liquor', f'first_wort_p={p}', e, '1', .1, 'common-practice', 'German brewing-school table')


def ph_last(alk, c, ph0=5.5, b_e=26.0, b_s=1.5, c0=.20, rel=.15):
    return ph0 + rel * (1 - c / c0) + alk / (b_e * c + b_s)


for alk in (0, .5, 1.0):
    t.calc(f'R1-{alk}', 'pH of runnings at 2 P', f'alkalinity_left_meq_l={alk};kg_per_l=0.02;mash_ph=5.5', ph_last(alk, .02), 'pH', .01, OURS, 4)
t.add('R2', 'rise of last-running pH', 'alkalinity_left_meq_l=0.5;kg_per_l=0.015', .45, 'pH', .25, 'common-practice', 'supplier\'s technical leaflet: usually 0.2-0.7', ph_last(.5, .015) - 5.5)
t.write()
