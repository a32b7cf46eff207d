"""Makes checks/instruments.csv: instrument models, calibration points, uncertainty of proving runs.

Run: python3 make_instruments.py   (needs numpy, scipy, CoolProp 8)
Uncertainties are standard (one sigma) after JCGM 100 (GUM); an 80 % interval is +-1.2816 sigma when normal.
Monte Carlo rows use a fixed seed; their tolerance is the spread between seeds.
"""
import csv, math, os
import numpy as np
from math import pi, sqrt, log, exp, cosh, sinh, tanh
from scipy.optimize import brentq, curve_fit
from scipy.stats import norm
from CoolProp.CoolProp import PropsSI
from place import check

G = 9.80665
rows = []


def add(i, q, inp, exp_, unit, tol, kind, src):
    rows.append([i, q, inp, exp_, unit, tol, kind, src])


def sig(x, n=6): return float(f'{x:.{n}g}')
def rho(t): return PropsSI('D', 'T', t+273.15, 'P', 101325, 'Water')
def tsat(p): return PropsSI('T', 'P', p, 'Q', 0, 'Water')-273.15


# ------------------------------------------------------------ 0. GUM conversions
for nm, d in (('rectangular', sqrt(3)), ('triangular', sqrt(6)), ('arcsine', sqrt(2))):
    add(f'I-gum-{nm}', 'standard uncertainty of a limit of half-width 1', f'shape={nm}', sig(1/d), '1', 1e-5, 'published', 'JCGM 100 (GUM) 4.3.7-4.3.9')
for res in (0.1, 0.5, 1.0, 2.0):
    add(f'I-gum-res-{res}', 'standard uncertainty of rounding to a step', f'step={res}', sig(res/sqrt(12)), 'step unit', 1e-5, 'published', 'JCGM 100 F.2.2.1: step/sqrt 12')
add('I-gum-80', 'half-width of an 80 % interval, normal', 'sigma=1', sig(norm.ppf(0.9)), '1', 1e-5, 'library', 'scipy.stats.norm')
add('I-gum-80-rect', 'half-width of an 80 % interval, rectangular', 'half_width=1', 0.8, '1', 1e-9, 'worked-example', 'arithmetic')
add('I-gum-80-tri', 'half-width of an 80 % interval, triangular', 'half_width=1', sig(1-sqrt(0.2)), '1', 1e-5, 'worked-example', 'arithmetic')

# ------------------------------------------------------------ 1. thermometers: classes
for cls, a, b in (('AA', 0.1, 0.0017), ('A', 0.15, 0.002), ('B', 0.3, 0.005)):
    for t in (0, 66, 78, 100):
        add(f'I-rtd-{cls}-{t}', 'tolerance of a platinum thermometer', f'class={cls};t_c={t}', sig(a+b*t, 4), 'K', 1e-3, 'worked-example', 'IEC 60751: formula seen in three instrument makers\' notes')
add('I-rtd-B-120', 'tolerance of class B at 120 C as printed', 't_c=120', 0.9, 'K', 0.001, 'published', 'sensor maker\'s article')
add('I-bimetal-share', 'error of bimetal thermometers, share of the scale range, upper end', '', 0.02, '1', 0.005, 'published', 'university page after Demtroeder 1998, table 10.1: 1-2 % of the scale range')
for rng, m1, lim in (('0..60', '10..50', 1), ('0..80', '10..70', 1), ('0..100', '10..90', 1), ('0..120', '20..100', 2), ('0..160', '20..140', 2), ('-20..60', '-10..50', 1), ('-20..120', '0..100', 2), ('-30..50', '-20..40', 1)):
    add('I-en13190-'+rng.replace('..', '-to-').replace('--', '-minus'), 'limit of error, class 1, inside the measuring range', f'scale={rng};measuring_range={m1}', float(lim), 'K', 1e-9, 'from-memory', 'EN 13190 table 4; class 2 is twice this; classes 1 and 2 seen, the table itself not')
