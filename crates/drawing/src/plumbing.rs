//! What lies between the vessels: valves, pipes, hoses, pumps, sprinklers, the jug.
//! It deliberately judges nothing: a pipe that runs uphill is drawn uphill.

use crate::pen::{Hold, Pen, Way};
use crate::stage::{Spot, Stage};
use crate::view::{Carried, LinkView, SectionView, StandKind, Substance, ValveView};

/// One link with the places of its two ends.
struct Run<'a> {
    link: &'a LinkView,
    valve: Option<ValveView>,
    from: Spot,
    to: Spot,
    /// Surface in the vessel reached, or its base.
    surface: f64,
    /// Highest rim on the way, the vessel reached among them.
    clear: f64,
    /// 1 to the right, −1 to the left.
    side: f64,
}

impl Run<'_> {
    fn kind(&self) -> &'static str {
        if self.link.substance == Substance::Water { "k-water" } else { "k-wort" }
    }

    /// Where the liquid leaves: the axis of the valve at the wall, or the rim without one.
    fn outlet(&self) -> (f64, f64) {
        match self.valve {
            Some(v) => (self.from.edge(self.side), self.from.inside(v.height_mm)),
            None => (self.from.cx + self.side * self.from.half * 0.6, self.from.rim - 14.0),
        }
    }
}

/// Draws every valve and every link whose two ends are there.
pub(crate) fn plumbing(pen: &mut Pen, view: &SectionView, stage: &Stage) {
    let reach = |i: usize| view.vessels.get(i).zip(stage.spots.get(i));
    let mut pumped: Vec<(usize, f64)> = Vec::new();
    for link in &view.links {
        let (Some((from_view, from)), Some((to_view, to))) = (reach(link.from), reach(link.to))
        else {
            continue;
        };
        let side = if link.to < link.from { -1.0 } else { 1.0 };
        let level = to_view.level_mm.unwrap_or(0.0);
        let surface = to.inside(level);
        let between = link.from.min(link.to) + 1..link.from.max(link.to);
        let clear =
            stage.spots.get(between).unwrap_or(&[]).iter().fold(to.rim, |y, s| y.min(s.rim));
        let (valve, from, to) = (from_view.valve, *from, *to);
        let run = Run { link, valve, from, to, surface, clear, side };
        match link.carried {
            Carried::Pipe => pipe_run(pen, &run),
            Carried::Hose => hose_run(pen, &run),
            Carried::Pump => {
                let shared = pumped.iter().find(|(i, _)| *i == link.from).map(|(_, x)| *x);
                let riser = pump_run(pen, &run, shared);
                pumped.push((link.from, riser));
            }
            Carried::Jug => jug_run(pen, &run),
        }
    }
    for (i, (vessel, spot)) in view.vessels.iter().zip(&stage.spots).enumerate() {
        let Some(v) = vessel.valve else { continue };
        let mut leaving = view.links.iter().filter(|l| l.from == i && l.to < view.vessels.len());
        let side = match leaving.next() {
            None => {
                let y = spot.inside(v.height_mm);
                pipe(pen, &[(spot.right(), y), (spot.right() + 22.0, y)], None);
                1.0
            }
            Some(first) if first.to < i && leaving.all(|l| l.to < i) => -1.0,
            Some(_) => 1.0,
        };
        valve(pen, (spot.edge(side) + side * 20.0, spot.inside(v.height_mm)), v.open);
    }
}

/// Draws a pipe through points, with what runs in it.
fn pipe(pen: &mut Pen, points: &[(f64, f64)], flow: Option<&str>) {
    tube(pen, &Way::through(points), flow);
}

/// Draws a pipe or hose along a way, with what runs in it.
fn tube(pen: &mut Pen, way: &Way, flow: Option<&str>) {
    pen.path(way, "pipe-o");
    pen.path(way, "pipe-i");
    if let Some(kind) = flow {
        pen.path(way, &format!("pipe-f {kind}"));
    }
}

/// Draws a valve on a level pipe: lever along it open, across it shut.
fn valve(pen: &mut Pen, (x, y): (f64, f64), open: bool) {
    let body = Way::at(x - 7.0, y - 5.0).by(0.0, 10.0).by(14.0, -10.0).by(0.0, 10.0).close();
    pen.path(&body, "valve");
    let lever = Way::at(x, y).by(0.0, -8.0);
    let lever =
        if open { lever.by(10.0, 0.0) } else { lever.and_at(x - 5.0, y - 8.0).by(10.0, 0.0) };
    pen.path(&lever, "l-out");
}

