//! The section of the brewhouse: every vessel, stand and pipe from its numbers, to one scale.
//! It deliberately asks for no scale: it finds the one at which the whole fits the sheet.

use crate::dimension::{across, upright};
use crate::ground::{ground, scale_bar};
use crate::pen::{Hold, Pen, lines_of};
use crate::plumbing::plumbing;
use crate::stage::{Spot, Stage, diameter_over_rim, stage};
use crate::stand::stand;
use crate::units::{self, Units};
use crate::vessel::vessel;
use crate::view::{Contents, SectionView, VesselView};
use maud::Markup;

/// Draws the section. Any finite view gives a drawing; what cannot be drawn (a vessel of no
/// width, a link to nowhere) is drawn as small as can be, or left out.
#[must_use]
pub fn section(view: &SectionView) -> Markup {
    let stage = stage(view);
    let mut pen = Pen::new(&view.id, "s");
    ground(&mut pen, view, &stage);
    for (v, spot) in view.vessels.iter().zip(&stage.spots) {
        stand(&mut pen, v, spot);
        vessel(&mut pen, v, spot);
    }
    plumbing(&mut pen, view, &stage);
    for i in 0..stage.spots.len() {
        dimensions(&mut pen, view, &stage, i);
    }
    if !view.title.is_empty() {
        pen.text((2.0, 20.0), Hold::Start, "t-cap", &view.title);
    }
    scale_bar(&mut pen, view.units, &stage);
    let mut bottom = stage.lowest;
    for (v, spot) in view.vessels.iter().zip(&stage.spots) {
        bottom = bottom.max(captions(&mut pen, view.units, v, spot, &stage));
    }
    pen.finish("section", (stage.width, bottom + 14.0), &sentence(view))
}

/// Draws diameter and level, or all dimensions of one vessel.
fn dimensions(pen: &mut Pen, view: &SectionView, stage: &Stage, i: usize) {
    let (vessel, spot) = (&view.vessels[i], &stage.spots[i]);
    let length = |mm: f64| units::length(mm, view.units);
    let y = spot.rim - diameter_over_rim(view, i);
    let faces = (spot.cx - spot.half, spot.cx + spot.half);
    let diameter = format!("Ø {}", length(vessel.shape.inside_diameter_mm));
    across(pen, faces, y, y + 20.0, &diameter);
    let dial = if spot.dial_left && vessel.thermometer_mm.is_some() { 28.0 } else { 0.0 };
    let jacket = if vessel.insulated { 10.0 } else { 0.0 };
    let ears = 8.0;
    let edge = spot.left() - jacket;
    if view.show_dimensions {
        let x = edge - ears - 12.0 - dial;
        let height = length(vessel.shape.inside_height_mm);
        upright(pen, x, (spot.rim, spot.base), edge - 4.0, &height);
        // A stand lower than the lettering, or counted from a worktop, is said elsewhere. The
        // dimension starts where the one above it ends.
        if spot.ground - spot.under > 16.0 && stage.worktop_mm.is_none() {
            let ends = (spot.base, spot.ground);
            upright(pen, x, ends, edge - 4.0, &length(vessel.stand_mm));
        }
    } else if let Some(mm) = vessel.level_mm.filter(|_| vessel.contents != Contents::Empty) {
        let y = spot.inside(mm);
        if spot.base - y > 4.0 {
            upright(pen, edge - 17.0 - dial, (y, spot.base), edge - 3.0, &length(mm));
        }
    }
}

/// Writes name, figures and further lines below one vessel; gives where the last line ends.
fn captions(pen: &mut Pen, system: Units, vessel: &VesselView, spot: &Spot, stage: &Stage) -> f64 {
    let top = stage.lowest + if stage.worktop_mm.is_some() { 42.0 } else { 30.0 };
    let mut y = top;
    for line in lines_of(&vessel.name, spot.width) {
        pen.text((spot.cx, y), Hold::Middle, "t-cap", &line);
        y += 18.0;
    }
    if !vessel.plays.is_empty() && vessel.plays.to_lowercase() != vessel.name.to_lowercase() {
        for line in lines_of(&vessel.plays, spot.width) {
            pen.text((spot.cx, y), Hold::Middle, "t-note", &line);
            y += 17.0;
        }
    }
    y += 8.0;
    let mut figures = Vec::new();
    if vessel.contents != Contents::Empty {
        figures.extend(vessel.volume_l.map(|l| units::volume(l, system)));
        figures.extend(vessel.temp_c.map(|t| units::temperature(t, system)));
    }
    if !figures.is_empty() {
        pen.figures((spot.cx, y), &figures);
        y += 22.0;
    }
    if vessel.contents == Contents::Empty && vessel.captions.is_empty() {
        pen.text((spot.cx, y), Hold::Middle, "t-note", "empty");
        y += 17.0;
    }
    for caption in &vessel.captions {
        for line in lines_of(caption, spot.width) {
            pen.text((spot.cx, y), Hold::Middle, "t-note", &line);
            y += 17.0;
        }
    }
    y - 17.0
}

/// The drawing in one sentence: vessels, volumes, degrees.
fn sentence(view: &SectionView) -> String {
    let vessels: Vec<String> = view
        .vessels
        .iter()
        .map(|v| {
            let mut said = v.name.clone();
            if v.contents == Contents::Empty {
                return said + " empty";
            }
            if let Some(l) = v.volume_l {
                said = format!("{said} {}", units::volume_said(l, view.units));
            }
            if let Some(t) = v.temp_c.filter(|t| t.is_finite()) {
                said = format!("{said} at {:.0} degrees", units::degrees(t, view.units));
            }
            said
        })
        .collect();
    if vessels.is_empty() {
        return format!("{}. No vessels.", view.label);
    }
    format!("{}. {}.", view.label, vessels.join(", "))
}
