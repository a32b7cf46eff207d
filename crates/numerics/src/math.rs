//! Elementary functions that give the same bits on every machine, and that vectorise.
//!
//! The standard library's `exp`, `ln` and `pow` call the system's mathematical library, which
//! picks a variant by processor. These use only `+ − × ÷`, comparisons and bit patterns, so a
//! result does not depend on the machine, and a loop over them can be turned into vector code:
//! they have selects, no early returns. Deliberately absent: fused multiply-add (it would change
//! the bits), sine and cosine by themselves, and `sqrt`, which IEEE 754 already rounds correctly
//! everywhere.

/// `ln 2` in two parts; the first ends in 21 zero bits, so `k·LN2_HIGH` is exact for |k| < 2²⁰.
const LN2_HIGH: f64 = f64::from_bits(0x3fe6_2e42_fee0_0000);
/// What [`LN2_HIGH`] leaves of `ln 2`.
const LN2_LOW: f64 = f64::from_bits(0x3dea_39ef_3579_3c76);
/// `log₁₀ 2` in two parts, as for `ln 2`.
const LOG2_HIGH: f64 = f64::from_bits(0x3fd3_4413_5080_0000);
/// What [`LOG2_HIGH`] leaves of `log₁₀ 2`.
const LOG2_LOW: f64 = 1.145_110_089_802_183_8e-10;
/// 1.5·2⁵²: adding it rounds to the nearest whole number, which then stands in the low bits.
const ROUND: f64 = 6_755_399_441_055_744.0;

/// `π/2` in two parts; the first ends in 20 zero bits, so `k·HALF_PI_HIGH` is exact for |k| < 2²⁰.
const HALF_PI_HIGH: f64 = f64::from_bits(0x3ff9_21fb_5440_0000);
/// What [`HALF_PI_HIGH`] leaves of `π/2`.
const HALF_PI_LOW: f64 = f64::from_bits(0x3dd0_b461_1a62_6331);
/// `arctan ½`, rounded to a double.
const ATAN_HALF: f64 = 0.463_647_609_000_806_1;

/// `e^x`, within one unit in the last place.
///
/// Underflows gradually to 0 below −745.1, overflows to infinity above 709.8; `NaN` stays `NaN`.
///
/// Method: `x = k·ln 2 + r` with |r| ≤ ln 2 / 2; `e^r` by its Taylor polynomial of degree 13
/// (remainder below 5e-18); then the exponent bits.
///
/// ```
/// assert!((numerics::math::exp(1.0) - std::f64::consts::E).abs() < 5e-16);
/// ```
#[inline]
pub fn exp(x: f64) -> f64 {
    let x = limit(x, -750.0, 712.0);
    let shifted = x * std::f64::consts::LOG2_E + ROUND;
    let k = shifted - ROUND;
    let r = (x - k * LN2_HIGH) - k * LN2_LOW;
    scale(exp_reduced(r), k)
}

/// `2^x`, to the same error as [`exp`]; whole `x` gives exact powers.
#[inline]
pub fn exp2(x: f64) -> f64 {
    let x = limit(x, -1082.0, 1027.0);
    let k = (x + ROUND) - ROUND;
    scale(exp_reduced((x - k) * std::f64::consts::LN_2), k)
}

/// `10^x`, within 1.5 units in the last place.
#[inline]
pub fn pow10(x: f64) -> f64 {
    let x = limit(x, -326.0, 310.0);
    let k = (x * std::f64::consts::LOG2_10 + ROUND) - ROUND;
    let r = ((x - k * LOG2_HIGH) - k * LOG2_LOW) * std::f64::consts::LN_10;
    scale(exp_reduced(r), k)
}

/// Natural logarithm, within one unit in the last place.
///
/// `ln 0 = −∞`, `ln ∞ = ∞`; negative numbers and `NaN` give `NaN`.
///
/// Method: `x = 2^k·(1 + f)` with `1 + f` between √½ and √2, `s = f/(2 + f)`,
/// `ln(1 + f) = 2 artanh s` as a series in `s²` (twelve terms, remainder below 1e-18).
///
/// ```
/// assert!((numerics::math::ln(10.0) - std::f64::consts::LN_10).abs() < 5e-16);
/// ```
#[inline]
pub fn ln(x: f64) -> f64 {
    let tiny = x < f64::MIN_POSITIVE;
    let bits = (if tiny { x * 18_014_398_509_481_984.0 } else { x }).to_bits(); // 2⁵⁴
    // Shift the exponent's border from 1 to √½, so that the fraction lies around 1.
    let moved = bits.wrapping_add(0x3ff0_0000_0000_0000 - 0x3fe6_a09e_667f_3bcd);
    let k = ((moved >> 52) as i32 - 1023 - if tiny { 54 } else { 0 }) as f64;
    let mantissa = (moved & 0x000f_ffff_ffff_ffff) + 0x3fe6_a09e_667f_3bcd;
    let f = f64::from_bits(mantissa) - 1.0;
    let s = f / (2.0 + f);
    let z = s * s;
    let z2 = z * z;
    let z4 = z2 * z2;
    let low = (2.0 / 3.0 + z * (2.0 / 5.0)) + z2 * (2.0 / 7.0 + z * (2.0 / 9.0));
    let middle = (2.0 / 11.0 + z * (2.0 / 13.0)) + z2 * (2.0 / 15.0 + z * (2.0 / 17.0));
    let high = (2.0 / 19.0 + z * (2.0 / 21.0)) + z2 * (2.0 / 23.0 + z * (2.0 / 25.0));
    let series = z * (low + z4 * (middle + z4 * high));
    let half_square = 0.5 * f * f;
    let value = k * LN2_HIGH - ((half_square - (s * (half_square + series) + k * LN2_LOW)) - f);
    let value = if x < f64::INFINITY { value } else { x };
    let value = if x > 0.0 { value } else { f64::NEG_INFINITY };
    if x >= 0.0 { value } else { f64::NAN }
}