add('I-glass-spirit-1', 'verification limit, liquid that wets the glass, 1 K division, -10..110 C, full immersion', 'division_k=1', 2.0, 'K', 1e-9, 'published', 'German verification ordinance (EO 5-14 Anlage 14) 4.1.1')
add('I-glass-mercury-1', 'same, liquid that does not wet, 1 K division', 'division_k=1', 1.0, 'K', 1e-9, 'published', 'German verification ordinance 4.1.2')
add('I-glass-mercury-05', 'same, 0.5 K division', 'division_k=0.5', 0.5, 'K', 1e-9, 'published', 'German verification ordinance 4.1.2')
add('I-glass-part', 'factor on the limit when adjusted for part immersion, up to 210 C', '', 1.5, '1', 1e-9, 'published', 'German verification ordinance 4.1.3')
for liq, k in (('mercury', 0.000154), ('spirit', 0.00104)):
    add(f'I-glass-stem-{liq}', 'correction for a column of 40 K standing out at 30 C, bulb at 95 C', f'liquid={liq};k_per_k={k};n_k=40;t_c=95;t_stem_c=30', sig(k*40*65, 4), 'K', 1e-3, 'published' if liq == 'mercury' else 'from-memory', 'k n (T - t_stem)' + ('; 0.000154 seen in a laboratory reference' if liq == 'mercury' else '; 0.00104 from memory'))

# ------------------------------------------------------------ 1b. stem conduction
def stem(L, h, Tr, d=6e-3, w=0.5e-3, k=16.0, T=66., act=0.045):
    """Mean error over the active length at the tip; the root is held at Tr by the fitting."""
    A = pi*(d-w)*w; m = sqrt(h*pi*d/(k*A)); a = min(act, L)
    return (Tr-T)*sinh(m*a)/(m*a*cosh(m*L))
for L in (0.025, 0.05, 0.0635, 0.10):
    for h in (600, 150, 50):
        add(f'I-stem-{int(L*1e3)}-{h}', 'mean error of a bimetal stem whose root is at 56 C', f'length_mm={L*1e3:g};h_w_m2k={h};stem_mm=6;wall_mm=0.5;k_w_mk=16;active_mm=45;t_c=66;t_root_c=56', sig(stem(L, h, 56.0), 3), 'K', '3 %', 'worked-example', 'fin equation averaged over the active length at the tip')
for L in (0.05, 0.10):
    add(f'I-stem-well-{int(L*1e3)}', 'same, thick well 12 mm with 3 mm wall, still mash', f'length_mm={L*1e3:g};h_w_m2k=150;stem_mm=12;wall_mm=3;t_root_c=56', sig(stem(L, 150, 56.0, d=12e-3, w=3e-3), 3), 'K', '3 %', 'worked-example', 'fin equation')
add('I-stem-rule', 'immersion that makes stem conduction negligible', 'diameter_mm=4.7625;element_mm=19.05', sig(20*4.7625+19.05, 4), 'mm', 0.1, 'published', 'calibration-bath maker\'s technical note: 20 diameters + element; prints 4.5 in')

# ------------------------------------------------------------ 1c. lag
for h, nm in ((1000, 'stirred water'), (600, 'still water'), (300, 'moving mash'), (120, 'still mash'), (15, 'air')):
    add('I-lag-'+nm.replace(' ', '-'), 'time constant of a 6 mm bimetal stem', f'h_w_m2k={h};diameter_mm=6;rho_c_j_m3k=3.0e6', sig(3.0e6*6e-3/(4*h), 4), 's', '1 %', 'worked-example', 'lumped: rho c d/(4 h); rho c of steel, bimetal and air an assumption')
add('I-lag-bimetal-seen', 'time constant from "90 s from 10 to 90 C", read as within 1 K', 'seconds=90;step_k=80;within_k=1', sig(90/log(80), 4), 's', 1, 'published', 'instrument maker\'s article: bimetal 90 s, gas-actuated 30 s for 10 to 90 C')
add('I-lag-gas-seen', 'same, gas-actuated', 'seconds=30;step_k=80;within_k=1', sig(30/log(80), 4), 's', 0.5, 'published', 'instrument maker\'s article')
for rate, tau in ((1.5, 20), (1.5, 60), (-0.3, 60)):
    add(f'I-lag-ramp-{rate}-{tau}', 'error of a lagging thermometer on a steady ramp', f'rate_k_min={rate};tau_s={tau}', sig(-rate/60*tau, 4), 'K', 1e-4, 'worked-example', 'first order: -rate x tau')
