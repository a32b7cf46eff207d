//! Where everything stands: one scale for the whole section, and each vessel's place on the sheet.
//! It deliberately draws nothing.

use crate::pen::sane;
use crate::units::Units;
use crate::view::{Carried, Heater, Lid, SectionView, StandKind, VesselView};

/// Width of the sheet in px; wider only where many vessels need it.
const SHEET_WIDTH: f64 = 985.0;
/// Height kept for the tallest brewhouse between the head band and the ground, in px.
const TALLEST: f64 = 400.0;
/// No vessel is drawn larger than this, px per mm: a small pot stays a small drawing.
const LARGEST_SCALE: f64 = 0.75;
/// Band over the drawing for title and scale bar, in px.
const HEAD_BAND: f64 = 40.0;
/// Least distance between the middles of two vessels, so that their captions fit, in px.
const CAPTION_WIDTH: f64 = 158.0;
/// Height of a ring of a stove, and of an induction plate, over the worktop, in mm.
const HOB_MM: f64 = 30.0;
const PLATE_MM: f64 = 60.0;
/// A base at most this far from the height of a worktop stands on it, in mm.
const LEVEL_MM: f64 = 75.0;
/// A dial needs this much between its middle and the axis of the valve below it, in px.
const DIAL: f64 = 27.0;

/// One vessel's place, in px. `y` grows downwards.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Spot {
    /// Axis.
    pub(crate) cx: f64,
    /// Inside radius.
    pub(crate) half: f64,
    /// Thickness of the wall as drawn.
    pub(crate) wall: f64,
    /// Rim.
    pub(crate) rim: f64,
    /// Inside of the base.
    pub(crate) base: f64,
    /// Underside of the base: what the stand carries.
    pub(crate) under: f64,
    /// Ground beneath this vessel.
    pub(crate) ground: f64,
    /// What it stands on.
    pub(crate) kind: StandKind,
    /// Height of the stove's ring or the plate between worktop and base, in px.
    pub(crate) plate: f64,
    /// Px per mm, the same in every spot.
    pub(crate) scale: f64,
    /// The dial stands on the left, for the valve is in its way.
    pub(crate) dial_left: bool,
    /// Room for the captions below.
    pub(crate) width: f64,
}

impl Spot {
    /// Outer left edge of the wall.
    pub(crate) fn left(&self) -> f64 {
        self.cx - self.half - self.wall
    }

    /// Outer right edge of the wall.
    pub(crate) fn right(&self) -> f64 {
        self.cx + self.half + self.wall
    }

    /// Outer edge of the wall on one side: −1 left, 1 right.
    pub(crate) fn edge(&self, side: f64) -> f64 {
        self.cx + side * (self.half + self.wall)
    }

    /// Height `mm` above the inside of the base, held inside the vessel.
    pub(crate) fn inside(&self, mm: f64) -> f64 {
        self.base - sane(mm * self.scale, 0.0, self.base - self.rim, 0.0)
    }
}

/// The whole sheet.
#[derive(Clone, Debug, Default)]
pub(crate) struct Stage {
    /// Places, one per vessel.
    pub(crate) spots: Vec<Spot>,
    /// Px per mm.
    pub(crate) scale: f64,
    /// The ground line.
    pub(crate) ground: f64,
    /// Lowest ground, where a step leads down.
    pub(crate) lowest: f64,
    /// Width of the sheet.
    pub(crate) width: f64,
    /// Height of the worktop over the floor in mm, where the worktop is the ground.
    pub(crate) worktop_mm: Option<f64>,
}

/// Height of what lies between worktop and vessel, in mm.
fn plate_mm(vessel: &VesselView) -> f64 {
    match vessel.heater {
        Heater::Hob => HOB_MM,
        Heater::Induction => PLATE_MM,
        _ => 0.0,
    }
}

/// What every vessel really stands on. A stove or a plate stands on a worktop; so does a vessel
/// without a burner whose base is level with one.
fn kinds(vessels: &[VesselView], sizes: &[Millimetres]) -> Vec<StandKind> {
    let of_its_own = |v: &VesselView| match (v.heater, v.stand_kind) {
        (Heater::Hob | Heater::Induction, StandKind::Ground) => StandKind::Worktop,
        (_, kind) => kind,
    };
    let worktops: Vec<f64> = vessels
        .iter()
        .zip(sizes)
        .filter(|(v, _)| of_its_own(v) == StandKind::Worktop)
        .map(|(v, size)| size.stand - plate_mm(v))
        .collect();
    let level = |mm: f64| mm > 300.0 && worktops.iter().any(|top| (top - mm).abs() < LEVEL_MM);
    vessels
        .iter()
        .zip(sizes)
        .map(|(v, size)| {
            let fired = matches!(v.heater, Heater::Burner { .. });
            if !fired && level(size.stand) { StandKind::Worktop } else { of_its_own(v) }
        })
        .collect()
}

