//! A plan as text for the terminal: plain lines, no colour, wrapped to a width.
//! It shows what the plan says and deliberately adds no doubt of its own.

use crate::output::{Plan, Targets};
use crate::{UnitSystem, in_units, rows, sheet, show};

/// The narrowest lines that are still readable.
const NARROWEST: usize = 48;

/// A plan as text, lines at most `width` characters where words allow it.
#[must_use]
pub fn plan(plan: &Plan, units: UnitSystem, width: usize) -> String {
    let mut page = Page { text: String::new(), width: width.max(NARROWEST) };
    page.line(0, &format!("{} on {}", plan.brew, plan.brewhouse));
    page.line(0, if plan.fits { "It fits." } else { "It does not fit as wanted." });
    misses(&mut page, plan, units);
    targets(&mut page, &plan.targets, units);
    amounts(&mut page, plan, units);
    steps(&mut page, plan, units);
    notes(&mut page, plan, units);
    milestones(&mut page, plan, units);
    limits(&mut page, plan, units);
    fuel_and_ledger(&mut page, plan, units);
    page.list("Assumed, because nobody said", &rows::in_all(&plan.assumed, units));
    page.list("To be doubted", &rows::in_all(&plan.caveats, units));
    page.heading("In all of this");
    page.line(0, crate::sheet::OVER_EVERYTHING);
    page.text
}

struct Page {
    text: String,
    width: usize,
}

impl Page {
    fn heading(&mut self, words: &str) {
        self.text.push('\n');
        self.line(0, words);
        self.line(0, &"-".repeat(words.chars().count()));
    }

    fn list(&mut self, heading: &str, lines: &[String]) {
        if lines.is_empty() {
            return;
        }
        self.heading(heading);
        for line in lines {
            self.hanging("- ", 2, line);
        }
    }

    fn line(&mut self, indent: usize, words: &str) {
        self.hanging(&" ".repeat(indent), indent, words);
    }

