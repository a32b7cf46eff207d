"""Makes checks/fitout.csv and data/kettle.csv: pots, fittings, heat sources.

Run: python3 make_fitout.py   (needs fluids 1.3, ht 1.2, chemicals 1.5, CoolProp 8, scipy)
Every row's `expected` is either printed by the named source or computed here with the named library.
"""
import csv, math, os
import numpy as np
from math import pi, sqrt
from scipy.integrate import quad
from scipy.optimize import brentq
import fluids, ht
from fluids.geometry import TANK, V_partial_sphere
from fluids import (friction_factor, Reynolds, K_to_Kv, Kv_to_K, entrance_sharp, K_ball_valve_Crane)
from chemicals import Hfg, MW, search_chemical, simple_formula_parser
from chemicals.combustion import combustion_data
from CoolProp.CoolProp import PropsSI
from place import check, data_out

G = 9.80665
rows = []


def add(i, q, inp, exp, unit, tol, kind, src):
    rows.append([i, q, inp, exp, unit, tol, kind, src])


def sig(x, n=6):
    return float(f'{x:.{n}g}')


def rho(t): return PropsSI('D', 'T', t+273.15, 'P', 101325, 'Water')
def mu(t): return PropsSI('V', 'T', t+273.15, 'P', 101325, 'Water')
def pv(t): return PropsSI('P', 'T', t+273.15, 'Q', 0, 'Water')


# ---------------------------------------------------------------- 1. pots: geometry
for D in (300, 330, 360, 400, 450, 500):
    add(f'F-geo-mm-per-l-{D}', 'height of one litre in a cylinder', f'diameter_mm={D}', sig(1e6/(pi*D*D/4)), 'mm/L', 1e-3, 'worked-example', 'arithmetic: 1e6/(pi D^2/4)')
for V in (10, 20, 30, 45, 70, 100):
    D = (4*V*1e6/pi)**(1/3)   # H = D
    add(f'F-geo-square-{V}', 'diameter of a pot as high as wide', f'volume_l={V}', sig(D), 'mm', 0.01, 'worked-example', 'arithmetic: D=(4V/pi)^(1/3)')


def v_corner(D, r):
    """Volume missing between a square corner and a corner of radius r (Pappus)."""
    a = r*r*(1-pi/4); c = r*(10-3*pi)/(12-3*pi)
    return 2*pi*(D/2-c)*a


def v_knuckle(D, r, h):
    """Volume below height h of a flat-based cylinder whose base corner has radius r."""
    R = D/2
    f = lambda z: pi*(R-r+sqrt(max(0, r*r-(r-z)**2)))**2 if z < r else pi*R*R
    a = quad(f, 0, min(h, r))[0]
    return a+(pi*R*R*(h-r) if h > r else 0)


for D, r in ((300, 15), (400, 25), (400, 40), (500, 50)):
    v = v_corner(D, r)
    assert abs(pi*D*D/4*r-v_knuckle(D, r, r)-v) < 1e-6*v
    add(f'F-corner-{D}-{r}', 'volume lost to a radiused base corner', f'diameter_mm={D};radius_mm={r}', sig(v/1e6), 'L', 1e-4, 'worked-example', 'Pappus; quadrature with scipy agrees to 1e-6')
for h in (5, 10, 25, 100):
    add(f'F-corner-h-400-25-{h}', 'volume below a height, radiused base', f'diameter_mm=400;radius_mm=25;height_mm={h}', sig(v_knuckle(400, 25, h)/1e6), 'L', 1e-4, 'library', 'scipy.integrate.quad')
for D, h in ((300, 10), (400, 10), (400, 20), (400, 40)):
    a = D/2
    v = pi*h*(3*a*a+h*h)/6
    Rs = (a*a+h*h)/(2*h)
    assert abs(V_partial_sphere(2*Rs, h)/v-1) < 1e-9
    add(f'F-dome-{D}-{h}', 'volume of a domed (spherical cap) base', f'diameter_mm={D};dome_mm={h}', sig(v/1e6), 'L', 1e-4, 'library', 'fluids.geometry.V_partial_sphere')
t = TANK(D=0.4, L=0.4, horizontal=False, sideA='torispherical', sideA_f=1.0, sideA_k=0.1, sideB=None)
add('F-dish-kloepper-head', 'height of a torispherical base, crown f=1, knuckle k=0.1', 'diameter_mm=400', sig(t.sideA_a*1e3), 'mm', 0.01, 'library', 'fluids.geometry.TANK (DIN 28011 proportions)')
for h in (0.03, 0.077494, 0.2, 0.4):
    add(f'F-dish-kloepper-v-{int(round(h*1e3))}', 'volume below height from the lowest point', f'diameter_mm=400;crown_f=1;knuckle_k=0.1;height_mm={h*1e3:g}', sig(t.V_from_h(h)*1e3), 'L', 1e-4, 'library', 'fluids.geometry.TANK')
tc = TANK(D=0.4, L=0.5, horizontal=False, sideA='conical', sideA_a=0.2*math.tan(math.radians(30)), sideB=None)
add('F-cone-120', 'volume of a 120 degree cone base', 'diameter_mm=400;included_angle_deg=120', sig(tc.V_from_h(tc.sideA_a)*1e3), 'L', 1e-4, 'library', 'fluids.geometry.TANK')

