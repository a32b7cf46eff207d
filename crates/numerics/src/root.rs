//! Where a function of one number crosses zero, inside a bracket that is never left.
//!
//! Deliberately absent: searching for a bracket, and several roots at once.

/// Why no root was found.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum RootError {
    /// The function has one sign at both ends.
    #[error("no sign change: f({lo}) = {f_lo}, f({hi}) = {f_hi}")]
    NoSignChange {
        /// Lower end of the bracket.
        lo: f64,
        /// Upper end.
        hi: f64,
        /// Value at the lower end.
        f_lo: f64,
        /// Value at the upper end.
        f_hi: f64,
    },
    /// An end, the tolerance or a value of the function is not a usable number.
    #[error("not a number to work with: f({at}) = {value}")]
    NotFinite {
        /// Where.
        at: f64,
        /// The function's value there.
        value: f64,
    },
}

/// A root of `f` between `lo` and `hi`, within `tolerance` of where the sign changes.
///
/// Method: ITP, which interpolates but never needs more than one evaluation beyond bisection
/// (I. F. D. Oliveira, R. H. C. Takahashi, *ACM Trans. Math. Softw.* 47 (2020), article 5).
///
/// # Errors
/// [`RootError`] if the signs at the ends are equal, or something is not finite.
///
/// ```
/// let root = numerics::root::find_root(|x| x * x - 2.0, 0.0, 2.0, 1e-12)?;
/// assert!((root - 2.0_f64.sqrt()).abs() < 1e-12);
/// # Ok::<(), numerics::root::RootError>(())
/// ```
pub fn find_root(
    mut f: impl FnMut(f64) -> f64,
    lo: f64,
    hi: f64,
    tolerance: f64,
) -> Result<f64, RootError> {
    let (f_lo, f_hi) = ends(&mut f, lo, hi)?;
    if f_lo == 0.0 {
        return Ok(lo);
    }
    if f_hi == 0.0 {
        return Ok(hi);
    }
    if f_lo.signum() == f_hi.signum() {
        return Err(RootError::NoSignChange { lo, hi, f_lo, f_hi });
    }
    let sign = f_hi.signum();
    let mut bad = None;
    let oriented = |x| {
        let value = f(x);
        if !value.is_finite() && bad.is_none() {
            bad = Some(RootError::NotFinite { at: x, value });
        }
        sign * value
    };
    let (lo, hi) = shrink(oriented, (lo, sign * f_lo), (hi, sign * f_hi), tolerance);
    match bad {
        Some(error) => Err(error),
        None => Ok(0.5 * (lo + hi)),
    }
}

/// A root of `f` between `lo` and `hi` by Newton's method; a step that leaves the bracket or
/// does not halve it in two becomes a bisection. `f` gives value and derivative.
///
/// # Errors
/// [`RootError`] if the signs at the ends are equal, or something is not finite.
///
/// ```
/// let root = numerics::root::newton(|x| (x * x - 2.0, 2.0 * x), 0.0, 2.0, 1.0, 1e-12)?;
/// assert!((root - 2.0_f64.sqrt()).abs() < 1e-12);
/// # Ok::<(), numerics::root::RootError>(())
/// ```
pub fn newton(
    mut f: impl FnMut(f64) -> (f64, f64),
    lo: f64,
    hi: f64,
    start: f64,
    tolerance: f64,
) -> Result<f64, RootError> {
    let (f_lo, f_hi) = ends(&mut |x| f(x).0, lo, hi)?;
    if f_lo == 0.0 {
        return Ok(lo);
    }
    if f_hi == 0.0 {
        return Ok(hi);
    }
    if f_lo.signum() == f_hi.signum() {
        return Err(RootError::NoSignChange { lo, hi, f_lo, f_hi });
    }
    // `below` is the end where the function is negative, whichever side that is.
    let (mut below, mut above) = if f_lo < 0.0 { (lo, hi) } else { (hi, lo) };
    let mut x = if start > lo && start < hi { start } else { 0.5 * (lo + hi) };
    let mut step_before = (hi - lo).abs();
    let tolerance = tolerance.max(4.0 * f64::EPSILON * lo.abs().max(hi.abs()));
    loop {
        let (value, slope) = f(x);
        if !value.is_finite() {
            return Err(RootError::NotFinite { at: x, value });
        }
        if value < 0.0 {
            below = x;
        } else {
            above = x;
        }
        let newton = x - value / slope;
        let inside = (newton - below) * (newton - above) < 0.0; // false for NaN
        let fast = (newton - x).abs() < 0.5 * step_before;
        let next = if inside && fast { newton } else { 0.5 * (below + above) };
        let step = (next - x).abs();
        if value == 0.0 || step < 0.5 * tolerance || (above - below).abs() < tolerance {
            return Ok(if value == 0.0 { x } else { next });
        }
        step_before = step;
        x = next;
    }
}

