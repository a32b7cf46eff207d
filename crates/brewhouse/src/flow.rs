//! Flow by gravity through valve, dip tube and hose; draining; siphon, pump and pick-up.
//!
//! Clean liquid only: what the bed lets through is the business of the process. Heads are counted
//! from the surface to the outlet.

use numerics::math::log10;
use std::f64::consts::PI;

pub use matter::nature::GRAVITY_M_S2;

/// Discharge coefficient to assume for a bare full-bore valve, ±25 % until a jug was timed
/// (computed from a full-bore valve with a sharp entrance).
pub const BARE_VALVE_CD: f64 = 0.72;
/// The same with a dip tube and two bends.
pub const DIP_TUBE_CD: f64 = 0.54;
/// The same with 1.5 m of hose besides.
pub const HOSE_CD: f64 = 0.40;

/// Flow through a short outlet, m³/s (Torricelli).
///
/// ```text
/// Q = Cd·A·√(2·g·H)
/// ```
///
/// Nothing flows without head.
pub fn outlet_flow_m3_s(cd: f64, bore_m: f64, head_m: f64) -> f64 {
    cd * PI * bore_m * bore_m / 4.0 * (2.0 * GRAVITY_M_S2 * head_m.max(0.0)).sqrt()
}

/// Effective area `Cd·A` of an outlet from one timed jug, m²: `Q/√(2·g·H)`.
pub fn outlet_area_m2(flow_m3_s: f64, head_m: f64) -> f64 {
    flow_m3_s / (2.0 * GRAVITY_M_S2 * head_m).sqrt()
}

/// Loss coefficient of a valve from its `Kv` (m³/h at 1 bar) on its bore.
///
/// ```text
/// K = 1.599e-3·d⁴/Kv²        d in mm
/// ```
pub fn loss_from_kv(kv_m3_h: f64, bore_m: f64) -> f64 {
    // 1 bar over water of 999.0 kg/m³ drives Kv: K = 2·Δp·A²/(ρ·Q²).
    let area_m2 = PI * bore_m * bore_m / 4.0;
    let flow_m3_s = kv_m3_h / 3600.0;
    2.0 * 1e5 * area_m2 * area_m2 / (999.0 * flow_m3_s * flow_m3_s)
}

/// Discharge coefficient of a line from its loss coefficients: `1/√(ΣK + 1)`.
pub fn discharge_from_losses(loss_sum: f64) -> f64 {
    1.0 / (loss_sum + 1.0).sqrt()
}

/// A line from a vessel to a free outlet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Inside diameter, m.
    pub bore_m: f64,
    /// Length of tube and hose, m.
    pub length_m: f64,
    /// Roughness of its wall, m.
    pub roughness_m: f64,
    /// Loss coefficients of entrance, valve and bends together.
    pub loss_sum: f64,
}

/// Friction factor of Darcy for a Reynolds number and relative roughness.
///
/// Laminar `64/Re` under 2040; above it the equation of Colebrook, solved by fixed-point steps to
/// 1e-12: `1/√f = −2·log₁₀(ε/3.7 + 2.51/(Re·√f))`.
///
/// # Source
/// Colebrook, J. Inst. Civ. Eng. 11 (1939) 133.
pub fn friction_factor(re: f64, relative_roughness: f64) -> f64 {
    if re <= 0.0 {
        return 0.0;
    }
    if re < 2040.0 {
        return 64.0 / re;
    }
    let mut inverse_root = 7.0;
    for _ in 0..60 {
        let inner = relative_roughness / 3.7 + 2.51 * inverse_root / re;
        let next = -2.0 * log10(inner);
        if (next - inverse_root).abs() < 1e-12 {
            inverse_root = next;
            break;
        }
        inverse_root = next;
    }
    1.0 / (inverse_root * inverse_root)
}

/// Gravity flow through a line, m³/s.
///
/// ```text
/// H = v²/(2g)·(1 + ΣK + f·L/D)
/// ```
///
/// Free outlet, exit loss counted once. Solved by bisection over the flow, so it is monotone in
/// the head.
pub fn line_flow_m3_s(line: &Line, head_m: f64, rho_kg_m3: f64, mu_pa_s: f64) -> f64 {
    if head_m <= 0.0 || line.bore_m <= 0.0 {
        return 0.0;
    }
    let area_m2 = PI * line.bore_m * line.bore_m / 4.0;
    let needs_m = |flow_m3_s: f64| {
        let v_m_s = flow_m3_s / area_m2;
        let re = rho_kg_m3 * v_m_s * line.bore_m / mu_pa_s;
        let friction = friction_factor(re, line.roughness_m / line.bore_m);
        v_m_s * v_m_s / (2.0 * GRAVITY_M_S2)
            * (1.0 + line.loss_sum + friction * line.length_m / line.bore_m)
    };
    let mut low = 0.0;
    let mut high = area_m2 * (2.0 * GRAVITY_M_S2 * head_m).sqrt();
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if needs_m(middle) > head_m {
            high = middle;
        } else {
            low = middle;
        }
    }
    0.5 * (low + high)
}

