//! The checking reader: TOML text against a shape, every mistake collected at its place.
//!
//! It knows the shape and nothing of what the keys mean.

use quantity::{Reason, read_any};
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};
use toml::value::Datetime;

use crate::finding::{Finding, Findings};
use crate::shape::{Field, Kind, Need, Shape, quoted};
use crate::source::{LARGEST_BYTES, Source, Span};
use crate::value::{Date, Document, Entry, Placed, Table, Value};

/// More mistakes than these in one file are counted, not told.
const MOST_FINDINGS: usize = 500;

/// Reads and checks.
pub(crate) fn read(
    name: &str,
    text: &str,
    shape: &'static Shape,
) -> Result<(Document, Findings), Findings> {
    if text.len() as u64 > LARGEST_BYTES {
        let mut findings = Findings::about(Source::new(name, ""));
        let message = format!("the file is too large ({} bytes)", text.len());
        findings.error(Span::default(), message).expected("at most 1 MiB, written by hand");
        return Err(findings);
    }
    let source = Source::new(name, text);
    let mut findings = Findings::about(source.clone());
    if text.contains('\0') {
        findings.error(Span::default(), "the file is binary, not text").expected("text in UTF-8");
        return Err(findings);
    }
    if text.trim_start_matches('\u{feff}').trim().is_empty() {
        let expected = shape.fields.iter().filter(|f| f.need == Need::Required);
        let keys: Vec<_> = expected.map(|field| field.key).collect();
        let error = findings.error(Span::default(), "the file is empty");
        error.expected(format!("at least {}", quoted(&keys)));
        return Err(findings);
    }
    let (root, errors) = DeTable::parse_recoverable(text);
    if !errors.is_empty() {
        for error in &errors {
            syntax(&mut findings, error);
        }
        findings.sort();
        findings.limit(MOST_FINDINGS);
        return Err(findings);
    }
    let mut checker = Checker { source: &source, findings };
    let whole = Span { start: 0, end: text.len() };
    let table = checker.table(root.get_ref(), Span::default(), whole, shape);
    let mut findings = checker.findings;
    findings.sort();
    findings.limit(MOST_FINDINGS);
    Ok((Document { source, root: table }, findings))
}

/// A mistake against TOML itself.
fn syntax(findings: &mut Findings, error: &toml::de::Error) {
    let span = error.span().map_or(Span::default(), Span::from);
    let source = findings.source().clone();
    let line_start = source.text[..source.fitted(span).start].rfind('\n').map_or(0, |at| at + 1);
    let line = source.text[line_start..].lines().next().unwrap_or("");
    let message = error.message().lines().next().unwrap_or("this can't be read").to_owned();
    if message.contains("duplicate key") {
        let key = source.slice(span).to_owned();
        findings.error(span, format!("the key \"{key}\" stands twice")).expected("each key once");
        return;
    }
    let finding = findings.error(span, message).expected("TOML: key = \"value\"");
    if let Some(quoted) = missing_quotes(line) {
        finding.perhaps(quoted);
    }
}

/// `volume = 21 L` with the quotes it lacks.
fn missing_quotes(line: &str) -> Option<String> {
    let (key, value) = line.split_once('=')?;
    let value = value.split('#').next().unwrap_or(value).trim();
    let key = key.trim();
    let plain_key = key.chars().all(|c| c.is_alphanumeric() || "-_. ".contains(c));
    let bare = !value.is_empty() && !value.contains(['"', '\'', '[', '{', '=']);
    (plain_key && bare && value.len() < 80).then(|| format!("{key} = \"{value}\""))
}

struct Checker<'a> {
    source: &'a Source,
    findings: Findings,
}

