#!/usr/bin/env python3
"""Reference form of the mash kinetics, integrated with SciPy.

Python transcription for checking the product; it shares no code with it. Basis: 1 kg of dry grist, SI units, degrees C outside.
needs: numpy, scipy
"""
import numpy as np
from scipy.integrate import solve_ivp

R = 8.314462618
T65, T60 = 338.15, 333.15
W_H2O, W_AGU = 18.015, 162.141          # g/mol water, anhydroglucose unit
HYD = {                                  # kg product per kg anhydroglucose
    'glucose': 1 + W_H2O / W_AGU,
    'maltose': 1 + W_H2O / (2 * W_AGU),
    'maltotriose': 1 + W_H2O / (3 * W_AGU),
    'dextrin': 1 + W_H2O / (10 * W_AGU),
}
STATES = ('dry_starch', 'dry_other', 'raw_large', 'raw_small', 'paste', 'dextrin', 'limit', 'glucose', 'maltose',
          'maltotriose', 'other', 'alpha', 'beta', 'debranch')

DEFAULT = dict(
    # malt, kg per kg dry grist
    extract=0.81, other=0.165, other_sugar=0.085, small=0.10, lab_hydration=1.042,
    # grist
    grit=0.10, tau_grit=600.0, shut=0.0, cooked=0.0,     # cooked: share of the starch already gelatinised (flakes, caramel malt)
    # gelatinisation
    k_large=5.6e-3, e_large=790e3, k_small=2.5e-4, e_small=300e3, k_swell=0.030, t_gel_shift=0.0, gel_per_plato=0.24, gel_plato=8.0,
    # activity, 1 at 65 C
    alpha_e=105e3, alpha_h=213e3, alpha_t=61.3, beta_e=21.6e3, beta_h=740e3, beta_t=66.0,
    deb_e=50e3, deb_h=400e3, deb_t=64.0,
    # loss at 65 C, 1/s
    kd_alpha=2.2e-4, ed_alpha=224.2e3, shelter_alpha=0.04, kd_beta=7.5e-3, ed_beta=410.7e3, shelter=0.100, kd_deb=2.0e-3, ed_deb=300e3,
    # hydrolysis at 65 C and nominal enzyme, 1/s
    k_paste_alpha=0.019, k_paste_beta=0.005, k_dex_beta=0.0136, k_dex_alpha=9.2e-4, k_limit=2.3e-5,
    phi=0.245, limit=0.336, limit_per_plato=0.005, limit_plato=20.0, k_maltose=310.0,
    split=(0.08, 0.50, 0.42),
    pk_alpha=(4.6, 6.8), pk_beta=(4.2, 6.6),
)


def arr(e, t_ref, t):
    return np.exp(-e / R * (1 / t - 1 / t_ref))


def activity(t, e, h, t_half):
    """Arrhenius turnover times the share of enzyme that is folded right now; 1 at 65 C."""
    def g(x):
        return np.exp(-e / R * (1 / x - 1 / T65)) / (1 + np.exp(np.minimum(h / R * (1 / (t_half + 273.15) - 1 / x), 600)))
    return g(t) / g(T65)


def bell(ph, pk1, pk2):
    def f(x):
        return 1 / (1 + 10 ** (pk1 - x) + 10 ** (x - pk2))
    return f(ph) / f((pk1 + pk2) / 2)


def liquid(y, r, m, p):
    """Dissolved extract and water per kg dry grist; r = kg liquor per kg grist as weighed, m = moisture fraction."""
    s = dict(zip(STATES, y))
    sugar = sum(s[k] * HYD[k] for k in ('glucose', 'maltose', 'maltotriose'))
    extract = sugar + (s['dextrin'] + s['limit']) * HYD['dextrin'] + s['paste'] + s['other']
    bound = extract - (s['glucose'] + s['maltose'] + s['maltotriose'] + s['dextrin'] + s['limit'] + s['paste'] + s['other'])
    water = (r + m) / (1 - m) - bound
    return extract, water, sugar


