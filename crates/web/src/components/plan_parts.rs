//! Slips made from a plan that more than one page shows.

use crate::components::{caution, facts, quantity, sentence};
use app::output::{Limit, Plan, Targets};
use app::{UnitSystem, in_units, rows, show};
use maud::{Markup, html};

/// Says what does not come out as wanted, what excludes what, and the nearest plans; nothing
/// where the plan fits.
pub(crate) fn not_as_wanted(plan: &Plan, units: UnitSystem) -> Markup {
    let misses = rows::misses(plan, units);
    if plan.fits && misses.is_empty() && plan.unmoved.is_empty() {
        return html! {};
    }
    html! {
        (caution(&html! {
            @if plan.fits {
                p { b { "It fits, with a word." } }
            } @else {
                p { b { "It does not come out as wanted on these pots." } " Nothing was clipped:" }
            }
            @for miss in &misses { p { (sentence(miss)) } }
            @for wish in &rows::in_all(&plan.unmoved, units) { p { (sentence(wish)) } }
        }))
        @if let Some(conflict) = &plan.conflict {
            section.slip #conflict {
                h2 { "These cannot all hold" }
                p.small { (conflict.claim) }
                ul.list { @for words in (if units == UnitSystem::Us {
                    &conflict.words_us
                } else {
                    &conflict.words
                }) { li { (sentence(words)) } } }
                @if !conflict.nearest.is_empty() {
                    h3.gap-s { "Nearest plans that fit" }
                    ul.list.near {
                        @for near in &conflict.nearest {
                            li {
                                span { (sentence(&rows::near_words(near, units))) }
                                small { "Gives " (targets_line(&near.targets, units)) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn targets_line(targets: &Targets, units: UnitSystem) -> Markup {
    let aims = rows::aims(targets);
    html! {
        @for (index, (wish, aim)) in aims.iter().enumerate() {
            @if index > 0 { ", " }
            (quantity(&wish.figure(aim.expected, units)))
        }
        "."
    }
}

/// The grist, with its sum.
pub(crate) fn grist(plan: &Plan, units: UnitSystem) -> Markup {
    html! {
        table.grist.cards {
            thead { tr {
                th { "Malt" } th.n { "Mass" } th.n { "Share" } th.n { "Extract, dry" }
                th.n { (colour_word(units)) }
            } }
            tbody {
                @for malt in &plan.amounts.grist {
                    tr {
                        td { (malt.malt) }
                        td.n data-l="Mass" { (quantity(&show::malt(malt.kg, units))) }
                        td.n data-l="Share" { (quantity(&show::percent(malt.share_percent))) }
                        td.n data-l="Extract, dry" {
                            (quantity(&show::percent(malt.extract_percent)))
                        }
                        td.n data-l=(colour_word(units)) {
                            (quantity(&show::colour(malt.colour_ebc, units)))
                        }
                    }
                }
            }
            tfoot { tr {
                td { "Together" }
                td.n data-l="Mass" { (quantity(&show::malt(plan.amounts.grist_kg, units))) }
                td.n {} td.n {} td.n {}
            } }
        }
    }
}

/// The word for colour in the spelling that goes with the units.
fn colour_word(units: UnitSystem) -> &'static str {
    show::Wish::Colour.name(units)
}

/// The hops, with their sum.
pub(crate) fn hops(plan: &Plan, units: UnitSystem) -> Markup {
    let hops = &plan.amounts.hops;
    let grams: f64 = hops.iter().map(|hop| hop.g).sum();
    let ibu: f64 = hops.iter().map(|hop| hop.gives_ibu).sum();
    let bitterness = |ibu| show::Wish::Bitterness.figure(ibu, units);
    html! {
        table.grist.cards {
            thead { tr {
                th { "Hop" } th.n { "Mass" } th.n { "Alpha" } th.in { "When" } th.n { "Gives" }
            } }
            tbody {
                @for hop in hops {
                    tr {
                        td { (hop.hop) }
                        td.n data-l="Mass" { (quantity(&show::hops(hop.g, units))) }
                        td.n data-l="Alpha" { (quantity(&show::percent(hop.alpha_percent))) }
                        td.in data-l="When" { (sentence(&in_units(&hop.when, units))) }
                        td.n data-l="Gives" { (quantity(&bitterness(hop.gives_ibu))) }
                    }
                }
            }
            tfoot { tr {
                td { "Together" }
                td.n data-l="Mass" { (quantity(&show::hops(grams, units))) }
                td.n {} td.in {}
                td.n data-l="Gives" { (quantity(&bitterness(ibu))) }
            } }
        }
    }
}

/// Salts, acids and other additions; nothing where there are none.
pub(crate) fn others(plan: &Plan, units: UnitSystem) -> Markup {
    if plan.amounts.others.is_empty() {
        return html! {};
    }
    html! {
        section.slip {
            h2 { "Other additions" }
            table.grist.cards {
                thead { tr { th { "What" } th.n { "Amount" } th.in { "When" } } }
                tbody {
                    @for other in &plan.amounts.others {
                        tr {
                            td { (other.what) }
                            td.n data-l="Amount" {
                                (quantity(&rows::other_amount(other, units)))
                            }
                            td.in data-l="When" { (sentence(&in_units(&other.when, units))) }
                        }
                    }
                }
            }
        }
    }
}

/// Strike, sparge, reserve, filling.
pub(crate) fn liquor(plan: &Plan, units: UnitSystem, class: &str) -> Markup {
    let amounts = &plan.amounts;
    let at = |litres, celsius| {
        html! {
            (quantity(&show::volume(litres, units))) " at "
            (quantity(&show::temperature(celsius, units)))
        }
    };
    let mut rows = vec![("Strike".to_owned(), at(amounts.strike_l, amounts.strike_c))];
    if amounts.sparge_l > 0.0 {
        rows.push(("Sparge".to_owned(), at(amounts.sparge_l, amounts.sparge_c)));
    }
    rows.push(("Fill cold".to_owned(), quantity(&show::volume(amounts.fill_l, units))));
    rows.push(("Reserve, kept back".to_owned(), quantity(&show::volume(amounts.reserve_l, units))));
    facts(&rows, class)
}

/// The day in a few figures.
pub(crate) fn day_it_makes(plan: &Plan, units: UnitSystem) -> Markup {
    let rows: Vec<(String, Markup)> = rows::day_it_makes(plan, units)
        .into_iter()
        .map(|(label, value)| (label.to_owned(), sentence(&value)))
        .chain(
            rows::fuel(plan, units)
                .into_iter()
                .map(|(label, figure)| (label.to_owned(), quantity(&figure))),
        )
        .collect();
    facts(&rows, "liq one")
}

/// Limits of the pots, each with its verdict in a word; nothing where none was held against them.
pub(crate) fn limits(plan: &Plan, units: UnitSystem) -> Markup {
    if plan.limits.is_empty() {
        return html! {};
    }
    let (kept, open): (Vec<&Limit>, Vec<&Limit>) =
        plan.limits.iter().partition(|limit| limit.kept && !limit.care);
    html! {
        section.slip #limits {
            h2 { "What the pots allow" }
            @if !open.is_empty() {
                ul.list { @for limit in open { (limit_line(limit, units)) } }
            }
            @if !kept.is_empty() {
                details.twin {
                    summary { (kept.len()) " limits kept" }
                    ul.list { @for limit in kept { (limit_line(limit, units)) } }
                }
            }
        }
    }
}

/// One limit with its verdict.
fn limit_line(limit: &Limit, units: UnitSystem) -> Markup {
    html! {
        li.kept-l {
            @if !limit.kept { span.chip.off { "broken" } }
            @else if limit.care { span.chip.pencil { "take care" } }
            @else { span.chip.good { "kept" } }
            span { (sentence(&rows::limit_words(limit, units))) }
        }
    }
}

/// What holds all day long: the cautions that belong to no single moment.
pub(crate) fn notes(plan: &Plan, units: UnitSystem) -> Markup {
    let notes = app::sheet::notes(plan, units);
    if notes.is_empty() {
        return html! {};
    }
    html! {
        section.slip #all-day {
            h2 { "All day long" }
            ul.list { @for words in &notes { li { (sentence(words)) } } }
        }
    }
}

/// What is assumed and where to doubt; nothing where there is neither.
pub(crate) fn assumed(plan: &Plan, units: UnitSystem) -> Markup {
    if plan.assumed.is_empty() && plan.caveats.is_empty() {
        return html! {};
    }
    html! {
        section.slip {
            h2 { "Assumed, in pencil" }
            p.small { "Nobody said otherwise. State it in the file, and it turns to ink." }
            ul.list {
                @for words in &rows::in_all(&plan.assumed, units) { li.exp-t { (sentence(words)) } }
                @for words in &rows::in_all(&plan.caveats, units) {
                    li { b { "Doubt this: " } (sentence(words)) }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use app::Text;
    use app::output::{Conflict, Nearest};

    fn plan() -> Plan {
        let demo = |all: &'static [app::DemoDocument], slug: &'static str| {
            let document = all.iter().find(|document| document.slug == slug).unwrap();
            Text { name: slug, text: document.text }
        };
        app::plan(
            demo(app::demo_brewhouses(), app::DEMO_BREWHOUSE),
            demo(app::demo_brews(), app::DEMO_BREW),
        )
        .unwrap()
        .plan
    }

    fn limit(kept: bool, care: bool) -> Limit {
        Limit {
            id: "tank_brim".to_owned(),
            vessel: "tank".to_owned(),
            words: "The tank brims at 38 L.".to_owned(),
            words_us: "The tank brims at 10 gal.".to_owned(),
            value: 40.0,
            bound: 38.0,
            unit: "L".to_owned(),
            kept,
            care,
        }
    }

    #[test]
    fn a_plan_that_fits_has_no_word_on_it() {
        let mut plan = plan();
        plan.unmoved.clear();
        assert_eq!(not_as_wanted(&plan, UnitSystem::Metric).into_string(), "");
    }

    #[test]
    fn what_does_not_fit_is_named_with_what_excludes_what_and_the_nearest_plans() {
        let mut plan = plan();
        plan.fits = false;
        plan.limits = vec![limit(false, false)];
        plan.conflict = Some(Conflict {
            set: vec!["volume".to_owned(), "tank_brim".to_owned()],
            smallest: true,
            claim: "Drop any one of these, and the day solves.".to_owned(),
            words: vec!["80 L are wanted".to_owned(), "the tank brims at 38 L".to_owned()],
            words_us: vec!["21 gal are wanted".to_owned(), "the tank brims at 10 gal".to_owned()],
            without: Vec::new(),
            nearest: vec![Nearest {
                id: "smaller_brew".to_owned(),
                words: "Brew 20 L.".to_owned(),
                words_us: "Brew 5 gal.".to_owned(),
                targets: plan.targets.clone(),
            }],
        });
        let page = not_as_wanted(&plan, UnitSystem::Metric).into_string();
        for words in ["does not come out as wanted", "The tank brims at", "Drop any one", "Brew "] {
            assert!(page.contains(words), "{words}: {page}");
        }
        let us = not_as_wanted(&plan, UnitSystem::Us).into_string();
        assert!(us.contains("gal") && !us.contains("L.<"), "{us}");
    }

    #[test]
    fn each_limit_has_its_verdict_in_a_word() {
        let mut plan = plan();
        plan.limits = vec![limit(false, false), limit(true, true), limit(true, false)];
        let page = limits(&plan, UnitSystem::Metric).into_string();
        let at = |word: &str| page.find(word).unwrap_or_else(|| panic!("{word}: {page}"));
        assert!(at("broken") < at("take care") && at("take care") < at("kept<"));
    }
}
