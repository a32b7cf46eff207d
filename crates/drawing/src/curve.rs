//! The temperature of the mash over its rests. It deliberately shows no doubt until there is one.

use crate::lanes::SpanView;
use crate::pen::{Hold, Pen, Way};
use crate::scale::{Scale, bounds, runs, ticks};
use crate::units::{Units, degree_sign, degrees};
use maud::Markup;

/// Left and right end of the curve, top and bottom of it, in px.
const LEFT: f64 = 44.0;
const RIGHT: f64 = 530.0;
const TOP: f64 = 26.0;
const BOTTOM: f64 = 132.0;

/// A temperature over minutes, with the rests below it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CurveView {
    /// Start of every id in the drawing; letters only.
    pub id: String,
    /// Sentence for those who don't see the drawing.
    pub label: String,
    /// Units of the axis.
    pub units: Units,
    /// Temperature in °C over minutes; a value that is not finite is a gap.
    pub temp_c: Vec<(f64, f64)>,
    /// The rests.
    pub rests: Vec<SpanView>,
}

/// Draws the curve, all of it expected.
#[must_use]
pub fn curve(view: &CurveView) -> Markup {
    let mut pen = Pen::new(&view.id, "c");
    let times = view.temp_c.iter().map(|p| p.0);
    let ends = view.rests.iter().flat_map(|r| [r.from_min, r.to_min]);
    let across = Scale::new(bounds(times.chain(ends), 1.0), (LEFT, RIGHT));
    let points: Vec<(f64, f64)> =
        view.temp_c.iter().map(|&(t, c)| (t, degrees(c, view.units))).collect();
    let (low, high) = bounds(points.iter().map(|p| p.1), 4.0);
    let room = (high - low) * 0.08;
    let up = Scale::new((low - room, high + room), (BOTTOM, TOP));
    for tick in ticks(low - room, high + room, 5.0) {
        let y = up.at(tick);
        pen.line((LEFT, y), (RIGHT, y), "gridm");
        pen.text((LEFT - 8.0, y + 4.0), Hold::End, "t-dim", &crate::pen::digits(tick, 0));
    }
    pen.text((LEFT - 8.0, 13.0), Hold::End, "t-dim", degree_sign(view.units));
    for run in runs(&points) {
        let points: Vec<_> = run.iter().map(|&(t, d)| (across.at(t), up.at(d))).collect();
        pen.path(&Way::through(&points), "temp exp");
    }
    let mut free = f64::NEG_INFINITY;
    let mut lower = false;
    for rest in &view.rests {
        let (a, b) = (across.at(rest.from_min), across.at(rest.to_min));
        pen.line((a, BOTTOM + 8.0), (a, BOTTOM + 26.0), "l-ext");
        pen.line((b, BOTTOM + 8.0), (b, BOTTOM + 26.0), "l-ext");
        if b - a > 22.0 {
            pen.arrow((a, BOTTOM + 20.0), (b, BOTTOM + 20.0));
        } else {
            pen.line((a, BOTTOM + 20.0), (b, BOTTOM + 20.0), "l-dim");
        }
        // A word that would run into the one before goes one line lower.
        let half = rest.label.chars().count() as f64 * 3.7;
        let middle = ((a + b) / 2.0).clamp(half, 540.0 - half.min(270.0));
        lower = middle - half < free && !lower;
        let y = BOTTOM + if lower { 54.0 } else { 38.0 };
        pen.text((middle, y), Hold::Middle, "t-dim", &rest.label);
        free = middle + half + 4.0;
    }
    pen.finish("curve", (540.0, 192.0), &view.label)
}
