"""Property functions shared by the make_*.py scripts. Plain formulas, written out once.

T in degC, P in degrees Plato (g extract per 100 g), density in kg/m3. Nothing here is product code.
"""
import math

from scipy.optimize import brentq

# Sucrose in water, ICUMSA equation (Bubnik et al. 1995): excess over water, kg/m3; w mass fraction, x=(T-20)/100
ICUMSA = [
    [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890],
    [-46.2720, -7.1720, 1.1597, 5.1126, 17.5254],
    [59.7712, 7.2491, 12.3630, -35.4791],
    [-47.2207, -21.6977, 27.6301],
    [18.3184, 12.3081],
]
AIR = 1.2            # kg/m3, air that buoys weights and hydrometer stems
BRASS = 8000.0       # kg/m3


def rho_w(T):
    """Water at 101.325 kPa (Kell form used with the ICUMSA equation)."""
    return (999.83952 + 16.952577 * T - 7.9905127e-3 * T**2 - 46.241757e-6 * T**3
            + 105.84601e-9 * T**4 - 281.03006e-12 * T**5) / (1 + 16.887236e-3 * T)


def rho(P, T):
    w, x = P / 100, (T - 20) / 100
    return rho_w(T) + sum(x**j * sum(k * w**(i + 1) for i, k in enumerate(row)) for j, row in enumerate(ICUMSA))


def sg20_true(P):
    return rho(P, 20) / rho_w(20)


def sg20_apparent(P):
    """Ratio of weights in air, 20/20."""
    return (rho(P, 20) - AIR) / (rho_w(20) - AIR)


def plato_from_sg20(S):
    """From the true density ratio 20/20, the scale that a hydrometer is marked in."""
    return brentq(lambda P: sg20_true(P) - S, -10, 60, xtol=1e-12)


def asbc(S):
    return ((135.997 * S - 630.272) * S + 1111.14) * S - 616.868


def asbc_inv(P):
    return brentq(lambda S: asbc(S) - P, 0.97, 1.2, xtol=1e-13)


def nbs(S):
    return ((182.4601 * S - 775.6821) * S + 1262.7794) * S - 669.5622


def hydrometer(density, T, Tcal, beta=25e-6):
    """Reading of an ideal hydrometer marked at Tcal, in a liquid of given density at T; beta: cubic expansion of its glass.

    The pull of the air on the stem is the same in use as at the calibration, so it drops out.
    """
    return density * (1 + beta * (T - Tcal)) / rho_w(Tcal)


def nd_sucrose(bx):
    """Refractive index at 20 degC, 589.3 nm, from the ICUMSA inverse polynomial."""
    def f(n):
        return (((((11758.74 * n - 88885.21) * n + 270177.93) * n - 413145.80) * n
                 + 318417.95) * n - 99127.4536) - bx
    return brentq(f, 1.32, 1.45, xtol=1e-14)


def cp_wort(P, T):
    b = P / 100
    return 4184 - 2971 * b + 460 * b + 7.5 * b * T


def alcohol(OE, RE):
    """Balling: g ethanol per 100 g beer."""
    return (OE - RE) / (2.0665 - 0.010665 * OE)


def real_extract(OE, AE):
    return 0.1808 * OE + 0.8192 * AE
