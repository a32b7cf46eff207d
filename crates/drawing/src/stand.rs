//! What carries and heats a vessel from below: frames, tables, blocks, burners, stoves.
//! It deliberately knows no power: a flame burns or does not.

use crate::pen::{Pen, Way};
use crate::stage::Spot;
use crate::view::{Heater, StandKind, VesselView};

/// Height of a burner's own legs where it stands on a frame or table, in mm.
const BURNER_MM: f64 = 200.0;
/// A burner stands on its own legs up to this height, in mm.
const LEGS_MM: f64 = 520.0;

/// Draws the stand and the heat beneath one vessel.
pub(crate) fn stand(pen: &mut Pen, vessel: &VesselView, spot: &Spot) {
    let top = spot.under + 1.5;
    match vessel.heater {
        Heater::Burner { lit, elsewhere } => {
            let tall = spot.ground - top > LEGS_MM * spot.scale;
            let framed = matches!(spot.kind, StandKind::Frame | StandKind::Table) || tall;
            let on_worktop = spot.kind == StandKind::Worktop;
            let foot = if (framed && tall) || on_worktop {
                (top + BURNER_MM * spot.scale).min(spot.ground)
            } else {
                spot.ground
            };
            if foot < spot.ground - 3.0 && !on_worktop {
                frame(pen, spot, foot, spot.kind != StandKind::Table);
            }
            burner(pen, spot, (top, foot), lit, elsewhere);
        }
        Heater::Hob => ring(pen, spot, top, spot.plate),
        Heater::Induction => {
            let h = spot.plate;
            let w = (spot.half * 2.0).max(30.0);
            pen.rect((spot.cx - w / 2.0, top), (w, h - 2.0), "l-out f-paper");
            pen.line((spot.cx - w * 0.3, top + 3.0), (spot.cx + w * 0.3, top + 3.0), "l-thin");
        }
        Heater::None | Heater::Element { .. } => carried(pen, spot, top),
    }
}

/// Draws what carries a vessel that nothing heats from below.
fn carried(pen: &mut Pen, spot: &Spot, top: f64) {
    if spot.ground - top < 2.0 {
        return;
    }
    match spot.kind {
        StandKind::Frame => frame(pen, spot, top, true),
        StandKind::Table => frame(pen, spot, top, false),
        StandKind::Worktop => {}
        StandKind::Ground => {
            let w = spot.right() - spot.left() + 10.0;
            let size = (w, spot.ground - top);
            pen.rect((spot.left() - 5.0, top), size, "l-out f-paper");
        }
    }
}

/// Draws a top plate and legs to the ground, braced or not.
fn frame(pen: &mut Pen, spot: &Spot, top: f64, braced: bool) {
    let (a, b, foot) = (spot.left() - 2.0, spot.right() + 2.0, spot.ground);
    let plate = 6.0_f64.min(foot - top);
    pen.rect((a - 6.0, top), (b - a + 12.0, plate), "l-out f-paper");
    if foot - top < 10.0 {
        return;
    }
    let y = top + plate;
    for x in [a, a + 6.0, b - 6.0, b] {
        pen.line((x, y), (x, foot), "l-stand");
    }
    let rail = foot - 46.0;
    if braced && rail - y > 24.0 {
        pen.line((a + 6.0, rail), (b - 6.0, rail), "l-thin");
        pen.line((a + 6.0, rail - 4.0), (b - 6.0, rail - 4.0), "l-thin");
        pen.line((a + 6.0, y + 5.0), (b - 6.0, rail - 4.0), "l-thin");
        pen.line((b - 6.0, y + 5.0), (a + 6.0, rail - 4.0), "l-thin");
    }
}

/// Draws burner legs, and the burner between them, as large as there is room.
fn burner(pen: &mut Pen, spot: &Spot, (top, foot): (f64, f64), lit: bool, elsewhere: bool) {
    let room = foot - top;
    let half = (spot.half * 0.95).max(12.0);
    let (l, r, c) = (spot.cx - half, spot.cx + half, spot.cx);
    let splay = (room * 0.1).min(11.0);
    let legs = Way::at(l, top)
        .to(r, top)
        .and_at(l + 6.0, top)
        .to(l + 6.0 - splay, foot)
        .and_at(r - 6.0, top)
        .to(r - 6.0 + splay, foot);
    pen.path(&legs, "l-stand");
    if room > 60.0 {
        pen.line((l + 1.0, foot - 20.0), (r - 1.0, foot - 20.0), "l-out");
    }
    // The burner as drawn is 64 wide and 21 high, with flames of 42 over it.
    let k = (room / 72.0).min(half / 38.0).clamp(0.12, 1.0);
    let y = (top + 46.0 * k).min(foot - 22.0 * k);
    let body = Way::at(c - 32.0 * k, y)
        .by(64.0 * k, 0.0)
        .by(-7.0 * k, 10.0 * k)
        .by(-50.0 * k, 0.0)
        .close()
        .and_at(c - 9.0 * k, y + 10.0 * k)
        .by(18.0 * k, 0.0)
        .by(0.0, 11.0 * k)
        .by(-18.0 * k, 0.0)
        .close();
    pen.path(&body, if elsewhere { "l-phantom" } else { "l-out f-paper" });
    if elsewhere {
        return;
    }
    for i in -2_i32..=2 {
        let x = c + f64::from(i) * 12.0 * k;
        pen.circle((x, y + 4.6 * k), 1.3 * k, "f-ink");
        if lit {
            flame(pen, (x, y - 1.0), 42.0 * k * (1.0 - 0.1 * f64::from(i.abs())), k);
        }
    }
}

/// Draws one flame of the given height standing on a point.
fn flame(pen: &mut Pen, (x, y): (f64, f64), high: f64, k: f64) {
    let w = 4.6 * k;
    let outer = Way::at(x - w, y)
        .bend(-2.0 * k, -high * 0.5, w, -high)
        .bend(6.6 * k, high * 0.5, w, high)
        .close();
    pen.path(&outer, "flame");
    let w = 2.0 * k;
    let inner = Way::at(x - w, y)
        .bend(-k, -high * 0.25, w, -high * 0.5)
        .bend(3.0 * k, high * 0.25, w, high * 0.5)
        .close();
    pen.path(&inner, "flame-in");
}

/// Draws a ring of a stove: pan support and head.
fn ring(pen: &mut Pen, spot: &Spot, top: f64, high: f64) {
    let half = (spot.half * 0.8).max(14.0);
    let bottom = top + high - 1.5;
    let support = Way::at(spot.cx - half, bottom)
        .to(spot.cx - half + 3.0, top)
        .to(spot.cx + half - 3.0, top)
        .to(spot.cx + half, bottom);
    pen.path(&support, "l-stand");
    let head = half * 0.5;
    pen.rect((spot.cx - head, top + high * 0.45), (head * 2.0, high * 0.3), "l-out f-paper");
}