add('I-lag-well-air', 'time constant in a well with a 0.5 mm air gap', 'gap_mm=0.5;k_w_mk=0.027;diameter_mm=6;rho_c_j_m3k=3.0e6', sig(3.0e6*6e-3/4*(0.5e-3/0.027), 4), 's', '1 %', 'worked-example', 'lumped')
add('I-lag-well-paste', 'same gap filled with paste', 'gap_mm=0.5;k_w_mk=0.8', sig(3.0e6*6e-3/4*(0.5e-3/0.8+1/600), 4), 's', '1 %', 'worked-example', 'lumped, with still water outside')
for n in (1, 2, 3, 4.6):
    add(f'I-lag-wait-{n}', 'share of a step still missing after n time constants', f'n={n}', sig(exp(-n), 4), '1', 1e-4, 'worked-example', 'first order')
add('I-parallax', 'parallax of a pointer 3 mm off the dial, eye 20 degrees off, 60 mm scale circle, 270 degrees for 120 K', 'gap_mm=3;eye_deg=20;scale_diameter_mm=60;sweep_deg=270;span_k=120', sig(3*math.tan(math.radians(20))/(pi*60*270/360)*120, 4), 'K', 0.01, 'worked-example', 'geometry')

# ------------------------------------------------------------ 1d. fixed points
p0 = 101325.
for z in (0, 250, 500, 1000, 1500, 2000):
    p = p0*(1-2.25577e-5*z)**5.25588
    add(f'I-boil-z-{z}', 'boiling point of water, standard air', f'z_m={z}', sig(tsat(p), 5), 'C', 0.02, 'library', 'CoolProp; ICAO atmosphere')
for ph in (960, 980, 1000, 1013.25, 1030):
    add(f'I-boil-p-{ph:g}', 'boiling point of water', f'station_hpa={ph}', sig(tsat(ph*100), 5), 'C', 0.02, 'library', 'CoolProp')
add('I-boil-slope', 'change of the boiling point with pressure near 1 atm', '', sig((tsat(102325)-tsat(100325))/20, 4), 'K/hPa', 2e-4, 'library', 'CoolProp')
add('I-boil-qnh', 'boiling point at 450 m when the forecast says 1008 hPa at sea level', 'z_m=450;qnh_hpa=1008', sig(tsat(100800*(1-2.25577e-5*450)**5.25588), 5), 'C', 0.02, 'library', 'CoolProp')
add('I-boil-mistake', 'error if sea-level pressure is taken for the pressure here, 450 m', 'z_m=450', sig(tsat(100800)-tsat(100800*(1-2.25577e-5*450)**5.25588), 4), 'K', 0.02, 'library', 'CoolProp')
add('I-boil-depth', 'boiling point 0.20 m under the surface, above the surface value', 'depth_m=0.20', sig(tsat(p0+958.4*G*0.2)-tsat(p0), 4), 'K', 0.01, 'library', 'CoolProp')
add('I-boil-u', 'standard uncertainty of the boiling point from z +-20 m and pressure +-3 hPa (limits)', 'dz_m=20;dp_hpa=3', sig(sqrt((0.0033*20/sqrt(3))**2+(0.0277*3/sqrt(3))**2), 3), 'K', 0.005, 'worked-example', 'GUM')
add('I-ice', 'ice point of air-saturated water', '', 0.0, 'C', 0.002, 'published', 'definition of the ice point; NIST SP 1088 uses it for one-point recalibration')
add('I-ice-salt', 'ice point lowered by 1 g/L table salt', 'nacl_g_l=1', sig(-1.86*2*1/58.44, 3), 'K', 0.005, 'worked-example', 'freezing-point depression 1.86 K kg/mol, two ions')
# two-point correction
add('I-two-point', 'true temperature from ice 1.2, boil 98.4 when water boils at 98.9', 'ice_reads=1.2;boil_reads=98.4;boil_true=98.9;reading=66.0', sig((66.0-1.2)*98.9/(98.4-1.2), 5), 'C', 0.001, 'worked-example', 'linear two-point correction')
add('I-two-point-u', 'its standard uncertainty at 66 C, each point u 0.3 K', 'u_ice=0.3;u_boil=0.3;reading=66', sig(0.3*sqrt((1-0.66)**2+0.66**2), 3), 'K', 0.005, 'worked-example', 'GUM')

# ------------------------------------------------------------ 2. volume
for D in (300, 360, 400, 450):
    A = pi*D*D/4e6
    for u in (0.5, 1.0, 2.0):
        add(f'I-dip-{D}-{u}', 'volume uncertainty of one dip', f'diameter_mm={D};u_mm={u}', sig(A*u, 4), 'L', 1e-4, 'worked-example', 'A u(h)')
