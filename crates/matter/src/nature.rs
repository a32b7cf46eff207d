//! Constants of nature and by definition that more than one part needs, each once with its source.
//! It holds no property of anything that is brewed.

/// Molar gas constant, J/(mol K). Source: CODATA 2018 (exact since the SI of 2019, cut at ten
/// figures).
pub const GAS_J_MOL_K: f64 = 8.314_462_618;

/// Standard gravity, m/s². Source: CGPM 1901 (exact).
pub const GRAVITY_M_S2: f64 = 9.806_65;

/// Standard atmosphere, Pa. Source: CGPM 1954 (exact).
pub const ATMOSPHERE_PA: f64 = 101_325.0;