impl Checker<'_> {
    /// A table against its shape. `header` is where a missing key is shown.
    fn table(
        &mut self,
        table: &DeTable<'_>,
        header: Span,
        all: Span,
        shape: &'static Shape,
    ) -> Table {
        let mut entries = Vec::new();
        let mut misspelt = Vec::new();
        for (key, value) in in_order(table) {
            let key_span = Span::from(key.span());
            let name = key.get_ref().to_string();
            let value = match shape.field(&name) {
                Some(field) => self.field(value, key_span, field),
                None => {
                    misspelt.extend(self.unknown(&name, key_span, table, shape));
                    continue;
                }
            };
            entries.push(Entry { key: Placed { value: name, span: key_span }, value });
        }
        for field in shape.fields.iter().filter(|field| field.need == Need::Required) {
            let written = entries.iter().any(|entry| entry.key.value == field.key);
            if !written && !misspelt.contains(&field.key) {
                self.missing(field, header, all);
            }
        }
        Table { span: header, entries }
    }

    /// Says so, and returns the key of the shape that was probably meant.
    fn unknown(
        &mut self,
        name: &str,
        span: Span,
        table: &DeTable<'_>,
        shape: &'static Shape,
    ) -> Option<&'static str> {
        let free: Vec<_> =
            shape.fields.iter().map(|f| f.key).filter(|k| !table.contains_key(*k)).collect();
        let message = format!("the key \"{name}\" is not known here");
        let keys: Vec<_> = shape.fields.iter().map(|f| f.key).collect();
        let near = nearest(name, &free).or_else(|| nearest(name, &keys));
        let finding =
            self.findings.error(span, message).expected(format!("one of {}", quoted(&keys)));
        suggest(finding, near.map(|near| format!("\"{near}\"")));
        near
    }

    fn missing(&mut self, field: &'static Field, header: Span, all: Span) {
        let near_all = if header.end > header.start {
            header
        } else {
            Span { start: all.start, end: all.start }
        };
        let message = format!("the key \"{}\" is missing", field.key);
        self.findings.error(near_all, message).expected(format!(
            "{}: {}",
            field.key,
            field.kind.expected()
        ));
    }

    fn field(
        &mut self,
        value: &Spanned<DeValue<'_>>,
        key: Span,
        field: &'static Field,
    ) -> Placed<Value> {
        let placed = self.value(value, key, &field.kind);
        if let Some(range) = field.range {
            self.within(&placed, range, field);
        }
        placed
    }

    /// Least and greatest of a field, also inside a list.
    fn within(
        &mut self,
        placed: &Placed<Value>,
        (least, greatest): (f64, f64),
        field: &'static Field,
    ) {
        let (number, dimension) = match &placed.value {
            Value::Quantity(q) => (q.value, Some(q.dimension)),
            Value::Number(n) => (*n, None),
            Value::Integer(n) => (*n as f64, None),
            Value::List(items) => {
                for item in items {
                    self.within(item, (least, greatest), field);
                }
                return;
            }
            _ => return,
        };
        // Half a unit in the twelfth figure: a limit written in another unit is still met.
        let slack = 1e-12 * least.abs().max(greatest.abs());
        if number >= least - slack && number <= greatest + slack {
            return;
        }
        let side = if number < least { "too small" } else { "too great" };
        let words = match dimension {
            Some(d) => {
                let text = |si: f64| quantity::write_limit(d, si, self.source.slice(placed.span));
                format!("{} to {}", text(least), text(greatest))
            }
            None => format!("{least} to {greatest}"),
        };
        let message = format!("\"{}\" is {side} here", field.key);
        self.findings.error(placed.span, message).expected(words);
    }

    fn value(
        &mut self,
        value: &Spanned<DeValue<'_>>,
        key: Span,
        kind: &'static Kind,
    ) -> Placed<Value> {
        let span = Span::from(value.span());
        let inner = value.get_ref();
        let checked = match (kind, inner) {
            (Kind::Either(a, b), _) => {
                if could_be(a, inner) {
                    return self.value(value, key, a);
                }
                if could_be(b, inner) {
                    return self.value(value, key, b);
                }
                None
            }
            (Kind::Text, DeValue::String(text)) => self.text(text, span),
            (Kind::Word(_) | Kind::WordFrom(_), DeValue::String(text)) => {
                self.word(text, span, kind)
            }
            (Kind::Integer, DeValue::Integer(n)) => {
                i64::from_str_radix(n.as_str(), n.radix()).ok().map(Value::Integer)
            }
            (Kind::Number, DeValue::Integer(_) | DeValue::Float(_)) => self.number(inner),
            (Kind::Bool, DeValue::Boolean(b)) => Some(Value::Bool(*b)),
            (Kind::Date, DeValue::Datetime(date)) => day(date),
            (Kind::Date, DeValue::String(text)) => text.parse().ok().and_then(|d| day(&d)),
            (Kind::Quantity(_) | Kind::QuantityOrWord(..), _) if scalar(inner) => {
                let read = self.quantity(inner, span, kind);
                return Placed { value: read.unwrap_or(Value::Broken), span };
            }
            (Kind::List(item), DeValue::Array(items)) => Some(self.list(items, key, item)),
            (Kind::Table(shape), DeValue::Table(table)) => {
                let header = self.header(span, key);
                Some(Value::Table(self.table(table, header, span, shape)))
            }
            (Kind::Tables(shape), DeValue::Array(items)) => self.tables(items, key, shape),
            (Kind::Named(shape), DeValue::Table(table)) => {
                Some(Value::Table(self.named(table, span, key, shape)))
            }
            _ => None,
        };
        let checked = checked.unwrap_or_else(|| self.wrong_type(inner, span, key, kind));
        Placed { value: checked, span }
    }

    fn text(&mut self, text: &str, span: Span) -> Option<Value> {
        if text.trim().is_empty() {
            self.findings.error(span, "the text is empty").expected("some text");
            return Some(Value::Broken);
        }
        Some(Value::Text(text.to_owned()))
    }

    fn word(&mut self, text: &str, span: Span, kind: &'static Kind) -> Option<Value> {
        let words = kind.words();
        if words.contains(&text) {
            return Some(Value::Text(text.to_owned()));
        }
        let message = format!("the word \"{}\" is not known here", clip(text));
        let near = nearest(text, &words).map(|near| format!("\"{near}\""));
        suggest(self.findings.error(span, message).expected(kind.expected()), near);
        Some(Value::Broken)
    }

    fn number(&mut self, value: &DeValue<'_>) -> Option<Value> {
        let number = match value {
            DeValue::Integer(n) => i64::from_str_radix(n.as_str(), n.radix()).ok()? as f64,
            DeValue::Float(x) => x.as_str().parse::<f64>().ok()?,
            _ => return None,
        };
        number.is_finite().then_some(Value::Number(number))
    }

    /// A text (or a bare number, which is refused unless it is a gravity) as a quantity.
    fn quantity(&mut self, value: &DeValue<'_>, span: Span, kind: &'static Kind) -> Option<Value> {
        let (kinds, words) = match kind {
            Kind::Quantity(kinds) => (*kinds, &[][..]),
            Kind::QuantityOrWord(kinds, words) => (*kinds, *words),
            _ => return None,
        };
        let raw = self.source.slice(span);
        let text = match value {
            DeValue::String(text) => text.as_ref(),
            _ => raw,
        };
        if words.contains(&text) {
            return Some(Value::Text(text.to_owned()));
        }
        let error = match read_any(text, kinds) {
            Ok(stated) => return Some(Value::Quantity(stated)),
            Err(error) => error,
        };
        let quoted = raw.len() == text.len() + 2 && raw.get(1..raw.len() - 1) == Some(text);
        let at = match (quoted, raw == text) {
            (true, _) => Span {
                start: span.start + 1 + error.range.start,
                end: span.start + 1 + error.range.end,
            },
            (_, true) => {
                Span { start: span.start + error.range.start, end: span.start + error.range.end }
            }
            _ => span,
        };
        let at = if at.end > at.start { at } else { span };
        if error.reason == Reason::NoNumber && !words.is_empty() {
            let near = nearest(text, words).map(|near| format!("\"{near}\""));
            let message = format!("\"{}\" is not known here", clip(text));
            suggest(self.findings.error(span, message).expected(kind.expected()), near);
            return None;
        }
        let expected = if words.is_empty() { error.expected } else { kind.expected() };
        suggest(self.findings.error(at, error.found).expected(expected), error.suggestion);
        None
    }

    fn list(&mut self, items: &DeArray<'_>, key: Span, kind: &'static Kind) -> Value {
        Value::List(items.iter().map(|item| self.value(item, key, kind)).collect())
    }

    fn tables(&mut self, items: &DeArray<'_>, key: Span, shape: &'static Shape) -> Option<Value> {
        let mut tables = Vec::new();
        for item in items.iter() {
            let span = Span::from(item.span());
            let DeValue::Table(table) = item.get_ref() else { return None };
            let header = self.header(span, key);
            tables.push(self.table(table, header, span, shape));
        }
        Some(Value::Tables(tables))
    }

    fn named(
        &mut self,
        table: &DeTable<'_>,
        span: Span,
        key: Span,
        shape: &'static Shape,
    ) -> Table {
        let mut entries = Vec::new();
        for (name, value) in in_order(table) {
            let name_span = Span::from(name.span());
            let value_span = Span::from(value.span());
            let checked = match value.get_ref() {
                DeValue::Table(inner) => {
                    let header = self.header(value_span, name_span);
                    Value::Table(self.table(inner, header, value_span, shape))
                }
                other => {
                    self.wrong_type_of(other, value_span, &format!("a table with {}", keys(shape)))
                }
            };
            let name = Placed { value: name.get_ref().to_string(), span: name_span };
            entries.push(Entry { key: name, value: Placed { value: checked, span: value_span } });
        }
        Table { span: self.header(span, key), entries }
    }

    /// The place to show for a table as a whole: its header line, its braces, or its key.
    fn header(&self, span: Span, key: Span) -> Span {
        let slice = self.source.slice(span);
        if slice.starts_with('[') || slice.starts_with('{') {
            let len = slice.find(['\n', '\r']).unwrap_or(slice.len());
            return Span { start: span.start, end: span.start + len };
        }
        key
    }

    fn wrong_type(
        &mut self,
        value: &DeValue<'_>,
        span: Span,
        key: Span,
        kind: &'static Kind,
    ) -> Value {
        let span = if matches!(value, DeValue::Table(_)) { self.header(span, key) } else { span };
        self.wrong_type_of(value, span, &kind.expected())
    }

    fn wrong_type_of(&mut self, value: &DeValue<'_>, span: Span, expected: &str) -> Value {
        let found = match value {
            DeValue::String(text) => format!("the text \"{}\"", clip(text)),
            DeValue::Integer(_) | DeValue::Float(_) => {
                format!("the number {}", clip(self.source.slice(span)))
            }
            DeValue::Boolean(b) => format!("{b}"),
            DeValue::Datetime(_) => "a day or time".to_owned(),
            DeValue::Array(_) => "a list".to_owned(),
            DeValue::Table(_) => "a table".to_owned(),
        };
        self.findings.error(span, format!("{found} can't stand here")).expected(expected);
        Value::Broken
    }
}

