//! The dipstick: a full-size scale of one vessel, and its small strip for the sheet of the day.
//! It deliberately computes no volume: each mark comes with its height.

use crate::pen::{digits, sane, words};
use crate::scale::Scale;
use crate::units::{self, Units, mm_per_inch};
use maud::{Markup, html};

/// Longest piece of paper in mm: a landscape page of A4 or US Letter inside its margins.
const PIECE: f64 = 248.0;
/// Blank at both ends of a piece, in mm.
const END: f64 = 6.0;
/// Length of scale on one piece, and how much of it the next repeats for gluing, in mm.
const SPAN: f64 = PIECE - 2.0 * END;
const LAP: f64 = 20.0;
/// The line between volumes and lengths, and the height of a piece, in mm.
const MIDDLE: f64 = 12.0;
const HIGH: f64 = 24.0;
/// The tallest vessel that is drawn, in mm: more would be no stick.
const TALLEST: f64 = 4000.0;
/// Type size the style sheet gives to text in a drawing; smaller type is scaled from it.
const TYPE: f64 = 14.0;

/// A mark of the scale, or a note beside it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ScaleMark {
    /// Height above the inside of the base, in mm.
    pub height_mm: f64,
    /// What is written: "5", or "pre-boil, 27.9 L".
    pub label: String,
}

/// The scale of one vessel.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DipstickView {
    /// Name of the vessel.
    pub vessel: String,
    /// What stands at the end of the stick.
    pub title: String,
    /// Millimetres or inches beside the volumes.
    pub units: Units,
    /// Length of the scale in mm: the inside height of the vessel.
    pub height_mm: f64,
    /// Written volumes.
    pub marks: Vec<ScaleMark>,
    /// Heights of the fine volume marks between them, in mm.
    pub fine_mm: Vec<f64>,
    /// Levels of the day, said beside the scale.
    pub notes: Vec<ScaleMark>,
    /// Length of the line to check the printer with, in mm; 100.
    pub check_line_mm: f64,
}

/// The full-size pieces, each at most 248 mm long, for one landscape page each. Neighbours share
/// 20 mm of scale, to be laid over each other.
#[must_use]
pub fn dipstick(view: &DipstickView) -> Vec<Markup> {
    let height = sane(view.height_mm, 1.0, TALLEST, 1.0);
    let step = SPAN - LAP;
    let count = (((height - SPAN) / step).ceil().max(0.0) as usize) + 1;
    (0..count)
        .map(|i| {
            let from = i as f64 * step;
            piece(view, from, (from + SPAN).min(height))
        })
        .collect()
}

/// One piece of the scale.
fn piece(view: &DipstickView, from: f64, to: f64) -> Markup {
    let x = |mm: f64| END + mm - from;
    let inside = |mm: f64| mm.is_finite() && mm >= from - 1e-6 && mm <= to + 1e-6;
    let said = format!(
        "{}, scale from {} to {} at full size",
        view.vessel,
        units::length(from, view.units),
        units::length(to, view.units)
    );
    let marks: Vec<&ScaleMark> = view.marks.iter().filter(|m| inside(m.height_mm)).collect();
    let notes: Vec<&ScaleMark> = view.notes.iter().filter(|m| inside(m.height_mm)).collect();
    let high = HIGH + if notes.is_empty() { 0.0 } else { 5.0 * rows(&notes) as f64 + 2.0 };
    let size = (PIECE, high);
    let tail = x(to) + 8.0;
    frame(
        size,
        &words(&said),
        html! {
            rect x="0.2" y="0.2" width=(digits(PIECE - 0.4, 2)) height=(digits(HIGH - 0.4, 2))
                fill="none" stroke="#000" stroke-width=".35" {}
            (stroke((0.0, MIDDLE), (PIECE, MIDDLE), 0.25))
            (lengths(view.units, from, to))
            @for mm in view.fine_mm.iter().copied().filter(|mm| inside(*mm)) {
                (stroke((x(mm), MIDDLE), (x(mm), 9.4), 0.2))
            }
            @for mark in marks {
                (stroke((x(mark.height_mm), MIDDLE), (x(mark.height_mm), 6.2), 0.45))
                (letters((x(mark.height_mm), 5.2), "middle", 3.6, &mark.label))
            }
            @if PIECE - tail > 40.0 {
                (letters((tail, 8.0), "start", 4.0, &view.title))
            }
            (noted(&notes, &x))
        },
    )
}

/// Rows that the notes need, so that none runs into another.
fn rows(notes: &[&ScaleMark]) -> usize {
    notes.len().min(6)
}

/// Writes the levels of the day below the stick, each with a leader to its height.
fn noted(notes: &[&ScaleMark], x: &impl Fn(f64) -> f64) -> Markup {
    html! {
        @for (i, note) in notes.iter().enumerate() {
            @let at = x(note.height_mm);
            @let y = HIGH + 5.0 * ((i % 6) as f64 + 1.0);
            @let right = at > PIECE / 2.0;
            // Two strokes, for the figures of the scale stand between them.
            (stroke((at, MIDDLE - 2.5), (at, MIDDLE + 5.8), 0.35))
            (stroke((at, HIGH - 2.2), (at, y - 1.0), 0.25))
            @if right {
                (letters((at - 1.2, y), "end", 3.3, &note.label))
            } @else {
                (letters((at + 1.2, y), "start", 3.3, &note.label))
            }
        }
    }
}