/// Common logarithm, `ln x / ln 10`, within two units in the last place.
#[inline]
pub fn log10(x: f64) -> f64 {
    ln(x) * std::f64::consts::LOG10_E
}

/// `base^exponent` for `base ≥ 0`, as `exp(exponent·ln base)`.
///
/// Relative error below `(1 + |exponent·ln base|)·4.5e-16`: enough for correlations and powers of
/// physical ratios. `0^positive = 0`, `0^0 = 1`, `0^negative = ∞`; a negative base gives `NaN`.
#[inline]
pub fn pow(base: f64, exponent: f64) -> f64 {
    if exponent == 0.0 { 1.0 } else { exp(exponent * ln(base)) }
}

/// Cube root, within one unit in the last place; keeps the sign.
#[inline]
pub fn cbrt(x: f64) -> f64 {
    let size = x.abs();
    let tiny = size < f64::MIN_POSITIVE;
    let lifted = if tiny { size * 18_014_398_509_481_984.0 } else { size }; // 2⁵⁴ = (2¹⁸)³
    // A third of the exponent; the constant centres the error of this first guess (5 %).
    let mut y = f64::from_bits(lifted.to_bits() / 3 + 0x2a9f_7893_782d_a1ce);
    for _ in 0..3 {
        // Halley's step: cubes the relative error.
        let cube = y * y * y;
        y *= (cube + 2.0 * lifted) / (2.0 * cube + lifted);
    }
    y -= (y - lifted / (y * y)) / 3.0;
    let y = if tiny { y / 262_144.0 } else { y };
    let finite = if size > 0.0 && size < f64::INFINITY { y } else { size };
    finite.copysign(x)
}

/// Hyperbolic sine, within three units in the last place; keeps the sign.
///
/// Method: under 0.5 the Taylor polynomial of degree 15 (remainder below 1e-19 of the value), above
/// it `(e^x − e^−x)/2`.
#[inline]
pub fn sinh(x: f64) -> f64 {
    let z = x * x;
    let high = 1.0 / 362_880.0 + z * (1.0 / 39_916_800.0 + z * (1.0 / 6_227_020_800.0));
    let high = high + z * z * z * (1.0 / 1_307_674_368_000.0);
    let low = 1.0 / 6.0 + z * (1.0 / 120.0 + z * (1.0 / 5_040.0 + z * high));
    let series = x + x * z * low;
    let whole = 0.5 * (exp(x) - exp(-x));
    if x.abs() < 0.5 { series } else { whole }
}

/// Hyperbolic cosine, `(e^x + e^−x)/2`, within two units in the last place.
#[inline]
pub fn cosh(x: f64) -> f64 {
    0.5 * (exp(x) + exp(-x))
}

/// Tangent of an angle in radians, within three units in the last place for |x| up to 1e5, away
/// from its poles.
///
/// Method: `x = k·π/2 + r` with |r| ≤ π/4, sine and cosine of `r` by their Taylor polynomials of
/// degree 19 and 18 (remainders below 1e-19), and their quotient or its negative inverse.
///
/// ```
/// assert!((numerics::math::tan(std::f64::consts::FRAC_PI_8) - (2f64.sqrt() - 1.0)).abs() < 1e-15);
/// ```
#[inline]
pub fn tan(x: f64) -> f64 {
    let shifted = x * std::f64::consts::FRAC_2_PI + ROUND;
    let k = shifted - ROUND;
    let high = x - k * HALF_PI_HIGH;
    let r = high - k * HALF_PI_LOW;
    let lost = (high - r) - k * HALF_PI_LOW; // what rounding took from r
    let z = r * r;
    let sine = SINE.iter().rev().fold(0.0, |sum, c| c + z * sum);
    let cosine = COSINE.iter().rev().fold(0.0, |sum, c| c + z * sum);
    let sine = r + (r * z * sine + lost);
    let cosine = 1.0 - (0.5 * z + r * lost - z * z * cosine);
    let odd = shifted.to_bits() & 1 == 1;
    let value = if odd { -cosine / sine } else { sine / cosine };
    if x == 0.0 { x } else { value }
}

