//! What a fuel gives when it burns; the numbers stand in `data/fuel.csv` with their source.
//!
//! Knows no flame: how much heat arrives in the pot is said elsewhere.

use std::sync::LazyLock;

use crate::heater::Fuel;
use crate::rows::Rows;

/// Heat and fumes of one fuel.
#[derive(Debug, Clone, PartialEq)]
pub struct Combustion {
    /// The row: "propane, as sold".
    pub name: String,
    /// Gross heat of combustion, J/kg.
    pub gross_j_kg: f64,
    /// Net heat of combustion, J/kg.
    pub net_j_kg: f64,
    /// Density of the gas at 15 °C, kg/m³.
    pub gas_kg_m3: f64,
    /// Carbon dioxide made, kg/kg.
    pub co2_kg_kg: f64,
    /// Relative half-width of the heat of combustion as sold.
    pub spread: f64,
}

static FUELS: LazyLock<Vec<Combustion>> = LazyLock::new(|| {
    Rows::parse(include_str!("../data/fuel.csv")).map(|row| Combustion {
        name: row.text("fuel"),
        gross_j_kg: row.number("hhv_mj_kg") * 1e6,
        net_j_kg: row.number("lhv_mj_kg") * 1e6,
        gas_kg_m3: row.number("gas_kg_m3"),
        co2_kg_kg: row.number("co2_kg_per_kg"),
        spread: row.number("spread"),
    })
});

impl Combustion {
    /// All rows of the table.
    pub fn all() -> &'static [Combustion] {
        &FUELS
    }

    /// The row of a name: "propane, pure".
    pub fn named(name: &str) -> Option<&'static Combustion> {
        FUELS.iter().find(|fuel| fuel.name == name)
    }

    /// A fuel as it is sold.
    pub fn of(fuel: Fuel) -> &'static Combustion {
        let name = match fuel {
            Fuel::Propane => "propane, as sold",
            Fuel::Butane => "butane, pure",
            Fuel::NaturalGas => "natural gas, grid",
        };
        Combustion::named(name).unwrap_or(&FUELS[0])
    }

    /// Net over gross heat: what a gross rating is worth.
    pub fn net_over_gross(&self) -> f64 {
        self.net_j_kg / self.gross_j_kg
    }

    /// Fuel burned for a net power over a time, kg.
    pub fn burned_kg(&self, net_w: f64, time_s: f64) -> f64 {
        net_w * time_s / self.net_j_kg
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 kW of net heat burns 77.7 g of pure propane an hour.
    #[test]
    fn a_kilowatt_for_an_hour() {
        let kg = Combustion::named("propane, pure").unwrap().burned_kg(1000.0, 3600.0);
        assert!((kg - 0.0777).abs() < 1e-4, "{kg}");
    }

    /// Gross ratings are 8.6 % over net for propane and 11 % for methane.
    #[test]
    fn gross_over_net() {
        let over = |name: &str| 1.0 / Combustion::named(name).unwrap().net_over_gross();
        assert!((over("propane, pure") - 1.086).abs() < 5e-4);
        assert!((over("methane, pure") - 1.11).abs() < 5e-3);
    }
}
