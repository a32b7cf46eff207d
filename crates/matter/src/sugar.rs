//! Sugars and malt extracts by generic class; it deliberately knows no price and no maker.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::table;

/// A sugar or malt extract that is added to kettle, fermenter or bottle: typical values of a lot.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[non_exhaustive]
pub struct SugarClass {
    /// Name of the class.
    #[serde(rename = "sugar")]
    pub name: String,
    /// Extract per mass as sold, kg/kg.
    #[serde(rename = "extract_g_g")]
    pub extract_kg_kg: f64,
    /// Standard deviation of the extract between lots, kg/kg.
    pub extract_sd: f64,
    /// Fermentable share of the extract mass.
    pub fermentable: f64,
    /// Standard deviation of that share between lots.
    pub fermentable_sd: f64,
    /// Carbon dioxide per mass as sold when all of it ferments, kg/kg.
    #[serde(rename = "co2_g_g")]
    pub co2_kg_kg: f64,
    /// Colour of a 10 °P solution, EBC.
    pub colour_ebc: f64,
    /// What a person should know.
    pub note: String,
}

/// All classes, in the order of the table.
pub fn sugar_classes() -> &'static [SugarClass] {
    static ROWS: OnceLock<Vec<SugarClass>> = OnceLock::new();
    ROWS.get_or_init(|| table::rows(include_str!("../data/sugar.csv")))
}

/// The class of a name, spelt as in the table (capitals do not matter).
pub fn sugar_class(name: &str) -> Option<&'static SugarClass> {
    sugar_classes().iter().find(|class| class.name.eq_ignore_ascii_case(name.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sugar_ferments_no_more_than_it_is() {
        assert!(sugar_classes().len() > 10);
        for s in sugar_classes() {
            assert!((0.0..=1.0).contains(&s.extract_kg_kg), "{}", s.name);
            assert!((0.0..=1.0).contains(&s.fermentable), "{}", s.name);
            // Sucrose gains 5.3 % of its mass as it is split: its gas may pass that of glucose.
            let most = 0.4886 * 1.06 * s.extract_kg_kg * s.fermentable.max(0.05) + 0.02;
            assert!(s.co2_kg_kg <= most, "{}: {} > {most}", s.name, s.co2_kg_kg);
        }
        assert!(sugar_class(" Lactose ").is_some() && sugar_class("sand").is_none());
    }
}