/// Height of what lies between worktop and base: where another vessel shows how high the worktop
/// is, what is left over it, else the usual height.
fn plates(vessels: &[VesselView], sizes: &[Millimetres], kinds: &[StandKind]) -> Vec<f64> {
    let bare = |j: &usize| plate_mm(&vessels[*j]) == 0.0 && kinds[*j] == StandKind::Worktop;
    let worktops: Vec<f64> = (0..sizes.len()).filter(bare).map(|j| sizes[j].stand).collect();
    let plate = |(v, size): (&VesselView, &Millimetres)| {
        let usual = plate_mm(v);
        let seen = |top: &&f64| usual > 0.0 && (size.stand - **top - usual).abs() < LEVEL_MM;
        let left = worktops.iter().find(seen).map(|top| size.stand - top);
        left.filter(|mm| *mm > 5.0).unwrap_or(usual)
    };
    vessels.iter().zip(sizes).map(plate).collect()
}

/// Millimetres of one vessel, held to what can be drawn.
struct Millimetres {
    radius: f64,
    wall: f64,
    height: f64,
    base: f64,
    stand: f64,
}

fn millimetres(vessel: &VesselView) -> Millimetres {
    let shape = &vessel.shape;
    Millimetres {
        radius: sane(shape.inside_diameter_mm, 1.0, 20_000.0, 1.0) / 2.0,
        wall: sane(shape.wall_mm, 0.0, 500.0, 0.0),
        height: sane(shape.inside_height_mm, 1.0, 20_000.0, 1.0),
        base: sane(shape.base_mm, 0.0, 500.0, 0.0),
        stand: sane(vessel.stand_mm, -20_000.0, 20_000.0, 0.0),
    }
}

/// Room in px that a vessel needs beside its walls, whatever the scale: left, right.
fn room_beside(view: &SectionView, i: usize, dial_left: bool) -> (f64, f64) {
    let mut left: f64 = match (view.show_dimensions, view.units) {
        (true, Units::Metric) => 52.0,
        (true, Units::Us) => 66.0,
        (false, _) => 34.0,
    };
    let mut right: f64 = 14.0;
    match (view.vessels[i].thermometer_mm, dial_left) {
        (Some(_), true) => left += 30.0,
        (Some(_), false) => right = 34.0,
        (None, _) => {}
    }
    for link in view.links.iter().filter(|l| l.from == i) {
        let room = match link.carried {
            Carried::Pump => 96.0,
            Carried::Jug => 100.0,
            Carried::Pipe | Carried::Hose => 44.0,
        };
        if link.to < i { left = left.max(room) } else { right = right.max(room) }
    }
    (left, right)
}

/// What all vessels together need, before anything has a place.
struct Measure {
    sizes: Vec<Millimetres>,
    kinds: Vec<StandKind>,
    /// Heights between worktop and base, mm.
    plates: Vec<f64>,
    /// Dials on the left.
    dials: Vec<bool>,
    /// Room beside the walls, px.
    rooms: Vec<(f64, f64)>,
    /// Height that the ground line stands for, mm.
    datum: f64,
    /// Greatest depth below the ground line, mm.
    down: f64,
    width: f64,
    scale: f64,
}

fn measure(view: &SectionView) -> Measure {
    let sizes: Vec<Millimetres> = view.vessels.iter().map(millimetres).collect();
    let kinds = kinds(&view.vessels, &sizes);
    let on_top = kinds.iter().all(|k| *k == StandKind::Worktop);
    let plates = plates(&view.vessels, &sizes, &kinds);
    let tops = sizes.iter().zip(&plates).map(|(s, plate)| s.stand - plate);
    let datum = if on_top { tops.fold(f64::INFINITY, f64::min) } else { 0.0 };
    let up = sizes.iter().map(|s| s.stand + s.base + s.height - datum).fold(1.0, f64::max);
    let down = sizes.iter().map(|s| (datum - s.stand).max(0.0)).fold(0.0, f64::max);
    let across: f64 = sizes.iter().map(|s| 2.0 * (s.radius + s.wall)).sum();
    let count = sizes.len();
    let fit = |dials: &[bool]| {
        let rooms: Vec<_> = (0..count).map(|i| room_beside(view, i, dials[i])).collect();
        let beside: f64 = rooms.iter().map(|r| r.0 + r.1).sum::<f64>() + 20.0;
        let width = SHEET_WIDTH.max(beside + across * 0.1).max(count as f64 * CAPTION_WIDTH);
        let width = width.min(20_000.0);
        let scale = ((width - beside).max(20.0) / across)
            .min(TALLEST / (up + down))
            .clamp(1e-4, LARGEST_SCALE);
        (rooms, width, scale)
    };
    // Where dials stand depends on the scale, and the scale a little on the dials: twice is enough.
    let guess = fit(&vec![false; count]).2;
    let dials: Vec<bool> = view
        .vessels
        .iter()
        .map(|v| match (v.thermometer_mm, v.valve) {
            (Some(t), Some(valve)) => (t - valve.height_mm).abs() * guess < DIAL,
            _ => false,
        })
        .collect();
    let (rooms, width, scale) = fit(&dials);
    Measure { sizes, kinds, plates, dials, rooms, datum, down, width, scale }
}

