//! One vessel in section: wall, base, what stands in it, and what is fitted to it.
//! It deliberately computes no level from a volume: the view says how high the liquid stands.

use crate::pen::{Pen, Way, sane};
use crate::stage::Spot;
use crate::view::{BaseView, Contents, Heater, Lid, VesselView};

/// From this thickness in px on, a wall is drawn as a cut solid instead of one wide line.
const SOLID: f64 = 4.0;

/// Draws the vessel with everything in and on it.
pub(crate) fn vessel(pen: &mut Pen, vessel: &VesselView, spot: &Spot) {
    if vessel.insulated {
        jacket(pen, spot);
    }
    contents(pen, vessel, spot);
    if let Heater::Element { height_mm, on } = vessel.heater {
        element(pen, spot, height_mm, on);
    }
    fittings(pen, vessel, spot);
    wall(pen, vessel, spot);
    if vessel.lid == Lid::On || vessel.airlock {
        lid(pen, vessel, spot);
    }
    if let Some(mm) = vessel.thermometer_mm {
        thermometer(pen, spot, mm, vessel.temp_c);
    }
}

/// Inner faces of the wall as drawn.
fn faces(spot: &Spot) -> (f64, f64) {
    let inset = if spot.wall >= SOLID { 0.0 } else { 2.0_f64.min(spot.half * 0.5) };
    (spot.cx - spot.half + inset, spot.cx + spot.half - inset)
}

/// Depth of a base that bulges down, in px; 0 for a flat one.
pub(crate) fn depth(vessel: &VesselView, spot: &Spot) -> f64 {
    match vessel.shape.base {
        BaseView::Flat => 0.0,
        BaseView::Round { depth_mm } | BaseView::Cone { depth_mm } => {
            spot.base - spot.inside(depth_mm)
        }
    }
}

/// The inner line of a base that bulges down, from left to right, up to a height over the lowest
/// point in px; `(l, r)` are the faces of the wall.
fn hollow(vessel: &VesselView, spot: &Spot, (l, r): (f64, f64), high: f64) -> Vec<(f64, f64)> {
    const PARTS: i32 = 12;
    let deep = depth(vessel, spot).max(1e-6);
    let (c, half) = ((l + r) / 2.0, (r - l) / 2.0);
    let top = high.min(deep);
    let reach = |up: f64| match vessel.shape.base {
        BaseView::Cone { .. } => half * up / deep,
        _ => half * (1.0 - (1.0 - up / deep).powi(2)).max(0.0).sqrt(),
    };
    (-PARTS..=PARTS)
        .map(|i| {
            // Closer together near the lowest point, where an ellipse is flat and wide.
            let up = top * (f64::from(i) / f64::from(PARTS)).powi(2);
            (c + f64::from(i.signum()) * reach(up), spot.base - up)
        })
        .collect()
}

/// Draws liquid and bed.
fn contents(pen: &mut Pen, vessel: &VesselView, spot: &Spot) {
    let (l, r) = faces(spot);
    let kind = if vessel.contents == Contents::Water { "water" } else { "wort" };
    let level = vessel.level_mm.filter(|mm| mm.is_finite() && *mm > 0.0);
    let level = level.filter(|_| vessel.contents != Contents::Empty).map(|mm| spot.inside(mm));
    if let Some(y) = level {
        let deep = depth(vessel, spot);
        if deep > 0.0 {
            let mut edge = hollow(vessel, spot, (l, r), spot.base - y);
            if spot.base - y > deep {
                edge.insert(0, (l, y));
                edge.push((r, y));
            }
            pen.path(&Way::through(&edge).close(), &format!("w-{kind}"));
        } else {
            pen.rect((l, y), (r - l, spot.base - y), &format!("w-{kind}"));
        }
    }
    let mut floor = spot.base;
    if let Contents::Mash { bed_mm } = vessel.contents {
        let straight_mm = depth(vessel, spot) / spot.scale.max(1e-9);
        let bottom = vessel.false_bottom_mm.unwrap_or(0.0).max(straight_mm);
        let (yb, yt) = (spot.inside(bottom), spot.inside(bottom + sane(bed_mm, 0.0, 1e5, 0.0)));
        pen.hatched((l, yt), (r - l, yb - yt), "grain", "bed");
        pen.line((l, yt), (r, yt), "l-thin i-grainl");
        floor = yt;
    }
    if let Some(y) = level {
        let up = spot.base - y;
        let ends = (up < depth(vessel, spot)).then(|| hollow(vessel, spot, (l, r), up));
        let faces = ends.and_then(|line| Some((line.first()?.0, line.last()?.0)));
        surface(pen, faces.unwrap_or((l, r)), y, floor, kind);
    }
}