add('I-diam', 'volume error of a diameter 1 mm wrong', 'diameter_mm=400;d_mm=1', sig(2/400, 4), 'relative', 1e-5, 'worked-example', '2 dD/D')
for t in (10, 18, 20, 25):
    z = 1/rho(t)*1e3*(1-1.2/8000)/(1-1.2/rho(t))
    add(f'I-weigh-{t}', 'litres per kilogram shown by a scale, water', f't_c={t};air_kg_m3=1.2', sig(z, 6), 'L/kg', 2e-5, 'library', 'CoolProp; buoyancy after ISO 4787 (20 C about 1.0029)')
for t, z in ((20, 1.0029), (21, 1.0031), (22, 1.0033), (23, 1.0035)):
    add(f'I-weigh-z-{t}', 'litres per kilogram at 101.3 kPa as printed', f't_c={t}', z, 'L/kg', 6e-5, 'published', 'pipette maker\'s Z table (ISO 8655-6)')
    assert abs(1/rho(t)*1e3*(1-1.2/8000)/(1-1.2/rho(t))-z) < 6e-5
add('I-weigh-tap', 'the same with 400 mg/L of dissolved salts', 't_c=18;salts_mg_l=400', sig((1/rho(18)*1e3*(1-1.2/8000)/(1-1.2/rho(18)))*(1-0.00030), 6), 'L/kg', 1e-4, 'from-memory', 'about +0.75 kg/m3 per g/L')
add('I-jug-marks', 'error of one fill of a 2 L jug read 3 mm wrong', 'diameter_mm=120;d_mm=3', sig(pi*0.12**2/4*0.003*1e3, 3), 'L', 1e-3, 'worked-example', 'arithmetic')
add('I-jug-many', 'standard uncertainty of 30 L poured with a 2 L jug, jug u 1 % shared, each fill 10 mL', 'fills=15', sig(sqrt((0.01*30)**2+15*0.010**2), 4), 'L', 1e-3, 'worked-example', 'GUM: the shared part adds up, the fill part averages')
# pressure level
add('I-press-mm', 'millimetres of wort per hPa', 'rho=1048', sig(100/(1048*G)*1e3, 4), 'mm/hPa', 1e-3, 'worked-example', 'hydrostatics')

# ------------------------------------------------------------ 3. density and extract instruments
def capillary(sg, rho_, d):
    return sg/(rho_*G*d)*(sqrt(1+2*rho_*G*d*d/sg)-1)
for sg_, d in ((0.072, 5e-3), (0.048, 5e-3), (0.042, 5e-3), (0.048, 4e-3), (0.048, 7e-3)):
    add(f'I-menis-{int(sg_*1e3)}-{int(d*1e3)}', 'height of the meniscus on the stem', f'surface_tension_n_m={sg_};density=1048;stem_mm={d*1e3:g}', sig(capillary(sg_, 1048, d)*1e3, 4), 'mm', 0.01, 'from-memory', 'Langberg form used in hydrometer standards (BS 718 app. B, ISO 649-2)')
add('I-surften', 'depth a hydrometer rises when surface tension falls by 15 mN/m', 'd_n_m=0.015;density=1048;stem_mm=5', sig(4*0.015/(1048*G*5e-3)*1e3, 4), 'mm', 0.01, 'worked-example', 'statics: 4 dsigma/(rho g d)')
for nm, div, err in (('L50', 0.5, 0.5), ('M50', 1.0, 1.0), ('M100', 2.0, 2.0), ('S50', 2.0, 2.0)):
    add(f'I-hydro-{nm}', 'limit of scale error, kg/m3', f'series={nm};division={div}', err, 'kg/m3', 1e-9, 'from-memory', 'ISO 649-1 / BS 718 tables (scopes seen, tables not)')