/// Finds the scale and places every vessel.
pub(crate) fn stage(view: &SectionView) -> Stage {
    if view.vessels.is_empty() {
        return Stage {
            scale: 0.3,
            ground: HEAD_BAND + 80.0,
            lowest: HEAD_BAND + 80.0,
            width: SHEET_WIDTH,
            ..Stage::default()
        };
    }
    let measure = measure(view);
    let on_top = measure.kinds.iter().all(|k| *k == StandKind::Worktop);
    let worktop_mm = (on_top && measure.datum > 100.0).then_some(measure.datum);
    let (scale, width) = (measure.scale, measure.width);
    let mut stage = Stage { scale, width, worktop_mm, ..Stage::default() };
    for _ in 0..12 {
        let tops = measure.sizes.iter().enumerate().map(|(i, s)| {
            (s.stand + s.base + s.height - measure.datum) * stage.scale + over_rim(view, i)
        });
        stage.ground = HEAD_BAND + tops.fold(20.0, f64::max);
        stage.lowest = stage.ground + measure.down * stage.scale;
        let (spots, used) = place(&measure, &stage);
        stage.spots = spots;
        if used <= stage.width {
            break;
        }
        // The captions of narrow vessels took more than was left: a little smaller, then wider.
        stage.scale *= 0.96;
        stage.width = stage.width.max(used.min(stage.width * 1.01));
    }
    spread(&mut stage);
    stage
}

/// Height of the diameter's dimension line over the rim, clear of lid, bag and hose, in px.
pub(crate) fn diameter_over_rim(view: &SectionView, i: usize) -> f64 {
    let v = &view.vessels[i];
    let covered = v.lid == Lid::On || v.airlock || v.bag;
    let hose = view.links.iter().any(|l| l.to == i && l.carried == Carried::Pump);
    if covered || hose { 42.0 } else { 26.0 }
}

/// Room needed over a rim, in px.
fn over_rim(view: &SectionView, i: usize) -> f64 {
    let jug = view.links.iter().any(|l| l.from == i && l.carried == Carried::Jug);
    diameter_over_rim(view, i) + if jug { 34.0 } else { 18.0 }
}

/// Sets the vessels side by side; gives their places and the width used.
fn place(measure: &Measure, stage: &Stage) -> (Vec<Spot>, f64) {
    let scale = stage.scale;
    let mut spots: Vec<Spot> = Vec::with_capacity(measure.sizes.len());
    let mut x = 10.0;
    for (i, (size, room)) in measure.sizes.iter().zip(&measure.rooms).enumerate() {
        let outer = (size.radius + size.wall) * scale;
        let least = spots.last().map_or(CAPTION_WIDTH / 2.0, |s| s.cx + CAPTION_WIDTH);
        let cx = (x + room.0 + outer).max(least);
        x = cx + outer + room.1;
        let under = stage.ground - (size.stand - measure.datum) * scale;
        let base = under - (size.base * scale).max(1.5);
        spots.push(Spot {
            cx,
            half: size.radius * scale,
            wall: size.wall * scale,
            rim: base - size.height * scale,
            base,
            under,
            ground: if size.stand < measure.datum { under } else { stage.ground },
            kind: measure.kinds[i],
            plate: measure.plates[i] * scale,
            scale,
            dial_left: measure.dials[i],
            width: CAPTION_WIDTH,
        });
    }
    let used = x.max(spots_end(&spots)) + 10.0;
    (spots, used)
}

/// Right end of the last caption.
fn spots_end(spots: &[Spot]) -> f64 {
    spots.last().map_or(0.0, |s| s.cx + CAPTION_WIDTH / 2.0 - 10.0)
}

/// Shares what is left of the width between the vessels, and measures their captions.
fn spread(stage: &mut Stage) {
    let (width, spots) = (stage.width, &mut stage.spots);
    let last_right = spots.last().map_or(0.0, |s| s.right() + 44.0);
    let used = last_right.max(spots_end(spots) + 10.0);
    let spare = (width - used).max(0.0);
    let between = (spare / spots.len() as f64).min(70.0);
    let edge = (spare - between * (spots.len() as f64 - 1.0)) / 2.0;
    for (i, spot) in spots.iter_mut().enumerate() {
        spot.cx += edge + between * i as f64;
    }
    for i in 0..spots.len() {
        let before = if i > 0 { spots[i].cx - spots[i - 1].cx } else { 2.0 * spots[i].cx };
        let after = spots.get(i + 1).map_or(2.0 * (width - spots[i].cx), |s| s.cx - spots[i].cx);
        spots[i].width = (before.min(after).min(240.0) - 12.0).max(120.0);
    }
}