/// Draws the surface of a liquid with its mark.
fn surface(pen: &mut Pen, (l, r): (f64, f64), y: f64, floor: f64, kind: &str) {
    pen.line((l, y), (r, y), &format!("l-level i-{kind}"));
    let c = l + (r - l) * 0.66;
    let k = ((r - l) / 90.0).min(1.0);
    for (half, down) in [(15.0, 5.0), (10.0, 9.0), (5.0, 13.0)] {
        if y + down < floor {
            pen.line((c - half * k, y + down), (c + half * k, y + down), "l-thin");
        }
    }
    pen.path(&Way::at(c - 6.0, y - 10.0).by(12.0, 0.0).by(-6.0, 9.4).close(), "lvl");
}

/// Draws wall, base, rim, handles and centre line.
fn wall(pen: &mut Pen, vessel: &VesselView, spot: &Spot) {
    let (a, b) = (spot.cx - spot.half, spot.cx + spot.half);
    let (rim, base) = (spot.rim, spot.base);
    let deep = depth(vessel, spot);
    if deep > 0.0 {
        let mut edge = hollow(vessel, spot, (a, b), deep);
        edge.insert(0, (a, rim));
        edge.push((b, rim));
        pen.path(&Way::through(&edge), "l-cut");
        pen.circle((a, rim), 2.8, "f-ink");
        pen.circle((b, rim), 2.8, "f-ink");
        // A deep base hangs between legs of its own.
        if deep > 24.0 {
            for x in [a, b] {
                pen.line((x, base - deep), (x, spot.under + 1.5), "l-stand");
            }
        }
    } else if spot.wall >= SOLID {
        let (l, r, under) = (spot.left(), spot.right(), spot.under);
        pen.solid((l, rim), (spot.wall, under - rim), "l-thin");
        pen.solid((b, rim), (spot.wall, under - rim), "l-thin");
        pen.solid((a, base), (b - a, under - base), "l-thin");
        let cut = [(a, rim), (a, base), (b, base), (b, rim), (r, rim), (r, under), (l, under)];
        pen.path(&Way::through(&cut).to(l, rim).close(), "l-out");
    } else {
        if vessel.shape.clad {
            let high = (spot.under - base).max(6.0).min(spot.ground - base - 1.0);
            if high > 2.5 {
                pen.solid((a + 3.0, base + 1.0), (b - a - 6.0, high), "l-out");
            }
        }
        pen.path(&Way::through(&[(a, rim), (a, base), (b, base), (b, rim)]), "l-cut");
        pen.circle((a, rim), 2.8, "f-ink");
        pen.circle((b, rim), 2.8, "f-ink");
        if base - rim > 60.0 && !vessel.airlock && !vessel.insulated {
            let y = rim + (base - rim) * 0.2 - 5.0;
            let ears = Way::at(a, y).by(-7.0, 0.0).by(0.0, 12.0).by(7.0, 0.0).and_at(b, y);
            pen.path(&ears.by(7.0, 0.0).by(0.0, 12.0).by(-7.0, 0.0), "l-out");
        }
    }
    pen.line((spot.cx, rim - 16.0), (spot.cx, spot.under + 12.0), "l-cl");
}

/// Draws the wrap around the wall.
fn jacket(pen: &mut Pen, spot: &Spot) {
    let high = spot.base - spot.rim;
    for x in [spot.left() - 9.0, spot.right() + 1.5] {
        pen.solid((x, spot.rim + high * 0.06), (7.5, high * 0.94), "l-thin");
    }
}

/// Draws false bottom, manifold, bag and the pick-up inside.
fn fittings(pen: &mut Pen, vessel: &VesselView, spot: &Spot) {
    let (l, r) = faces(spot);
    if let Some(mm) = vessel.false_bottom_mm {
        let y = spot.inside(mm);
        pen.line((l + 1.0, y), (r - 1.0, y), "l-fb");
        if spot.base - y > 5.0 {
            for q in [0.2, 0.5, 0.8] {
                let x = l + (r - l) * q;
                pen.line((x, y + 2.0), (x, spot.base - 1.0), "l-out");
            }
        }
    }
    if vessel.manifold {
        let (x, w, y) = (l + (r - l) * 0.1, (r - l) * 0.8, spot.base - 7.0);
        pen.rect((x, y), (w, 5.0), "l-out f-paper");
        let slots = (w / 7.0).clamp(1.0, 60.0) as usize;
        for i in 1..slots {
            let sx = x + w * i as f64 / slots as f64;
            pen.line((sx, y + 2.0), (sx, y + 5.0), "l-thin");
        }
    }
    if vessel.bag {
        bag(pen, spot, (l, r));
    }
}

