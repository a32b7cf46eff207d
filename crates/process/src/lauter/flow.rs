//! Flow through bed, screen and valve in series, with a bed that the flow itself presses. It
//! deliberately has no memory: how pressing builds up in its two minutes is left out.

use crate::table::UniformTable;
use matter::nature::GRAVITY_M_S2;
use numerics::math::pow;

/// A bed on a screen over a valve, with the liquid that runs through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BedInputs {
    /// Cross-section of the bed, m².
    pub area_m2: f64,
    /// Depth of the bed, m.
    pub depth_m: f64,
    /// Viscosity of the liquid in it, Pa s.
    pub viscosity_pa_s: f64,
    /// Density of the liquid, kg/m³.
    pub density_kg_m3: f64,
    /// Permeability of the unpressed bed, m²: 5e-11 times 1.8 either way (back-calculated from
    /// usual flows; no published value of a home bed was found).
    pub permeability_m2: f64,
    /// Pressure at which the bed has lost three quarters of its permeability, Pa; 2500 puts the
    /// greatest flow at 25 mbar, where a bed is said to collapse (Hansen 2008, talk to the MBAA).
    pub pressing_pa: f64,
    /// Exponent of pressing; 2.
    pub pressing_exponent: f64,
    /// Resistance of screen and top layer, 1/m; 5e8 (assumption).
    pub screen_per_m: f64,
    /// Opening of the valve, m²; 0 is closed.
    pub opening_m2: f64,
    /// Its discharge coefficient.
    pub discharge: f64,
}

impl BedInputs {
    /// Permeability at a pressure over the bed.
    ///
    /// ```text
    /// k = k0 (1 + Δp/p_a)^-n
    /// ```
    fn pressed_m2(&self, pressure_pa: f64) -> f64 {
        let squeeze = 1.0 + pressure_pa / self.pressing_pa;
        if self.pressing_exponent == 2.0 {
            return self.permeability_m2 / (squeeze * squeeze);
        }
        self.permeability_m2 * pow(squeeze, -self.pressing_exponent)
    }
}

/// Flow through bed, screen and valve in series at a permeability that does not change.
///
/// ```text
/// ρ g h = μ (Q/A)(L/k + R) + ρ Q²/(2 (C_d A_v)²)         positive root
/// ```
///
/// | symbol | argument | unit | holds for |
/// |--------|----------|------|-----------|
/// | bed, screen, valve, liquid | `bed` | SI | positive; a closed valve passes nothing |
/// | `k`    | `permeability_m2` | m² | positive |
/// | `h`    | `head_m` | m    | surface to outlet; zero flow below 0 |
///
/// Returns m³/s.
///
/// # Source
/// Darcy 1856 and Torricelli in series.
///
/// # Example
/// ```
/// use process::lauter::{BedInputs, flow_m3_s};
/// let bed = BedInputs {
///     area_m2: 0.1, depth_m: 0.2, viscosity_pa_s: 1e-3, density_kg_m3: 1000.0,
///     permeability_m2: 2e-11, pressing_pa: 2500.0, pressing_exponent: 2.0, screen_per_m: 0.0,
///     opening_m2: 1.0, discharge: 0.6, // wide open: the bed alone
/// };
/// let darcy = 2e-11 * 0.1 * 1000.0 * 9.80665 * 0.3 / (1e-3 * 0.2);
/// assert!((flow_m3_s(&bed, 2e-11, 0.3) / darcy - 1.0).abs() < 1e-6);
/// ```
pub fn flow_m3_s(bed: &BedInputs, permeability_m2: f64, head_m: f64) -> f64 {
    let opening = bed.discharge * bed.opening_m2;
    let drive = bed.density_kg_m3 * GRAVITY_M_S2 * head_m.max(0.0);
    if opening <= 0.0 || drive == 0.0 {
        return 0.0;
    }
    let valve = bed.density_kg_m3 / (2.0 * opening * opening);
    let resistance = bed.viscosity_pa_s / bed.area_m2;
    let b = resistance * (bed.depth_m / permeability_m2 + bed.screen_per_m);
    // 2c/(b + √(b² + 4ac)) loses no digits when the bed rules.
    2.0 * drive / (b + (b * b + 4.0 * valve * drive).sqrt())
}