/// `(sin r − r)/r³` in powers of `r²`.
const SINE: [f64; 9] = [
    -1.0 / 6.0,
    1.0 / 120.0,
    -1.0 / 5_040.0,
    1.0 / 362_880.0,
    -1.0 / 39_916_800.0,
    1.0 / 6_227_020_800.0,
    -1.0 / 1_307_674_368_000.0,
    1.0 / 355_687_428_096_000.0,
    -1.0 / 121_645_100_408_832_000.0,
];
/// `(cos r − 1 + r²/2)/r⁴` in powers of `r²`.
const COSINE: [f64; 8] = [
    1.0 / 24.0,
    -1.0 / 720.0,
    1.0 / 40_320.0,
    -1.0 / 3_628_800.0,
    1.0 / 479_001_600.0,
    -1.0 / 87_178_291_200.0,
    1.0 / 20_922_789_888_000.0,
    -1.0 / 6_402_373_705_728_000.0,
];

/// Angle of a tangent, rad, within two units in the last place; keeps the sign.
///
/// Method: above 1 by `π/2 − atan(1/x)`; then `atan t = atan c + atan((t − c)/(1 + c·t))` with the
/// nearest of 0, ½ and 1 for `c`, so that the series runs on |z| ≤ ¼ (thirteen terms, remainder
/// below 1e-17 of the value).
///
/// ```
/// assert!((numerics::math::atan(1.0) - std::f64::consts::FRAC_PI_4).abs() < 1e-15);
/// ```
#[inline]
pub fn atan(x: f64) -> f64 {
    let size = x.abs();
    let steep = size > 1.0;
    let t = if steep { 1.0 / size } else { size };
    let (centre, angle) =
        if t >= 0.75 { (1.0, std::f64::consts::FRAC_PI_4) } else { (0.5, ATAN_HALF) };
    let (centre, angle) = if t > 0.25 { (centre, angle) } else { (0.0, 0.0) };
    let z = (t - centre) / (1.0 + centre * t);
    let z2 = z * z;
    let series = ATAN.iter().rev().fold(0.0, |sum, c| c - z2 * sum);
    let value = angle + (z - z * z2 * series);
    let value = if steep { std::f64::consts::FRAC_PI_2 - value } else { value };
    value.copysign(x)
}

/// `(z − atan z)/z³` in powers of `−z²`.
const ATAN: [f64; 12] = [
    1.0 / 3.0,
    1.0 / 5.0,
    1.0 / 7.0,
    1.0 / 9.0,
    1.0 / 11.0,
    1.0 / 13.0,
    1.0 / 15.0,
    1.0 / 17.0,
    1.0 / 19.0,
    1.0 / 21.0,
    1.0 / 23.0,
    1.0 / 25.0,
];

/// Angle of a sine, rad, as `atan(x/√((1 − x)(1 + x)))`, within three units in the last place.
///
/// `asin ±1 = ±π/2`; beyond that `NaN`.
#[inline]
pub fn asin(x: f64) -> f64 {
    atan(x / ((1.0 - x) * (1.0 + x)).sqrt())
}

/// `x` kept between `low` and `high`; `NaN` passes, as a loop with selects.
#[inline]
fn limit(x: f64, low: f64, high: f64) -> f64 {
    let x = if x < low { low } else { x };
    if x > high { high } else { x }
}

/// `e^r` for |r| ≤ 0.35: Taylor to degree 13, summed in pairs so that the sums run side by side.
#[inline]
fn exp_reduced(r: f64) -> f64 {
    let r2 = r * r;
    let r4 = r2 * r2;
    let c23 = 1.0 / 2.0 + r * (1.0 / 6.0);
    let c45 = 1.0 / 24.0 + r * (1.0 / 120.0);
    let c67 = 1.0 / 720.0 + r * (1.0 / 5_040.0);
    let c89 = 1.0 / 40_320.0 + r * (1.0 / 362_880.0);
    let c1011 = 1.0 / 3_628_800.0 + r * (1.0 / 39_916_800.0);
    let c1213 = 1.0 / 479_001_600.0 + r * (1.0 / 6_227_020_800.0);
    let low = c23 + r2 * c45;
    let middle = c67 + r2 * c89;
    let high = c1011 + r2 * c1213;
    1.0 + (r + r2 * (low + r4 * (middle + r4 * high)))
}

/// `value·2^k` for whole `k`; in two halves, so that neither factor leaves the exponent's range.
#[inline]
fn scale(value: f64, k: f64) -> f64 {
    let half = (k * 0.5 + ROUND) - ROUND;
    value * power_of_two(half) * power_of_two(k - half)
}

/// `2^k` for whole |k| ≤ 1022, from the low bits that adding [`ROUND`] leaves.
#[inline]
fn power_of_two(k: f64) -> f64 {
    f64::from_bits(((k + ROUND).to_bits().wrapping_add(1023)) << 52)
}

#[cfg(test)]
mod tests;