/// Draws the millimetres or the sixteenths below the line.
fn lengths(units: Units, from: f64, to: f64) -> Markup {
    let (step, labelled, half) = match units {
        Units::Metric => (1.0, 10, 5),
        Units::Us => (mm_per_inch() / 16.0, 16, 8),
    };
    let first = (from / step - 1e-9).ceil().max(0.0) as u32;
    let last = (to / step + 1e-9).floor().max(0.0) as u32;
    html! {
        @for i in first..=last {
            @let x = END + f64::from(i) * step - from;
            @let (length, wide) = if i % labelled == 0 { (5.0, 0.3) }
                else if i % half == 0 { (3.5, 0.18) } else { (2.0, 0.18) };
            (stroke((x, MIDDLE), (x, MIDDLE + length), wide))
            @if i % labelled == 0 {
                @let value = if units == Units::Metric { i } else { i / labelled };
                (letters((x, 21.0), "middle", 3.1, &value.to_string()))
            }
        }
    }
}

/// The line to check the printer with: measured on paper it must have its length exactly.
#[must_use]
pub fn check_line(view: &DipstickView) -> Markup {
    let length = sane(view.check_line_mm, 10.0, PIECE, 100.0);
    let said = format!("A line of {} millimetres", digits(length, 1));
    frame(
        (length, 4.0),
        &said,
        html! {
            (stroke((0.15, 0.0), (0.15, 4.0), 0.3))
            (stroke((0.15, 2.0), (length - 0.15, 2.0), 0.3))
            (stroke((length - 0.15, 0.0), (length - 0.15, 4.0), 0.3))
        },
    )
}

/// A drawing in true millimetres.
fn frame((width, height): (f64, f64), said: &str, inner: Markup) -> Markup {
    let (w, h) = (digits(width, 2), digits(height, 2));
    html! {
        svg class="mm" viewBox={"0 0 " (w) " " (h)} width={(w) "mm"} height={(h) "mm"}
            role="img" aria-label=(said) { (inner) }
    }
}

fn stroke(a: (f64, f64), b: (f64, f64), wide: f64) -> Markup {
    html! {
        line x1=(digits(a.0, 2)) y1=(digits(a.1, 2)) x2=(digits(b.0, 2)) y2=(digits(b.1, 2))
            stroke="#000" stroke-width=(digits(wide, 2)) {}
    }
}

/// Writes type of a size in mm, scaled from the size the style sheet gives.
fn letters((x, y): (f64, f64), hold: &str, size: f64, text: &str) -> Markup {
    let (x, y, k) = (digits(x, 2), digits(y, 2), digits(size / TYPE, 4));
    html! {
        text transform={"translate(" (x) " " (y) ") scale(" (k) ")"} text-anchor=(hold)
            font-size=(TYPE) { (words(text)) }
    }
}

/// The small strip of the sheet: volumes above, dips below; not at full size.
#[must_use]
pub fn scale_strip(view: &DipstickView) -> Markup {
    let height = sane(view.height_mm, 1.0, TALLEST, 1.0);
    let across = Scale::new((0.0, height), (10.0, 640.0));
    let inside = |mm: f64| mm.is_finite() && (0.0..=height).contains(&mm);
    let unit = if view.units == Units::Metric { "millimetres" } else { "inches" };
    let said = format!("{}: volumes above, {unit} of dip below", view.vessel);
    let mark = |class: &str, x: f64, top: f64| {
        let x = digits(x, 1);
        html! { line x1=(x) y1="30" x2=(x) y2=(digits(top, 1)) class=(class) {} }
    };
    let shown: Vec<&ScaleMark> = view.marks.iter().filter(|m| inside(m.height_mm)).collect();
    let every = lettered(view.units, &shown, &across);
    html! {
        svg viewBox="-8 -6 670 60" role="img" aria-label=(words(&said)) {
            line x1="10" y1="30" x2="640" y2="30" class="k2" {}
            @for mm in view.fine_mm.iter().copied().filter(|mm| inside(*mm)) {
                (mark("k1", across.at(mm), 22.0))
            }
            @for (i, m) in shown.iter().enumerate() {
                @let (x, room) = (across.at(m.height_mm), i % every == 0);
                (mark("k2", x, if room { 12.0 } else { 20.0 }))
                @if room {
                    @let dip = bare(m.height_mm, view.units);
                    text x=(digits(x, 1)) y="9" class="kt" text-anchor="middle" {
                        (words(&m.label))
                    }
                    text x=(digits(x, 1)) y="46" class="kt" text-anchor="middle" {
                        (dip)
                    }
                }
            }
        }
    }
}

/// Every how many marks one is lettered, so that no two run into each other.
fn lettered(units: Units, marks: &[&ScaleMark], across: &Scale) -> usize {
    let ends: Vec<(f64, f64)> = marks
        .iter()
        .map(|m| {
            let dip = bare(m.height_mm, units).chars().count();
            let half = m.label.chars().count().max(dip) as f64 * 3.6 + 2.0;
            let x = across.at(m.height_mm);
            (x - half, x + half)
        })
        .collect();
    let fits = |every: usize| {
        let kept: Vec<_> = ends.iter().step_by(every).collect();
        kept.windows(2).all(|w| w[0].1 <= w[1].0)
    };
    [1, 2, 4, 5, 10, 20, 50, 100].into_iter().find(|n| fits(*n)).unwrap_or(ends.len().max(1))
}

/// A length without its unit, for a scale whose unit is said elsewhere.
fn bare(mm: f64, units: Units) -> String {
    let text = units::length(mm, units);
    text.trim_end_matches("in").trim_end().to_owned()
}