/// Where a pipe ends in the vessel it reaches: under the rim, or at the sprinkler.
fn mouth(run: &Run<'_>) -> (f64, f64) {
    let high = run.to.base - run.to.rim;
    let x = run.to.cx - if run.link.sprinkler { 0.0 } else { run.side * run.to.half * 0.45 };
    (x, run.to.rim + high * if run.link.sprinkler { 0.14 } else { 0.2 })
}

/// Draws the sprinkler at the end of a pipe.
fn sprinkler(pen: &mut Pen, run: &Run<'_>, (x, y): (f64, f64)) {
    let half = (run.to.half * 0.48).clamp(4.0, 40.0);
    pen.rect((x - half, y), (half * 2.0, 4.0), "l-out f-paper");
    for i in -5..=5 {
        let at = x + f64::from(i) * half / 5.5;
        if run.link.flowing && run.surface > y + 12.0 {
            let class = format!("drip {}", run.kind());
            let end = x + f64::from(i) * half / 4.7;
            pen.line((at, y + 7.0), (end, run.surface - 3.0), &class);
        } else {
            pen.circle((at, y + 6.0), 0.9, "f-ink");
        }
    }
}

/// Draws a word beside a link.
fn word(pen: &mut Pen, link: &LinkView, (x, y): (f64, f64)) {
    let Some(label) = &link.label else { return };
    for (i, line) in crate::pen::lines_of(label, 130.0).iter().enumerate() {
        pen.text((x, y + 15.0 * i as f64), Hold::Start, "t-dim halo", line);
    }
}

/// Draws a rigid pipe by gravity: level from the valve, then down into the vessel.
fn pipe_run(pen: &mut Pen, run: &Run<'_>) {
    let (x0, y0) = run.outlet();
    let (x1, y1) = mouth(run);
    let flow = run.link.flowing.then(|| run.kind());
    let over = y0.min(run.to.rim - 12.0);
    let points = if over < y0 {
        let bend = x0 + run.side * 38.0;
        vec![(x0, y0), (bend, y0), (bend, over), (x1, over), (x1, y1)]
    } else {
        vec![(x0, y0), (x1, y0), (x1, y1)]
    };
    pipe(pen, &points, flow);
    if run.link.sprinkler {
        sprinkler(pen, run, (x1, y1));
    }
    word(pen, run.link, (x0 + run.side * 34.0, over - 10.0));
}

/// Draws a hose by gravity; one that waits is a phantom.
fn hose_run(pen: &mut Pen, run: &Run<'_>) {
    let (x0, y0) = run.outlet();
    let (x1, y1) = mouth(run);
    let start = if run.valve.is_some() { x0 + run.side * 30.0 } else { x0 };
    let over = run.clear - 10.0;
    if run.valve.is_none() {
        // Lifted out over the rim: from deep inside, over, and down.
        let deep = run.from.base - (run.from.base - run.from.rim) * 0.12;
        let points = [(x0, deep), (x0, y0), (x1, y0.min(over)), (x1, y1)];
        lay(pen, run, &Way::through(&points));
    } else {
        pipe(pen, &[(x0, y0), (start, y0)], run.link.flowing.then(|| run.kind()));
        // It hangs: level from the valve, upright into the vessel; lifted where that is higher.
        let bend = y0.min(over) - (y0 - over).max(0.0);
        lay(pen, run, &Way::at(start, y0).bend_to(x1, bend, x1, y1));
    }
    if run.link.sprinkler {
        sprinkler(pen, run, (x1, y1));
    }
    word(pen, run.link, (start + run.side * 12.0, y0.min(over) - 14.0));
}

/// Lays a hose: filled when it runs, a phantom when it waits.
fn lay(pen: &mut Pen, run: &Run<'_>, way: &Way) {
    if run.link.flowing {
        tube(pen, way, Some(run.kind()));
    } else {
        pen.path(way, "l-phantom");
    }
}

