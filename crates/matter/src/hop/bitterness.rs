//! From iso-alpha in the kettle to bitterness in the beer, dry hops, and what hops hold back; it
//! deliberately integrates nothing.

use super::HopForm;
use numerics::math::{exp, pow};

/// Standard deviation of a lot's alpha against its label, relative (from memory).
pub const ALPHA_LABEL_SD: f64 = 0.06;
/// Share of iso-alpha left after fermentation (Justus, MBAA TQ 55(3) 2018, 67; beta sd 0.06).
pub const IN_FERMENTATION: f64 = 0.66;
/// Share on the whole path for hops in the mash (from memory; beta sd 0.08).
pub const MASH_HOP_SHARE: f64 = 0.30;

/// Share left by break, wall and foam ring of a home kettle.
const KETTLE_SHARE_AT_12: f64 = 0.76;
/// Fall of that share with strength, 1/°P.
const PER_PLATO: f64 = 0.025;
const PER_PH: f64 = 0.3;
/// Iso-alpha held in wet hop matter, per kg/m³ (= g/L) of hops.
const HELD_PER_HOPS: f64 = 0.010;
/// Bitterness units per mg/L of iso-alpha: the method measures absorbance.
const UNITS_PER_ISO: f64 = 0.80;
/// Bitterness units per mg/L of alpha added, from other hop matter.
const UNITS_PER_EXTRACTED_ALPHA: f64 = 0.04;

/// Share of iso-alpha that the kettle leaves in the wort.
///
/// ```text
/// r_k = r_0 exp(−c_g (P − 12)) exp(c_p (pH − 5.3)) (1 − l_solid w_hop)
/// r_0 = 0.76      c_g = 0.025 per °P      c_p = 0.3 per pH      l_solid = 0.010 per g/L
/// ```
///
/// Shape: break, wall, foam ring and wet hop matter; wort left behind in the trub takes its share
/// through the volume. One law for every addition.
///
/// | symbol  | argument     | unit  | holds for      |
/// |---------|--------------|-------|----------------|
/// | `P`     | `plato`      | °P    | 4 ≤ P ≤ 30     |
/// | `pH`    | `ph`         | pH    | 4.8 ≤ pH ≤ 6   |
/// | `w_hop` | `hops_kg_m3` | kg/m³ | 0 ≤ w_hop ≤ 30 |
///
/// # Errors
/// None; never negative.
///
/// # Source
/// Our form. `r_0`: large kettles 0.86 to 0.98 (Justus, MBAA TQ 55(3) 2018, 67), home kettles by
/// common practice; `c_g` between none (Jacobsen & Hage, J. ASBC 47 (1989) 62) and common practice;
/// `c_p`, `l_solid` from memory.
///
/// # Example
/// ```
/// assert!((matter::hop::kettle_share(12.0, 5.3, 0.0) - 0.76).abs() < 1e-12);
/// ```
pub fn kettle_share(plato: f64, ph: f64, hops_kg_m3: f64) -> f64 {
    let held = (1.0 - HELD_PER_HOPS * hops_kg_m3).max(0.0);
    KETTLE_SHARE_AT_12 * exp(PER_PH * (ph - 5.3) - PER_PLATO * (plato - 12.0)) * held
}

/// Bitterness units of the beer without dry hops.
///
/// ```text
/// BU = c_x · iso + o · a_ext · r_f        both in mg/L      c_x = 0.80   o = 0.04   r_f = 0.66
/// ```
///
/// Shape: `iso` is that of the beer; `a_ext` is the alpha added to the wort that has left the hop
/// matter, per volume of beer, whatever became of it. So late hops read more bitter than their
/// isomerisation alone explains.
///
/// | symbol  | argument          | unit  | holds for |
/// |---------|-------------------|-------|-----------|
/// | `iso`   | `iso_kg_m3`       | kg/m³ | 0 ≤ iso   |
/// | `a_ext` | `extracted_kg_m3` | kg/m³ | 0 ≤ a_ext |
///
/// # Errors
/// None.
///
/// # Source
/// `r_f`: Justus, MBAA TQ 55(3) 2018, 67; `c_x` (sd 0.08) and `o` (geometric sd 1.6) from memory.
///
/// # Example
/// ```
/// assert!((matter::hop::bitterness_bu(0.030, 0.100) - (24.0 + 2.64)).abs() < 1e-9);
/// ```
pub fn bitterness_bu(iso_kg_m3: f64, extracted_kg_m3: f64) -> f64 {
    1000.0
        * (UNITS_PER_ISO * iso_kg_m3
            + UNITS_PER_EXTRACTED_ALPHA * extracted_kg_m3 * IN_FERMENTATION)
}

/// Share of iso-alpha left after dry hopping.
///
/// ```text
/// r_d = exp(−c_d g max(0, 1 − 20/iso))        iso in mg/L, g in g/L, c_d = 0.015
/// ```
///
/// Shape: much is lost in bitter beers, nothing below 20 mg/L.
///
/// | symbol | argument     | unit  | holds for   |
/// |--------|--------------|-------|-------------|
/// | `iso`  | `iso_kg_m3`  | kg/m³ | 0 ≤ iso     |
/// | `g`    | `dose_kg_m3` | kg/m³ | 0 ≤ g ≤ 30  |
///
/// # Errors
/// None; 1 without iso-alpha.
///
/// # Source
/// Direction: Maye et al., Brauwelt International 2018; `c_d` from memory, geometric sd 1.6.
pub fn dry_hop_iso_share(iso_kg_m3: f64, dose_kg_m3: f64) -> f64 {
    if iso_kg_m3 <= 0.020 {
        return 1.0;
    }
    exp(-0.015 * dose_kg_m3 * (1.0 - 0.020 / iso_kg_m3))
}

