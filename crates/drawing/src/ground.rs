//! The ground under the brewhouse: earth with its steps, or a worktop; and the scale bar.
//! It deliberately carries no vessel: stands do.

use crate::pen::{Hold, Pen, Way};
use crate::stage::{Spot, Stage};
use crate::units::{Units, length};
use crate::view::{SectionView, StandKind};

/// Thickness of a worktop as drawn, in px.
const SLAB: f64 = 8.0;

/// Draws the ground line with earth below, stepping down where a vessel stands lower.
pub(crate) fn ground(pen: &mut Pen, view: &SectionView, stage: &Stage) {
    if let Some(mm) = stage.worktop_mm {
        pen.rect((0.0, stage.ground), (stage.width, SLAB), "l-out f-paper");
        pen.line((0.0, stage.ground), (stage.width, stage.ground), "l-ground");
        let text = format!("worktop, {} above the floor", length(mm, view.units));
        pen.text((stage.width - 2.0, stage.ground + SLAB + 14.0), Hold::End, "t-dim", &text);
        return;
    }
    let mut x = 0.0;
    let mut points: Vec<(f64, f64)> = Vec::new();
    for (i, spot) in stage.spots.iter().enumerate() {
        let next = stage.spots.get(i + 1);
        let end = next.map_or(stage.width, |n| (spot.right() + n.left()) / 2.0);
        pen.hatched((x, spot.ground), (end - x, 9.0), "earth", "earth");
        points.push((x, spot.ground));
        points.push((end, spot.ground));
        x = end;
    }
    if points.is_empty() {
        pen.hatched((0.0, stage.ground), (stage.width, 9.0), "earth", "earth");
        points = vec![(0.0, stage.ground), (stage.width, stage.ground)];
    }
    // `l-out` beside `l-ground`: the way turns corners, and nothing may fill it.
    pen.path(&Way::through(&points), "l-out l-ground");
    slabs(pen, stage);
}

/// Draws the worktops that stand on the ground, one under each row of neighbours.
fn slabs(pen: &mut Pen, stage: &Stage) {
    let on_worktop = |s: &Spot| (s.kind == StandKind::Worktop).then_some(s.under + s.plate);
    let tops: Vec<Option<f64>> = stage.spots.iter().map(on_worktop).collect();
    let mut i = 0;
    while i < tops.len() {
        let Some(first) = tops[i] else {
            i += 1;
            continue;
        };
        let same = |t: &Option<f64>| t.is_some_and(|y| (y - first).abs() < 14.0);
        let run = tops[i..].iter().take_while(|t| same(t)).count().max(1);
        let top = tops[i..i + run].iter().flatten().copied().fold(first, f64::max);
        let left = stage.spots[i].left() - 14.0;
        let right = stage.spots[i + run - 1].right() + 14.0;
        let foot = stage.spots[i].ground;
        if foot - top > SLAB + 4.0 {
            pen.path(&Way::through(&[(left + 10.0, top), (left + 10.0, foot)]), "l-stand");
            pen.path(&Way::through(&[(right - 10.0, top), (right - 10.0, foot)]), "l-stand");
            pen.line((left + 10.0, foot - 12.0), (right - 10.0, foot - 12.0), "l-thin");
        }
        if foot - top > 1.0 {
            pen.rect((left, top), (right - left, SLAB.min(foot - top)), "l-out f-paper");
        }
        i += run;
    }
}

/// Draws the scale bar, right in the head band.
pub(crate) fn scale_bar(pen: &mut Pen, units: Units, stage: &Stage) {
    let (unit_mm, sign) = match units {
        Units::Metric => (1.0, "mm"),
        Units::Us => (304.8, "ft"),
    };
    let part = [0.5, 1.0, 2.0, 3.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0]
        .into_iter()
        .filter(|p| units == Units::Metric || *p < 20.0)
        .find(|p| p * unit_mm * stage.scale >= 34.0)
        .unwrap_or(5000.0);
    let step = (part * unit_mm * stage.scale).min(200.0);
    let (x, y) = (stage.width - 4.0 * step - 52.0, 26.0);
    for i in 0..4 {
        let fill = if i % 2 == 0 { "l-out f-ink" } else { "l-out f-paper" };
        pen.rect((x + f64::from(i) * step, y), (step, 5.0), fill);
    }
    for (i, hold) in [(0.0, Hold::Middle), (2.0, Hold::Middle), (4.0, Hold::Start)] {
        let mut text = crate::pen::digits(i * part, 1);
        let mut at = x + i * step;
        if hold == Hold::Start {
            text = format!("{text} {sign}");
            at -= 10.0;
        }
        pen.text((at, y - 6.0), hold, "t-dim", &text);
    }
}