/// Draws suction, pump, riser and the hose over the rim; a second link of the same pump is a
/// phantom branch from the riser. Gives the riser's place.
fn pump_run(pen: &mut Pen, run: &Run<'_>, shared: Option<f64>) -> f64 {
    let (x0, y0) = run.outlet();
    let back = run.link.from == run.link.to;
    let over = run.clear - 17.0;
    let deep = run.to.base - (run.to.base - run.to.rim) * 0.14;
    let x1 = if back {
        run.to.cx + run.side * run.to.half * 0.55
    } else {
        run.to.cx - run.side * run.to.half * 0.45
    };
    let end = if back || run.link.sprinkler { mouth(run).1 } else { deep };
    let x1 = if run.link.sprinkler { run.to.cx } else { x1 };
    if let Some(riser) = shared {
        let branch = [(riser, over - 5.0), (x1, over - 5.0), (x1, end)];
        lay(pen, run, &Way::through(&branch));
        word(pen, run.link, (riser.min(x1) + 8.0, over - 2.0));
        return riser;
    }
    let down = x0 + run.side * 40.0;
    let riser = down + run.side * 46.0;
    let y = run.from.ground - 25.0_f64.min((run.from.ground - y0).max(14.0));
    let points =
        [(x0, y0), (down, y0), (down, y), (riser, y), (riser, over), (x1, over), (x1, end)];
    pipe(pen, &points, run.link.flowing.then(|| run.kind()));
    if run.link.sprinkler {
        sprinkler(pen, run, (x1, end));
    }
    let (cx, s) = ((down + riser) / 2.0, run.side);
    pen.circle((cx, y), 13.0, "l-out f-paper");
    let wing = Way::at(cx - 6.0 * s, y - 9.5).to(cx + 12.0 * s, y).to(cx - 6.0 * s, y + 9.5);
    pen.path(&wing.close(), if run.link.flowing { "f-ink" } else { "l-out" });
    if run.from.ground - y > 20.0 {
        let foot = Way::at(cx - 13.0, run.from.ground).by(4.0, -12.0).by(18.0, 0.0).by(4.0, 12.0);
        pen.path(&foot, "l-out");
    }
    throttle(pen, (riser, (y + over) / 2.0), run.link.flowing);
    word(pen, run.link, (riser + 8.0, over - 8.0));
    riser
}

/// Draws a valve on an upright pipe: lever aslant while it throttles, across the pipe shut.
fn throttle(pen: &mut Pen, (x, y): (f64, f64), flowing: bool) {
    let body = Way::at(x - 5.0, y - 7.0).by(10.0, 0.0).by(-10.0, 14.0).by(10.0, 0.0).close();
    pen.path(&body, "valve");
    let lever = Way::at(x, y).by(8.0, 0.0);
    let lever =
        if flowing { lever.by(8.0, -8.0) } else { lever.and_at(x + 8.0, y - 5.0).by(0.0, 10.0) };
    pen.path(&lever, "l-out");
}

/// Draws the jug under the valve, and the arrow along which it is carried.
fn jug_run(pen: &mut Pen, run: &Run<'_>) {
    let (x0, y0) = run.outlet();
    let s = run.side;
    let spout = if run.valve.is_some() { x0 + s * 38.0 } else { run.from.edge(s) + s * 34.0 };
    let mut y = y0;
    if run.valve.is_some() {
        let points = [(x0, y0), (spout, y0), (spout, y0 + 10.0)];
        pipe(pen, &points, run.link.flowing.then(|| run.kind()));
        y = y0 + 10.0;
    }
    let top = (y + 30.0).min(run.from.ground - 36.0).max(y + 4.0);
    let jug = Way::at(spout - 17.0, top).by(34.0, 0.0).by(-3.0, 32.0).by(-28.0, 0.0).close();
    if run.link.flowing {
        let fill =
            Way::at(spout - 15.5, top + 15.0).by(31.0, 0.0).by(-1.6, 17.0).by(-28.0, 0.0).close();
        let wash = if run.link.substance == Substance::Water { "w-water" } else { "w-wort" };
        pen.path(&fill, wash);
        pen.line((spout, y), (spout, top + 15.0), &format!("drip {}", run.kind()));
    }
    pen.path(&jug, "l-out");
    let handle = Way::at(spout + s * 17.0, top + 6.0).bend(s * 12.0, 2.0, s * 10.0, 13.0);
    pen.path(&handle.bend(s * -2.0, 7.0, s * -12.0, 8.0), "l-out");
    let foot = top + 32.0;
    if run.from.ground - foot > 8.0 && run.from.kind != StandKind::Worktop && run.valve.is_some() {
        pen.line((spout - 24.0, foot), (spout + 24.0, foot), "l-thin");
        for x in [spout - 20.0, spout + 20.0] {
            pen.line((x, foot), (x, run.from.ground), "l-thin");
        }
    }
    let (x1, y1) = (run.to.cx + s * run.to.half * 0.5, run.to.rim - 12.0);
    let carry = if run.link.from == run.link.to {
        Way::at(spout + s * 26.0, top + 4.0).bend_to(spout + s * 46.0, y1 - 20.0, x1, y1)
    } else {
        let high = run.clear.min(top) - 70.0;
        Way::at(spout + s * 4.0, top - 6.0).bend_to((spout + x1) / 2.0, high, x1, y1)
    };
    pen.pointing(&carry, "l-dim");
    word(pen, run.link, (spout + 14.0, y1 - 22.0));
}