# shape: same 45 L, different diameter
for D in (0.300, 0.350, 0.400, 0.450):
    V = 0.045; A = pi*D*D/4; H = V/A
    add(f'F-shape-{int(D*1e3)}', 'height of a 45 L pot', f'volume_l=45;diameter_mm={D*1e3:.0f}', sig(H*1e3), 'mm', 0.1, 'worked-example', 'arithmetic')
    add(f'F-shape-bed-{int(D*1e3)}', 'bed depth of 5 kg malt at 1.8 L/kg settled', f'grist_kg=5;bed_l_per_kg=1.8;diameter_mm={D*1e3:.0f}', sig(0.009/A*1e3), 'mm', 0.1, 'worked-example', 'arithmetic; 1.8 L/kg settled bed (maltings/engineering notes 1.65-1.8)')
    # Shah evaporation 80 C and side loss are owned by the boil sheet; here relative numbers only
    add(f'F-shape-ratio-{int(D*1e3)}', 'free surface over wetted side, 35 L in the pot', f'volume_l=35;diameter_mm={D*1e3:.0f}', sig(A/(pi*D*0.035/A)), '1', 1e-4, 'worked-example', 'arithmetic: A/(pi D h)')

# expansion of marks, wall as scale
for name, al in (('stainless 304', 17.3e-6), ('stainless 430', 10.3e-6), ('aluminium', 23.6e-6), ('enamelled steel', 12.0e-6), ('borosilicate glass', 3.3e-6)):
    add(f'F-mark-{name.split()[-1] if "stainless" in name else name.split()[0]}', 'volume at a wall mark, hot over cold', f'material={name};alpha_per_k={al};t_cold_c=20;t_hot_c=99', sig((1+al*79)**3, 7), '1', 1e-6, 'worked-example', 'arithmetic: (1+alpha dT)^3')
add('F-mark-water', 'volume of the same water, hot over cold', 't_cold_c=20;t_hot_c=99', sig(rho(20)/rho(99), 7), '1', 1e-5, 'library', 'CoolProp (IAPWS-95)')
add('F-mark-net', 'litres at 20 C in a 304 pot filled to its 30 L mark at 99 C', 'mark_l=30;alpha_per_k=17.3e-6', sig(30*(1+17.3e-6*79)**3*rho(99)/rho(20)), 'L', 1e-3, 'library', 'CoolProp')
for tt in (25, 40, 60):
    add(f'F-sight-{tt}', 'height in a cool sight tube over true height', f't_pot_c=95;t_tube_c={tt}', sig(rho(95)/rho(tt)), '1', 1e-5, 'library', 'CoolProp: hydrostatic balance')
for D, ang in ((360, 0.5), (400, 1.0), (450, 2.0)):
    add(f'F-tilt-{D}', 'wall reading error of a leaning pot, at the worst side', f'diameter_mm={D};tilt_deg={ang}', sig(D/2*math.tan(math.radians(ang))), 'mm', 1e-3, 'worked-example', 'arithmetic: (D/2) tan(angle); mean of two opposite sides is right')

# ---------------------------------------------------------------- 1b. walls and bases
def drop(q, layers):
    return q*sum(t/k for t, k in layers)
q = 5000/(pi*0.4**2/4)
add('F-flux-5kw-400', 'flux through a 400 mm base', 'net_kw=5;diameter_mm=400', sig(q/1e3), 'kW/m2', 1e-3, 'worked-example', 'arithmetic')
for nm, ly in (('304 1.0 mm', [(1e-3, 16.2)]), ('304 0.8 mm', [(0.8e-3, 16.2)]), ('aluminium 4 mm', [(4e-3, 237)]), ('clad 0.5 430 + 5 Al + 0.8 304', [(0.5e-3, 24), (5e-3, 237), (0.8e-3, 16.2)]), ('enamelled steel 1.5 mm + 0.3 mm enamel', [(1.5e-3, 50), (0.3e-3, 1.0)])):
    add('F-base-drop-'+nm.replace(' + ', '-').replace(' ', '-'), 'temperature drop through the base at that flux', f'flux_kw_m2={q/1e3:.4f};base={nm}', sig(drop(q, ly), 5), 'K', 0.01, 'worked-example', 'arithmetic: q sum(t/k); k 304 16.2, 430 24, Al 237, steel 50, enamel 1.0 W/mK')
for nm, k, tk in (('304 1 mm', 16.2, 1e-3), ('aluminium 4 mm', 237, 4e-3), ('clad 5 mm Al', 237, 5e-3), ('copper 2 mm', 398, 2e-3)):
    add('F-base-spread-'+nm.replace(' ', '-'), 'spreading length of a base under liquid at 1000 W/m2K', f'k_w_mk={k};thickness_mm={tk*1e3};h_w_m2k=1000', sig(sqrt(k*tk/1000)*1e3, 5), 'mm', 0.01, 'worked-example', 'fin theory: sqrt(k t/h)')

# generic kettles
mats = {'304': (8000, 500), '430': (7700, 460), 'Al': (2700, 897), 'steel': (7850, 470)}
kt = []
for nom, D, H in ((15, 260, 280), (20, 280, 325), (25, 300, 355), (30, 325, 362), (40, 360, 395), (50, 400, 400), (60, 400, 480), (70, 450, 440), (100, 500, 510)):
    for kind in ('single 304', 'clad 304', 'aluminium'):
        A = pi*D*D/4e6; S = pi*D*H/1e6
        if kind == 'single 304':
            tw, wall, base, lid = 1.0, 1.0e-3*8000, [(1.0e-3, '304')], 0.8e-3*8000
            cw = 500
        elif kind == 'clad 304':
            tw, wall, base, lid = 0.8, 0.8e-3*8000, [(0.8e-3, '304'), (5e-3, 'Al'), (0.5e-3, '430')], 0.7e-3*8000
            cw = 500
        else:
            tw, wall, base, lid = 3.0, 3.0e-3*2700, [(3.0e-3, 'Al')], 1.5e-3*2700
            cw = 897
        mw = S*wall; mb = sum(A*t*mats[m][0] for t, m in base); cb = sum(A*t*mats[m][0]*mats[m][1] for t, m in base)
        ml = A*1.05*lid; mh = 0.6+0.008*nom
        C = mw*cw+cb+mh*500*0.5
        kt.append([nom, kind, D, H, tw, round(sum(t for t, _ in base)*1e3, 1), 0.0, round(1e6/(pi*D*D/4), 3), round(A, 4), round(S, 4), round(mw+mb+mh, 2), round(ml, 2), round(C/1e3, 3)])
