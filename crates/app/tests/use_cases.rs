//! The use cases from outside: first start, choosing, planning, checking, the sheet's rows.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use app::sheet::SheetRow;
use app::{App, AppError, Chosen, SchemaKind, Text, UnitSystem, fixed_clock};
use std::sync::Arc;

fn desk() -> (tempfile::TempDir, App) {
    let folder = tempfile::tempdir().unwrap();
    let app = App::open(&folder.path().join("underback.db"), fixed_clock(7)).unwrap();
    (folder, app)
}

fn demo(slug: &str) -> &'static str {
    let mut all = app::demo_brewhouses().iter().chain(app::demo_brews());
    all.find(|document| document.slug == slug).unwrap().text
}

fn planned(brewhouse: &str, brew: &str) -> app::Planned {
    let text = |slug| Text { name: slug, text: demo(slug) };
    app::plan(Text { name: brewhouse, ..text(brewhouse) }, text(brew)).unwrap()
}

#[test]
fn the_first_start_has_the_demo_and_every_document_of_it_can_be_read() {
    let (_folder, app) = desk();
    let chosen = app.chosen().unwrap();
    assert_eq!(
        (chosen.brewhouse.as_str(), chosen.brew.as_str()),
        ("orchard-shed", "windfall-amber")
    );
    let brewhouses = app.brewhouses().unwrap();
    let brews = app.brews().unwrap();
    assert_eq!((brewhouses.len(), brews.len()), (5, 5));
    for listed in &brewhouses {
        assert!(listed.read.is_ok(), "{}: {:?}", listed.slug, listed.read);
    }
    for listed in &brews {
        assert!(listed.read.is_ok(), "{}: {:?}", listed.slug, listed.read);
    }
}

#[test]
fn a_choice_survives_a_new_start_and_the_demo_is_not_loaded_again() {
    let (folder, app) = desk();
    let choice = Chosen { brewhouse: "three-step".into(), brew: "windfall-amber".into() };
    app.choose(&choice).unwrap();
    assert_eq!(app.usual_units(&choice).unwrap(), UnitSystem::Us);
    drop(app);
    let again = App::open(&folder.path().join("underback.db"), fixed_clock(9)).unwrap();
    assert_eq!(again.chosen().unwrap(), choice);
    assert!(again.brews().unwrap().iter().all(|listed| listed.version == 1));
}

#[test]
fn a_pair_is_solved_once_for_each_pair_of_versions() {
    let (_folder, app) = desk();
    let chosen = app.chosen().unwrap();
    let first = app.planned(&chosen).unwrap();
    assert!(Arc::ptr_eq(&first, &app.planned(&chosen).unwrap()));
    let other = Chosen { brew: "sill-pale".into(), ..chosen };
    assert!(!Arc::ptr_eq(&first, &app.planned(&other).unwrap()));
    let missing = Chosen { brew: "none".into(), ..other };
    assert!(matches!(app.planned(&missing), Err(AppError::Missing { .. })));
}

#[test]
fn the_findings_of_both_files_are_said_at_once() {
    let wrong = |name| Text { name, text: "nonsense = 1" };
    let error = app::plan(wrong("pots.toml"), wrong("beer.toml")).unwrap_err().to_string();
    assert!(error.contains("pots.toml:1:") && error.contains("beer.toml:1:"), "{error}");
}

