"""Makes checks/safety.csv: thresholds and worked numbers behind the cautions.

Run: python3 make_safety.py   (needs CoolProp 8, chemicals 1.5)
These numbers decide when a caution is shown. They are no medical, legal or trade advice.
"""
import csv, math, os
from math import pi, log, exp
from CoolProp.CoolProp import PropsSI
from chemicals import Hfg, MW, search_chemical, simple_formula_parser
from chemicals.combustion import combustion_data

from place import check

G = 9.80665
rows = []


def add(i, q, inp, e, unit, tol, kind, src): rows.append([i, q, inp, e, unit, tol, kind, src])
def sig(x, n=6): return float(f'{x:.{n}g}')
def pv(t): return PropsSI('P', 'T', t+273.15, 'Q', 0, 'Water')


# scald
T2 = {45: 7200, 47: 1200, 48: 900, 49: 480, 51: 120, 55: 17, 60: 3}
T3 = {45: 10800, 47: 2700, 48: 1200, 49: 600, 51: 252, 55: 30, 60: 5}
src = 'anti-scald industry table after Moritz and Henriques 1947'
for t in T2:
    add(f'S-scald-2nd-{t}', 'time to a second-degree burn, adult skin under flowing water', f't_c={t}', T2[t], 's', 0, 'published', src)
    add(f'S-scald-3rd-{t}', 'time to a full-thickness burn', f't_c={t}', T3[t], 's', 0, 'published', src)


def feldman(T): return exp(34.58*log(T)**2-294.8*log(T)+629.2)
for t in (55, 60, 65, 70):
    add(f'S-scald-fit-{t}', 'time to full-thickness injury, adult, fitted', f't_c={t}', sig(feldman(t), 4), 's', '1 %', 'worked-example', 'Feldman et al. fit to Moritz and Henriques: exp(34.58 ln2 T - 294.8 ln T + 629.2)')
for t in (58.3, 65, 70):
    q = 0.05322*t*t-7.437*t+262.4
    add(f'S-scald-quad-{t}', 'same, quadratic for 58.3-71 C', f't_c={t}', sig(q, 4), 's', 0.05, 'worked-example', 'Feldman et al.: 0.05322 T2 - 7.437 T + 262.4')
def interp(tab, T):
    ks = sorted(tab)
    for a, b in zip(ks, ks[1:]):
        if a <= T <= b:
            return exp(log(tab[a])+(T-a)/(b-a)*(log(tab[b])-log(tab[a])))
add('S-scald-interp', 'second-degree time by log interpolation', 't_c=53', sig(interp(T2, 53), 3), 's', '20 %', 'worked-example', 'between 51 and 55 C of the table')
add('S-scald-halving', 'warmer water that halves the full-thickness time, 55 to 60 C', '', sig(5*log(2)/log(30/5), 3), 'K', 0.05, 'worked-example', 'log-linear between two rows')
add('S-scald-limit', 'usual greatest tap temperature for bathing in North American plumbing rules', '', 49, 'C', 0, 'published', src)

# lifting
def rwl(H, V, D, A=0, FM=1.0, CM=1.0):
    return 23*min(1, 25/H)*(1-0.003*abs(V-75))*min(1, 0.82+4.5/D)*(1-0.0032*A)*FM*CM
for nm, H, V, D, CM in (('ideal', 25, 75, 25, 1.0), ('kettle-floor-to-bench', 40, 35, 70, 0.95), ('kettle-bench-to-bench', 40, 90, 25, 1.0), ('carboy-floor', 35, 30, 60, 0.90), ('sack-25kg', 35, 30, 80, 0.95)):
    add(f'S-lift-{nm}', 'recommended weight limit of one lift, no twist, seldom', f'h_cm={H};v_cm={V};d_cm={D};coupling={CM}', sig(rwl(H, V, D, CM=CM), 4), 'kg', 0.01, 'worked-example', 'revised NIOSH equation (DHHS 94-110, rev. 2021): 23 HM VM DM AM FM CM; coefficients seen')
add('S-lift-index', 'lifting index of a 40 kg kettle, hands from 35 to 105 cm', 'mass_kg=40', sig(40/rwl(40, 35, 70, CM=0.95), 3), '1', 0.02, 'worked-example', 'load / limit')
add('S-lift-h', 'reach of the hands for a 400 mm wide load held at 35 cm', 'width_cm=40;v_cm=35', 40, 'cm', 0, 'from-memory', 'NIOSH manual: H = 20 + W/2 for V >= 25 cm, 25 + W/2 below')
for who, m in (('men 18-45', 25), ('women 18-45, younger or older men', 20), ('younger or older women', 15)):
    add('S-lift-ref-'+who.split(',')[0].replace(' ', '-'), 'reference mass', f'who={who}', m, 'kg', 0, 'from-memory', 'ISO 11228-1:2021 and EN 1005-2 (scope seen, table not)')
