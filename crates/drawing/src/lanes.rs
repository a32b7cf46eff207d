//! The lanes of the day: per vessel a lane with its volume, temperature, spans and marks, and
//! what is poured from lane to lane. It deliberately knows no plan: it draws series of numbers.

use crate::pen::{Hold, Pen, Way, digits, lines_of, sane};
use crate::scale::{Scale, bounds, runs, ticks, value_at};
use crate::units::{Clock, Units, celsius, degree_sign, degrees, litres_per_gallon};
use crate::view::Substance;
use maud::Markup;

/// Left and right end of the time axis, in px.
const LEFT: f64 = 116.0;
const RIGHT: f64 = 930.0;
/// Width of the whole drawing; it scrolls on a phone and is never drawn narrower than 880 px.
const WIDTH: f64 = 984.0;
/// Height of the band with the clock times.
const HEAD: f64 = 32.0;
/// Height of a full lane, and of the band over it for what is poured, rests, and marks.
const FULL: f64 = 78.0;
const OVER: f64 = 52.0;
/// Height of the band of marks, which a lane without marks saves.
const MARKS: f64 = 18.0;
/// Falling lines stand at least this far apart, in px.
const CLOSEST: f64 = 0.55;
/// Never more falling lines than this in one pour.
const MOST_LINES: f64 = 200.0;

/// A stretch of time with a word: a rest, the boil.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SpanView {
    /// Begin, in minutes of the drawing.
    pub from_min: f64,
    /// End, in minutes of the drawing.
    pub to_min: f64,
    /// What it says: "63°, 35 min".
    pub label: String,
}

/// A moment with a word: a hop addition, pitching.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MarkView {
    /// When, in minutes of the drawing.
    pub t_min: f64,
    /// What it says: "22 g".
    pub label: String,
}

/// One substance in a vessel over a stretch of time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FillView {
    /// What it is.
    pub substance: Substance,
    /// Volume in litres over minutes.
    pub volume_l: Vec<(f64, f64)>,
}

/// One vessel over the day.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LaneView {
    /// Name of the vessel.
    pub name: String,
    /// A word below the name.
    pub caption: String,
    /// Volume at which the lane is full, in litres.
    pub capacity_l: f64,
    /// What stands in it over the day, one entry per substance.
    pub fills: Vec<FillView>,
    /// Temperature in °C over minutes; a value that is not finite is a gap.
    pub temp_c: Vec<(f64, f64)>,
    /// Lower and upper end of the temperature axis in °C; found from the line when left out.
    pub axis_c: Option<(f64, f64)>,
    /// Rests, boil.
    pub spans: Vec<SpanView>,
    /// Hop additions and other moments.
    pub marks: Vec<MarkView>,
}

/// Liquid going from one lane down to another, one falling line per litre or gallon.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PourView {
    /// Index of the lane it leaves.
    pub from_lane: usize,
    /// Index of the lane it reaches.
    pub to_lane: usize,
    /// Begin in minutes.
    pub start_min: f64,
    /// End in minutes.
    pub end_min: f64,
    /// How much, in litres.
    pub litres: f64,
    /// What is written beside it: "15.0 L".
    pub label: String,
    /// What it is.
    pub substance: Substance,
}

/// The lanes of one day, all of it expected (pencil).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LanesView {
    /// Start of every id in the drawing; letters only.
    pub id: String,
    /// Sentence for those who don't see the drawing.
    pub label: String,
    /// A word in the upper left corner: the weekday.
    pub corner: String,
    /// Clock time of minute 0, in minutes after midnight.
    pub start_clock_min: f64,
    /// First minute drawn.
    pub from_min: f64,
    /// Last minute drawn.
    pub to_min: f64,
    /// Lanes from top to bottom.
    pub lanes: Vec<LaneView>,
    /// What goes between them.
    pub pours: Vec<PourView>,
    /// A flag on the time axis.
    pub flag: Option<MarkView>,
    /// How clock times are written.
    pub clock: Clock,
    /// Units of the axes and of the falling lines.
    pub units: Units,
}

/// Where the lanes stand.
struct Plan<'a> {
    view: &'a LanesView,
    time: Scale,
    /// Per lane: the ground it stands on, and the top of a full one.
    ground: Vec<f64>,
    bottom: f64,
    /// Litres that one falling line stands for.
    each_l: f64,
}

