//! Yeast by generic class: priors of a fermentation; it deliberately knows no strain and no law.

use std::sync::OnceLock;

use serde::{Deserialize, Deserializer};

use crate::table;

/// A class of yeast with its typical behaviour.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[non_exhaustive]
pub struct YeastClass {
    /// Name of the class.
    #[serde(rename = "class")]
    pub name: String,
    /// Share of the wort's fermentable extract that it takes.
    pub take: f64,
    /// Standard deviation of that share, lots and days together.
    pub take_sd: f64,
    /// Share of the maltotriose that it takes.
    pub maltotriose: f64,
    /// Standard deviation of the share of maltotriose.
    pub maltotriose_sd: f64,
    /// Share of the dextrin that it takes (only diastatic yeast).
    pub dextrin: f64,
    /// Usual lowest temperature, °C.
    pub t_low_c: f64,
    /// Usual highest temperature, °C.
    pub t_high_c: f64,
    /// Temperature at which it stops, °C.
    pub t_stop_c: f64,
    /// Temperature of the stated rate, °C.
    pub t_ref_c: f64,
    /// Rate at that temperature, 1/h.
    pub rate_per_h: f64,
    /// Geometric standard deviation of the rate.
    pub rate_gsd: f64,
    /// Factor on the rate per 10 K.
    pub q10: f64,
    /// Standard deviation of that factor.
    pub q10_sd: f64,
    /// Start parameter at the usual pitch.
    pub a0: f64,
    /// Geometric standard deviation of the start parameter.
    pub a0_gsd: f64,
    /// Exponent of the late slowing.
    pub slow_p: f64,
    /// Flocculation, 1 low to 5 high.
    pub flocculation: f64,
    /// Whether it makes phenols (clove).
    #[serde(deserialize_with = "zero_or_one")]
    pub phenolic: bool,
    /// Acetolactate it makes, mg/L.
    pub acetolactate_make_mg_l: f64,
}

fn zero_or_one<'de, D: Deserializer<'de>>(from: D) -> Result<bool, D::Error> {
    Ok(u8::deserialize(from)? != 0)
}

/// All classes, in the order of the table.
pub fn yeast_classes() -> &'static [YeastClass] {
    static ROWS: OnceLock<Vec<YeastClass>> = OnceLock::new();
    ROWS.get_or_init(|| table::rows(include_str!("../data/yeast.csv")))
}

/// The class of a name, spelt as in the table (capitals do not matter).
pub fn yeast_class(name: &str) -> Option<&'static YeastClass> {
    yeast_classes().iter().find(|class| class.name.eq_ignore_ascii_case(name.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_yeast_works_where_it_says_it_works() {
        assert!(yeast_classes().len() >= 10);
        for y in yeast_classes() {
            assert!(y.t_low_c < y.t_high_c && y.t_high_c <= y.t_stop_c, "{}", y.name);
            assert!((0.0..=1.0).contains(&y.take) && y.rate_per_h > 0.0, "{}", y.name);
        }
        assert!(yeast_class("Clean Ale").is_some_and(|y| !y.phenolic));
        assert!(yeast_class("saison-type").is_some_and(|y| y.phenolic && y.dextrin > 0.0));
    }
}