/// Bitterness units that dry hops add to the reading.
///
/// ```text
/// BU_dry = 0.7 (1000 h_u g + a_d) + 0.4 g        a_d = 14 (1 − e^(−g/6)) mg/L
/// h_u = 0.003 g/g      g in g/L
/// ```
///
/// Shape: oxidised alpha dissolves almost wholly, alpha little; 0.4 g is for polyphenols.
///
/// | symbol | argument     | unit  | holds for   |
/// |--------|--------------|-------|-------------|
/// | `g`    | `dose_kg_m3` | kg/m³ | 0 ≤ g ≤ 30  |
///
/// # Errors
/// None.
///
/// # Source
/// `h_u`: 0.26 % in one lot, Maye et al., Brauwelt International 2018; the rest from memory.
pub fn dry_hop_bu(dose_kg_m3: f64) -> f64 {
    let dissolved = 14.0 * (1.0 - exp(-dose_kg_m3 / 6.0));
    0.7 * (1000.0 * 0.003 * dose_kg_m3 + dissolved) + 0.4 * dose_kg_m3
}

/// Rise of pH by dry hops.
///
/// ```text
/// ΔpH = 0.025 g        g in g/L
/// ```
///
/// Shape: linear.
///
/// | symbol | argument     | unit  | holds for   |
/// |--------|--------------|-------|-------------|
/// | `g`    | `dose_kg_m3` | kg/m³ | 0 ≤ g ≤ 20  |
///
/// # Errors
/// None.
///
/// # Source
/// Direction: Maye et al., Brauwelt International 2018; size from memory.
pub fn dry_hop_ph_rise(dose_kg_m3: f64) -> f64 {
    0.025 * dose_kg_m3
}

/// Real extract lost after dry hopping, while hops and yeast are present.
///
/// ```text
/// dRE = D_c (g/10)^0.5 [0.5 (1 − e^(−d/2.5)) + 0.5 (1 − e^(−d/20))] 2.2^((T − 20)/10)
/// D_c = 2.0 °P, and never more than D_c
/// ```
///
/// Shape: enzymes of the hop free dextrin.
///
/// | symbol | argument     | unit  | holds for     |
/// |--------|--------------|-------|---------------|
/// | `g`    | `dose_kg_m3` | kg/m³ | 0 ≤ g ≤ 20    |
/// | `d`    | `days`       | d     | 0 ≤ d         |
/// | `T`    | `temp_c`     | °C    | 0 ≤ T ≤ 25    |
///
/// # Errors
/// None.
///
/// # Source
/// Our law, through the 5 and 40 days of Kirkpatrick & Shellhammer, J. Agric. Food Chem. 66 (2018);
/// `D_c` geometric sd 1.6.
///
/// # Example
/// ```
/// assert!((matter::hop::creep_plato(10.0, 5.0, 20.0) - 1.1).abs() < 0.05);
/// ```
pub fn creep_plato(dose_kg_m3: f64, days: f64, temp_c: f64) -> f64 {
    let course = 0.5 * (1.0 - exp(-days / 2.5)) + 0.5 * (1.0 - exp(-days / 20.0));
    let warm = pow(2.2, (temp_c - 20.0) / 10.0);
    (2.0 * (0.1 * dose_kg_m3.max(0.0)).sqrt() * course * warm).min(2.0)
}

/// Share of iso-alpha left after time in the package.
///
/// ```text
/// exp(−0.0015 d 2^((T − 20)/10))
/// ```
///
/// Shape: first order.
///
/// | symbol | argument | unit | holds for    |
/// |--------|----------|------|--------------|
/// | `d`    | `days`   | d    | 0 ≤ d        |
/// | `T`    | `temp_c` | °C   | 0 ≤ T ≤ 30   |
///
/// # Errors
/// None.
///
/// # Source
/// From memory, a prior.
pub fn package_share(days: f64, temp_c: f64) -> f64 {
    exp(-0.0015 * days * pow(2.0, (temp_c - 20.0) / 10.0))
}

/// Wort held by kettle hops once drained.
///
/// ```text
/// V = v_h m        v_h = 5 L/kg cones, 7 L/kg pellets
/// ```
///
/// Shape: pellets lie in the trub, the break is counted apart. Dry hops hold 8 L/kg of beer.
///
/// | symbol | argument  | unit | holds for |
/// |--------|-----------|------|-----------|
/// | `v_h`  | `form`    | L/kg | two kinds |
/// | `m`    | `hops_kg` | kg   | 0 ≤ m     |
///
/// # Errors
/// None.
///
/// # Source
/// Common practice (one weighing of cones: 4.9 L/kg); sd 1 and 2 L/kg.
pub fn held_volume_m3(form: HopForm, hops_kg: f64) -> f64 {
    let litres_per_kg = match form {
        HopForm::Cones | HopForm::ConesInBag => 5.0,
        HopForm::Pellets | HopForm::PelletsInBag => 7.0,
    };
    litres_per_kg * 1e-3 * hops_kg
}

/// Beer held by dry hops.
///
/// ```text
/// V = 8 L/kg · m
/// ```
///
/// Shape: pellets, settled.
///
/// | symbol | argument  | unit | holds for |
/// |--------|-----------|------|-----------|
/// | `m`    | `hops_kg` | kg   | 0 ≤ m     |
///
/// # Errors
/// None.
///
/// # Source
/// Common practice (14 % lost at 20 g/L in one trade trial); sd 2 L/kg.
pub fn dry_hop_held_m3(hops_kg: f64) -> f64 {
    8e-3 * hops_kg
}
