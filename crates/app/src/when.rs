//! When a step is: its clock time, and the time since the step before it in words.
//! It deliberately knows no date: a plan holds for any day.

use crate::output::{Operation, Plan, Step};

/// How far before and after is still "right after", min.
const AT_ONCE_MIN: f64 = 0.5;

/// The clock time of a minute of the day, `08:30`; the next day begins again at `00:00`.
#[must_use]
pub fn clock(start_clock_min: f64, min: f64) -> String {
    let whole = (start_clock_min + min).round().rem_euclid(24.0 * 60.0);
    format!("{:02}:{:02}", (whole / 60.0).floor(), whole % 60.0)
}

/// The clock time in the reader's manner: 24 hours, or 12 with US units.
#[must_use]
pub fn clock_in(units: quantity::UnitSystem, start_clock_min: f64, min: f64) -> String {
    if units == quantity::UnitSystem::Metric {
        return clock(start_clock_min, min);
    }
    let whole = (start_clock_min + min).round().rem_euclid(24.0 * 60.0);
    let hour = (whole / 60.0).floor();
    let half = if hour < 12.0 { "AM" } else { "PM" };
    let hour = if hour % 12.0 == 0.0 { 12.0 } else { hour % 12.0 };
    format!("{hour:.0}:{:02} {half}", whole % 60.0)
}

/// Reads a clock time such as `08:30` into minutes after midnight.
#[must_use]
pub fn read_clock(text: &str) -> Option<f64> {
    let (hour, minute) = text.trim().split_once(':')?;
    let well_formed = (1..=2).contains(&hour.len())
        && minute.len() == 2
        && hour.bytes().chain(minute.bytes()).all(|byte| byte.is_ascii_digit());
    let (hour, minute): (u32, u32) = (hour.parse().ok()?, minute.parse().ok()?);
    (well_formed && hour < 24 && minute < 60).then_some(f64::from(hour * 60 + minute))
}

/// A length of time in words: `35 min`, `2 h 31 min`.
#[must_use]
pub fn duration(min: f64) -> String {
    let whole = min.max(0.0).round();
    if whole < 120.0 {
        return format!("{whole:.0}\u{202f}min");
    }
    let (hours, rest) = ((whole / 60.0).floor(), whole % 60.0);
    if rest == 0.0 {
        format!("{hours:.0}\u{202f}h")
    } else {
        format!("{hours:.0}\u{202f}h {rest:.0}\u{202f}min")
    }
}

/// The time since the step before: `35 min after dough-in`, `start` for the first.
#[must_use]
pub fn since(plan: &Plan, index: usize) -> String {
    let Some(step) = plan.steps.get(index) else { return String::new() };
    if let Some(boiled_min) = boiling_since(plan, step) {
        return format!("{} after it boiled", duration(step.starts_min - boiled_min));
    }
    let Some(before) = before(plan, index) else { return "start".to_owned() };
    let gap_min = step.starts_min - before.ends_min;
    if gap_min > -AT_ONCE_MIN && before.ends_min - before.starts_min > AT_ONCE_MIN {
        if gap_min < AT_ONCE_MIN {
            return format!("right after {}", noun(before));
        }
        return format!("{} after {}", duration(gap_min), noun(before));
    }
    let gap_min = step.starts_min - before.starts_min;
    let began = if before.ends_min - before.starts_min > AT_ONCE_MIN { " began" } else { "" };
    if gap_min < AT_ONCE_MIN {
        return format!("with {}", noun(before));
    }
    format!("{} after {}{began}", duration(gap_min), noun(before))
}

/// Within the boil everything is counted from when it boiled.
fn boiling_since(plan: &Plan, step: &Step) -> Option<f64> {
    let during = |boil: &&Step| {
        boil.operation == Operation::Boil
            && boil.starts_min + AT_ONCE_MIN < step.starts_min
            && step.starts_min <= boil.ends_min
    };
    plan.steps.iter().find(during).map(|boil| boil.starts_min)
}