/// Draws the bag, hung over the rim.
fn bag(pen: &mut Pen, spot: &Spot, (l, r): (f64, f64)) {
    let high = spot.base - spot.rim;
    let (a, b) = (l + 4.0, r - 4.0);
    let deep = spot.base - (high * 0.07).min(14.0);
    let round = ((b - a) * 0.2).min(high * 0.25);
    let way = Way::at(l - 9.0, spot.rim + high * 0.08)
        .to(l - 7.0, spot.rim - 4.0)
        .to(a, spot.rim - 4.0)
        .to(a, deep - round)
        .bend_to(a, deep, a + round, deep)
        .to(b - round, deep)
        .bend_to(b, deep, b, deep - round)
        .to(b, spot.rim - 4.0)
        .to(r + 7.0, spot.rim - 4.0)
        .to(r + 9.0, spot.rim + high * 0.08);
    pen.dashes(&way, "l-out", "1.6 1.8");
}

/// Draws an electric element from the left wall.
fn element(pen: &mut Pen, spot: &Spot, height_mm: f64, on: bool) {
    let (x, y) = (spot.cx - spot.half, spot.inside(height_mm));
    let k = (spot.half * 2.0 / 86.0).clamp(0.1, 1.0);
    let mut way = Way::at(x, y).by(18.0 * k, 0.0);
    for _ in 0..2 {
        way = way.swing((4.0 * k, -9.0 * k), (8.0 * k, -9.0 * k), (10.0 * k, 0.0)).swing(
            (2.0 * k, 9.0 * k),
            (6.0 * k, 9.0 * k),
            (10.0 * k, 0.0),
        );
    }
    pen.path(&way.by(8.0 * k, 0.0), if on { "elem on" } else { "elem" });
    pen.rect((spot.left() - 9.0, y - 6.0), (9.0, 12.0), "l-out f-paper");
}

/// Draws the lid with a knob, or with an airlock.
fn lid(pen: &mut Pen, vessel: &VesselView, spot: &Spot) {
    let (l, r, y) = (spot.left() - 3.0, spot.right() + 3.0, spot.rim);
    pen.rect((l, y - 6.0), (r - l, 6.0), "l-out f-paper");
    if vessel.airlock {
        let x = spot.cx + spot.half * 0.34;
        let lock = Way::at(x, y - 6.0)
            .by(0.0, -8.0)
            .by(-4.0, 0.0)
            .by(0.0, -12.0)
            .by(12.0, 0.0)
            .by(0.0, 12.0)
            .by(-4.0, 0.0)
            .by(0.0, 8.0);
        pen.path(&lock, "l-out f-paper");
        pen.line((x - 3.0, y - 20.0), (x + 7.0, y - 20.0), "l-thin");
    } else {
        pen.rect((spot.cx - 9.0, y - 11.0), (18.0, 5.0), "l-out f-paper");
    }
}

/// Draws the dial thermometer with its probe; the needle shows the temperature on 0 to 110 °C.
fn thermometer(pen: &mut Pen, spot: &Spot, mm: f64, temp_c: Option<f64>) {
    let side = if spot.dial_left { -1.0 } else { 1.0 };
    let (x, y) = (spot.edge(side) + side * 17.0, spot.inside(mm));
    let reach = (spot.half * 0.6).min(30.0);
    pen.line((spot.edge(side) + side * 5.0, y), (spot.edge(side) - side * reach, y), "l-probe");
    pen.circle((x, y), 11.5, "dial");
    let at = |share: f64, r: f64| {
        let angle = (-135.0 + 270.0 * share).to_radians();
        (x + r * angle.sin(), y - r * angle.cos())
    };
    for i in 0..=6 {
        let share = f64::from(i) / 6.0;
        pen.line(at(share, 8.4), at(share, 10.4), "l-thin");
    }
    if let Some(t) = temp_c.filter(|t| t.is_finite()) {
        pen.line((x, y), at(sane(t / 110.0, 0.0, 1.0, 0.0), 8.2), "needle");
    }
    pen.circle((x, y), 1.5, "f-ink");
}