/// A flow and the pressure it puts on the bed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SettledFlow {
    /// Flow, m³/s.
    pub flow_m3_s: f64,
    /// Pressure over the bed, Pa.
    pub bed_pa: f64,
}

/// Flow through a bed that has been pressed by this very flow.
///
/// ```text
/// k = k0 (1 + Δp/p_a)^-n      Δp = μ Q L/(k A)      with the series law of `flow_m3_s`
/// ```
///
/// Shape: the permeability has had its two minutes to settle. With `n = 2` the flow through the
/// bed is greatest at `Δp = p_a`: more head then gives less wort.
///
/// | symbol | argument | unit | holds for |
/// |--------|----------|------|-----------|
/// | bed, screen, valve, liquid | `bed` | SI | as [`flow_m3_s`] |
/// | `h`    | `head_m` | m    | 0 to 2    |
///
/// # Source
/// Darcy with a power law of pressing fitted to Hansen 2008, talk to the MBAA (a bed collapses
/// above 25 mbar).
///
/// # Example
/// ```
/// use process::lauter::{BedInputs, settled_flow};
/// let bed = BedInputs {
///     area_m2: 0.12566, depth_m: 0.20, viscosity_pa_s: 0.829e-3, density_kg_m3: 977.76,
///     permeability_m2: 5e-11, pressing_pa: 2500.0, pressing_exponent: 2.0, screen_per_m: 5e8,
///     opening_m2: 1.2668e-4, discharge: 0.6,
/// };
/// let (low, high) = (settled_flow(&bed, 0.25), settled_flow(&bed, 0.50));
/// assert!(high.flow_m3_s < low.flow_m3_s && high.bed_pa > low.bed_pa);
/// ```
pub fn settled_flow(bed: &BedInputs, head_m: f64) -> SettledFlow {
    let drive = bed.density_kg_m3 * GRAVITY_M_S2 * head_m.max(0.0);
    if drive == 0.0 || bed.opening_m2 * bed.discharge <= 0.0 {
        return SettledFlow { flow_m3_s: 0.0, bed_pa: 0.0 };
    }
    let excess = |bed_pa: f64| {
        let k = bed.pressed_m2(bed_pa);
        let flow = flow_m3_s(bed, k, head_m);
        (bed.viscosity_pa_s * flow * bed.depth_m / (k * bed.area_m2) - bed_pa, flow)
    };
    // The excess is positive without pressure and negative at full head. Regula falsi with the
    // Illinois halving; a bracket is always kept.
    let (mut low, mut f_low) = (0.0, excess(0.0).0);
    let (mut high, mut f_high) = (drive, excess(drive).0);
    let mut side = 0;
    for _ in 0..60 {
        let next = (low * f_high - high * f_low) / (f_high - f_low);
        let (f, flow) = excess(next);
        if f.abs() <= 1e-12 * drive || high - low <= 1e-12 * drive {
            return SettledFlow { flow_m3_s: flow, bed_pa: next };
        }
        if f > 0.0 {
            (low, f_low) = (next, f);
            if side == 1 {
                f_high *= 0.5;
            }
            side = 1;
        } else {
            (high, f_high) = (next, f);
            if side == 2 {
                f_low *= 0.5;
            }
            side = 2;
        }
    }
    SettledFlow { flow_m3_s: excess(0.5 * (low + high)).1, bed_pa: 0.5 * (low + high) }
}

/// [`settled_flow`] of one bed and one valve setting, laid out over the head.
///
/// The table runs over the square root of the head, in which the law is smooth from a closed bed
/// to an open valve; zero head gives exactly zero.
#[derive(Debug, Clone, PartialEq)]
pub struct BedFlow {
    flow: UniformTable,
}

impl BedFlow {
    /// Lays the law out from no head to `head_max_m`.
    pub fn new(bed: &BedInputs, head_max_m: f64) -> Self {
        let top = head_max_m.max(1e-3).sqrt();
        let flow = UniformTable::new(0.0, top, 33, |root| settled_flow(bed, root * root).flow_m3_s);
        Self { flow }
    }

    /// The flow at a head, m³/s; zero at zero head and below.
    #[inline]
    pub fn flow_m3_s(&self, head_m: f64) -> f64 {
        if head_m <= 0.0 {
            return 0.0;
        }
        self.flow.at(head_m.sqrt()).max(0.0)
    }
}
