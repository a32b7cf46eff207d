//! The shapes a pot's base can have, as solids of revolution in closed form.
//!
//! Knows nothing above the base but the straight wall of the same radius.

use numerics::math::{asin, tan};
use std::f64::consts::PI;

/// The shape of the base of a straight, round wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BaseShape {
    /// Flat, its edge rounded with this radius (0 for a sharp corner).
    Flat {
        /// Radius of the rounded corner, m.
        corner_m: f64,
    },
    /// A spherical cap that bulges up into the pot; liquid stands in a ring at the edge.
    DomedUp {
        /// Rise of the middle over the edge, m.
        rise_m: f64,
    },
    /// A spherical cap that bulges down; its middle is the lowest point.
    DomedDown {
        /// Depth of the middle under the edge, m.
        rise_m: f64,
    },
    /// A torispherical dish: crown radius `crown`·D, knuckle radius `knuckle`·D.
    Dished {
        /// Crown radius as a share of the diameter (1 for the common DIN 28011 dish).
        crown: f64,
        /// Knuckle radius as a share of the diameter (0.1 for the same).
        knuckle: f64,
    },
    /// A cone, its tip the lowest point.
    Cone {
        /// Half of the included angle, rad.
        half_angle_rad: f64,
    },
}

/// Radius, depth and corner of a torispherical dish.
struct Dish {
    crown_m: f64,
    knuckle_m: f64,
    crown_top_m: f64,
    depth_m: f64,
}

impl Dish {
    /// `α = asin((1 − 2k)/(2(f − k)))`, crown part `f·D·(1 − cos α)`, knuckle part `k·D·cos α`.
    fn new(radius_m: f64, crown: f64, knuckle: f64) -> Dish {
        let d_m = 2.0 * radius_m;
        let sin = ((1.0 - 2.0 * knuckle) / (2.0 * (crown - knuckle))).clamp(0.0, 1.0);
        let cos = (1.0 - sin * sin).sqrt();
        let crown_top_m = crown * d_m * (1.0 - cos);
        Dish {
            crown_m: crown * d_m,
            knuckle_m: knuckle * d_m,
            crown_top_m,
            depth_m: crown_top_m + knuckle * d_m * cos,
        }
    }
}

/// `∫ (c + √(r² − u²))² du`, the solid swept by a rounded corner whose centre runs at radius `c`.
fn corner_integral(c_m: f64, r_m: f64, u_m: f64) -> f64 {
    let u_m = u_m.clamp(0.0, r_m);
    let root_m = (r_m * r_m - u_m * u_m).max(0.0).sqrt();
    let angle = if r_m > 0.0 { asin(u_m / r_m) } else { 0.0 };
    (c_m * c_m + r_m * r_m) * u_m + c_m * (u_m * root_m + r_m * r_m * angle) - u_m * u_m * u_m / 3.0
}

/// Volume of a spherical cap of height `h` on a sphere of radius `R`: `π·h²·(3R − h)/3`.
fn cap_m3(sphere_m: f64, height_m: f64) -> f64 {
    PI * height_m * height_m * (3.0 * sphere_m - height_m) / 3.0
}

/// Radius of the sphere whose cap of rise `a` has the edge radius `R`: `(R² + a²)/(2a)`.
fn cap_sphere_m(radius_m: f64, rise_m: f64) -> f64 {
    (radius_m * radius_m + rise_m * rise_m) / (2.0 * rise_m)
}

impl BaseShape {
    /// Height over the lowest point from which on the wall is straight, m.
    pub fn top_m(&self, radius_m: f64) -> f64 {
        match *self {
            BaseShape::Flat { corner_m } => corner_m,
            BaseShape::DomedUp { rise_m } | BaseShape::DomedDown { rise_m } => rise_m,
            BaseShape::Dished { crown, knuckle } => Dish::new(radius_m, crown, knuckle).depth_m,
            BaseShape::Cone { half_angle_rad } => radius_m / tan(half_angle_rad),
        }
    }

    /// Height over the lowest point where the side wall begins, m.
    pub(crate) fn side_from_m(&self, radius_m: f64) -> f64 {
        match self {
            BaseShape::Flat { .. } | BaseShape::DomedUp { .. } => 0.0,
            _ => self.top_m(radius_m),
        }
    }

