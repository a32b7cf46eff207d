//! SVG from plain views: section, lanes, dipstick, curves; pure functions.
//!
//! A drawing gives class names and geometry; the style sheet of the page gives colours, fonts and
//! line weights. It deliberately knows no store, no web, and computes no number of the process.

mod curve;
mod dimension;
mod dipstick;
mod gate;
mod ground;
mod lanes;
mod pen;
mod plumbing;
mod scale;
mod section;
mod stage;
mod stand;
mod units;
mod vessel;
mod view;

pub use curve::{CurveView, curve};
pub use dipstick::{DipstickView, ScaleMark, check_line, dipstick, scale_strip};
pub use gate::{GateView, gate};
pub use lanes::{FillView, LaneView, LanesView, MarkView, PourView, SpanView, falling_line, lanes};
pub use section::section;
pub use units::{Clock, Units};
pub use view::{
    BaseView, Carried, Contents, Heater, Lid, LinkView, SectionView, ShapeView, StandKind,
    Substance, ValveView, VesselView,
};