with open(data_out('kettle.csv'), 'w', newline='') as f:
    f.write('# what:   generic straight pots, no maker; sizes typical of what is sold, weights and heat capacity computed from geometry\n')
    f.write('# source: common practice, no source (sizes, gauges); computed by scripts/make_fitout.py (the rest)\n')
    f.write('# units:  mm, L, mm/L, m2, kg, kJ/K; heat_kj_k counts wall, base and half the handles, not the lid\n')
    f.write('# tol:    sizes +-10 mm, weights +-20 %, heat +-20 % until the person measures the pot\n')
    w = csv.writer(f, lineterminator='\n')
    w.writerow('nominal_l,build,diameter_mm,height_mm,wall_mm,base_mm,brim_l,mm_per_l,surface_m2,side_m2,pot_kg,lid_kg,heat_kj_k'.split(','))
    for k in kt:
        k[6] = round(k[2]**2*pi/4*k[3]/1e6, 1)
        w.writerow(k)
for k in kt:
    if k[0] in (30, 50, 100):
        add(f'F-kettle-{k[0]}-{k[1].replace(" ", "-")}', 'heat capacity of a generic pot', f'build={k[1]};diameter_mm={k[2]};height_mm={k[3]};wall_mm={k[4]};base_mm={k[5]}', k[12], 'kJ/K', 0.002, 'worked-example', 'geometry x density x specific heat of data/material.csv')

# insulation of the side at 66 C, 20 C air, D 400, height 300 wetted
def u_side(k, t, eps, Tw=66., Ta=20., L=0.3):
    """Steady flux through wall insulation to still air with radiation; outside temperature by iteration."""
    from ht import Nu_vertical_plate_Churchill
    def h_out(Ts):
        Tf = (Ts+Ta)/2+273.15
        cp = PropsSI('C', 'T', Tf, 'P', 101325, 'Air'); m_ = PropsSI('V', 'T', Tf, 'P', 101325, 'Air'); k_ = PropsSI('L', 'T', Tf, 'P', 101325, 'Air'); r_ = PropsSI('D', 'T', Tf, 'P', 101325, 'Air')
        Pr = cp*m_/k_; Gr = G*(1/Tf)*abs(Ts-Ta)*L**3/(m_/r_)**2
        return Nu_vertical_plate_Churchill(Pr, Gr)*k_/L+eps*5.670374419e-8*((Ts+273.15)**2+(Ta+273.15)**2)*(Ts+Ta+546.3)
    if t == 0:
        return h_out(Tw)*(Tw-Ta)
    f = lambda Ts: k/t*(Tw-Ts)-h_out(Ts)*(Ts-Ta)
    Ts = brentq(f, Ta+0.01, Tw-1e-6)
    return k/t*(Tw-Ts)
for nm, k, tt, eps in (('bare bright 304', 1, 0, 0.2), ('bare dull', 1, 0, 0.8), ('10 mm closed-cell foam', 0.038, 0.010, 0.9), ('20 mm closed-cell foam', 0.038, 0.020, 0.9), ('10 mm reflective felt', 0.045, 0.010, 0.1), ('25 mm cork', 0.045, 0.025, 0.9)):
    qf = u_side(k, tt, eps)
    add('F-insul-'+nm.replace(' ', '-'), 'side loss at 66 C into 20 C still air', f'k_w_mk={k};thickness_mm={tt*1e3};emissivity={eps};height_m=0.3', sig(qf, 4), 'W/m2', '2 %', 'library', 'ht.Nu_vertical_plate_Churchill, CoolProp air, grey radiation')

# weight and tipping
def pot_weight(v_l, t, pot):
    return v_l*rho(t)/1e3+pot
add('F-weight-35', 'mass of 35 L at 97 C and a 6.0 kg pot (water)', 'volume_l=35;t_c=97;pot_kg=6', sig(pot_weight(35, 97, 6)), 'kg', 0.01, 'library', 'CoolProp')
add('F-weight-28', 'mass of 28 L of 10.5 P wort at 20 C and a 5 kg pot', 'volume_l=28;density_kg_m3=1040.2;pot_kg=5', sig(28*1.0402+5), 'kg', 0.01, 'worked-example', 'arithmetic')
for b, hcg, m in ((0.20, 0.95, 45), (0.15, 0.95, 45), (0.30, 0.60, 45)):
    add(f'F-tip-angle-{int(b*1e3)}-{int(hcg*1e3)}', 'lean at which a stand tips, rigid load', f'half_base_mm={b*1e3:.0f};centre_height_mm={hcg*1e3:.0f}', sig(math.degrees(math.atan(b/hcg)), 5), 'deg', 0.01, 'worked-example', 'statics: atan(b/h)')
    add(f'F-tip-force-{int(b*1e3)}-{int(hcg*1e3)}', 'push at 1.2 m height that starts to lift a foot', f'half_base_mm={b*1e3:.0f};mass_kg={m};push_height_m=1.2', sig(m*G*b/1.2, 5), 'N', 0.1, 'worked-example', 'statics: m g b / height')
add('F-liquid-cg', 'centre of mass of liquid above the base', 'volume_l=35;diameter_mm=400', sig(0.035/(pi*0.16/4)/2*1e3), 'mm', 0.01, 'worked-example', 'arithmetic: h/2')

for hd in (0.20, 0.25):
    add(f'F-size-kettle-{int(hd*100)}', 'brim volume a kettle needs', f'fermenter_l=21;shrink=0.96;left_l=1.65;boil_off_l=4.3;head_space={hd}', sig((21/0.96+1.65+4.3)/(1-hd), 4), 'L', 0.01, 'worked-example', 'arithmetic; head space is common practice')
add('F-coil-volume', 'liquid displaced by a coil', 'length_m=10;tube_mm=10', sig(pi*0.01**2/4*10*1e3, 4), 'L', 1e-3, 'worked-example', 'arithmetic')