/// The step a time is counted from: the latest of those that must be over, else the latest of those
/// under way, else the one before.
fn before(plan: &Plan, index: usize) -> Option<&Step> {
    let step = plan.steps.get(index)?;
    let named = plan.steps[..index]
        .iter()
        .filter(|other| step.after.contains(&other.id) && other.starts_min <= step.starts_min)
        .max_by(|a, b| a.ends_min.total_cmp(&b.ends_min));
    let under_way = || {
        let named = |other: &&Step| step.during.iter().any(|during| during.id == other.id);
        plan.steps[..index].iter().rev().find(named)
    };
    named
        .or_else(under_way)
        .or_else(|| index.checked_sub(1).and_then(|before| plan.steps.get(before)))
}

/// A step as a noun, for "35 min after …".
fn noun(step: &Step) -> String {
    let plain = match step.operation {
        Operation::SetUp => "set-up",
        Operation::Mill => "milling",
        Operation::Fill => "filling",
        Operation::Treat => "the salts",
        Operation::Heat => "heating",
        Operation::Hold => "holding",
        Operation::Transfer => "the transfer",
        Operation::DoughIn => "dough-in",
        Operation::Rest => "the rest",
        Operation::Stir => "stirring",
        Operation::Fire => "the fire",
        Operation::Infuse => "the hot liquor",
        Operation::Decoct => "the decoction",
        Operation::Recirculate => "vorlauf",
        Operation::RunOff => "the run-off",
        Operation::Sparge => "the sparge",
        Operation::Drain => "the drain",
        Operation::LiftBag => "lifting the bag",
        Operation::Boil => "the boil",
        Operation::Hop => "the hops",
        Operation::Add => "the addition",
        Operation::Stand if step.id == "cool-to-stand" => "cooling",
        Operation::Stand => "the stand",
        Operation::Chill => "chilling",
        Operation::Settle => "settling",
        Operation::Pitch => "the yeast",
        Operation::Read => "the reading",
        Operation::Clean => "cleaning",
        Operation::Handle if step.id == "move-burner" => "the burner was moved",
        // Its own name says it best: `flame-out`.
        Operation::Handle => return step.id.replace(['-', '_'], " "),
    };
    plain.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clock_times_wrap_at_midnight_and_read_back() {
        assert_eq!(clock(510.0, 0.0), "08:30");
        assert_eq!(clock(510.0, 15.0 * 60.0 + 45.0), "00:15");
        assert_eq!(clock_in(quantity::UnitSystem::Us, 510.0, 360.0), "2:30 PM");
        assert_eq!(clock_in(quantity::UnitSystem::Us, 0.0, 5.0), "12:05 AM");
        assert_eq!(read_clock("08:30"), Some(510.0));
        assert_eq!(read_clock("8:05"), Some(485.0));
        for wrong in ["", "8", "24:00", "08:60", "8:5", "-1:30", "+8:30", "aa:bb", "8:30:00"] {
            assert_eq!(read_clock(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn durations_turn_to_hours_from_two_hours_on() {
        assert_eq!(duration(35.2), "35\u{202f}min");
        assert_eq!(duration(119.0), "119\u{202f}min");
        assert_eq!(duration(151.0), "2\u{202f}h 31\u{202f}min");
        assert_eq!(duration(180.0), "3\u{202f}h");
    }

    #[test]
    fn a_step_is_counted_from_what_is_over_or_under_way() {
        let demo = |name: &str| {
            let path = format!("{}/../../demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
            std::fs::read_to_string(path).unwrap()
        };
        let house = brewhouse::read("shed", &demo("orchard-shed")).unwrap();
        let beer = brew::read("amber", &demo("windfall-amber")).unwrap();
        let plan = plan::solve(&house, &beer).unwrap();
        let of = |id: &str| since(&plan, plan.steps.iter().position(|s| s.id == id).unwrap());
        assert_eq!(of("set-up"), "start");
        assert_eq!(of("strike"), "right after heating");
        assert_eq!(of("sparge"), "1\u{202f}min after the run-off began");
        assert!(of("tank-off").ends_with("after the sparge began"), "{}", of("tank-off"));
        assert!(of("light-kettle").ends_with("after the burner was moved"));
        assert_eq!(of("read-half-boil"), "30\u{202f}min after it boiled");
    }
}
