//! Own functions against the standard library's on dense grids, and at the edges.

use super::*;

/// Largest relative difference over a grid of `steps` points.
fn worst(lo: f64, hi: f64, steps: u32, f: fn(f64) -> f64, reference: fn(f64) -> f64) -> f64 {
    (0..=steps)
        .map(|i| lo + (hi - lo) * f64::from(i) / f64::from(steps))
        .map(|x| (f(x), reference(x)))
        .map(|(own, other)| if own == other { 0.0 } else { ((own - other) / other).abs() })
        .fold(0.0, f64::max)
}

#[track_caller]
fn check(lo: f64, hi: f64, f: fn(f64) -> f64, reference: fn(f64) -> f64, tolerance: f64) {
    let found = worst(lo, hi, 400_003, f, reference);
    assert!(found <= tolerance, "{found:e} on [{lo}, {hi}]");
}

// Both sides may err by one unit in the last place, which is 2.2e-16 at most.
const ULPS: f64 = 4.5e-16;

#[test]
fn exp_agrees_with_the_standard_one() {
    check(-60.0, 60.0, exp, f64::exp, ULPS);
    check(-708.0, 709.7, exp, f64::exp, ULPS);
    check(-1e-3, 1e-3, exp, f64::exp, ULPS);
    check(-1022.0, 1023.9, exp2, f64::exp2, ULPS);
    check(-307.0, 308.2, pow10, |x| 10f64.powf(x), ULPS);
}

#[test]
fn ln_agrees_with_the_standard_one() {
    check(1e-6, 2.0, ln, f64::ln, ULPS);
    check(0.999, 1.001, ln, f64::ln, ULPS);
    check(0.5, 1e6, ln, f64::ln, ULPS);
    check(1e-320, 1e-305, ln, f64::ln, ULPS);
    check(1e200, 1e308, ln, f64::ln, ULPS);
    check(1e-3, 1e3, log10, f64::log10, 2.0 * ULPS);
}

#[test]
fn pow_and_cbrt_agree_with_the_standard_ones() {
    for exponent in [-3.0, -0.2, 0.17, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 4.0] {
        for i in 1..20_000 {
            let base = f64::from(i) * 0.01;
            let (own, other) = (pow(base, exponent), base.powf(exponent));
            let tolerance = (1.0 + (exponent * base.ln()).abs()) * ULPS;
            assert!(((own - other) / other).abs() <= tolerance, "{base}^{exponent}: {own} {other}");
        }
    }
    check(-1e3, 1e3, cbrt, f64::cbrt, ULPS);
    check(1e-320, 1e-305, cbrt, f64::cbrt, ULPS);
    check(1e300, 1e308, cbrt, f64::cbrt, ULPS);
}

#[test]
fn angles_agree_with_the_standard_ones() {
    check(-1.0, 1.0, atan, f64::atan, 2.0 * ULPS);
    check(-60.0, 60.0, atan, f64::atan, 2.0 * ULPS);
    check(-1e-3, 1e-3, atan, f64::atan, ULPS);
    check(1e10, 1e300, atan, f64::atan, ULPS);
    check(-1.0, 1.0, asin, f64::asin, 2.0 * ULPS);
    check(0.999_999, 1.0, asin, f64::asin, 2.0 * ULPS);
    check(-1e-3, 1e-3, asin, f64::asin, 2.0 * ULPS);
    check(-1.5, 1.5, tan, f64::tan, 2.0 * ULPS);
    check(1.5, 1.5705, tan, f64::tan, 2.0 * ULPS);
    check(1.6, 4.6, tan, f64::tan, 2.0 * ULPS);
    check(-1e-3, 1e-3, tan, f64::tan, ULPS);
}

#[test]
fn hyperbolic_functions_agree_with_the_standard_ones() {
    check(-1.0, 1.0, sinh, f64::sinh, 2.0 * ULPS);
    check(-40.0, 40.0, sinh, f64::sinh, 3.0 * ULPS);
    check(-40.0, 40.0, cosh, f64::cosh, 2.0 * ULPS);
}

