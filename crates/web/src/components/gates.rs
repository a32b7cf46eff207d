//! The targets: each wish as an opening between two posts, and where the plan stands in it.
//! It draws no hump and names no chance: nothing is known yet about how sure a value is.

use crate::components::{big, quantity};
use app::output::{Aim, Plan};
use app::show::Wish;
use app::{UnitSystem, rows};
use drawing::GateView;
use maud::{Markup, html};

/// All wishes of a plan in one frame.
pub(crate) fn gates(plan: &Plan, units: UnitSystem) -> Markup {
    let aims = rows::aims(&plan.targets);
    let out = aims.iter().filter(|(_, aim)| !rows::lands(aim)).count();
    html! {
        section.frame.ans #targets {
            h2 { "What it will be" }
            p.small {
                "On " (plan.brewhouse) ", planned. Posts: what still counts as hit. Pencil: where "
                "the plan stands. How sure it is, is not worked out yet."
            }
            @for (wish, aim) in &aims { (row(*wish, aim, units)) }
            div.all {
                span {
                    (verdict(aims.len(), out))
                    @if !plan.fits && out == 0 { ", but the pots do not allow it" }
                }
            }
        }
    }
}

fn verdict(wishes: usize, out: usize) -> String {
    match (wishes, out) {
        (0, _) => "Nothing is wanted yet".to_owned(),
        (1, 0) => "It stands within its tolerance".to_owned(),
        (wishes, 0) => format!("All {} stand within tolerance", spelled(wishes)),
        (wishes, out) => format!("{out} of {wishes} out of tolerance"),
    }
}

fn spelled(count: usize) -> String {
    match count {
        2 => "two".to_owned(),
        3 => "three".to_owned(),
        4 => "four".to_owned(),
        5 => "five".to_owned(),
        more => more.to_string(),
    }
}

/// One wish.
fn row(wish: Wish, aim: &Aim, units: UnitSystem) -> Markup {
    let expected = wish.figure(aim.expected, units);
    let (low, high) = (aim.wanted - aim.tolerance, aim.wanted + aim.tolerance);
    let (low_text, high_text) = (wish.figure(low, units).number, wish.figure(high, units).number);
    let lands = rows::lands(aim);
    let view = GateView {
        low,
        high,
        expected: Some(aim.expected),
        label: format!(
            "{}: {expected} planned, {low_text} to {high_text} wanted, {}",
            wish.name(units),
            if lands { "within" } else { "out" }
        ),
        low_text: low_text.clone(),
        high_text: high_text.clone(),
    };
    html! {
        div.a {
            div {
                span { (wish.name(units)) }
                (big(&expected))
                small { "wanted " (quantity(&wish.figure(aim.wanted, units))) }
            }
            (drawing::gate(&view))
            @if lands { span.chip.good { "within" } } @else { span.chip.off { "out" } }
        }
    }
}
