//! What the instruments of a brewhouse are expected to show for what a simulated day holds. It
//! writes no sentence.

use crate::output::Expected;
use crate::say::lower;
use brewhouse::instrument::{
    hydrometer_shows_points, ph_meter_shows, refractometer_shows_brix, thermometer_shows_k, to_step,
};
use brewhouse::vessel::{ThermometerKind, Vessel};
use brewhouse::{Brewhouse, bias_k};
use matter::wort;

/// Half of the 0.2 °Bx between two marks of a hand refractometer, °Bx (common practice, no source).
const BRIX_STEP: f64 = 0.1;

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

/// Strength of a cooled sample, as each instrument for it shows it: hydrometer, refractometer; a
/// hydrometer that is true where the brewhouse names neither.
pub(crate) fn gravity(brewhouse: &Brewhouse, plato: f64) -> Vec<Expected> {
    let (hydrometer, refractometer) =
        (&brewhouse.instruments.hydrometer, &brewhouse.instruments.refractometer);
    let mut all = Vec::new();
    if hydrometer.is_some() || refractometer.is_none() {
        let points = 1e3 * (wort::sg_from_plato(plato) - 1.0);
        let shown = match hydrometer {
            // read between two marks
            Some(h) => hydrometer_shows_points(points, h.bias_points, 0.5 * h.step_points),
            None => points,
        };
        all.push(Expected {
            instrument: "hydrometer, sample cooled".into(),
            quantity: "gravity".into(),
            value: round(wort::plato_from_sg(1.0 + shown / 1e3), 2),
            unit: "°P".into(),
        });
    }
    if let Some(r) = refractometer {
        let factor = r.wort_factor.unwrap_or(wort::Refractometer::default().factor);
        all.push(Expected {
            instrument: "refractometer".into(),
            quantity: "refraction".into(),
            value: round(refractometer_shows_brix(plato, factor, BRIX_STEP), 2),
            unit: "°Bx".into(),
        });
    }
    all
}

/// Temperature to which a sample is cooled before its strength is read, °C: that of the
/// hydrometer's scale, or 20 °C.
pub(crate) fn sample_c(brewhouse: &Brewhouse) -> f64 {
    brewhouse.instruments.hydrometer.as_ref().map_or(20.0, |h| h.made_for.celsius())
}

/// pH of a cooled sample: by meter, or by strips.
pub(crate) fn ph(brewhouse: &Brewhouse, ph: f64) -> Expected {
    let (instrument, step) = match brewhouse.instruments.ph_meter {
        Some(_) => ("pH meter", 0.01),
        None => ("pH strip", 0.2),
    };
    Expected {
        instrument: format!("{instrument}, sample cooled"),
        quantity: "ph".into(),
        value: round(ph_meter_shows(ph, 0.0, step), 2),
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
