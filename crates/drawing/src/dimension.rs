//! Dimension lines: arrows between extension lines, the number on top or turned beside it.
//! It deliberately measures nothing: the caller says what stands on the line.

use crate::pen::{Hold, Pen};

/// A dimension across from `xa` to `xb`, at height `y`, extended from `from_y`.
pub(crate) fn across(pen: &mut Pen, (xa, xb): (f64, f64), y: f64, from_y: f64, text: &str) {
    pen.line((xa, from_y), (xa, y - 4.0), "l-ext");
    pen.line((xb, from_y), (xb, y - 4.0), "l-ext");
    pen.arrow((xa, y), (xb, y));
    pen.text(((xa + xb) / 2.0, y - 4.0), Hold::Middle, "t-dim", text);
}

/// A dimension upright from `ya` to `yb` at `x`, extended leftwards from `from_x`. The number is
/// turned along the line where there is room, else it stands beside it.
pub(crate) fn upright(pen: &mut Pen, x: f64, (ya, yb): (f64, f64), from_x: f64, text: &str) {
    pen.line((from_x, ya), (x - 4.0, ya), "l-ext");
    pen.line((from_x, yb), (x - 4.0, yb), "l-ext");
    pen.arrow((x, ya), (x, yb));
    let middle = (ya + yb) / 2.0;
    if (ya - yb).abs() > 2.0 + 6.6 * text.chars().count() as f64 {
        pen.text_up((x - 4.0, middle), "t-dim halo", text);
    } else {
        pen.text((x - 6.0, middle + 4.0), Hold::End, "t-dim halo", text);
    }
}
