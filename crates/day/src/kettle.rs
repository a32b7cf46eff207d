//! What goes on in the kettle's wort by heat alone, laid out over temperature once for a day. It
//! knows no kettle and no time.

use crate::setting::Setting;
use matter::{colour, hop, water};
use process::table::UniformTables;

/// Coldest and warmest wort of the tables, °C, and one knot a kelvin: the laws are exponentials
/// whose logarithm changes by less than a tenth of a unit there, so that a piece is right to 1e-6.
const SPAN_C: [f64; 2] = [0.0, 110.0];
const KNOTS: usize = 111;
/// Strength at which browning is laid out, °P; it goes with the strength.
const AT_PLATO: f64 = 12.0;

/// Rates of a kettle's wort at one temperature.
#[derive(Debug, Clone, Copy)]
pub(crate) struct KettleRates {
    /// Isomerisation of alpha acids, 1/s.
    pub(crate) isomerises_per_s: f64,
    /// Loss of iso-alpha acids, 1/s.
    pub(crate) lost_per_s: f64,
    /// Browning for each degree Plato, EBC/s, without a flame.
    pub(crate) browns_ebc_per_s: f64,
}

/// The laws of a day's kettle at its wort's acidity.
#[derive(Debug)]
pub(crate) struct KettleLaws(UniformTables<3>);

impl KettleLaws {
    /// Lays the laws out for a day.
    pub(crate) fn new(setting: &Setting) -> KettleLaws {
        let b = &setting.bitterness;
        KettleLaws(UniformTables::new(SPAN_C[0], SPAN_C[1], KNOTS, |temp_c| {
            let temp_k = temp_c + water::ZERO_C_K;
            [
                b.k1 * hop::isomerisation_rate_per_s(temp_k),
                b.k2 * hop::iso_loss_rate_per_s(temp_k),
                colour::browning_ebc_per_s(AT_PLATO, temp_c, setting.wort_ph, 1.0) / AT_PLATO,
            ]
        }))
    }

    /// The rates at a temperature, °C.
    #[inline]
    pub(crate) fn at(&self, temp_c: f64) -> KettleRates {
        let [isomerises_per_s, lost_per_s, browns_ebc_per_s] = self.0.at(temp_c);
        KettleRates { isomerises_per_s, lost_per_s, browns_ebc_per_s }
    }
}