impl Plan<'_> {
    fn top(&self, i: usize) -> f64 {
        self.ground[i] - FULL
    }

    /// Height of a volume in a lane.
    fn level(&self, i: usize, litres: f64) -> f64 {
        let full = sane(self.view.lanes[i].capacity_l, 1e-3, 1e7, 1.0);
        Scale::new((0.0, full), (self.ground[i], self.top(i))).at(litres)
    }

    /// Volume in a lane at a time.
    fn standing(&self, i: usize, t_min: f64) -> f64 {
        let fills = &self.view.lanes[i].fills;
        fills.iter().filter_map(|f| value_at(&f.volume_l, t_min)).fold(0.0, f64::max)
    }
}

/// Draws the lanes, all in the pencil voice: nothing has happened yet.
#[must_use]
pub fn lanes(view: &LanesView) -> Markup {
    let plan = plan(view);
    let mut pen = Pen::new(&view.id, "n");
    clock_axis(&mut pen, &plan);
    for pour in &view.pours {
        wash(&mut pen, &plan, pour);
    }
    for i in 0..view.lanes.len() {
        volume(&mut pen, &plan, i);
    }
    for pour in &view.pours {
        pour_word(&mut pen, &plan, pour);
    }
    for i in 0..view.lanes.len() {
        temperature(&mut pen, &plan, i);
        names(&mut pen, &plan, i);
        spans(&mut pen, &plan, i);
        marks(&mut pen, &plan, i);
    }
    if !view.corner.is_empty() {
        pen.text((0.0, 20.0), Hold::Start, "t-note", &view.corner);
    }
    if let Some(flag) = &view.flag {
        flag_at(&mut pen, &plan, flag);
    }
    let said = if view.lanes.is_empty() { "No lanes" } else { &view.label };
    let sentence = if view.label.is_empty() { said } else { &view.label };
    pen.finish("lanes", (WIDTH, plan.bottom + 10.0), sentence)
}

/// Finds the time scale and stacks the lanes.
fn plan(view: &LanesView) -> Plan<'_> {
    let from = sane(view.from_min, -1e6, 1e6, 0.0);
    let to = sane(view.to_min, from + 1.0, from + 1e5, from + 60.0);
    let mut y = HEAD;
    let ground = view
        .lanes
        .iter()
        .map(|lane| {
            let marked = if lane.marks.is_empty() { 0.0 } else { MARKS };
            y += OVER + marked + FULL;
            y
        })
        .collect();
    let time = Scale::new((from, to), (LEFT, RIGHT));
    Plan { view, time, ground, bottom: y.max(HEAD + 20.0), each_l: falling(view, &time).0 }
}

/// What one falling line stands for, in litres and in words: the smallest of a few measures at
/// which the lines of every pour stand apart, the same in the whole drawing.
fn falling(view: &LanesView, time: &Scale) -> (f64, &'static str) {
    let measures = match view.units {
        Units::Metric => [(1.0, "one litre"), (5.0, "five litres"), (10.0, "ten litres")],
        Units::Us => [
            (litres_per_gallon() / 4.0, "one quart"),
            (litres_per_gallon(), "one gallon"),
            (litres_per_gallon() * 10.0, "ten gallons"),
        ],
    };
    let apart = |each: f64| {
        view.pours.iter().all(|p| {
            let wide = (time.at(p.end_min) - time.at(p.start_min)).max(2.0);
            sane(p.litres, 0.0, 1e7, 0.0) / each <= (wide / CLOSEST).clamp(4.0, MOST_LINES)
        })
    };
    measures.into_iter().find(|m| apart(m.0)).unwrap_or(measures[2])
}

/// What one falling line stands for, for the sentence beside the drawing: "one litre".
#[must_use]
pub fn falling_line(view: &LanesView) -> &'static str {
    falling(view, &plan(view).time).1
}

/// Draws full and half hours with their clock times.
fn clock_axis(pen: &mut Pen, plan: &Plan<'_>) {
    let view = plan.view;
    let start = sane(view.start_clock_min, -1e6, 1e6, 0.0);
    let from = sane(view.from_min, -1e6, 1e6, 0.0);
    let to = sane(view.to_min, from + 1.0, from + 1e5, from + 60.0);
    let step = [30.0, 60.0, 120.0, 240.0, 720.0, 1440.0]
        .into_iter()
        .find(|s| (to - from) / s <= 30.0)
        .unwrap_or((to - from) / 20.0);
    let flag = view.flag.as_ref().map(|f| plan.time.at(f.t_min));
    let mut clock = ((start + from) / step).ceil() * step;
    while clock - start <= to {
        let x = plan.time.at(clock - start);
        let hour = clock.rem_euclid((2.0 * step).max(60.0)).abs() < 0.5;
        let top = if hour { HEAD - 4.0 } else { HEAD };
        pen.line((x, top), (x, plan.bottom), if hour { "grid" } else { "gridm" });
        if hour && flag.is_none_or(|f| (f - x).abs() > 58.0) {
            pen.text((x, 20.0), Hold::Middle, "t-pm", &view.clock.hour(clock));
        }
        clock += step;
    }
}