    /// Words behind a first piece; further lines stand under the words.
    fn hanging(&mut self, first: &str, indent: usize, words: &str) {
        let mut line = first.to_owned();
        let mut empty = true;
        for word in words.split(' ').filter(|word| !word.is_empty()) {
            let length = line.chars().count() + usize::from(!empty) + word.chars().count();
            if !empty && length > self.width {
                self.text.push_str(line.trim_end());
                self.text.push('\n');
                line = " ".repeat(indent);
                empty = true;
            }
            if !empty {
                line.push(' ');
            }
            line.push_str(word);
            empty = false;
        }
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    /// Columns: the first to the left, the others to the right, as wide as their widest cell.
    fn table(&mut self, head: &[&str], body: &[Vec<String>]) {
        let columns = head.len();
        let wide = |text: &str| text.chars().count();
        let widths: Vec<usize> = (0..columns)
            .map(|column| {
                let cells = body.iter().filter_map(|row| row.get(column)).map(|cell| wide(cell));
                cells.chain([wide(head[column])]).max().unwrap_or(0)
            })
            .collect();
        let row_text = |cells: Vec<&str>| {
            let mut line = String::new();
            for (column, cell) in cells.iter().enumerate() {
                let pad = " ".repeat(widths[column].saturating_sub(wide(cell)));
                if column == 0 {
                    line.push_str(cell);
                    line.push_str(&pad);
                } else {
                    line.push_str("  ");
                    line.push_str(&pad);
                    line.push_str(cell);
                }
            }
            line.trim_end().to_owned()
        };
        if head.iter().any(|cell| !cell.is_empty()) {
            self.text.push_str(&row_text(head.to_vec()));
            self.text.push('\n');
        }
        for row in body {
            self.text.push_str(&row_text(row.iter().map(String::as_str).collect()));
            self.text.push('\n');
        }
    }
}

fn misses(page: &mut Page, plan: &Plan, units: UnitSystem) {
    page.list("What does not come out as wanted", &rows::misses(plan, units));
    if let Some(conflict) = &plan.conflict {
        let us = units == UnitSystem::Us;
        let words = if us { &conflict.words_us } else { &conflict.words };
        page.list("Cannot all hold", words);
        page.hanging("", 0, &conflict.claim);
        if !conflict.nearest.is_empty() {
            page.heading("Nearest plans that fit");
        }
        for near in &conflict.nearest {
            let words = rows::near_words(near, units);
            page.hanging("- ", 2, &format!("{words} {}", targets_in_a_line(&near.targets, units)));
        }
    }
    page.list("Nothing that is free can move", &rows::in_all(&plan.unmoved, units));
}

/// The expected values of a plan in one line.
fn targets_in_a_line(targets: &Targets, units: UnitSystem) -> String {
    let values: Vec<String> = rows::aims(targets)
        .into_iter()
        .map(|(wish, aim)| wish.figure(aim.expected, units).text())
        .collect();
    format!("Gives {}.", values.join(", "))
}

fn targets(page: &mut Page, targets: &Targets, units: UnitSystem) {
    page.heading("Wanted in the fermenter, and expected");
    let body: Vec<Vec<String>> = rows::aims(targets)
        .into_iter()
        .map(|(wish, aim)| {
            let wanted = wish.figure(aim.wanted, units);
            vec![
                wish.name(units).to_owned(),
                wanted.number,
                format!("±{}", wish.tolerance(aim.wanted, aim.tolerance, units).number),
                wish.figure(aim.expected, units).text(),
                if rows::lands(&aim) { "within" } else { "OUT" }.to_owned(),
            ]
        })
        .collect();
    page.table(&["", "wanted", "tolerance", "expected", ""], &body);
}

fn amounts(page: &mut Page, plan: &Plan, units: UnitSystem) {
    let amounts = &plan.amounts;
    page.heading("To weigh and measure");
    let grist = amounts.grist.iter().map(|malt| {
        vec![
            malt.malt.clone(),
            show::malt(malt.kg, units).text(),
            show::percent(malt.share_percent).text(),
        ]
    });
    let sum = vec!["together".to_owned(), show::malt(amounts.grist_kg, units).text()];
    page.table(&["malt", "", ""], &grist.chain([sum]).collect::<Vec<_>>());
    let hops: Vec<Vec<String>> = amounts
        .hops
        .iter()
        .map(|hop| {
            vec![
                format!("{}, {}", hop.hop, in_units(&hop.when, units)),
                show::hops(hop.g, units).text(),
                show::percent(hop.alpha_percent).text(),
                format!("{:.0}\u{202f}IBU", hop.gives_ibu),
            ]
        })
        .collect();
    if !hops.is_empty() {
        page.text.push('\n');
        page.table(&["hops", "", "alpha", "gives"], &hops);
    }
    let others: Vec<Vec<String>> = amounts
        .others
        .iter()
        .map(|other| {
            let figure = rows::other_amount(other, units);
            vec![format!("{}, {}", other.what, in_units(&other.when, units)), figure.text()]
        })
        .collect();
    if !others.is_empty() {
        page.text.push('\n');
        page.table(&["other", ""], &others);
    }
    page.text.push('\n');
    let at = |litres, celsius| {
        format!("{} at {}", show::volume(litres, units), show::temperature(celsius, units))
    };
    let mut liquor = vec![vec!["strike".to_owned(), at(amounts.strike_l, amounts.strike_c)]];
    if amounts.sparge_l > 0.0 {
        liquor.push(vec!["sparge".to_owned(), at(amounts.sparge_l, amounts.sparge_c)]);
    }
    liquor.push(vec!["fill cold".to_owned(), show::volume(amounts.fill_l, units).text()]);
    liquor.push(vec!["set aside".to_owned(), show::volume(amounts.reserve_l, units).text()]);
    page.table(&["liquor", ""], &liquor);
}

fn steps(page: &mut Page, plan: &Plan, units: UnitSystem) {
    let start = plan.milestones.start_clock_min;
    for row in sheet::sheet_rows(plan, start, units) {
        match row {
            sheet::SheetRow::Part(name) => page.heading(&name),
            sheet::SheetRow::Caution(words) => page.hanging("  !!   ", 7, &words),
            sheet::SheetRow::Step(step) => {
                let first = format!("{:<7}", step.clock);
                page.hanging(&format!("{first} "), 8, &format!("{} ({})", step.words, step.since));
                if !step.expect.is_empty() {
                    page.line(8, &format!("expect {}", step.expect.join(", ")));
                }
            }
        }
    }
}

/// What holds all day long.
fn notes(page: &mut Page, plan: &Plan, units: UnitSystem) {
    page.list("All day long", &sheet::notes(plan, units));
}

fn milestones(page: &mut Page, plan: &Plan, units: UnitSystem) {
    page.heading("The day it makes");
    let body: Vec<Vec<String>> = rows::day_it_makes(plan, units)
        .into_iter()
        .map(|(label, value)| vec![label.to_owned(), value])
        .collect();
    page.table(&["", ""], &body);
}

fn limits(page: &mut Page, plan: &Plan, units: UnitSystem) {
    if plan.limits.is_empty() {
        return;
    }
    page.heading("Limits of the pots");
    for limit in &plan.limits {
        let verdict = match (limit.kept, limit.care) {
            (false, _) => "BROKEN ",
            (true, true) => "care   ",
            (true, false) => "kept   ",
        };
        page.hanging(verdict, 7, &rows::limit_words(limit, units));
    }
}

fn fuel_and_ledger(page: &mut Page, plan: &Plan, units: UnitSystem) {
    let fuel: Vec<Vec<String>> = rows::fuel(plan, units)
        .into_iter()
        .map(|(label, figure)| vec![label.to_owned(), figure.text()])
        .collect();
    if !fuel.is_empty() {
        page.heading("Fuel");
        page.table(&["", ""], &fuel);
    }
    for balance in rows::balances(plan, units) {
        page.heading(&format!("Where the {} goes", balance.name.to_lowercase()));
        let mut body: Vec<Vec<String>> = balance
            .went
            .into_iter()
            .map(|(what, figure, part)| vec![what, figure.text(), show::percent(part).text()])
            .collect();
        body.push(vec!["together".to_owned(), balance.went_sum.text()]);
        page.table(&["", "", ""], &body);
    }
}
