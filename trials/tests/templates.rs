//! Every documented relation keeps the template: its table, its units, its source.
//!
//! Reads doc comments as text; it does not know what a relation means.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use std::path::{Path, PathBuf};

/// The crates whose public functions with a symbol table are held to the template.
const CRATES: &[&str] = &["matter", "process", "brewhouse"];

/// A public function with its doc comment and the text of its arguments.
struct Relation {
    place: String,
    doc: Vec<String>,
    arguments: String,
}

impl Relation {
    fn has_table(&self) -> bool {
        self.doc.iter().any(|line| line.replace(' ', "").starts_with("|symbol|"))
    }

    /// The cells of each row of the symbol table.
    fn rows(&self) -> Vec<Vec<String>> {
        self.doc
            .iter()
            .skip_while(|line| !line.replace(' ', "").starts_with("|symbol|"))
            .skip(2)
            .take_while(|line| line.starts_with('|'))
            .map(|line| line.trim_matches('|').split('|').map(|c| c.trim().to_owned()).collect())
            .collect()
    }

    /// What breaks the template.
    fn faults(&self) -> Vec<String> {
        let rows = self.rows();
        let mut faults = Vec::new();
        for argument in arguments(&self.arguments) {
            let named = rows.iter().any(|row| row.get(1).is_some_and(|c| names(c, &argument)));
            if !named {
                faults.push(format!("{}: argument `{argument}` has no row", self.place));
            }
        }
        for row in &rows {
            if row.get(2).is_none_or(|unit| unit.is_empty()) {
                faults.push(format!("{}: row {row:?} has no unit", self.place));
            }
        }
        let source = self.doc.iter().position(|line| line == "# Source");
        let told = source.and_then(|at| self.doc.get(at + 1)).is_some_and(|line| !line.is_empty());
        if !told {
            faults.push(format!("{}: no `# Source`", self.place));
        }
        faults
    }
}

/// Whether a cell of the table names an argument: `coil.ua` and `self.x` name `coil` and `self`.
fn names(cell: &str, argument: &str) -> bool {
    cell.split([',', ' ', '/']).any(|word| {
        let word = word.trim_matches('`');
        let end = word.find(['.', '[', '(']).unwrap_or(word.len());
        &word[..end] == argument
    })
}

/// The names of the arguments in `a: f64, b: &B`; `self` needs no row where it has no field in use.
fn arguments(text: &str) -> Vec<String> {
    let mut depth = 0;
    let mut pieces = vec![String::new()];
    for c in text.chars() {
        match c {
            '(' | '<' | '[' => depth += 1,
            ')' | '>' | ']' => depth -= 1,
            ',' if depth == 0 => {
                pieces.push(String::new());
                continue;
            }
            _ => {}
        }
        pieces.last_mut().unwrap().push(c);
    }
    let name = |piece: &String| Some(piece.split_once(':')?.0.trim().to_owned());
    pieces.iter().filter_map(name).map(|n| n.trim_start_matches("mut ").to_owned()).collect()
}

/// The public functions of a file.
fn relations(place: &str, text: &str) -> Vec<Relation> {
    let mut found = Vec::new();
    let mut doc: Vec<String> = Vec::new();
    let lines: Vec<&str> = text.lines().collect();
    for (at, line) in lines.iter().enumerate() {
        let line = line.trim();
        if let Some(comment) = line.strip_prefix("///") {
            doc.push(comment.trim().to_owned());
        } else if line.starts_with("pub fn ") || line.starts_with("pub const fn ") {
            let rest = lines[at..].join("\n");
            found.push(Relation {
                place: format!("{place}:{}", at + 1),
                doc: std::mem::take(&mut doc),
                arguments: between_brackets(&rest),
            });
        } else if !line.starts_with("#[") {
            doc.clear();
        }
    }
    found
}

/// The text between the first bracket and the one that closes it.
fn between_brackets(text: &str) -> String {
    let start = text.find('(').unwrap() + 1;
    let mut depth = 1;
    for (at, c) in text[start..].char_indices() {
        match c {
            '(' => depth += 1,
            ')' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return text[start..start + at].to_owned();
        }
    }
    String::new()
}

fn rust_files(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            rust_files(&path, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push(path);
        }
    }
}

#[test]
fn every_relation_names_its_arguments_units_and_source() {
    let (mut held, mut faults) = (0, Vec::new());
    for name in CRATES {
        let crates = Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates");
        let mut files = Vec::new();
        rust_files(&crates.join(name).join("src"), &mut files);
        files.sort();
        for file in files {
            let place = file.strip_prefix(&crates).unwrap().display().to_string();
            let text = std::fs::read_to_string(&file).unwrap();
            for relation in relations(&place, &text).iter().filter(|r| r.has_table()) {
                held += 1;
                faults.extend(relation.faults());
            }
        }
    }
    assert!(held > 20, "only {held} relations were found: does the reader of comments still work?");
    assert!(faults.is_empty(), "{} of {held} relations:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn a_missing_row_unit_or_source_is_seen() {
    let text = "\
/// Heat.
///
/// | symbol | argument | unit | holds for |
/// |--------|----------|------|-----------|
/// | `T`    | `temp_c` |      | any       |
pub fn heat(temp_c: f64, pair: (f64, f64)) -> f64 { 0.0 }
";
    let faults = relations("x.rs", text)[0].faults();
    assert_eq!(faults.len(), 3, "{faults:?}");
    assert!(faults[0].contains("`pair` has no row"));
    assert!(faults[1].contains("has no unit"));
    assert!(faults[2].contains("no `# Source`"));
}