add('I-hydro-scale', 'millimetres per gravity point, stem 5 mm, bulb displaces 60 mL', 'stem_mm=5;volume_ml=60;density=1048', sig(60e-6/(pi*25e-6/4)/1048*1e3, 4), 'mm/(kg/m3)', 0.01, 'worked-example', 'V/(A rho)')
add('I-refrac-spec', 'accuracy and step of common hand refractometers', 'range=0..32', 0.2, 'Bx', 1e-9, 'published', 'instrument data sheets: +-0.2, step 0.2')
add('I-refrac-u', 'standard uncertainty of extract from one refractometer reading, 12 Bx', 'spec=0.2;step=0.2;wort_factor=1.04;u_factor=0.015', sig(sqrt((0.2/sqrt(3))**2+(0.2/sqrt(12))**2+(12*0.015)**2)/1.04, 3), 'P', 0.005, 'worked-example', 'GUM; factor 1.04 +-0.015 is common practice, no source')
add('I-refrac-temp', 'uncompensated error at 10 C for a mid-scale reading, size', '', 0.89, 'Bx', 0.3, 'published', 'extension service sheet: as much as 0.89; direction garbled in the sheet, ICUMSA tables say a cold sample reads high')
add('I-plato-point', 'points of gravity per degree Plato at 12', '', sig(1e3/(3*135.997*1.048369**2-2*630.272*1.048369+1111.14), 4), 'points', 0.03, 'worked-example', 'slope of the ASBC cubic at SG 1.048369')

# ------------------------------------------------------------ 4. pH
R, F = 8.314462618, 96485.33212
for t in (0, 20, 25, 50, 65, 100):
    add(f'I-nernst-{t}', 'slope of an ideal glass electrode', f't_c={t}', sig(R*(273.15+t)*log(10)/F*1e3, 5), 'mV/pH', 0.01, 'worked-example', 'Nernst: R T ln 10 / F')
for t, mv in ((0, 54), (50, 64), (100, 74)):
    add(f'I-nernst-printed-{t}', 'slope as a meter manual prints it', f't_c={t}', mv, 'mV/pH', 0.5, 'published', 'pH meter manual')
add('I-ph-notemp', 'error at pH 5.4 of a meter set for 25 C used at 65 C, true zero at pH 7', 'ph=5.4;t_c=65', sig((5.4-7)*(338.15/298.15)-(5.4-7), 4), 'pH', 0.002, 'worked-example', 'Nernst; 0.003 pH per K and pH unit from 7 seen')
add('I-ph-slope', 'slope at 95 % of ideal, calibrated at pH 7 only: error at 5.4', 'slope=0.95', sig((5.4-7)*0.95-(5.4-7), 4), 'pH', 0.001, 'worked-example', 'arithmetic')
add('I-ph-two', 'standard uncertainty at 5.4 after a 7/4 calibration, buffers +-0.02 limits, reading 0.02', '', sig(sqrt((0.02/sqrt(3))**2*((1-0.533)**2+0.533**2)+0.02**2), 3), 'pH', 0.003, 'worked-example', 'GUM')
add('I-ph-strip', 'mean of strip minus meter, one strip type, pH 4.4-6.1 in buffers', 'n=7', sig(-(0.38+0.3+0.31+0.32+0.35+0.28+0.34)/7, 2), 'pH', 0.05, 'published', 'open measurement by a home experimenter: strips 0.3 low, right at 4.0 and 7.0')