/// Draws what falls from one lane to another: a wash, and one line per litre or gallon.
fn wash(pen: &mut Pen, plan: &Plan<'_>, pour: &PourView) {
    let count = plan.view.lanes.len();
    if pour.from_lane >= count || pour.to_lane >= count {
        return;
    }
    let kind = kind(pour.substance);
    let (a, b) = (plan.time.at(pour.start_min), plan.time.at(pour.end_min));
    let b = b.max(a + 2.0);
    let top = plan.ground[pour.from_lane];
    let depth = |x: f64| {
        let span = (pour.end_min - pour.start_min).max(1e-9);
        let t = pour.start_min + span * (x - a) / (b - a);
        plan.level(pour.to_lane, plan.standing(pour.to_lane, t)).max(top)
    };
    let mut way = Way::at(a, top);
    for i in 0..=24 {
        let x = a + (b - a) * f64::from(i) / 24.0;
        way = way.to(x, depth(x));
    }
    pen.path(&way.to(b, top).close(), &format!("pourwash {kind}"));
    let lines = (sane(pour.litres, 0.0, 1e7, 0.0) / plan.each_l).round();
    let lines = lines.min(MOST_LINES);
    for i in 0..lines as usize {
        let x = a + (b - a) * (i as f64 + 0.5) / lines;
        pen.line((x, top + 1.0), (x, depth(x)), &format!("pour {kind} exp"));
    }
}

/// Writes how much falls, right of it.
fn pour_word(pen: &mut Pen, plan: &Plan<'_>, pour: &PourView) {
    let count = plan.view.lanes.len();
    if pour.from_lane >= count || pour.to_lane >= count || pour.label.is_empty() {
        return;
    }
    let x = plan.time.at(pour.end_min) + 6.0;
    let y = plan.ground[pour.from_lane] + 16.0;
    let (x, hold) = if x > RIGHT - 50.0 {
        (plan.time.at(pour.start_min) - 6.0, Hold::End)
    } else {
        (x, Hold::Start)
    };
    pen.text((x, y), hold, "t-dim halo", &pour.label);
}

fn kind(substance: Substance) -> &'static str {
    if substance == Substance::Water { "water" } else { "wort" }
}

/// Draws the volumes of one lane and its ground.
fn volume(pen: &mut Pen, plan: &Plan<'_>, i: usize) {
    let ground = plan.ground[i];
    for fill in &plan.view.lanes[i].fills {
        for run in runs(&fill.volume_l) {
            let mut points = vec![(plan.time.at(run[0].0), ground)];
            points.extend(run.iter().map(|&(t, l)| (plan.time.at(t), plan.level(i, l))));
            points.push((plan.time.at(run[run.len() - 1].0), ground));
            let class = format!("vol {} exp", kind(fill.substance));
            pen.path(&Way::through(&points).close(), &class);
        }
    }
    pen.line((LEFT, ground), (RIGHT, ground), "base");
}

/// Draws the temperature line of one lane with its axis on the right.
fn temperature(pen: &mut Pen, plan: &Plan<'_>, i: usize) {
    let (lane, units) = (&plan.view.lanes[i], plan.view.units);
    if runs(&lane.temp_c).next().is_none() {
        return;
    }
    let own = || {
        let (low, high) = bounds(lane.temp_c.iter().map(|p| p.1), 6.0);
        let room = (high - low) * 0.06;
        (low - room, high + room)
    };
    let (low, high) = match lane.axis_c {
        Some((l, h)) if l.is_finite() && h.is_finite() && h > l => (l, h),
        _ => own(),
    };
    let up = Scale::new((low, high), (plan.ground[i] - 3.0, plan.top(i)));
    let values = ticks(degrees(low, units), degrees(high, units), 4.0);
    for (k, tick) in values.iter().enumerate() {
        let y = up.at(celsius(*tick, units));
        pen.line((RIGHT, y), (RIGHT + 5.0, y), "l-thin");
        let mut text = digits(*tick, 0);
        if k + 1 == values.len() {
            text = format!("{text} {}", degree_sign(units));
        }
        pen.text((RIGHT + 9.0, y + 4.0), Hold::Start, "t-dim", &text);
    }
    for run in runs(&lane.temp_c) {
        let points: Vec<_> = run.iter().map(|&(t, c)| (plan.time.at(t), up.at(c))).collect();
        pen.path(&Way::through(&points), "temp exp");
    }
}