/// Shrinks a bracket `(x, f(x))` with `f(lo) < 0 ≤ f(hi)` to at most `width`, keeping that order;
/// both ends are the root if it is hit exactly.
///
/// The ITP method (see [`find_root`]) with κ₁ = 0.2/(first width), κ₂ = 2, n₀ = 1.
pub(crate) fn shrink(
    mut f: impl FnMut(f64) -> f64,
    (mut lo, mut f_lo): (f64, f64),
    (mut hi, mut f_hi): (f64, f64),
    width: f64,
) -> (f64, f64) {
    let width = width.max(4.0 * f64::EPSILON * lo.abs().max(hi.abs()));
    let kappa = 0.2 / (hi - lo).abs();
    // Half the width that bisection with one extra step would have reached.
    let mut allowed = 0.5 * width;
    while allowed < (hi - lo).abs() {
        allowed *= 2.0;
    }
    while (hi - lo).abs() > width {
        let middle = 0.5 * (lo + hi);
        let secant = (f_hi * lo - f_lo * hi) / (f_hi - f_lo);
        let aside = middle - secant;
        let nudge = kappa * (hi - lo) * (hi - lo);
        let towards = if aside.abs() > nudge { secant + nudge.copysign(aside) } else { middle };
        let slack = (allowed - 0.5 * (hi - lo).abs()).max(0.0);
        let x = if (towards - middle).abs() <= slack {
            towards
        } else if aside.is_nan() {
            middle
        } else {
            middle - slack.copysign(aside)
        };
        let value = f(x);
        if value >= 0.0 {
            (hi, f_hi) = (x, value);
        } else {
            (lo, f_lo) = (x, value);
        }
        if value == 0.0 {
            lo = hi;
        }
        allowed *= 0.5;
    }
    (lo, hi)
}

/// Values at both ends, refused if anything is not finite.
fn ends(f: &mut impl FnMut(f64) -> f64, lo: f64, hi: f64) -> Result<(f64, f64), RootError> {
    let mut at = |x: f64| {
        let value = if x.is_finite() { f(x) } else { f64::NAN };
        if value.is_finite() { Ok(value) } else { Err(RootError::NotFinite { at: x, value }) }
    };
    Ok((at(lo)?, at(hi)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Finds the root to the tolerance, within one evaluation of what bisection needs.
    fn check(f: impl Fn(f64) -> f64, lo: f64, hi: f64, root: f64) {
        let tolerance = 1e-10;
        let mut calls = 0;
        let counted = |x| {
            calls += 1;
            f(x)
        };
        let found = find_root(counted, lo, hi, tolerance).unwrap();
        assert!((found - root).abs() <= tolerance, "{found} for {root}");
        let bisections = ((hi - lo) / tolerance).log2().ceil() as i32;
        assert!(calls <= 2 + bisections + 2, "{calls} calls, bisection needs {bisections}");
    }

    #[test]
    fn roots_of_easy_and_nasty_functions_are_found() {
        check(|x| x - 1.0, 0.0, 3.0, 1.0);
        check(|x| 1.0 - x, 0.0, 3.0, 1.0);
        check(|x: f64| x.cos() - x, 0.0, 1.0, 0.739_085_133_215_160_6); // Dottie number
        check(|x: f64| x.powi(9), -1.0, 3.0, 0.0);
        check(|x: f64| (x - 0.1).signum(), -5.0, 3.0, 0.1);
        check(|x: f64| x.exp() - 1e8, 0.0, 50.0, 1e8_f64.ln());
    }

    #[test]
    fn an_exact_zero_at_an_end_is_the_root() {
        assert_eq!(find_root(|x| x, 0.0, 1.0, 1e-9), Ok(0.0));
        assert_eq!(find_root(|x| x - 1.0, 0.0, 1.0, 1e-9), Ok(1.0));
        assert_eq!(newton(|x| (x, 1.0), 0.0, 1.0, 0.5, 1e-9), Ok(0.0));
    }

    #[test]
    fn a_bracket_without_a_sign_change_is_refused() {
        let f = |x: f64| x * x + 1.0;
        let refused = Err(RootError::NoSignChange { lo: -1.0, hi: 2.0, f_lo: 2.0, f_hi: 5.0 });
        assert_eq!(find_root(f, -1.0, 2.0, 1e-9), refused);
        assert_eq!(newton(|x| (f(x), 2.0 * x), -1.0, 2.0, 0.0, 1e-9), refused);
    }

    #[test]
    fn what_is_not_finite_is_refused() {
        let bad = |result| matches!(result, Err(RootError::NotFinite { .. }));
        assert!(bad(find_root(|x| 1.0 / x, 0.0, 1.0, 1e-9)));
        assert!(bad(find_root(|x| x, f64::NAN, 1.0, 1e-9)));
        assert!(bad(find_root(|x| if x.abs() < 0.9 { f64::NAN } else { x }, -1.0, 1.0, 1e-9)));
        assert!(bad(newton(|x| (x.sqrt(), 1.0), -1.0, 1.0, 0.0, 1e-9)));
    }

    #[test]
    fn newton_is_kept_in_the_bracket_where_it_would_diverge() {
        // Newton's method on the arctangent runs away from starts beyond 1.39.
        let root = newton(|x: f64| (x.atan(), 1.0 / (1.0 + x * x)), -4.0, 9.0, 8.0, 1e-12).unwrap();
        assert!(root.abs() < 1e-12, "{root}");
        // A flat start: the slope is zero.
        let f = |x: f64| (x * x * x - 2.0, 3.0 * x * x);
        let root = newton(f, -3.0, 3.0, 0.0, 1e-12).unwrap();
        assert!((root - 2.0_f64.cbrt()).abs() < 1e-12, "{root}");
        // Downhill: negative on the right.
        let root = newton(|x| (2.0 - x, -1.0), 0.0, 5.0, 1.0, 1e-12).unwrap();
        assert!((root - 2.0).abs() < 1e-12, "{root}");
    }
}