# ------------------------------------------------------------ 5. proving runs (standard uncertainties)
rng = np.random.default_rng(20260101)
A = pi*0.4**2/4*1e3/1e3            # L per mm
# R1 fill to marks
h = np.arange(1, 9)*40.0
Sxx = ((h-h.mean())**2).sum()
uk = A*0.5/sqrt(Sxx)
add('I-run-fill-k', 'fill to marks: litres per millimetre, 8 weighed steps of 5 L, dips 0.5 mm', 'diameter_mm=400;u_dip_mm=0.5', sig(uk, 3), 'L/mm', '2 %', 'worked-example', 'straight-line fit: sigma/sqrt(Sxx)')
add('I-run-fill-v0', 'same: volume at zero height', '', sig(A*0.5*sqrt(1/8+h.mean()**2/Sxx), 3), 'L', '2 %', 'worked-example', 'straight-line fit')
add('I-run-fill-v300', 'same: volume read at 300 mm, one dip', '', sig(A*0.5*sqrt(1+1/8+(300-h.mean())**2/Sxx), 3), 'L', '2 %', 'worked-example', 'straight-line fit + dip')
# R3 heat-up
V, slope = 20.0, 1.55
C = V*rho(20)/1e3*4.184e3+3500
P = C*slope/60+10*25
parts = dict(slope=(C/60*0.3/(2*sqrt(16*255/12))), scale=C*slope/60*0.005, vol=4184*slope/60*0.15, pot=700*slope/60, ua=3*25.0)
uP = sqrt(sum(v*v for v in parts.values()))
gas = 30*60*P/0.45/46.34e6          # kg
add('I-run-heat-p', 'heat-up: net power', 'volume_l=20;u_v_l=0.15;slope_k_min=1.55;pot_kj_k=3.5;u_pot=0.7;ua=10;u_ua=3;mean_excess_k=25;readings=16;step_min=2;u_reading_k=0.3;u_scale=0.005', sig(P, 5), 'W', 1, 'worked-example', 'C dT/dt + UA (T - air)')
add('I-run-heat-u', 'its standard uncertainty', '', sig(uP, 3), 'W', '2 %', 'worked-example', 'GUM; the share of unknown wall loss is the largest')
add('I-run-heat-eta', 'burner share into the pot: standard uncertainty, gas weighed to 10 g', f'gas_kg={gas:.3f}', sig(0.45*sqrt((uP/P)**2+(0.010*sqrt(2)/sqrt(3)/gas)**2+0.01**2), 3), '1', '5 %', 'worked-example', 'GUM; heat of combustion 1 %')
# R4 cooling, lid on
def sim_cool(UA, C, T0, Ta, ts): return Ta+(T0-Ta)*np.exp(-UA*ts*60/C)
ts = np.arange(0, 61, 10.0); C = 30*rho(65)/1e3*4187+4000
est = []
for _ in range(4000):
    y = sim_cool(4.0, C, 70, 18, ts)*(1+rng.normal(0, 0.005))+rng.normal(0, 0.3)+rng.normal(0, 0.2, ts.size)
    Ta = 18+rng.normal(0, 0.7)
    b = np.polyfit(ts*60, np.log(y-Ta), 1)[0]
    est.append(-b*C)
add('I-run-cool-ua', 'cooling, lid on: UA from 7 readings in 60 min', 'volume_l=30;t0_c=70;air_c=18;ua=4;u_reading=0.2;bias=0.3;u_air=0.7', sig(np.mean(est), 3), 'W/K', 0.1, 'worked-example', 'Monte Carlo, fit of ln(T - air)')
add('I-run-cool-u', 'its standard uncertainty', '', sig(np.std(est), 2), 'W/K', '10 %', 'worked-example', 'Monte Carlo')
# R5 boil-off
for mins, ud in ((30, 0.7), (30, 1.5), (60, 0.7)):
    u = sqrt(2)*A*ud*0.96/(mins/60)
    add(f'I-run-boil-{mins}-{ud}', 'boil-off rate from two dips', f'diameter_mm=400;minutes={mins};u_dip_mm={ud};hot_to_cold=0.96', sig(u, 3), 'L/h', '3 %', 'worked-example', 'GUM: sqrt2 A u(h) x 0.96 / t')
# R6 timed jug
for V_, t_, uv, n in ((2.0, 46, 0.010, 3), (5.0, 60, 0.025, 3), (1.0, 8, 0.02, 1)):
    u = sqrt((uv/V_)**2+(0.3/t_)**2/n+0.005**2)   # 0.3 s: hand 0.1 s and seeing the mark
    add(f'I-run-jug-{V_:g}-{t_}', 'timed jug: relative standard uncertainty', f'volume_l={V_};time_s={t_};u_v_l={uv};u_t_s=0.3;repeats={n};head_drift=0.005', sig(u, 3), 'relative', '3 %', 'worked-example', 'GUM')
