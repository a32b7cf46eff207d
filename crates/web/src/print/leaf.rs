//! The two leaves of the sheet: plain steps from set-up to clean with room to write, cautions in
//! their places, the kettle's scale, boxes for what came out, notes.

use crate::components::{icon, sentence};
use app::sheet::{SheetRow, SheetView, StepRow};
use maud::{Markup, html};

/// Lines of type by which the second leaf holds less: scale, boxes and notes stand there too.
const SECOND_HOLDS_LESS: f64 = 11.0;

/// The most lines a leaf holds when set roomy, close and closer; measured in a browser, on the
/// shorter of A4 and US Letter.
const FIRST_HOLDS: [f64; 3] = [49.0, 61.0, 69.0];
const SECOND_HOLDS: [f64; 3] = [42.0, 50.0, 59.0];

/// Most misses that the head of a sheet tells.
const MISSES: usize = 3;

/// The most lines the first leaf holds when set closest.
const FIRST_HOLDS_MOST: f64 = 81.0;

/// Characters of a step that fit on one line.
const STEP_LINE: f64 = 58.0;

/// Characters of a caution that fit on one line.
const CAUTION_LINE: f64 = 112.0;

/// All leaves.
pub(crate) fn leaves(view: &SheetView) -> Markup {
    let (over, under) = (lines_over(view), lines_under(view));
    let (first, second) = parted(&view.rows, over, under);
    let of = |rows: &[SheetRow]| rows.iter().map(lines).sum::<f64>();
    let first_class = density(of(first) + over, FIRST_HOLDS);
    let second_class = density(of(second) + under, SECOND_HOLDS);
    html! {
        section class=(format!("leaf full plan {first_class}")) aria-label="Sheet 1" {
            (head(view, "1 of 2"))
            (wanted(view))
            (table(first))
        }
        section class=(format!("leaf full two plan {second_class}")) aria-label="Sheet 2" {
            (head(view, "2 of 2"))
            (table(second))
            (kettle(view))
            (results(view))
            p.nt { span { "Notes" } }
            p.ft { b { "To weigh: " } (sentence(&view.weigh.join("; "))) "." }
            @if !view.notes.is_empty() {
                p.ft { b { "All day long: " } (sentence(&view.notes.join(" "))) }
            }
            p.ft {
                "Expect: what the plan says; how sure it is, is not worked out yet. Gravity at "
                (if view.units == app::UnitSystem::Us { "68 °F" } else { "20 °C" })
                ". " (app::sheet::OVER_EVERYTHING)
            }
        }
    }
}

/// How many lines of type a row takes, more or less.
fn lines(row: &SheetRow) -> f64 {
    let words = |text: &str, line: f64| (text.chars().count() as f64 / line).ceil().max(1.0);
    match row {
        SheetRow::Part(_) => 1.4,
        SheetRow::Caution(text) => words(text, CAUTION_LINE) + 0.3,
        SheetRow::Step(step) => {
            let done = words(&step.words, STEP_LINE);
            done.max(step.expect.len() as f64).max(words(&step.since, 26.0) * 0.8).max(1.6) + 0.25
        }
    }
}

/// Parts the rows over two leaves: before a heading near the middle if one is there, and never
/// between a caution and its step.
fn parted(rows: &[SheetRow], over: f64, under: f64) -> (&[SheetRow], &[SheetRow]) {
    let all: f64 = rows.iter().map(lines).sum();
    let aim = 0.5 * (all + under + SECOND_HOLDS_LESS - over);
    let mut best = (f64::INFINITY, rows.len());
    let mut filled = 0.0;
    for (index, row) in rows.iter().enumerate() {
        let may_part = match row {
            SheetRow::Part(_) => true,
            SheetRow::Caution(_) | SheetRow::Step(_) => {
                !matches!(rows[index.saturating_sub(1)], SheetRow::Caution(_) | SheetRow::Part(_))
            }
        };
        let bonus = if matches!(row, SheetRow::Part(_)) { 0.0 } else { 4.0 };
        // the first leaf has no notes that could give way
        let over_full = (filled + over - FIRST_HOLDS_MOST).max(0.0);
        let distance = (filled - aim).abs() + bonus + 2.0 * over_full;
        if index > 0 && may_part && distance < best.0 {
            best = (distance, index);
        }
        filled += lines(row);
    }
    rows.split_at(best.1)
}