#[test]
fn every_step_is_on_the_sheet_in_order_and_parts_begin_once() {
    for (brewhouse, brew) in [
        ("orchard-shed", "windfall-amber"),
        ("orchard-shed", "cellar-lamp"),
        ("three-step", "windfall-amber"),
        ("tiled-kitchen", "morning-slate"),
        ("window-bench", "sill-pale"),
        ("club-barn", "threshing-gold"),
    ] {
        let plan = planned(brewhouse, brew).plan;
        let rows = app::sheet::sheet_rows(&plan, 480.0, UnitSystem::Metric);
        let words: Vec<&str> = rows
            .iter()
            .filter_map(|row| match row {
                SheetRow::Step(step) => Some(step.words.as_str()),
                _ => None,
            })
            .collect();
        let wanted: Vec<&str> = plan.steps.iter().map(|step| step.words.as_str()).collect();
        assert_eq!(words, wanted, "{brewhouse} {brew}");
        let mut parts: Vec<&String> = rows
            .iter()
            .filter_map(|row| match row {
                SheetRow::Part(name) => Some(name),
                _ => None,
            })
            .collect();
        let all = parts.len();
        parts.sort();
        parts.dedup();
        assert_eq!(parts.len(), all, "{brewhouse} {brew}");
        // Every caution that is no note is said, the same words once.
        let said: String = rows
            .iter()
            .filter_map(|row| match row {
                SheetRow::Caution(words) => Some(words.as_str()),
                _ => None,
            })
            .collect();
        for caution in plan.steps.iter().flat_map(app::sheet::cautions_of) {
            assert_eq!(said.matches(&caution.words).count(), 1, "{}", caution.words);
        }
    }
}

#[test]
fn the_sheet_holds_when_the_day_starts_late() {
    let plan = planned("orchard-shed", "windfall-amber").plan;
    let since = |start| -> Vec<String> {
        let rows = app::sheet::sheet_rows(&plan, start, UnitSystem::Metric);
        let steps = rows.into_iter().filter_map(|row| match row {
            SheetRow::Step(step) => Some(step.since),
            _ => None,
        });
        steps.collect()
    };
    assert_eq!(since(480.0), since(700.0));
    assert_eq!(since(480.0)[0], "start");
    let dough_in = plan.steps.iter().position(|step| step.id == "dough-in").unwrap();
    assert!(since(480.0)[dough_in + 1].contains("dough-in"), "{:?}", since(480.0));
    let boil = plan.milestones.boil_starts_min;
    let late = plan.steps.iter().position(|s| s.id == "read-half-boil").unwrap();
    let minutes = (plan.steps[late].starts_min - boil).round();
    assert_eq!(since(480.0)[late], format!("{minutes:.0}\u{202f}min after it boiled"));
}

/// A pot holds at a mark what its own geometry says.
#[test]
fn a_dipstick_puts_ten_litres_where_the_cylinder_has_them() {
    let brewhouse = app::read_brewhouse(Text { name: "shed", text: demo("orchard-shed") }).unwrap();
    let stick = app::dipstick_of(&brewhouse, "kettle", None, UnitSystem::Metric).unwrap();
    let ten = stick.view.marks.iter().find(|mark| mark.label == "10").unwrap();
    // V = π/4·d²·h with d = 400 mm: 10 L stand 79.6 mm high (flat base).
    assert!((ten.height_mm - 79.58).abs() < 1.5, "{}", ten.height_mm);
    let heights: Vec<f64> = stick.view.marks.iter().map(|mark| mark.height_mm).collect();
    assert!(heights.is_sorted());
    let unknown = app::dipstick_of(&brewhouse, "bucket", None, UnitSystem::Metric);
    assert!(matches!(unknown, Err(AppError::NoVessel { .. })));
}

#[test]
fn the_text_of_a_plan_keeps_to_the_width_and_invents_no_doubt() {
    let plan = planned("orchard-shed", "windfall-amber").plan;
    for units in [UnitSystem::Metric, UnitSystem::Us] {
        let text = app::text::plan(&plan, units, 80);
        let long: Vec<&str> = text.lines().filter(|line| line.chars().count() > 80).collect();
        assert!(long.is_empty(), "{long:?}");
        let doubts = text.matches('±').count();
        assert_eq!(doubts, app::rows::aims(&plan.targets).len(), "only the tolerances");
    }
}

#[test]
fn the_schema_of_the_plan_names_what_scripts_rely_on() {
    let schema = app::schema(SchemaKind::Plan);
    for key in ["targets", "steps", "fits", "limits", "ledger", "fuel"] {
        assert!(schema["properties"].get(key).is_some(), "{key}");
    }
}