# ---------------------------------------------------------------- 2. fittings
TH = {'G 1/4': (19, 13.157), 'G 3/8': (19, 16.662), 'G 1/2': (14, 20.955), 'G 3/4': (14, 26.441), 'G 1': (11, 33.249),
      'NPT 1/4': (18, 13.716), 'NPT 3/8': (18, 17.145), 'NPT 1/2': (14, 21.336), 'NPT 3/4': (14, 26.670), 'NPT 1': (11.5, 33.401)}
for k, (tpi, od) in TH.items():
    add('F-thread-pitch-'+k.replace(' ', '-').replace('/', ''), 'thread pitch', f'thread={k};tpi={tpi}', sig(25.4/tpi, 4), 'mm', 0.001, 'published', 'threads per inch: ASME B1.20.1 and ISO 228-1/7-1 tables seen in trade copies; pitch=25.4/tpi')
for d, cs in ((20, 2.62), (26, 3.53), (32, 3.53), (32, 5.33)):
    for D in (300, 400):
        s = D/2-sqrt((D/2)**2-(d/2)**2)
        add(f'F-sag-{d}-{D}' + (f'-{cs}' if d == 32 else ''), 'gap of a flat face on a round wall at the seal', f'ring_mean_diameter_mm={d};pot_diameter_mm={D};cord_mm={cs}', sig(s, 4), 'mm', 0.001, 'worked-example', 'geometry: R-sqrt(R^2-(d/2)^2)')
for cs, d in ((2.62, 20), (3.53, 26), (3.53, 32), (5.33, 32)):
    # spread of squeeze at most 15 points
    lim = 0.15*cs
    Dm = brentq(lambda D: D/2-sqrt((D/2)**2-(d/2)**2)-lim, d*1.0001, 5000)
    add(f'F-sag-min-{d}-{cs}', 'smallest round pot where squeeze varies by no more than 15 % of the cord', f'ring_mean_diameter_mm={d};cord_mm={cs}', sig(Dm, 4), 'mm', 0.1, 'worked-example', 'geometry, from squeeze window 15-30 %')
for cs in (2.62, 3.53, 5.33):
    for sq in (0.15, 0.25, 0.30):
        add(f'F-oring-turn-{cs}-{int(sq*100)}', 'turns of a 1/2 inch lock nut from first touch', f'cord_mm={cs};squeeze={sq};pitch_mm=1.8143', sig(sq*cs/(25.4/14), 4), 'turn', 0.001, 'worked-example', 'squeeze x cord / pitch')
add('F-oring-example', 'groove depth for 20 % squeeze', 'cord_mm=2.62;squeeze=0.20', 2.10, 'mm', 0.01, 'published', 'gasket maker\'s gland note citing AS568/ISO 3601-2 (prints 2.10)')
add('F-oring-area', 'groove width for 75 % fill', 'cord_mm=3.53;depth_mm=2.65;fill=0.75', sig(pi*3.53**2/4/0.75/2.65, 4), 'mm', 0.001, 'worked-example', 'cord area/(fill x depth); 75 % nominal fill from an O-ring maker\'s guide')

# discharge
for nm, Cd in (('sharp', 0.61), ('short tube', 0.80), ('rounded', 0.98), ('re-entrant', 0.51)):
    add('F-cd-'+nm.replace(' ', '-'), 'discharge coefficient of a tank outlet', f'outlet={nm}', Cd, '1', 0.02, 'handbook', 'civil-engineering orifice tables seen (0.61/0.80/0.98/0.51)')
add('F-q-orifice', 'flow from a 12.7 mm sharp hole under 0.30 m', 'cd=0.61;bore_mm=12.7;head_m=0.30', sig(0.61*pi*0.0127**2/4*sqrt(2*G*0.30)*6e4), 'L/min', 0.001, 'worked-example', 'Torricelli')


def q_line(bore, head, t, K, L=0.0, rough=1e-6):
    """Gravity flow: head = v^2/2g (K + f L/D + 1), exit loss counted once; bore in m."""
    def f(Q):
        v = Q/(pi*bore**2/4)
        Re = v*bore*rho(t)/mu(t)
        return v*v/(2*G)*(K+friction_factor(Re=Re, eD=rough/bore)*L/bore+1.0)-head
    return brentq(f, 1e-9, 1e-1)


Kv_full = {10: 6.0, 15: 16.3, 20: 29.5, 25: 43.0}
for dn, kv in Kv_full.items():
    add(f'F-kv-{dn}', 'loss coefficient of a full-bore ball valve', f'kv_m3_h={kv};bore_mm={dn}', sig(Kv_to_K(kv, dn/1e3), 4), '1', 0.001, 'library', 'fluids.Kv_to_K; Kv from memory of makers\' tables')
add('F-kv-def', 'flow through Kv 16.3 at 3 kPa', 'kv=16.3;dp_kpa=3', sig(16.3*sqrt(0.03)*1000/60), 'L/min', 0.01, 'worked-example', 'definition: Q = Kv sqrt(dp/bar), m3/h')
add('F-kv-bigvalve', 'loss coefficient of a DN50 full-bore valve, Kv 175', 'kv=175;bore_mm=50', 0.32, '1', 0.02, 'published', 'maker\'s table: Kv 175, zeta 0.32')
for sz, cv, kv in (('12', 10.0, 8.62), ('34', 25.0, 21.55), ('1', 63.0, 54.31)):
    add(f'F-kv-inch-{sz}', 'Kv of a full-port ball valve, one maker', f'cv={cv}', kv, 'm3/h', 0.01, 'published', 'valve maker\'s installation table (1/2, 3/4, 1 inch, no characterising insert)')