def rates(t, y, temp, r, m, ph, e0, p):
    s = dict(zip(STATES, y))
    tk = temp(t) + 273.15
    extract, water, _ = liquid(y, r, m, p)
    plato = 100 * extract / (extract + water)
    final_plato = 100 * p['extract'] / (p['extract'] + (r + m) / (1 - m))
    tg = tk - p['t_gel_shift'] - p['gel_per_plato'] * (plato - p['gel_plato'])

    def gel(k, e):
        a = k * arr(e, T60, tg)
        return a * p['k_swell'] / (a + p['k_swell'])
    wet, raw = 1 / p['tau_grit'], 1 - p['cooked']
    g_l, g_s = gel(p['k_large'], p['e_large']) * s['raw_large'], gel(p['k_small'], p['e_small']) * s['raw_small']
    a = s['alpha'] * activity(tk, p['alpha_e'], p['alpha_h'], p['alpha_t']) * bell(ph, *p['pk_alpha'])
    b = s['beta'] * activity(tk, p['beta_e'], p['beta_h'], p['beta_t']) * bell(ph, *p['pk_beta'])
    b /= 1 + 1000 * s['maltose'] * HYD['maltose'] / water / p['k_maltose']
    d = s['debranch'] * activity(tk, p['deb_e'], p['deb_h'], p['deb_t'])
    lim = np.clip(p['limit'] + p['limit_per_plato'] * (final_plato - p['limit_plato']), 0.05, 0.6)
    v_pa, v_pb = p['k_paste_alpha'] * a * s['paste'], p['k_paste_beta'] * b * s['paste']
    v_db, v_da, v_l = p['k_dex_beta'] * b * s['dextrin'], p['k_dex_alpha'] * a * s['dextrin'], p['k_limit'] * d * s['limit']
    mixed = p['phi'] * v_pa + v_da
    released = wet * s['dry_other'] / p['other']       # enzyme still dry inside the grits is neither active nor lost
    c = p['split']
    return [
        -wet * s['dry_starch'], -wet * s['dry_other'],
        raw * (1 - p['small']) * wet * s['dry_starch'] - g_l, raw * p['small'] * wet * s['dry_starch'] - g_s,
        g_l + g_s + p['cooked'] * wet * s['dry_starch'] - v_pa - v_pb,
        (1 - p['phi']) * (1 - lim) * v_pa - v_db - v_da + v_l,
        (1 - p['phi']) * lim * v_pa + lim * v_pb - v_l,
        c[0] * mixed, c[1] * mixed + (1 - lim) * v_pb + v_db, c[2] * mixed,
        wet * s['dry_other'],
        released * e0[0] - p['kd_alpha'] * arr(p['ed_alpha'], T65, tk) * np.exp(-p['shelter_alpha'] * plato) * s['alpha'],
        released * e0[1] - p['kd_beta'] * arr(p['ed_beta'], T65, tk) * np.exp(-p['shelter'] * plato) * s['beta'],
        released - p['kd_deb'] * arr(p['ed_deb'], T65, tk) * s['debranch'],
    ]


def apparent(ferm, oe=12.0):
    """Apparent limit of attenuation of a wort of `oe` degP when the share `ferm` of its extract mass ferments (Balling balance, real from apparent extract)."""
    e = oe * ferm / 2.0665
    real = 100 * oe * (1 - ferm) / (100 - 1.0665 * e)
    return (oe - real) / oe / 0.8192


def mash(course, r=3.0, minutes=(60.0,), ph=5.5, alpha=1.0, beta=1.0, m=0.04, rtol=1e-6, **change):
    """course: one temperature or [(minute, C), ...] joined by straight lines; returns arrays at `minutes`."""
    p = dict(DEFAULT, **change)
    if np.isscalar(course):
        course = [(0, course), (1e4, course)]
    tt, cc = np.array([60.0 * a for a, _ in course]), np.array([b for _, b in course], float)
    starch = (p['extract'] - p['other']) / p['lab_hydration']
    s, g = starch * (1 - p['shut']), p['grit']
    c = p['cooked']
    y0 = [g * s, g * p['other'], (1 - g) * (1 - c) * (1 - p['small']) * s, (1 - g) * (1 - c) * p['small'] * s, (1 - g) * c * s, 0, 0, 0, 0, 0,
          (1 - g) * p['other'], (1 - g) * alpha, (1 - g) * beta, 1 - g]
    te = np.atleast_1d(np.array(minutes, float)) * 60
    sol = solve_ivp(rates, (0, te[-1]), y0, method='LSODA', t_eval=te, rtol=rtol, atol=1e-10, max_step=60.0,
                    args=(lambda t: np.interp(t, tt, cc), r, m, ph, (alpha, beta), p))
    assert sol.success, sol.message
    v = dict(zip(STATES, sol.y))
    extract, water, sugar = liquid(sol.y, r, m, p)
    ferm = sugar + p['other_sugar'] / p['other'] * v['other']
    agu = v['glucose'] + v['maltose'] + v['maltotriose']
    split = agu + v['dextrin'] + v['limit'] + v['paste']
    mass_in = 1 + (r + m) / (1 - m)                       # dry grist + water
    solids = sum(v[k] for k in ('dry_starch', 'dry_other', 'raw_large', 'raw_small')) + 1 - p['other'] - s
    return dict(conversion=extract / p['extract'], fermentable=ferm / extract, attenuation=apparent(ferm / extract),
                ferm_yield=ferm / p['extract'], dextrin_share=1 - agu / split, dissolved=split / starch, sugar_yield=agu / starch,
                paste=v['paste'] / starch, alpha=v['alpha'], beta=v['beta'], plato=100 * extract / (extract + water),
                glucose=v['glucose'] * HYD['glucose'] / sugar, maltotriose=v['maltotriose'] * HYD['maltotriose'] / sugar,
                closure=(extract + water + solids) / mass_in - 1)


def iodine_minutes(course, limit=0.02, step=0.5, last=240, **kw):
    """First minute after which gelatinised, uncut starch stays under `limit` of all starch, in the liquid."""
    t = np.arange(step, last + step, step)
    g = mash(course, minutes=t, **kw)['paste']
    over = np.nonzero(g > limit)[0]
    if len(over) == 0:
        return step
    return float('inf') if over[-1] == len(t) - 1 else t[over[-1] + 1]
