//! Against SciPy 1.17.1, `PchipInterpolator`, and what a monotone curve must keep.

use proptest::prelude::*;

use super::*;

/// `cases`: place, value, slope.
#[track_caller]
fn check(xs: &[f64], ys: &[f64], cases: &[(f64, f64, f64)]) {
    let curve = Curve::new(xs, ys).unwrap();
    for &(x, value, slope) in cases {
        let found = curve.both(x);
        assert!((found.0 - value).abs() < 1e-13, "value at {x}: {} for {value}", found.0);
        assert!((found.1 - slope).abs() < 1e-13, "slope at {x}: {} for {slope}", found.1);
    }
}

#[test]
#[rustfmt::skip]
fn values_and_slopes_agree_with_scipy() {
    // Digits: `scipy.interpolate.PchipInterpolator` and its derivative, SciPy 1.17.1.
    check(&[0.0, 1.0, 3.0, 4.0, 7.0], &[0.0, 1.0, 2.0, 5.0, 5.5], &[
        (0.0, 0.0, 1.166_666_666_666_666_7),
        (0.25, 0.287_860_576_923_076_9, 1.127_403_846_153_846),
        (0.5, 0.559_294_871_794_871_8, 1.035_256_410_256_410_1),
        (1.0, 1.0, 0.692_307_692_307_692_3),
        (1.7, 1.338_232_758_620_689_7, 0.350_431_034_482_758_6),
        (2.9, 1.912_012_599_469_495_6, 0.830_271_883_289_124_7),
        (3.5, 3.569_987_557_767_508_4, 4.174_457_874_155_705_5),
        (6.2, 5.470_358_151_966_399_5, 0.076_792_668_957_617_31),
        (7.0, 5.5, 0.0),
    ]);
    check(&[0.0, 1.0, 2.0, 3.0], &[0.0, 3.0, -1.0, 2.0], &[
        (0.1, 0.610_5, 5.715),
        (0.6, 2.568, 2.24),
        (1.3, 2.136, -5.04),
        (1.9, -0.888, -2.16),
        (2.4, -0.568, 2.24),
        (3.0, 2.0, 6.5),
    ]);
    check(&[-2.0, -1.5, 0.0, 0.25, 5.0], &[1.0, 1.0, 1.0, 4.0, 10.0], &[
        (-1.8, 1.0, 0.0),
        (-0.7, 1.0, 0.0),
        (0.1, 1.983_547_169_811_321_2, 16.313_962_264_150_945),
        (0.2, 3.591_396_226_415_094_3, 12.486_037_735_849_052),
        (1.0, 6.007_119_141_081_681, 2.345_729_478_140_551),
        (4.9, 9.998_355_841_519_338, 0.033_101_475_268_686_675),
    ]);
    check(&[0.0, 1.0, 10.0], &[0.0, 1.0, -5.0], &[
        (0.2, 0.253_333_333_333_333_35, 1.333_333_333_333_333_3),
        (0.9, 0.982_5, 0.341_666_666_666_666_8),
        (3.0, 0.934_156_378_600_823, -0.098_765_432_098_765_38),
        (9.0, -3.213_991_769_547_324_6, -1.580_246_913_580_246_8),
    ]);
}

#[test]
fn beyond_the_ends_the_curve_goes_straight_on() {
    let curve = Curve::new(&[0.0, 1.0, 3.0, 4.0], &[0.0, 1.0, 2.0, 5.0]).unwrap();
    for (end, outside) in [(0.0, -3.0), (4.0, 9.0)] {
        let (value, slope) = curve.both(end);
        assert_eq!(curve.both(outside), (value + slope * (outside - end), slope));
    }
    assert_eq!(curve.range(), (0.0, 4.0));
    assert!(curve.value(f64::NAN).is_nan());
}

#[test]
fn points_that_make_no_curve_are_refused() {
    assert_eq!(Curve::new(&[1.0], &[1.0]), Err(CurveError::Length { xs: 1, ys: 1 }));
    assert_eq!(Curve::new(&[1.0, 2.0], &[1.0]), Err(CurveError::Length { xs: 2, ys: 1 }));
    let twice = Curve::new(&[1.0, 1.0], &[1.0, 2.0]);
    assert_eq!(twice, Err(CurveError::NotRising { index: 1, x: 1.0, before: 1.0 }));
    let infinite = Curve::new(&[1.0, 2.0], &[1.0, f64::INFINITY]);
    assert_eq!(infinite, Err(CurveError::NotFinite { index: 1, x: 2.0, y: f64::INFINITY }));
}

proptest! {
    #[test]
    fn the_curve_stays_between_its_points_and_its_slope_is_continuous(
        widths in prop::collection::vec(0.01..10.0f64, 2..8),
        heights in prop::collection::vec(-10.0..10.0f64, 9),
    ) {
        let xs: Vec<f64> = widths.iter().scan(0.0, |x, w| { *x += w; Some(*x) }).collect();
        let ys = &heights[..xs.len()];
        let curve = Curve::new(&xs, ys).unwrap();
        for (x, y) in xs.windows(2).zip(ys.windows(2)) {
            let (low, high) = (y[0].min(y[1]), y[0].max(y[1]));
            for i in 0..=50 {
                let value = curve.value(x[0] + (x[1] - x[0]) * f64::from(i) / 50.0);
                prop_assert!(value >= low - 1e-9 && value <= high + 1e-9, "{value}");
            }
        }
        for (&x, &y) in xs.iter().zip(ys) {
            prop_assert!((curve.value(x) - y).abs() < 1e-9);
            let (before, after) = (curve.slope(x - 1e-9), curve.slope(x + 1e-9));
            prop_assert!((before - after).abs() < 1e-3 * (1.0 + before.abs()), "{before} {after}");
        }
    }
}