add('F-kv-inch-half-k', 'its loss coefficient on a 12.7 mm port', 'kv=8.62;bore_mm=12.7', sig(Kv_to_K(8.62, 0.0127), 4), '1', 0.001, 'library', 'fluids.Kv_to_K')
add('F-zeta-def', 'loss coefficient from a pressure loss of 1 kPa at 2 m/s', 'dp_pa=1000;v_m_s=2', 0.5, '1', 1e-9, 'published', 'valve maker\'s definition: zeta = dp/(500 v^2)')
add('F-kv-bigvalve-lib', 'same by library', 'kv=175;bore_mm=50', sig(Kv_to_K(175, 0.05), 4), '1', 0.001, 'library', 'fluids.Kv_to_K')
add('F-entrance', 'loss of a sharp flush entrance', '', sig(entrance_sharp()), '1', 0.07, 'library', 'fluids.entrance_sharp (0.57 Miller; handbooks give 0.5)')
for bore in (8, 10, 12.7, 15, 19):
    for head in (0.10, 0.30, 0.60):
        Q = q_line(bore/1e3, head, 66, 0.5+0.4+2*0.4, L=0.4)
        add(f'F-valve-flow-{bore}-{int(head*100)}', 'gravity flow, dip tube 0.4 m, one full-bore valve, two bends, water 66 C', f'bore_mm={bore};head_m={head};k_sum=1.7;length_m=0.4;roughness_mm=0.001', sig(Q*6e4, 4), 'L/min', '1 %', 'library', 'fluids.friction_factor, CoolProp')
for L in (0.5, 1.5, 3.0):
    Q = q_line(0.0127, 0.60, 66, 0.5+0.4+0.8, L=0.4+L)
    add(f'F-hose-flow-{L}', 'same with a 12.7 mm hose, 0.60 m head', f'bore_mm=12.7;hose_m={L};head_m=0.60;k_sum=1.7', sig(Q*6e4, 4), 'L/min', '1 %', 'library', 'fluids, CoolProp')
tdr = 2*(pi*0.4**2/4)/(0.7*pi*0.0127**2/4*sqrt(2*G))*(sqrt(0.30+0.03)-sqrt(0.0+0.03))
add('F-drain-time', 'time to drain 0.30 m of a 400 mm pot, 12.7 mm bore, Cd 0.7, outlet 30 mm lower', 'diameter_mm=400;bore_mm=12.7;cd=0.7;h1_m=0.30;h2_m=0;drop_m=0.03', sig(tdr, 5), 's', 0.1, 'worked-example', 'Torricelli integrated')
for tt in (20, 66, 78, 90, 97):
    add(f'F-siphon-{tt}', 'highest crest of a siphon above the liquid, 1.5 m velocity and margin head kept', f't_c={tt};pressure_kpa=101.325;margin_m=1.5', sig((101325-pv(tt))/(rho(tt)*G)-1.5, 4), 'm', 0.01, 'library', 'CoolProp vapour pressure')
for tt in (20, 66, 78, 90, 95, 98):
    add(f'F-npsh-{tt}', 'suction head available, 0.40 m of liquid above the pump, 0.15 m line loss, sea level', f't_c={tt};static_m=0.40;loss_m=0.15', sig((101325-pv(tt))/(rho(tt)*G)+0.40-0.15, 4), 'm', 0.005, 'library', 'CoolProp; definition of NPSH')
add('F-npsh-boil', 'suction head available from a boiling kettle', 'static_m=0.40;loss_m=0.15', 0.25, 'm', 1e-9, 'worked-example', 'vapour pressure = ambient, so NPSH = static - loss')


def pump_point(H0, Qm, dz, bore, L, K, t):
    def f(Q):
        v = Q/(pi*bore**2/4); Re = v*bore*rho(t)/mu(t)
        return H0*(1-(Q/Qm)**2)-dz-v*v/(2*G)*(K+friction_factor(Re=Re, eD=1e-4)*L/bore)
    return brentq(f, 1e-8, Qm*0.99999)
add('F-pump-point', 'duty point of a small pump: 3.5 m shut-off, 25 L/min open, lift 0.8 m, 12.7 mm hose 3 m, K 6', 'h0_m=3.5;qmax_l_min=25;lift_m=0.8;bore_mm=12.7;length_m=3;k_sum=6;t_c=66', sig(pump_point(3.5, 25/6e4, 0.8, 0.0127, 3, 6, 66)*6e4, 4), 'L/min', '1 %', 'library', 'fluids.friction_factor; curve H=H0(1-(Q/Qmax)^2) is an assumption')
add('F-pump-shutoff', 'shut-off head of an impeller', 'diameter_mm=48;speed_rpm=2800;psi=0.55', sig(0.55*(pi*0.048*2800/60)**2/G, 4), 'm', 0.01, 'worked-example', 'u^2 psi/g; head number 0.55 from memory')

# false bottoms
for d, p in ((1.5, 3.0), (2.0, 3.5), (2.4, 4.0), (3.0, 5.0)):
    add(f'F-open-{d}-{p}', 'open area, round holes at 60 degrees', f'hole_mm={d};pitch_mm={p}', sig(pi/2/sqrt(3)*(d/p)**2, 5), '1', 1e-4, 'worked-example', 'perforated-plate notes: (pi/(2 sqrt 3)) (d/p)^2 = 0.9069 (d/p)^2')