add('S-lift-hse', 'filter weight close to the body at waist, men / women', '', 25, 'kg', 0, 'from-memory', 'HSE INDG143: 25 men, 16 women; leaflet seen, figures not in what was seen')

# carbon monoxide
for body, ppm, hrs in (('OSHA PEL', 50, 8), ('NIOSH REL', 35, 8), ('ACGIH TLV', 25, 8), ('EPA outdoor', 9, 8), ('EPA outdoor 1h', 35, 1)):
    add('S-co-'+body.replace(' ', '-').lower(), 'limit of carbon monoxide', f'average_h={hrs}', ppm, 'ppm', 0, 'published', 'public health and regulation pages seen')
add('S-co-niosh-ceiling', 'never above', '', 200, 'ppm', 0, 'published', 'NIOSH ceiling')
for mg, ppm, m in ((100, 90, 15), (60, 50, 30), (30, 25, 60), (10, 10, 480)):
    add(f'S-co-who-{m}', 'WHO guideline (Europe, 2nd ed.)', f'minutes={m};mg_m3={mg}', ppm, 'ppm', 1, 'published', 'WHO guideline as tabulated in an open-access paper')
for ppm, lo, hi in ((50, 60, 90), (100, 10, 40), (300, 0, 3)):
    add(f'S-co-en50291-{ppm}', 'alarm sounds between', f'ppm={ppm};min_minutes={lo}', hi, 'min', 0, 'published', 'EN 50291, safety charity page; no alarm within 120 min at 30 ppm')
for ppm, lo, hi in ((70, 60, 240), (150, 10, 50), (400, 4, 15)):
    add(f'S-co-ul2034-{ppm}', 'alarm sounds between', f'ppm={ppm};min_minutes={lo}', hi, 'min', 0, 'published', 'UL 2034, alarm maker\'s page')
d = combustion_data(simple_formula_parser('C3H8'), Hf=Hfg('74-98-6')); lhv = -d.LHV/MW('74-98-6')/1e3
n = lambda kW: kW/lhv/1e3/(MW('74-98-6')/1e3)          # mol/s propane
Vm = 8.314462618*293.15/101325
for kW, V in ((8, 50), (20, 50), (20, 100)):
    co2 = 3*n(kW)*Vm
    add(f'S-fumes-co2-{kW}-{V}', 'time to 0.5 % CO2 in a shut room', f'power_kw={kW};room_m3={V}', sig((0.005-0.0004)*V/co2/60, 3), 'min', '2 %', 'worked-example', 'stoichiometry, mixed room, no air change')
    add(f'S-fumes-o2-{kW}-{V}', 'time until oxygen falls from 20.9 to 19.5 %', f'power_kw={kW};room_m3={V}', sig(0.014*V/(5*n(kW)*Vm)/60, 3), 'min', '2 %', 'worked-example', 'stoichiometry')
    add(f'S-fumes-co-{kW}-{V}', 'time to 35 ppm CO if CO/CO2 is 0.01', f'power_kw={kW};room_m3={V};co_over_co2=0.01', sig(35e-6*V/(0.01*co2)/60, 3), 'min', '2 %', 'worked-example', 'ratio 0.01 is an assumption: a clean flame has less, a flame on a cold base more')
    add(f'S-fumes-air-{kW}', 'fresh air that keeps CO2 at 0.5 %', f'power_kw={kW}', sig(co2/(0.005-0.0004)*3600, 4), 'm3/h', '2 %', 'worked-example', 'dilution') if V == 50 else None
add('S-lel', 'lower flammable limit of propane in air', '', 2.1, '%', 0.1, 'published', 'data sheets print 2.1-2.3')
add('S-uel', 'upper flammable limit', '', 9.5, '%', 0.2, 'published', 'data sheets print 9.5-9.6')
rg = PropsSI('D', 'T', 293.15, 'P', 101325, 'Propane')
for V in (30, 50):
    add(f'S-lel-room-{V}', 'propane that brings a mixed room to the lower limit', f'room_m3={V}', sig(0.021*V*rg, 3), 'kg', '3 %', 'library', 'CoolProp density; a leak pools, so a tenth of this can burn')
add('S-lel-pool', 'propane that makes a 0.3 m deep floor layer of 15 m2 flammable', '', sig(0.021*15*0.3*rg, 3), 'kg', '3 %', 'library', 'CoolProp density')

