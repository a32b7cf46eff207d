//! Round trips, limits and published volumes of sections.

use super::*;

fn shapes() -> Vec<BaseShape> {
    vec![
        BaseShape::Flat { corner_m: 0.0 },
        BaseShape::Flat { corner_m: 0.025 },
        BaseShape::DomedUp { rise_m: 0.006 },
        BaseShape::DomedDown { rise_m: 0.02 },
        BaseShape::Dished { crown: 1.0, knuckle: 0.1 },
        BaseShape::Cone { half_angle_rad: 60_f64.to_radians() },
    ]
}

/// Height to volume and back is the same height, everywhere, for every base.
#[test]
fn height_to_volume_and_back() {
    for base in shapes() {
        let pot = Section::round(0.4, 0.45, base).with(Displacer {
            from_m: 0.05,
            to_m: 0.06,
            volume_m3: 2e-4,
        });
        for i in 1..600 {
            let height_m = f64::from(i) * 1e-3;
            let back_m = pot.height_m(pot.volume_m3(height_m));
            assert!((back_m - height_m).abs() < 1e-9, "{base:?} {height_m} {back_m}");
        }
    }
}

/// The free surface is the slope of the volume.
#[test]
fn area_is_the_slope_of_volume() {
    for base in shapes() {
        let pot = Section::round(0.4, 0.45, base);
        for i in 1..450 {
            let h = f64::from(i) * 1e-3 + 3.3e-4;
            let d = 1e-7;
            let slope = (pot.volume_m3(h + d) - pot.volume_m3(h - d)) / (2.0 * d);
            assert!((slope / pot.area_m2(h) - 1.0).abs() < 1e-4, "{base:?} at {h}");
        }
    }
}

/// Volumes by quadrature with scipy: 400 mm pot, corner 25 mm, at 5, 10, 25 and 100 mm.
#[test]
fn rounded_corner_agrees_with_quadrature() {
    let pot = Section::round(0.4, 0.4, BaseShape::Flat { corner_m: 0.025 });
    for (mm, litres) in [(5.0, 0.539), (10.0, 1.123), (25.0, 2.978), (100.0, 12.403)] {
        assert!((pot.volume_m3(mm * 1e-3) * 1e3 - litres).abs() < 6e-4, "{mm} mm");
    }
}

/// A torispherical head of 400 mm by `fluids.geometry.TANK`: 77.5 mm deep, 6.33 L.
#[test]
fn dished_head_agrees_with_a_library() {
    let base = BaseShape::Dished { crown: 1.0, knuckle: 0.1 };
    let top_m = base.top_m(0.2);
    assert!((top_m - 0.07751).abs() < 1e-5, "{top_m}");
    let pot = Section::round(0.4, 0.5, base);
    assert!((pot.volume_m3(top_m) * 1e3 - 6.33).abs() < 5e-3);
}

/// A base that bulges up takes as much as one that bulges down adds.
#[test]
fn a_dome_takes_up_what_it_gives_down() {
    let flat = Section::round(0.4, 0.4, BaseShape::Flat { corner_m: 0.0 });
    let up = Section::round(0.4, 0.4, BaseShape::DomedUp { rise_m: 0.02 });
    let down = Section::round(0.4, 0.42, BaseShape::DomedDown { rise_m: 0.02 });
    let cap_m3 = 1.26082e-3; // π·a·(3R² + a²)/6
    assert!((flat.brim_m3() - up.brim_m3() - cap_m3).abs() < 1e-8);
    assert!((down.brim_m3() - flat.brim_m3() - cap_m3).abs() < 1e-8);
}

/// A table taken from a cylinder is that cylinder, and goes on straight above its last point.
#[test]
fn a_table_of_a_cylinder_is_the_cylinder() {
    let area_m2 = PI * 0.04;
    let points: Vec<_> = (1..=8).map(|i| f64::from(i) * 0.05).map(|h| (h, area_m2 * h)).collect();
    let pot = Section::measured(VolumeTable::new(&points).unwrap(), 0.45);
    for i in 1..50 {
        let h = f64::from(i) * 0.01;
        assert!((pot.volume_m3(h) - area_m2 * h).abs() < 1e-12);
        assert!((pot.wetted_side_m2(h) - 0.4 * PI * h).abs() < 1e-9);
        assert!((pot.height_m(area_m2 * h) - h).abs() < 1e-9);
    }
}

#[test]
fn tables_that_do_not_rise_are_refused() {
    let mut points: Vec<_> = (0..7).map(|i| (f64::from(i) * 0.05, f64::from(i) * 0.005)).collect();
    assert!(VolumeTable::new(&points).is_ok());
    points[4].1 = 0.001;
    assert_eq!(VolumeTable::new(&points), Err(TableError::NotRising { index: 4 }));
    assert_eq!(VolumeTable::new(&points[..3]), Err(TableError::TooFew { found: 3, least: 6 }));
    points[4].1 = f64::NAN;
    assert_eq!(VolumeTable::new(&points), Err(TableError::NotRising { index: 4 }));
}