add('F-open-table', 'open area at pitch/hole 1.25', 'ratio=1.25', 0.58, '1', 0.005, 'published', 'perforated-plate maker\'s table (58 %)')
add('F-open-table-2', 'open area at pitch/hole 2', 'ratio=2', 0.23, '1', 0.005, 'published', 'perforated-plate maker\'s table (23 %)')
add('F-open-table-err', 'erratum: table prints 28 % at ratio 1.6, formula gives', 'ratio=1.6', sig(pi/2/sqrt(3)/1.6**2, 4), '1', 1e-4, 'worked-example', 'formula; the same page heads its own columns 58/46/35/28/23, so 1.6 gives 35 and 1.8 gives 28')
for tmm, a in ((1.0, 190), (1.5, 190), (2.0, 190), (1.0, 95), (1.5, 95)):
    E0, nu = 193e9, 0.29; Eeff = 0.5*E0       # 23-30 % open: effective modulus about half
    Dp = Eeff*(tmm/1e3)**3/(12*(1-nu**2))
    w_ = (5+nu)/(64*(1+nu))*3000*(a/1e3)**4/Dp
    add(f'F-plate-{tmm}-{a}', 'mid sag of a perforated disc held at its rim, 3 kPa', f'thickness_mm={tmm};radius_mm={a};pressure_kpa=3;e_gpa={Eeff/1e9};poisson={nu}', sig(w_*1e3, 4), 'mm', '1 %', 'handbook', 'thin plate, simply supported, uniform load (Roark); half modulus for the holes is an assumption; past one thickness of sag the formula says too much')
Qs = 10/6e4*1.0   # 10 L/min per m2
vh = Qs/0.20
add('F-hole-speed', 'speed through the holes at 10 L/min per m2, 20 % open', 'flux_l_min_m2=10;open=0.20', sig(vh*1e3, 4), 'mm/s', 0.001, 'worked-example', 'arithmetic')
add('F-hole-dp', 'pressure lost in clean holes', 'speed_mm_s=0.8333;cd=0.61;t_c=66', sig(rho(66)/2*(vh/0.61)**2*1e3, 4), 'mPa', '5 %', 'worked-example', 'orifice; laminar correction ignored, still far under 1 Pa')
add('F-dead-400-42', 'liquid below a false bottom 42 mm up, square base', 'diameter_mm=400;height_mm=42', sig(pi*0.16/4*0.042*1e3), 'L', 1e-3, 'worked-example', 'arithmetic (the demo tun)')
for bore, Q in ((9, 3.0), (12.7, 3.0), (12.7, 8.0), (19, 8.0)):
    v = Q/6e4/(pi*(bore/1e3)**2/4); Fr = v/sqrt(G*bore/1e3)
    add(f'F-submerge-{bore}-{Q}', 'cover over a pick-up that keeps air out', f'bore_mm={bore};flow_l_min={Q}', sig(bore*(1+2.3*Fr), 4), 'mm', 0.1, 'worked-example', 'ANSI/HI 9.8 formula: S = D (1 + 2.3 Fr), Fr = v/sqrt(g D); made for large intakes')


def lift_gap(D, d, th):
    R, a = D/2, d/2
    return R-a*math.cos(th)+sqrt(R*R-a*a)*math.sin(th)
for D, d, L in ((400, 390, 60), (360, 350, 60), (400, 396, 75)):
    th = brentq(lambda x: lift_gap(D, d, x)-L, 0, 1.4)
    # brute-force check: tilted disc (ellipse) shifted as far as the wall lets it
    R, a = D/2, d/2; b = a*math.cos(th)
    ts = np.linspace(0, 2*pi, 20001)
    e = brentq(lambda e: np.max((a*np.cos(ts))**2+(e+b*np.sin(ts))**2)-R*R, 0, R)
    assert abs((R-b+e)-L) < 0.05, (R-b+e, L)
    add(f'F-lift-{D}-{d}-{L}', 'lean that takes a false bottom past a probe', f'pot_mm={D};disc_mm={d};probe_reach_mm={L}', sig(math.degrees(th), 4), 'deg', 0.05, 'worked-example', 'geometry: R - a cos + sqrt(R^2-a^2) sin = reach; brute force agrees')
add('F-drip', 'loss of one drop in ten seconds', 'drop_ml=0.05;period_s=10', 18.0, 'mL/h', 1e-6, 'worked-example', 'arithmetic')
add('F-leak-dip', 'smallest leak two dips 20 min apart can show, 400 mm pot, 0.5 mm dips, 95 %', 'diameter_mm=400;u_dip_mm=0.5;minutes=20', sig(1.645*sqrt(2)*0.5*pi*0.16/4*3, 4), 'L/h', 0.01, 'worked-example', 'propagated by GUM: 1.645 sqrt2 u A / t')
for c in (4, 6):
    add(f'F-citric-{c}', 'citric acid for 10 kg of solution by mass', f'percent={c};solution_kg=10', c/10, 'kg', 1e-9, 'worked-example', 'arithmetic')

# ---------------------------------------------------------------- 3. heat sources
fl = {}
for f, c in (('propane', '74-98-6'), ('butane', '106-97-8'), ('methane', '74-82-8')):
    d = combustion_data(simple_formula_parser(search_chemical(c).formula), Hf=Hfg(c)); m = MW(c)
    fl[f] = (-d.HHV/m/1e3, -d.LHV/m/1e3, m, -d.stoichiometry['O2'], d.stoichiometry['CO2'], d.stoichiometry['H2O'])
    add(f'F-fuel-hhv-{f}', 'gross heat of combustion, 25 C', f'fuel={f}', sig(fl[f][0], 5), 'MJ/kg', 0.1, 'library', 'chemicals.combustion (ATcT/CRC enthalpies)')
    add(f'F-fuel-lhv-{f}', 'net heat of combustion, 25 C', f'fuel={f}', sig(fl[f][1], 5), 'MJ/kg', 0.1, 'library', 'chemicals.combustion')
add('F-fuel-net-trade', 'net heat of propane, gas trader', 'fuel=propane', 12.87, 'kWh/kg', 0.05, 'published', 'LPG trader\'s property page (DIN 51622); 46.33 MJ/kg, agrees with library')
add('F-fuel-gross-trade', 'gross heat of propane, gas trader', 'fuel=propane', 28.095, 'kWh/m3 (0 C)', 0.1, 'published', 'LPG trader\'s property page')
add('F-fuel-gross-code', 'gross heat of propane, installation code', 'fuel=propane', 49.7, 'MJ/kg', 0.7, 'published', 'extract of CAN/CGA-B149.2; commercial grade')
add('F-gas-rate', 'propane burned per kW nominal (net)', 'fuel=propane;power_kw=1', sig(3600/fl['propane'][1]/1e3, 4), 'kg/h', 1e-4, 'library', 'chemicals')
for kw in (8, 15, 30):
    add(f'F-gas-{kw}', 'propane burned in an hour', f'power_kw={kw};basis=net', sig(kw*3.6/fl['propane'][1], 4), 'kg/h', 1e-3, 'library', 'chemicals')