# carbon dioxide
for nm, v in (('OSHA 8 h', 5000), ('ACGIH 8 h', 5000), ('ACGIH short', 30000), ('NIOSH immediate danger', 40000)):
    add('S-co2-'+nm.replace(' ', '-').lower(), 'limit of carbon dioxide', '', v, 'ppm', 0, 'published', 'regulation pages seen')
add('S-co2-uk', 'UK limit, 8 h and 15 min', '15 min=15000', 5000, 'ppm', 0, 'from-memory', 'HSE EH40: 5000 / 15000')
for ext, V in ((1.64, 30), (1.64, 8)):
    m = ext*0.9565/2.0665
    add(f'S-co2-ferment-{V}', 'CO2 in a shut room after one fermentation', f'extract_fermented_kg={ext};room_m3={V}', sig(m/0.0440095*Vm/V*100, 3), '%', 0.03, 'worked-example', 'Balling yield 0.9565/2.0665, ideal gas 20 C')
add('S-co2-keg', 'CO2 from an emptied 6 kg bottle in a 20 m3 cellar', 'mass_kg=6;room_m3=20', sig(6/0.0440095*Vm/20*100, 3), '%', 0.2, 'worked-example', 'ideal gas')
add('S-co2-vent', 'air that keeps a fermentation of 0.10 kg CO2/h below 0.5 %', 'rate_kg_h=0.10', sig(0.10/0.0440095*Vm/(0.005-0.0004), 3), 'm3/h', '2 %', 'worked-example', 'dilution')

# vessels: vacuum, pressure, steam
for tc in (60, 20):
    p = 101325-pv(tc)
    add(f'S-vacuum-{tc}', 'pull-in on a 400 mm lid shut tight at 100 C full of steam, cooled', f't_c={tc};diameter_mm=400', sig(p*pi*0.16/4/1e3, 3), 'kN', '3 %', 'library', 'CoolProp: 101325 - vapour pressure, no air left')
add('S-steam', 'steam made by 5 kW', 'net_kw=5', sig(5/2256.4*3600, 3), 'kg/h', '1 %', 'library', 'latent heat 2256.4 kJ/kg')
add('S-lid-lift', 'pressure that lifts a 1.5 kg lid of 400 mm', 'lid_kg=1.5', sig(1.5*G/(pi*0.16/4), 4), 'Pa', 0.5, 'worked-example', 'statics')
add('S-keg-force', 'force on a 100 mm keg lid at 2 bar gauge', 'p_bar=2;diameter_mm=100', sig(2e5*pi*0.01/4/1e3, 4), 'kN', 0.01, 'worked-example', 'statics')
add('S-pet', 'stored energy in 19 L of gas at 2 bar gauge', 'p_bar=2;volume_l=19', sig(3.01325e5*0.019*log(3.01325/1.01325)/1e3, 3), 'kJ', '5 %', 'worked-example', 'isothermal bound p V ln(p/p0)')
add('S-proof', 'air test against water test: energy in 1 L at 2 bar gauge, air over water', '', sig((3.01325e5*1e-3*log(3.01325/1.01325))/(0.5*4.6e-10*(2e5)**2*1e-3), 3), '1', '10 %', 'worked-example', 'p V ln ratio over half beta p2 V, beta 4.6e-10 /Pa: test with water, never with air')

# glass
add('S-glass-soda', 'sudden difference that can crack soda-lime glass', '', 40, 'K', 5, 'published', 'test laboratory note on ASTM C149: about 40')
add('S-glass-boro', 'same, borosilicate', '', 160, 'K', 20, 'published', 'test laboratory note: 160-200')
E_, al, nu, k = 72e9, 9e-6, 0.22, 1.0
add('S-glass-stress', 'largest surface stress for a sudden 40 K, soda-lime', 'e_gpa=72;alpha_per_k=9e-6;nu=0.22', sig(E_*al*40/(1-nu)/1e6, 3), 'MPa', 1, 'handbook', 'E alpha dT/(1-nu); scratched glass holds 20-40 MPa for a short time (from memory)')
add('S-glass-carboy', 'mass of a full 20 L glass vessel of 6.5 kg', '', sig(20*1.048+6.5, 3), 'kg', 0.1, 'worked-example', 'arithmetic')

# chemicals
for c, lab in ((0.5, 'irritant from'), (2.0, 'corrosive (1B) from'), (5.0, 'corrosive (1A) from')):
    add('S-naoh-'+str(c), 'sodium hydroxide solution: '+lab, '', c, '% w/w', 0, 'published', 'EU harmonised classification, specific concentration limits')