/// A full leaf is set closer.
fn density(lines: f64, holds: [f64; 3]) -> &'static str {
    match holds.iter().position(|most| lines <= *most) {
        Some(0) => "roomy",
        Some(1) => "close",
        Some(_) => "closer",
        None => "closest",
    }
}

/// What does not come out as wanted, the first few of many.
fn misses(view: &SheetView) -> Vec<String> {
    let mut told: Vec<String> = view.misses.iter().take(MISSES).cloned().collect();
    if view.misses.len() > MISSES {
        told.push(format!("And {} more, see the plan.", view.misses.len() - MISSES));
    }
    told
}

/// Lines over the rows of the first leaf: what does not come out as wanted.
fn lines_over(view: &SheetView) -> f64 {
    let words: usize = misses(view).iter().map(|miss| miss.chars().count() + 1).sum();
    if words == 0 { 0.0 } else { 1.6 * ((words + 29) as f64 / 95.0).ceil() }
}

/// Lines under the rows of the second leaf: what to weigh, what holds all day, the small print.
fn lines_under(view: &SheetView) -> f64 {
    let lines = |texts: &[String]| {
        let words: usize = texts.iter().map(|text| text.chars().count() + 2).sum();
        ((words + 14) as f64 / 150.0).ceil()
    };
    lines(&view.weigh) + lines(&view.notes) + 2.0
}

fn head(view: &SheetView, number: &str) -> Markup {
    html! {
        header.sh {
            b.wd { "Underback" }
            div { span { "Brew" } b { (view.brew) } }
            div { span { "Brewhouse" } b { (view.brewhouse) } }
            div.day { span { "Day" } b { "\u{a0}" } }
            div { span { "Sheet" } b.n { (number) } }
        }
    }
}

fn wanted(view: &SheetView) -> Markup {
    html! {
        p.tg {
            span { "Wanted" }
            @for wish in &view.wanted { " " b { (wish) } }
        }
        @if !view.misses.is_empty() {
            p.tg { b { "Does not come out as wanted: " } (sentence(&misses(view).join(" "))) }
        }
    }
}

fn table(rows: &[SheetRow]) -> Markup {
    html! {
        table.st {
            thead { tr {
                th { "Plan" } th { "Since" } th { "Done at" } th { "Do" } th { "Expect" }
                th { "Reads" }
            } }
            tbody {
                @for row in rows {
                    @match row {
                        SheetRow::Part(name) => { tr.pt { td colspan="6" { (name) } } }
                        SheetRow::Caution(words) => {
                            tr.hz { td colspan="6" {
                                (icon::caution()) span { (sentence(words)) }
                            } }
                        }
                        SheetRow::Step(step) => { (step_row(step)) }
                    }
                }
            }
        }
    }
}

fn step_row(step: &StepRow) -> Markup {
    let plain = step.expect.is_empty() && step.reads.is_empty();
    html! {
        tr.lo[plain] {
            td.n.t { (step.clock) }
            td.af { (step.since) }
            td.box.sm {}
            @if plain {
                td colspan="3" { (sentence(&step.words)) }
            } @else {
                td { (sentence(&step.words)) }
                td.n.e {
                    @for (index, expect) in step.expect.iter().enumerate() {
                        @if index > 0 { br; }
                        (expect)
                    }
                }
                td.box { span { (step.reads.join(", ")) } }
            }
        }
    }
}

fn kettle(view: &SheetView) -> Markup {
    html! {
        @if let Some(scale) = &view.kettle {
            div.mk { b { (scale.vessel) } (drawing::scale_strip(scale)) }
        }
    }
}

fn results(view: &SheetView) -> Markup {
    html! {
        div.got { table.st { tbody { tr {
            @for (label, unit) in &view.results {
                td { (label) @if !unit.is_empty() { ", " (unit) } }
                td.box {}
            }
        } } } }
    }
}