/// A straight vessel that drains through an outlet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drain {
    /// Free surface, m².
    pub surface_m2: f64,
    /// Effective area of the outlet, `Cd·A`, m².
    pub outlet_m2: f64,
    /// Drop from the base to the outlet, m.
    pub drop_m: f64,
}

/// Time for the level of a straight vessel to fall from one height to another, s.
///
/// ```text
/// t = 2·A/(Cd·a·√(2g))·(√(h₁ + z) − √(h₂ + z))
/// ```
pub fn drain_time_s(drain: &Drain, from_m: f64, to_m: f64) -> f64 {
    let root = |h_m: f64| (h_m + drain.drop_m).max(0.0).sqrt();
    2.0 * drain.surface_m2 / (drain.outlet_m2 * (2.0 * GRAVITY_M_S2).sqrt())
        * (root(from_m) - root(to_m))
}

/// Highest crest of a siphon over the liquid, m: `(p_air − p_vapour)/(ρ·g) − margin`.
pub fn siphon_crest_m(air_pa: f64, vapour_pa: f64, rho_kg_m3: f64, margin_m: f64) -> f64 {
    (air_pa - vapour_pa) / (rho_kg_m3 * GRAVITY_M_S2) - margin_m
}

/// Suction head a pump has, m: `(p_air − p_vapour)/(ρ·g) + z − losses`.
pub fn suction_head_m(air_pa: f64, vapour_pa: f64, rho_kg_m3: f64, static_less_loss_m: f64) -> f64 {
    (air_pa - vapour_pa) / (rho_kg_m3 * GRAVITY_M_S2) + static_less_loss_m
}

/// Cover over a pick-up that keeps air out, m.
///
/// ```text
/// S = D·(1 + 2.3·Fr)        Fr = v/√(g·D)
/// ```
///
/// # Source
/// ANSI/HI 9.8, made for large pump pits; in a pot under a plate air comes later.
pub fn pick_up_cover_m(bore_m: f64, flow_m3_s: f64) -> f64 {
    let v_m_s = flow_m3_s / (PI * bore_m * bore_m / 4.0);
    bore_m * (1.0 + 2.3 * v_m_s / (GRAVITY_M_S2 * bore_m).sqrt())
}

/// Open share of a plate with round holes at 60 degrees: `π/(2√3)·(d/p)²`.
pub fn open_share(hole_m: f64, pitch_m: f64) -> f64 {
    PI / (2.0 * 3.0_f64.sqrt()) * (hole_m / pitch_m) * (hole_m / pitch_m)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A sharp 12.7 mm hole under 0.30 m by hand: 0.61·1.2668e-4·2.4257 m³/s.
    #[test]
    fn torricelli_by_hand() {
        let q = outlet_flow_m3_s(0.61, 0.0127, 0.30) * 6e4;
        assert!((q - 11.246).abs() < 0.002, "{q}");
    }

    /// More head never flows slower, and no head flows nothing.
    #[test]
    fn line_flow_rises_with_head() {
        let line = Line { bore_m: 0.0127, length_m: 2.0, roughness_m: 1e-6, loss_sum: 1.7 };
        assert_eq!(line_flow_m3_s(&line, 0.0, 980.0, 4.3e-4), 0.0);
        let mut last = 0.0;
        for mm in 1..600 {
            let q = line_flow_m3_s(&line, f64::from(mm) * 1e-3, 980.0, 4.3e-4);
            assert!(q >= last * 0.8 && q.is_finite());
            if mm > 30 {
                assert!(q > last);
            }
            last = q;
        }
    }

    /// The drain time of a cylinder agrees with summing volume over flow in thin slices.
    #[test]
    fn drain_time_is_the_sum_of_its_slices() {
        let drain = Drain { surface_m2: 0.1257, outlet_m2: 8.87e-5, drop_m: 0.03 };
        let slices = 20_000;
        let step_m = 0.3 / f64::from(slices);
        let sum: f64 = (0..slices)
            .map(|i| (f64::from(i) + 0.5) * step_m + drain.drop_m)
            .map(|h| {
                drain.surface_m2 * step_m / (drain.outlet_m2 * (2.0 * GRAVITY_M_S2 * h).sqrt())
            })
            .sum();
        let closed = drain_time_s(&drain, 0.3, 0.0);
        assert!((sum / closed - 1.0).abs() < 1e-5, "{sum} {closed}");
    }
}