o2 = fl['propane'][3]/fl['propane'][2]
add('F-air-propane', 'air needed per kg propane', '', sig(o2*1e3/0.2095*8.314462618*293.15/101325, 4), 'm3 (20 C)', 0.02, 'library', 'stoichiometry, 20.95 % O2')
add('F-air-vol', 'air per volume of propane', '', 23.86, '1', 0.4, 'published', 'LP-gas data sheets print 23.5-23.86; stoichiometry 5/0.2095 = 23.87')
add('F-kbtu', 'kW per 1000 Btu/h', '', sig(1055.05585262/3600, 6), 'kW', 1e-5, 'published', 'definition of the international table Btu')
# heat-up
def heat_time(C, P, UA, T1, T2, Ta):
    return -C/UA*math.log((P-UA*(T2-Ta))/(P-UA*(T1-Ta))) if UA > 0 else C*(T2-T1)/P
for V, pot, P, UA, T1, T2 in ((30, 3.0, 3.5, 0.0, 12, 74), (30, 3.0, 3.5, 12.0, 12, 74), (30, 3.0, 2.4, 12.0, 12, 74), (50, 5.0, 6.0, 16.0, 15, 100)):
    C = V*rho(T1)/1e3*4.187+pot
    add(f'F-heat-{V}-{P}-{int(UA)}', 'time to heat water', f'volume_l={V};pot_kj_k={pot};net_kw={P};ua_w_k={UA};t1_c={T1};t2_c={T2};air_c=18;cp_kj_kgk=4.187', sig(heat_time(C*1e3, P*1e3, UA, T1, T2, 18)/60, 5), 'min', 0.01, 'worked-example', 'first-order heat balance, closed form; density CoolProp')
add('F-heat-kg', 'net energy to bring 1 L from 15 to 100 C', 't1_c=15;t2_c=100', sig((PropsSI('H', 'T', 373.12, 'P', 101325, 'Water')-PropsSI('H', 'T', 288.15, 'P', 101325, 'Water'))*rho(15)/1e3/3.6e6, 4), 'kWh', 1e-4, 'library', 'CoolProp enthalpy')
# share of gas heat that reaches a pot, published tests
add('F-eta-gas-1', 'one small ring, thin pan: measured share into the water', 'water_g=363', 0.42, '1', 0.03, 'published', 'physics measurement article, supplier\'s gross heat')
add('F-eta-gas-2', 'ring of 7000 Btu/h, one US quart: ideal over used', 'ideal_btu=317;used_btu=992', sig(317/992, 4), '1', 0.01, 'published', 'magazine report of a home-energy test')
add('F-eta-ind-1', 'induction plate, same test', 'ideal_btu=317;used_btu=430', sig(317/430, 4), '1', 0.01, 'published', 'magazine report of a home-energy test')
add('F-eta-pot-best', 'LPG, five pots of other height/diameter: best', '', 0.532, '1', 0.03, 'published', 'Kadam and Shete, IJSDR 2(12) 2017 (abstract)')
add('F-eta-pot-worst', 'LPG, five pots of other height/diameter: worst', '', 0.2962, '1', 0.03, 'published', 'Kadam and Shete, IJSDR 2(12) 2017 (abstract)')
add('F-eta-burner', 'LPG stove, best of several burner heads', '', 0.58, '1', 0.03, 'published', 'Khan and Saxena, IJERT 2(7) 2013 (abstract)')
add('F-eta-rate', 'change of the share a range top passes on, with input rate', '', 0.0, '1', 0.05, 'published', 'ASTM F1521-22, note 1: test centre found no significant change')
add('F-eta-skirt', 'gain of a pot skirt, gap about 8 mm', '', 0.09, '1', 0.02, 'published', 'Singh, Sahu, Rout, IJMPERD 8(4) 2018: 8-10 percentage points')
add('F-eta-policy-gas', 'share into the food, gas hob, as used in policy', '', 0.32, '1', 0.03, 'published', 'California fact sheet quoting the federal label programme')
add('F-eta-policy-ind', 'same, induction', '', 0.85, '1', 0.03, 'published', 'California fact sheet quoting the federal label programme')
for tmm in (0.1, 0.3):
    add(f'F-scorch-{tmm}', 'extra sheath temperature under a burnt-on layer', f'watt_density_w_cm2=8;layer_mm={tmm};k_w_mk=0.5', sig(8e4*tmm/1e3/0.5, 4), 'K', 0.01, 'worked-example', 'conduction: q t/k; k of starch or protein film 0.5 W/mK from memory')
add('F-base-as-wd', 'watt density of a 5 kW net flame on a 400 mm base', 'net_kw=5;diameter_mm=400', sig(5000/(pi*20**2), 4), 'W/cm2', 1e-3, 'worked-example', 'arithmetic')
# cylinder chilling
hv = PropsSI('H', 'T', 283.15, 'Q', 1, 'Propane')-PropsSI('H', 'T', 283.15, 'Q', 0, 'Propane')
add('F-lpg-hv', 'heat to boil off propane at 10 C', '', sig(hv/1e3, 4), 'kJ/kg', 0.5, 'library', 'CoolProp')
add('F-lpg-chill', 'heat a cylinder must take in at 20 kW flame', 'power_kw=20', sig(20/fl['propane'][1]/1e3*hv, 4), 'W', 1, 'library', 'CoolProp, chemicals')
for tt in (-20, -10, 0, 10, 20, 30):
    add(f'F-lpg-p-{tt}', 'gauge pressure in a propane cylinder', f't_c={tt}', sig((PropsSI('P', 'T', tt+273.15, 'Q', 0, 'Propane')-101325)/1e5, 4), 'bar', 0.01, 'library', 'CoolProp')
