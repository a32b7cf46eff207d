//! A straight scale from values to px, its ticks, and the runs of a line between its gaps.
//! It deliberately knows no unit.

/// Maps values to px along a straight scale.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Scale {
    from: (f64, f64),
    to: (f64, f64),
}

impl Scale {
    pub(crate) fn new(from: (f64, f64), to: (f64, f64)) -> Self {
        Self { from, to }
    }

    /// Px of a value, held between the two ends.
    pub(crate) fn at(&self, value: f64) -> f64 {
        let span = self.from.1 - self.from.0;
        let share = (value - self.from.0) / span;
        let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 };
        self.to.0 + (self.to.1 - self.to.0) * share
    }
}

/// Lowest and highest of the finite values, at least `least` apart, never beyond ±1e7.
pub(crate) fn bounds(values: impl Iterator<Item = f64>, least: f64) -> (f64, f64) {
    let (low, high) = values
        .filter(|v| v.is_finite())
        .map(|v| v.clamp(-1e7, 1e7))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
    if low > high {
        return (0.0, least);
    }
    let short = (least - (high - low)).max(0.0) / 2.0;
    (low - short, high + short)
}

/// Round values from `low` to `high`: steps of 1, 2 or 5 times a power of ten, at most `most + 1`.
pub(crate) fn ticks(low: f64, high: f64, most: f64) -> Vec<f64> {
    let span = high - low;
    if !(span.is_finite() && span > 0.0) {
        return Vec::new();
    }
    let rough = span / most;
    let ten = 10f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0].iter().map(|k| k * ten).find(|s| *s >= rough).unwrap_or(rough);
    let first = (low / step).ceil();
    (0..=(most as usize)).map(|i| (first + i as f64) * step).filter(|v| *v <= high).collect()
}

/// The stretches of a line between the points that are not finite.
pub(crate) fn runs(points: &[(f64, f64)]) -> impl Iterator<Item = &[(f64, f64)]> {
    points.split(|(x, y)| !x.is_finite() || !y.is_finite()).filter(|run| run.len() > 1)
}

/// The value of a line at `x`, straight between its points; none outside it.
pub(crate) fn value_at(points: &[(f64, f64)], x: f64) -> Option<f64> {
    let i = points.iter().position(|p| p.0 >= x)?;
    let b = points[i];
    if i == 0 {
        return (b.0 == x).then_some(b.1);
    }
    let a = points[i - 1];
    if b.0 <= a.0 {
        return Some(b.1);
    }
    Some(a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_inside() {
        assert_eq!(ticks(58.0, 79.0, 5.0), vec![60.0, 65.0, 70.0, 75.0]);
        assert_eq!(ticks(13.0, 81.0, 3.0), vec![50.0]);
        assert_eq!(ticks(1.0, 1.0, 3.0), Vec::<f64>::new());
        assert_eq!(ticks(f64::NAN, 1.0, 3.0), Vec::<f64>::new());
    }

    #[test]
    fn a_gap_splits_a_line() {
        let line = [(0.0, 1.0), (1.0, 2.0), (2.0, f64::NAN), (3.0, 4.0), (4.0, 5.0)];
        let parts: Vec<usize> = runs(&line).map(<[_]>::len).collect();
        assert_eq!(parts, vec![2, 2]);
    }

    #[test]
    fn a_line_is_read_between_its_points() {
        let line = [(0.0, 10.0), (10.0, 20.0), (10.0, 0.0), (20.0, 0.0)];
        assert_eq!(value_at(&line, 5.0), Some(15.0));
        assert_eq!(value_at(&line, 10.0), Some(20.0));
        assert_eq!(value_at(&line, 30.0), None);
        assert_eq!(value_at(&[], 0.0), None);
    }

    #[test]
    fn bounds_of_nothing_are_still_a_range() {
        assert_eq!(bounds([f64::NAN].into_iter(), 4.0), (0.0, 4.0));
        assert_eq!(bounds([10.0].into_iter(), 4.0), (8.0, 12.0));
    }
}
