//! What the instruments of a brewhouse are expected to show for what a simulated day holds. It
//! writes no sentence.

use crate::output::Expected;
use crate::say::lower;
use brewhouse::instrument::{
    hydrometer_shows_points, ph_meter_shows, thermometer_shows_k, to_step,
};
use brewhouse::vessel::{ThermometerKind, Vessel};
use brewhouse::{Brewhouse, bias_k};
use matter::wort;

/// What the thermometer of a vessel shows between its divisions, °C to a tenth: what to aim for.
pub(crate) fn shows_c(vessel: &Vessel, truth_c: f64) -> f64 {
    let bias_k = vessel.thermometer.as_ref().map_or(0.0, |t| brewhouse::bias_k(t.bias.as_ref()));
    round(truth_c + bias_k, 1)
}

/// What is read from it: to half of a division where it has a needle or a column, °C.
fn read_c(vessel: &Vessel, truth_c: f64) -> f64 {
    match &vessel.thermometer {
        Some(t) => {
            let half = match t.kind {
                ThermometerKind::Digital | ThermometerKind::Platinum => 1.0,
                _ => 0.5,
            };
            let (bias_k, step_k) = (bias_k(t.bias.as_ref()), half * t.step.kelvin());
            thermometer_shows_k(truth_c + 273.15, bias_k, step_k, 273.15) - 273.15
        }
        None => round(truth_c, 1),
    }
}

/// Reading of a vessel's thermometer.
pub(crate) fn temperature(vessel: &Vessel, truth_c: f64) -> Expected {
    let instrument = match vessel.thermometer.as_ref().map(|t| t.kind) {
        Some(ThermometerKind::Dial | ThermometerKind::DialInWell) => "dial",
        _ => "thermometer",
    };
    Expected {
        instrument: format!("{instrument} of the {}", lower(vessel)),
        quantity: "temperature".into(),
        value: round(read_c(vessel, truth_c), 2),
        unit: "°C".into(),
    }
}

/// Dip of a vessel that holds this volume.
pub(crate) fn dip(vessel: &Vessel, volume_m3: f64) -> Expected {
    Expected {
        instrument: format!("dip of the {}", lower(vessel)),
        quantity: "dip".into(),
        value: to_step(1e3 * vessel.section.height_m(volume_m3), 1.0),
        unit: "mm".into(),
    }
}

/// Strength of a sample cooled to the hydrometer's temperature.
pub(crate) fn gravity(brewhouse: &Brewhouse, plato: f64) -> Expected {
    let points = 1e3 * (wort::sg_from_plato(plato) - 1.0);
    let shown = match &brewhouse.instruments.hydrometer {
        Some(h) => {
            let bias = h.bias_points;
            // read between two marks
            hydrometer_shows_points(points, bias, 0.5 * h.step_points)
        }
        None => points,
    };
    Expected {
        instrument: "hydrometer, sample cooled".into(),
        quantity: "gravity".into(),
        value: round(wort::plato_from_sg(1.0 + shown / 1e3), 2),
        unit: "°P".into(),
    }
}

/// pH of a cooled sample.
pub(crate) fn ph(ph: f64) -> Expected {
    Expected {
        instrument: "pH meter, sample cooled".into(),
        quantity: "ph".into(),
        value: round(ph_meter_shows(ph, 0.0, 0.01), 2),
        unit: "pH".into(),
    }
}

/// Time in which a stream fills a jug.
pub(crate) fn jug(jug_m3: f64, flow_m3_s: f64) -> Expected {
    Expected {
        instrument: "jug and clock".into(),
        quantity: "time".into(),
        value: round(jug_m3 / flow_m3_s.max(1e-9) / 60.0, 2),
        unit: "min".into(),
    }
}

/// A number with a few decimals, so that JSON holds no noise.
pub(crate) fn round(value: f64, decimals: i32) -> f64 {
    let scale = 10f64.powi(decimals);
    (value * scale).round() / scale
}
