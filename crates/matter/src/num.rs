//! Elementary functions of this crate, in one place; it knows nothing of brewing.

pub(crate) fn exp(x: f64) -> f64 {
    x.exp()
}

pub(crate) fn ln(x: f64) -> f64 {
    x.ln()
}

pub(crate) fn pow(x: f64, y: f64) -> f64 {
    x.powf(y)
}