add('S-naoh-heat', 'warming when 100 g NaOH dissolves in 1 L water', '', sig(44.5e3*100/39.997/((1.1)*3.9e3), 3), 'K', 3, 'handbook', 'heat of solution -44.5 kJ/mol; cp 3.9 kJ/kgK assumed')
add('S-naoh-al', 'hydrogen from 10 g aluminium dissolved in caustic, 20 C', '', sig(10/26.98*1.5*Vm*1e3, 4), 'L', 0.1, 'worked-example', '2 Al + 2 OH- + 6 H2O -> 2 Al(OH)4- + 3 H2')
add('S-naoh-limit', 'occupational ceiling for caustic mist', '', 2, 'mg/m3', 0, 'published', 'NIOSH and ACGIH ceiling in a chemical record')
add('S-chlorine-304', 'free chlorine that 304 bears for long at room temperature', '', 2, 'mg/L', 0, 'published', 'Nickel Institute guideline quoted; 316: 5 mg/L')
add('S-chloride-304', 'chloride below which crevice attack of 304 is rare, cool natural water', '', 200, 'mg/L', 0, 'published', 'NiDI 11003 table as copied: 100-200; 316: 1000')
for t, c in ((60, 50), (80, 25), (120, 10)):
    add(f'S-chloride-hot-{t}', 'chloride a heat-exchanger maker allows on 304', f't_c={t}', c, 'mg/L', 0, 'published', 'fresh-water station manual, table chloride against temperature')

add('S-paa', 'short-time limit for peracetic acid in air', 'minutes=15', 0.4, 'ppm', 0, 'published', 'ACGIH TLV as stated in a safety summary')
add('S-dust-flour', 'limit for flour dust', 'average_h=8', 0.5, 'mg/m3', 0, 'published', 'ACGIH; Canada 3, others to 10 (AIHA Synergist 2018)')
add('S-dust-grain', 'limit for grain dust', 'average_h=8', 4, 'mg/m3', 0, 'published', 'ACGIH and NIOSH (AIHA Synergist 2018); OSHA 10')
add('S-burn-cool', 'cooling of a burn under running water', '', 20, 'min', 0, 'published', 'Queensland burns research centre: 20 min, of use up to 3 h after')
add('S-botulinum-ph', 'pH above which shut, unfermented wort is a botulism danger', '', 4.6, 'pH', 0, 'published', 'food-canning rule quoted in brewing science writing')
add('S-dog-hops', 'share of 71 dogs that survived eating hops', 'n=71', 0.77, '1', 0.06, 'published', 'J. Vet. Emerg. Crit. Care 2021: 59 survived (abstract prints 77 %, 59/71 is 83 %)')
# electricity
add('S-gfci-lo', 'class A device does not trip below', '', 4, 'mA', 0, 'published', 'UL 943')
add('S-gfci-hi', 'class A device trips at', '', 6, 'mA', 0, 'published', 'UL 943')
add('S-rcd', 'residual current device for people', '', 30, 'mA', 0, 'from-memory', 'IEC 61008 / IEC 60364-4-41')
add('S-current', 'leak of a wet 230 V part through 1000 ohm of a person', '', 230, 'mA', 1, 'worked-example', 'Ohm; 10-30 mA can hold a hand fast (from memory, IEC 60479)')

# tipping, slip, weight limits used by the rules
add('S-rule-lift-note', 'lifting index above which the caution shows', '', 1.0, '1', 0, 'common-practice', 'our rule on the NIOSH index with the vessel\'s own width and heights')
add('S-rule-lift-stop', 'lifting index above which the plan asks no single person to lift', '', 2.0, '1', 0, 'common-practice', 'our rule')
add('S-rule-lift-mass', 'mass above which the plan asks no single person to lift, whatever the index', '', 25, 'kg', 0, 'common-practice', 'our rule, the largest usual reference mass; settable downwards only')
add('S-rule-hot', 'liquid above which nothing is carried by hand', '', 45, 'C', 0, 'common-practice', 'our rule from the scald table: minutes, not seconds, at 45-48 C')
add('S-rule-splash', 'liquid above which face and arm cover is asked for at transfers', '', 60, 'C', 0, 'common-practice', 'our rule: full-thickness burn in 5 s at 60 C')
add('S-rule-head', 'head space below which the boil-over caution shows, share of kettle volume', '', 0.20, '1', 0, 'common-practice', 'our rule')

with open(check('safety.csv'), 'w', newline='') as f:
    w = csv.writer(f, lineterminator='\n')
    w.writerow(['id', 'quantity', 'inputs', 'expected', 'unit', 'tolerance', 'kind', 'source'])
    w.writerows(rows)
ids = [r[0] for r in rows]
assert len(set(ids)) == len(ids), [i for i in ids if ids.count(i) > 1]
print(len(rows), 'rows')
