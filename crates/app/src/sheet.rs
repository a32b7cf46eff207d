//! The sheet of the day as rows: what is printed for the wall of the brewhouse.
//! It deliberately shows no doubt and no table of corrections: those need a forecast.

use crate::output::{CautionText, DayPart, Plan, Step};
use crate::show::{self, Wish};
use crate::{UnitSystem, in_units, when};
use drawing::DipstickView;

/// A sheet ready to be set.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetView {
    /// Name of the brew.
    pub brew: String,
    /// Name of the brewhouse.
    pub brewhouse: String,
    /// Units all words are in.
    pub units: UnitSystem,
    /// The wished values with their tolerances, as text.
    pub wanted: Vec<String>,
    /// Malts and hops to weigh, as text.
    pub weigh: Vec<String>,
    /// What holds all day long, as text.
    pub notes: Vec<String>,
    /// The rows, in order.
    pub rows: Vec<SheetRow>,
    /// Scale of the kettle, where it has one.
    pub kettle: Option<DipstickView>,
    /// Boxes for what came out: label and unit.
    pub results: Vec<(String, String)>,
    /// What the plan does not fulfil, as text; empty when it fits.
    pub misses: Vec<String>,
}

/// One row of the sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SheetRow {
    /// A heading over a part of the day.
    Part(String),
    /// A step.
    Step(StepRow),
    /// A caution, as text.
    Caution(String),
}

/// A step of the sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepRow {
    /// Clock time.
    pub clock: String,
    /// Time since the step before.
    pub since: String,
    /// What to do.
    pub words: String,
    /// What the instruments are expected to show.
    pub expect: Vec<String>,
    /// Units of the box to write readings in; empty when nothing is read.
    pub reads: Vec<String>,
}

/// The heading over a part of the day.
#[must_use]
pub fn part_name(part: DayPart) -> &'static str {
    match part {
        DayPart::BeforeHeating => "Before heating",
        DayPart::Mash => "Mash",
        DayPart::RunOff => "Run-off",
        DayPart::Boil => "Boil",
        DayPart::ChillAndPitch => "Chill and pitch",
        DayPart::Close => "Close",
    }
}

/// The words of a step in the reader's units.
#[must_use]
pub fn words(step: &Step, units: UnitSystem) -> String {
    in_units(if units == UnitSystem::Us { &step.words_us } else { &step.words }, units)
}

/// Gives the heading before a step: where a later part of the day begins. A part that runs beside
/// the one after it gets no second heading.
#[derive(Debug, Default)]
pub struct Headings {
    reached: Option<DayPart>,
}

impl Headings {
    /// The heading before this step, if one stands there.
    pub fn before(&mut self, part: DayPart) -> Option<&'static str> {
        let later = self.reached.is_none_or(|reached| part as u8 > reached as u8);
        later.then(|| {
            self.reached = Some(part);
            part_name(part)
        })
    }
}

/// A caution in the reader's units.
#[must_use]
pub fn caution_words(caution: &CautionText, units: UnitSystem) -> String {
    in_units(if units == UnitSystem::Us { &caution.words_us } else { &caution.words }, units)
}

/// What holds all day long, each once: the cautions that are notes.
#[must_use]
pub fn notes(plan: &Plan, units: UnitSystem) -> Vec<String> {
    let mut notes: Vec<String> = Vec::new();
    for caution in plan.steps.iter().flat_map(|step| &step.cautions).filter(|one| is_note(one)) {
        let words = caution_words(caution, units);
        if !notes.contains(&words) {
            notes.push(words);
        }
    }
    notes
}

/// The cautions that stand before a step, the notes apart.
pub fn cautions_of(step: &Step) -> impl Iterator<Item = &CautionText> {
    step.cautions.iter().filter(|caution| !is_note(caution))
}

fn is_note(caution: &CautionText) -> bool {
    caution.strength == "note"
}

/// The rows of a plan, the day starting at `start_clock_min` after midnight. The cautions of a
/// step are one row before it; the same words are said once.
#[must_use]
pub fn sheet_rows(plan: &Plan, start_clock_min: f64, units: UnitSystem) -> Vec<SheetRow> {
    let mut rows = Vec::new();
    let mut headings = Headings::default();
    let mut said: Vec<String> = Vec::new();
    for (index, step) in plan.steps.iter().enumerate() {
        if let Some(heading) = headings.before(step.part) {
            rows.push(SheetRow::Part(heading.to_owned()));
        }
        let new: Vec<String> = cautions_of(step)
            .map(|caution| caution_words(caution, units))
            .filter(|words| !said.contains(words))
            .collect();
        if !new.is_empty() {
            rows.push(SheetRow::Caution(new.join(" ")));
            said.extend(new);
        }
        rows.push(SheetRow::Step(step_row(plan, index, start_clock_min, units)));
    }
    rows
}

fn step_row(plan: &Plan, index: usize, start_clock_min: f64, units: UnitSystem) -> StepRow {
    let step = &plan.steps[index];
    StepRow {
        clock: when::clock_in(units, start_clock_min, step.starts_min),
        since: when::since(plan, index),
        words: words(step, units),
        expect: step.expected.iter().map(|reading| show::expected(reading, units).text()).collect(),
        reads: step
            .expected
            .iter()
            .map(|reading| show::reading_unit(&reading.quantity, units).to_owned())
            .filter(|unit| !unit.is_empty())
            .collect(),
    }
}

/// The sheet of a plan with all that stands around the rows.
#[must_use]
pub fn sheet(
    plan: &Plan,
    kettle: Option<DipstickView>,
    start_clock_min: f64,
    units: UnitSystem,
) -> SheetView {
    let aims = crate::rows::aims(&plan.targets);
    let wanted = aims.iter().map(|(wish, aim)| {
        let tolerance = wish.tolerance(aim.wanted, aim.tolerance, units).number;
        let figure = wish.figure(aim.wanted, units);
        format!("{} ±{tolerance}\u{202f}{}", figure.number, figure.unit)
    });
    let malts = plan
        .amounts
        .grist
        .iter()
        .map(|malt| format!("{} {}", malt.malt, show::malt(malt.kg, units)));
    let hops = plan.amounts.hops.iter().map(|hop| {
        format!("{} {}, {}", hop.hop, show::hops(hop.g, units), in_units(&hop.when, units))
    });
    let others = plan.amounts.others.iter().map(|other| {
        let amount = crate::rows::other_amount(other, units);
        format!("{} {amount}, {}", other.what, in_units(&other.when, units))
    });
    let volume_unit = Wish::Volume.figure(0.0, units).unit;
    let gravity_unit = Wish::Gravity.figure(10.0, units).unit;
    SheetView {
        brew: plan.brew.clone(),
        brewhouse: plan.brewhouse.clone(),
        units,
        wanted: wanted.collect(),
        weigh: malts.chain(hops).chain(others).collect(),
        notes: notes(plan, units),
        rows: sheet_rows(plan, start_clock_min, units),
        kettle,
        results: vec![
            ("In the fermenter".to_owned(), volume_unit),
            ("Gravity".to_owned(), gravity_unit),
            ("Yeast in at".to_owned(), String::new()),
            ("Fuel used".to_owned(), String::new()),
        ],
        misses: crate::rows::misses(plan, units),
    }
}

/// What stands under every sheet and plan.
pub const OVER_EVERYTHING: &str = "Hot liquor, weight, flame and gas: these are reminders for \
    someone who is already careful. They replace no law, no maker's instructions, no trained \
    person. Local codes come first.";