/// Entries in the order of the file, which the parsed map has lost.
fn in_order<'t, 'i>(
    table: &'t DeTable<'i>,
) -> Vec<(&'t Spanned<std::borrow::Cow<'i, str>>, &'t Spanned<DeValue<'i>>)> {
    let mut entries: Vec<_> = table.iter().collect();
    entries.sort_by_key(|(key, _)| key.span().start);
    entries
}

fn scalar(value: &DeValue<'_>) -> bool {
    matches!(value, DeValue::String(_) | DeValue::Integer(_) | DeValue::Float(_))
}

/// Whether a value of this TOML type could be of this kind.
fn could_be(kind: &Kind, value: &DeValue<'_>) -> bool {
    match kind {
        Kind::Text | Kind::Word(_) | Kind::WordFrom(_) => value.is_str(),
        Kind::Integer => value.is_integer(),
        Kind::Number => value.is_integer() || value.is_float(),
        Kind::Bool => value.is_bool(),
        Kind::Date => value.is_datetime(),
        Kind::Quantity(_) | Kind::QuantityOrWord(..) => scalar(value),
        Kind::List(_) => value.is_array(),
        Kind::Tables(_) => {
            value.as_array().is_some_and(|a| a.iter().all(|v| v.get_ref().is_table()))
        }
        Kind::Table(_) | Kind::Named(_) => value.is_table(),
        Kind::Either(a, b) => could_be(a, value) || could_be(b, value),
    }
}

fn day(value: &Datetime) -> Option<Value> {
    let date = value.date.filter(|_| value.time.is_none())?;
    Some(Value::Date(Date { year: date.year, month: date.month, day: date.day }))
}

fn keys(shape: &Shape) -> String {
    quoted(&shape.fields.iter().map(|field| field.key).collect::<Vec<_>>())
}

fn suggest(finding: &mut Finding, suggestion: Option<String>) {
    finding.suggestion = suggestion;
}

/// The nearest of some words, if one is near.
fn nearest<'w>(word: &str, words: &[&'w str]) -> Option<&'w str> {
    let plain = |w: &str| w.to_lowercase().replace(['_', ' '], "-");
    let mine = plain(&clip(word));
    let scored = words.iter().map(|w| (strsim::jaro_winkler(&mine, &plain(w)), *w));
    let best = scored.max_by(|a, b| a.0.total_cmp(&b.0))?;
    let typo = strsim::damerau_levenshtein(&mine, &plain(best.1)) <= 2 && mine.len() > 3;
    (best.0 >= 0.84 || typo).then_some(best.1)
}

fn clip(text: &str) -> String {
    if text.chars().count() <= 60 {
        text.to_owned()
    } else {
        text.chars().take(59).chain(['…']).collect()
    }
}