add('I-run-jug-cd', 'effective CdA from the run of the design: 150 mm head to 145, 2.6 L/min', 'q_l_min=2.6;h_m=0.150;drop_m=0.080', sig(2.6/6e4/sqrt(2*G*(0.15+0.08))*1e6, 4), 'mm2', 0.01, 'worked-example', 'Torricelli')
add('I-watch', 'standard uncertainty of a start-stop time by hand, foreseen event', '', 0.10, 's', 0.02, 'published', 'Am. J. Phys. 87 (2019) 110: single press N(0.11, 0.07), start-stop N(0, 0.10)')
# R2 what stays behind
add('I-run-dead', 'drain to the outlet: standard uncertainty when the rest is poured out and weighed', 'scale_g=5;film_g=20', sig(sqrt((5/sqrt(3))**2+20**2)/1e3, 3), 'L', 0.002, 'worked-example', 'GUM; film left on walls 20 g is an assumption')
# R8 grain
add('I-run-grain', 'liquor held by the grain: standard uncertainty, 4.9 kg', 'u_in_l=0.15;u_out_l=0.25;u_dead_l=0.10;grist_kg=4.9', sig(sqrt(0.15**2+0.25**2+0.1**2)/4.9, 3), 'L/kg', 0.002, 'worked-example', 'GUM')
# R9 coil
Cc = 6.0/60*4184; C = 22*4.0e3+3000.
def eps(UA): return 1-exp(-UA/Cc)
k = eps(300)*Cc/C
est = []
ts = np.arange(0, 13, 1.0)
for _ in range(4000):
    Tin = 14+rng.normal(0, 0.3); y = 14+(96-14)*np.exp(-k*ts*60)+rng.normal(0, 0.3)+rng.normal(0, 0.5, ts.size)
    b = -np.polyfit(ts*60, np.log(y-Tin), 1)[0]
    e = b*C*(1+rng.normal(0, 0.015))/(Cc*(1+rng.normal(0, 0.03)))
    est.append(-Cc*log(max(1e-3, 1-e)) if e < 0.999 else np.nan)
add('I-run-coil-k', 'coil: decay rate of the excess temperature', 'ua_w_k=300;water_l_min=6;wort_kg=22;cp=4000;pot_j_k=3000', sig(k*60, 4), '1/min', 1e-4, 'worked-example', 'eps-NTU, Cr=0 side stirred')
add('I-run-coil-u', 'UA from 13 readings, one a minute: standard uncertainty', '', sig(np.nanstd(est), 2), 'W/K', '10 %', 'worked-example', 'Monte Carlo')
# R10 burner gas
for step, gr in ((5, 130), (20, 130), (5, 400)):
    add(f'I-run-gas-{step}-{gr}', 'gas rate by weighing the bottle: relative standard uncertainty', f'scale_step_g={step};burned_g={gr}', sig(sqrt(2)*step/sqrt(12)/gr, 3), 'relative', '2 %', 'worked-example', 'GUM: two readings, rounding only')
# R11 pot heat
mw, Th, Tc, Cv = 10.0, 80.0, 15.0, 4000.0
Tm = (mw*4190*Th+Cv*Tc)/(mw*4190+Cv)
dC = mw*4190*(Th-Tm)/(Tm-Tc)
u = mw*4190*sqrt((0.2/(Tm-Tc))**2+((Th-Tc)/(Tm-Tc)**2*0.2)**2+((Th-Tm)/(Tm-Tc)**2*0.3)**2)
add('I-run-pot-t', 'hot water into a cold pot: mixed temperature', 'water_kg=10;t_hot=80;t_pot=15;pot_j_k=4000', sig(Tm, 5), 'C', 0.001, 'worked-example', 'heat balance without loss')
add('I-run-pot-u', 'heat of the pot: standard uncertainty, thermometer 0.2 K each, pot 0.3 K, no loss counted', '', sig(u/1e3, 3), 'kJ/K', '3 %', 'worked-example', 'GUM')
# R13 lag from a step
add('I-run-lag', 'time constant from the time to cover 63 % of a step: relative standard uncertainty, 20 s, reading 1 K of 60 K, clock 1 s', '', sig(sqrt((1/20)**2+((1/60)/exp(-1))**2), 3), 'relative', 0.005, 'worked-example', 'GUM')
# R14 water before and after
add('I-run-blunder', 'posterior weight of the blunder branch for a reading 5 sigma off, prior 2 %, blunder sd 10 sigma', 'prior=0.02;z=5;ratio=10', sig((0.02*norm.pdf(5, 0, sqrt(1+100)))/(0.02*norm.pdf(5, 0, sqrt(101))+0.98*norm.pdf(5)), 4), '1', 1e-3, 'library', 'scipy; two-part mixture')

with open(check('instruments.csv'), 'w', newline='') as f:
    w = csv.writer(f, lineterminator='\n')
    w.writerow(['id', 'quantity', 'inputs', 'expected', 'unit', 'tolerance', 'kind', 'source'])
    w.writerows(rows)
ids = [r[0] for r in rows]
assert len(set(ids)) == len(ids), [i for i in ids if ids.count(i) > 1]
print(len(rows), 'rows')