    /// Volume below a height in a pot of this radius on this base, m³.
    ///
    /// Flat with a corner of radius `r`: `π·∫₀^h (R − r + √(r² − (r − z)²))² dz`; a cap, a dish
    /// and a cone by their own solids; above the base `π·R²` for each metre.
    pub fn volume_m3(&self, radius_m: f64, height_m: f64) -> f64 {
        let h = height_m.max(0.0);
        let top_m = self.top_m(radius_m);
        let below_m = h.min(top_m);
        let straight_m3 = PI * radius_m * radius_m * (h - below_m);
        if top_m <= 0.0 {
            return straight_m3;
        }
        let base_m3 = match *self {
            BaseShape::Flat { corner_m: r } => {
                let c = radius_m - r;
                PI * (corner_integral(c, r, r) - corner_integral(c, r, r - below_m))
            }
            BaseShape::DomedDown { rise_m } => cap_m3(cap_sphere_m(radius_m, rise_m), below_m),
            BaseShape::DomedUp { rise_m } => {
                let sphere_m = cap_sphere_m(radius_m, rise_m);
                let bulge_m3 = cap_m3(sphere_m, rise_m) - cap_m3(sphere_m, rise_m - below_m);
                PI * radius_m * radius_m * below_m - bulge_m3
            }
            BaseShape::Dished { crown, knuckle } => {
                let dish = Dish::new(radius_m, crown, knuckle);
                let crown_m3 = cap_m3(dish.crown_m, below_m.min(dish.crown_top_m));
                let c = radius_m - dish.knuckle_m;
                let from_u = dish.depth_m - dish.crown_top_m;
                let to_u = dish.depth_m - below_m.max(dish.crown_top_m);
                let r = dish.knuckle_m;
                crown_m3 + PI * (corner_integral(c, r, from_u) - corner_integral(c, r, to_u))
            }
            BaseShape::Cone { half_angle_rad } => {
                let edge_m = below_m * tan(half_angle_rad);
                PI * edge_m * edge_m * below_m / 3.0
            }
        };
        base_m3 + straight_m3
    }

    /// Free surface at a height in a pot of this radius on this base, m².
    pub fn area_m2(&self, radius_m: f64, height_m: f64) -> f64 {
        let full_m2 = PI * radius_m * radius_m;
        let h = height_m.max(0.0);
        if h >= self.top_m(radius_m) {
            return full_m2;
        }
        let cap_edge_m2 = |sphere_m: f64, z: f64| PI * z * (2.0 * sphere_m - z);
        match *self {
            BaseShape::Flat { corner_m: r } => {
                let edge_m = radius_m - r + (r * r - (r - h) * (r - h)).max(0.0).sqrt();
                PI * edge_m * edge_m
            }
            BaseShape::DomedDown { rise_m } => cap_edge_m2(cap_sphere_m(radius_m, rise_m), h),
            BaseShape::DomedUp { rise_m } => {
                full_m2 - cap_edge_m2(cap_sphere_m(radius_m, rise_m), rise_m - h)
            }
            BaseShape::Dished { crown, knuckle } => {
                let dish = Dish::new(radius_m, crown, knuckle);
                if h <= dish.crown_top_m {
                    return cap_edge_m2(dish.crown_m, h);
                }
                let (r, u) = (dish.knuckle_m, dish.depth_m - h);
                let edge_m = radius_m - r + (r * r - u * u).max(0.0).sqrt();
                PI * edge_m * edge_m
            }
            BaseShape::Cone { half_angle_rad } => {
                let edge_m = h * tan(half_angle_rad);
                PI * edge_m * edge_m
            }
        }
    }
}

/// Volume lost to a rounded base corner, m³ (Pappus).
///
/// ```text
/// V = 2π·(D/2 − c)·r²·(1 − π/4)        c = r·(10 − 3π)/(12 − 3π)
/// ```
pub fn corner_loss_m3(diameter_m: f64, corner_m: f64) -> f64 {
    let c_m = corner_m * (10.0 - 3.0 * PI) / (12.0 - 3.0 * PI);
    2.0 * PI * (0.5 * diameter_m - c_m) * corner_m * corner_m * (1.0 - PI / 4.0)
}