/// Angles whose tangent or sine is known in closed form, and published digits.
#[test]
fn angles_of_geometry() {
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_3, FRAC_PI_4, FRAC_PI_6, FRAC_PI_8, PI};
    let near = |found: f64, wanted: f64| {
        assert!((found - wanted).abs() <= 1e-15 * wanted.abs().max(1.0), "{found} {wanted}");
    };
    near(tan(FRAC_PI_8), 2f64.sqrt() - 1.0);
    near(tan(PI / 12.0), 2.0 - 3f64.sqrt());
    near(tan(PI / 5.0), (5.0 - 2.0 * 5f64.sqrt()).sqrt());
    near(tan(FRAC_PI_6), 1.0 / 3f64.sqrt());
    near(tan(FRAC_PI_3), 3f64.sqrt());
    near(tan(1.0), 1.557_407_724_654_902_2); // OEIS A049471
    near(atan(0.5), 0.463_647_609_000_806_1); // OEIS A073000
    near(atan(3f64.sqrt()), FRAC_PI_3);
    near(asin(0.5), FRAC_PI_6);
    near(asin(0.5f64.sqrt()), FRAC_PI_4);
    near(asin(0.75f64.sqrt()), FRAC_PI_3);
    near(asin(1.0), FRAC_PI_2);
    // Machin 1706, Euler 1738.
    near(4.0 * atan(0.2) - atan(1.0 / 239.0), FRAC_PI_4);
    near(atan(0.5) + atan(1.0 / 3.0), FRAC_PI_4);
    for i in 1..5000 {
        let x = f64::from(i) / 5000.0;
        near(atan(x) + atan(1.0 / x), FRAC_PI_2);
        // the root is rounded, and near 1 an angle moves more than its sine does
        let both = asin(x) + asin(((1.0 - x) * (1.0 + x)).sqrt());
        assert!((both - FRAC_PI_2).abs() <= 1e-15 + 2.3e-16 / x, "{x} {both}");
        near(tan(atan(x)), x);
    }
}

#[test]
fn exact_values_are_exact() {
    assert_eq!(exp(0.0), 1.0);
    assert_eq!(ln(1.0), 0.0);
    assert_eq!(pow(7.5, 0.0), 1.0);
    assert_eq!(cbrt(27.0), 3.0);
    assert_eq!(cbrt(-0.125), -0.5);
    for k in -1074..1024 {
        let power = 2f64.powi(k / 2) * 2f64.powi(k - k / 2); // each half is in range
        assert_eq!(exp2(f64::from(k)), power, "2^{k}");
    }
}

#[test]
fn edges_are_as_in_the_standard_library() {
    assert_eq!(exp(-746.0), 0.0);
    assert_eq!(exp(f64::NEG_INFINITY), 0.0);
    assert_eq!(exp(710.0), f64::INFINITY);
    assert_eq!(exp(f64::INFINITY), f64::INFINITY);
    assert!(exp(-744.0) > 0.0, "gradual underflow");
    assert_eq!(exp2(1024.0), f64::INFINITY);
    assert_eq!(exp2(-1080.0), 0.0);
    assert_eq!(pow10(309.0), f64::INFINITY);
    assert_eq!(pow10(-324.5), 0.0);
    assert_eq!(ln(0.0), f64::NEG_INFINITY);
    assert_eq!(ln(-0.0), f64::NEG_INFINITY);
    assert_eq!(ln(f64::INFINITY), f64::INFINITY);
    assert_eq!(pow(0.0, 2.0), 0.0);
    assert_eq!(pow(0.0, -2.0), f64::INFINITY);
    assert_eq!(pow(0.0, 0.0), 1.0);
    assert_eq!(cbrt(0.0).to_bits(), 0);
    assert_eq!(cbrt(f64::NEG_INFINITY), f64::NEG_INFINITY);
    assert_eq!(atan(f64::INFINITY), std::f64::consts::FRAC_PI_2);
    assert_eq!(atan(f64::NEG_INFINITY), -std::f64::consts::FRAC_PI_2);
    assert_eq!((atan(-0.0).to_bits(), tan(-0.0).to_bits()), ((-0.0f64).to_bits(), 1 << 63));
    assert_eq!((asin(-1.0), sinh(0.0), cosh(0.0)), (-std::f64::consts::FRAC_PI_2, 0.0, 1.0));
    assert!([asin(1.000_001), asin(-2.0), asin(f64::NAN)].iter().all(|value| value.is_nan()));
    assert!([atan(f64::NAN), tan(f64::NAN), tan(f64::INFINITY)].iter().all(|v| v.is_nan()));
    let refused = [exp(f64::NAN), exp2(f64::NAN), pow10(f64::NAN), ln(f64::NAN), ln(-1.0)];
    assert!(refused.iter().all(|value| value.is_nan()));
    assert!([pow(-1.0, 0.5), pow(f64::NAN, 1.0), cbrt(f64::NAN)].iter().all(|v| v.is_nan()));
}

#[test]
fn a_loop_over_many_gives_the_same_bits_as_one_at_a_time() {
    // The loop may become vector code; the single calls, hidden from the optimiser, do not.
    let xs: Vec<f64> = (0..1003).map(|i| f64::from(i) * 0.37 - 150.0).collect();
    let mut together = [0.0; 1003];
    for (out, x) in together.iter_mut().zip(&xs) {
        *out = exp(*x); // by name, so that it is inlined and vectorised
    }
    let singly = xs.iter().map(|x| exp(std::hint::black_box(*x)));
    assert!(singly.zip(together).all(|(one, all)| one.to_bits() == all.to_bits()));
    for (out, x) in together.iter_mut().zip(&xs) {
        *out = ln(x.abs());
    }
    let singly = xs.iter().map(|x| ln(std::hint::black_box(x.abs())));
    assert!(singly.zip(together).all(|(one, all)| one.to_bits() == all.to_bits()));
}