for tt in (0, 10, 20):
    add(f'F-butane-p-{tt}', 'gauge pressure in a butane cylinder', f't_c={tt}', sig((PropsSI('P', 'T', tt+273.15, 'Q', 0, 'n-Butane')-101325)/1e5, 4), 'bar', 0.01, 'library', 'CoolProp')
add('F-lpg-draw-70', 'largest steady draw, 100 lb cylinder with 20 lb left, 70 F', '', sig(92000*0.29307107e-3, 4), 'kW', 0.1, 'published', 'torch maker\'s vaporisation table: 92 000 Btu/h')
add('F-lpg-draw-40', 'same at 40 F', '', sig(68000*0.29307107e-3, 4), 'kW', 0.1, 'published', 'torch maker\'s table (columns taken as 0, 20, 40, 60, 70 F)')
add('F-lpg-draw-20', 'same at 20 F', '', sig(51000*0.29307107e-3, 4), 'kW', 0.1, 'published', 'torch maker\'s table')
# immersion elements: sheath superheat in boiling water and natural convection below
from ht.boiling_nucleic import Rohsenow
def roh(q, Tsat=373.12):
    l, g = dict(T=Tsat, Q=0), dict(T=Tsat, Q=1)
    P = lambda k, Q: PropsSI(k, 'T', Tsat, 'Q', Q, 'Water')
    f = lambda dT: Rohsenow(rhol=P('D', 0), rhog=P('D', 1), mul=P('V', 0), kl=P('L', 0), Cpl=P('C', 0), Hvap=P('H', 1)-P('H', 0), sigma=P('I', 0), Te=dT, Csf=0.013, n=1.0)*dT-q
    return brentq(f, 0.5, 60)
for wd in (3, 5, 8, 12):
    add(f'F-sheath-boil-{wd}', 'sheath above the boiling point, clean, boiling water', f'watt_density_w_cm2={wd};csf=0.013', sig(roh(wd*1e4), 4), 'K', '15 %', 'library', 'ht.boiling_nucleic.Rohsenow')
from ht import Nu_horizontal_cylinder_Churchill_Chu
def sheath_nc(q, T, D=0.008):
    def f(Ts):
        Tf = (Ts+T)/2+273.15
        P = lambda k: PropsSI(k, 'T', Tf, 'P', 2e6, 'Water')
        nu = P('V')/P('D'); Pr = P('Prandtl'); be = PropsSI('ISOBARIC_EXPANSION_COEFFICIENT', 'T', Tf, 'P', 2e6, 'Water')
        Gr = G*be*(Ts-T)*D**3/nu**2
        return Nu_horizontal_cylinder_Churchill_Chu(Pr, Gr)*P('L')/D*(Ts-T)-q
    return brentq(f, T+0.1, T+160)
for wd in (1, 2, 3, 5, 8):
    Ts = sheath_nc(wd*1e4, 66)
    add(f'F-sheath-66-{wd}', 'sheath temperature, 8 mm rod in still water at 66 C (no boiling counted)', f'watt_density_w_cm2={wd}', sig(Ts, 4), 'C', '10 %', 'library', 'ht.Nu_horizontal_cylinder_Churchill_Chu, CoolProp')
add('F-wd-element', 'watt density', 'power_w=3000;heated_mm=1600;rod_mm=8', sig(3000/(pi*0.8*160), 4), 'W/cm2', 1e-3, 'worked-example', 'arithmetic: P/(pi d L)')
add('F-wd-unit', 'W/in2 per W/cm2', '', 6.4516, '1', 1e-6, 'published', 'definition of the inch')
for V, A, share, lab in ((230, 10, 1, 'eu10'), (230, 13, 1, 'uk13'), (230, 16, 1, 'eu16'), (120, 15, 0.8, 'na15'), (120, 20, 0.8, 'na20'), (240, 30, 0.8, 'na30')):
    add(f'F-elec-{lab}', 'power a circuit carries', f'volt={V};ampere={A};continuous_share={share}', sig(V*A*share/1e3), 'kW', 1e-6, 'worked-example', 'arithmetic; 80 % rule for continuous load in North American code (from memory)')
add('F-elec-low-volt', 'element of 3000 W at 240 V run on 230 V', 'rated_w=3000;rated_v=240;volt=230', sig(3000*(230/240)**2, 5), 'W', 0.1, 'worked-example', 'P ~ V^2')
add('F-elec-half', 'element of 5500 W at 240 V run on 120 V', 'rated_w=5500;rated_v=240;volt=120', 1375.0, 'W', 0.1, 'worked-example', 'P ~ V^2')
add('F-lpg-expand', 'gas from 1 kg propane at 15 C', '', sig(1/PropsSI('D', 'T', 288.15, 'P', 101325, 'Propane'), 4), 'm3', 0.005, 'library', 'CoolProp; code extract prints 0.53')
add('F-lpg-relative', 'density of propane gas over air, 15 C', '', sig(PropsSI('D', 'T', 288.15, 'P', 101325, 'Propane')/PropsSI('D', 'T', 288.15, 'P', 101325, 'Air'), 4), '1', 0.01, 'library', 'CoolProp; data sheets print 1.5-1.53')

with open(check('fitout.csv'), 'w', newline='') as f:
    w = csv.writer(f, lineterminator='\n')
    w.writerow(['id', 'quantity', 'inputs', 'expected', 'unit', 'tolerance', 'kind', 'source'])
    w.writerows(rows)
ids = [r[0] for r in rows]
assert len(set(ids)) == len(ids), [i for i in ids if ids.count(i) > 1]
print(len(rows), 'rows')
