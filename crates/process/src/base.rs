//! The few elementary functions and water properties that every law here needs, under one name.
//! It deliberately defines no physics of its own.

pub(crate) fn exp(x: f64) -> f64 {
    x.exp()
}

pub(crate) fn ln(x: f64) -> f64 {
    x.ln()
}

pub(crate) fn pow(x: f64, y: f64) -> f64 {
    x.powf(y)
}

/// Saturation pressure of water, Pa (Wagner and Pruss form), 0 to 105 °C.
pub(crate) fn saturation_pa(temp_c: f64) -> f64 {
    let t_k = temp_c + 273.15;
    let t = 1.0 - t_k / 647.096;
    let root = t.sqrt();
    let t3 = t * t * t;
    let series = -7.859_517_83 * t + 1.844_082_59 * t * root - 11.786_649_7 * t3
        + 22.680_741_1 * t3 * root
        - 15.961_871_9 * t3 * t
        + 1.801_225_02 * t3 * t3 * t * root;
    22.064e6 * exp(647.096 / t_k * series)
}

pub(crate) fn cbrt(x: f64) -> f64 {
    pow(x, 1.0 / 3.0)
}
