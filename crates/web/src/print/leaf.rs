//! The two leaves of the sheet: plain steps from set-up to clean with room to write, cautions in
//! their places, the kettle's scale, boxes for what came out, notes.

use crate::components::{icon, sentence};
use app::sheet::{SheetRow, SheetView, StepRow};
use maud::{Markup, html};

/// Room on the first leaf, in lines of type; the second leaf takes the rest.
const FIRST_LEAF_LINES: f64 = 48.0;

/// Characters of a step that fit on one line.
const STEP_LINE: f64 = 58.0;

/// Characters of a caution that fit on one line.
const CAUTION_LINE: f64 = 112.0;

/// All leaves.
pub(crate) fn leaves(view: &SheetView) -> Markup {
    let (first, second) = parted(&view.rows);
    let class = density(&view.rows);
    html! {
        section class=(format!("leaf full plan {class}")) aria-label="Sheet 1" {
            (head(view, "1 of 2"))
            (wanted(view))
            (table(first))
        }
        section class=(format!("leaf full two plan {class}")) aria-label="Sheet 2" {
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
fn parted(rows: &[SheetRow]) -> (&[SheetRow], &[SheetRow]) {
    let all: f64 = rows.iter().map(lines).sum();
    // The second leaf also holds scale, boxes and notes: it takes a little less.
    let aim = (all * 0.535).min(FIRST_LEAF_LINES.max(all - FIRST_LEAF_LINES * 0.78));
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
        let distance = (filled - aim).abs() + bonus;
        if index > 0 && may_part && distance < best.0 {
            best = (distance, index);
        }
        filled += lines(row);
    }
    rows.split_at(best.1)
}

/// A long day is set closer.
fn density(rows: &[SheetRow]) -> &'static str {
    let all: f64 = rows.iter().map(lines).sum();
    match all {
        lines if lines > 104.0 => "closest",
        lines if lines > 88.0 => "closer",
        lines if lines > 70.0 => "close",
        _ => "roomy",
    }
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
            p.tg { b { "Does not come out as wanted: " } (sentence(&view.misses.join(" "))) }
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