/// Writes the name and its caption at the foot of one lane.
fn names(pen: &mut Pen, plan: &Plan<'_>, i: usize) {
    let lane = &plan.view.lanes[i];
    let mut lines: Vec<(String, &str)> =
        lines_of(&lane.name, LEFT - 14.0).into_iter().map(|l| (l, "t-cap")).collect();
    lines.extend(lines_of(&lane.caption, LEFT - 10.0).into_iter().map(|l| (l, "t-pm")));
    let mut y = plan.ground[i] - 11.0 - 18.0 * (lines.len().max(1) as f64 - 1.0);
    for (line, class) in lines {
        pen.text((0.0, y), Hold::Start, class, &line);
        y += 18.0;
    }
}

/// Draws rests and boil as dimension lines over one lane.
fn spans(pen: &mut Pen, plan: &Plan<'_>, i: usize) {
    let mut free = f64::NEG_INFINITY;
    let mut raised = false;
    for span in &plan.view.lanes[i].spans {
        let (a, b) = (plan.time.at(span.from_min), plan.time.at(span.to_min));
        let y = plan.top(i) - 13.0 - if plan.view.lanes[i].marks.is_empty() { 0.0 } else { MARKS };
        pen.line((a, y - 6.0), (a, y + 9.0), "l-ext");
        pen.line((b, y - 6.0), (b, y + 9.0), "l-ext");
        if b - a > 22.0 {
            pen.arrow((a, y), (b, y));
        } else {
            pen.line((a, y), (b, y), "l-dim");
        }
        let half = span.label.chars().count() as f64 * 3.7;
        let middle = ((a + b) / 2.0).clamp(LEFT + half.min(400.0), RIGHT - half.min(400.0));
        raised = middle - half < free && !raised;
        let text_y = y - if raised { 20.0 } else { 5.0 };
        pen.text((middle, text_y), Hold::Middle, "t-dim halo", &span.label);
        free = middle + half + 5.0;
    }
}

/// Draws hop additions and other moments over one lane.
fn marks(pen: &mut Pen, plan: &Plan<'_>, i: usize) {
    let y = plan.top(i) - 8.0;
    let mut free = f64::NEG_INFINITY;
    for (k, mark) in plan.view.lanes[i].marks.iter().enumerate() {
        let x = plan.time.at(mark.t_min);
        pen.path(&Way::at(x, y + 4.0).by(-4.5, -8.0).by(9.0, 0.0).close(), "f-ink");
        let wide = mark.label.chars().count() as f64 * 7.4 + 8.0;
        let next = plan.view.lanes[i].marks.get(k + 1).map_or(RIGHT, |m| plan.time.at(m.t_min));
        // Right of the mark where there is room, else left of it, else over it.
        let (at, hold, up) = if x >= free && x + 7.0 + wide <= next.max(x + 7.0) {
            (x + 7.0, Hold::Start, 0.0)
        } else if x - 7.0 - wide >= free.max(LEFT) {
            (x - 7.0, Hold::End, 0.0)
        } else {
            // Neither side is free: beside the mark and over the row, clear of the triangles.
            (x + 7.0, Hold::Start, 13.0)
        };
        pen.text((at, y + 4.0 - up), hold, "t-dim halo", &mark.label);
        free = if hold == Hold::Start { at + wide } else { x + 6.0 };
    }
}

/// Draws the flag over all lanes.
fn flag_at(pen: &mut Pen, plan: &Plan<'_>, flag: &MarkView) {
    let x = plan.time.at(flag.t_min);
    let half = (flag.label.chars().count() as f64 * 4.6 + 9.0).max(29.0);
    pen.open_group("scrub");
    pen.line((x, 24.0), (x, plan.bottom), "nl");
    let cloth = Way::at(x - half, 2.0)
        .by(2.0 * half, 0.0)
        .by(0.0, 22.0)
        .by(7.0 - half, 0.0)
        .by(-7.0, 7.0)
        .by(-7.0, -7.0)
        .by(7.0 - half, 0.0)
        .close();
    pen.path(&cloth, "flag");
    pen.text((x, 18.0), Hold::Middle, "flag-text", &flag.label);
    pen.close_group();
}
