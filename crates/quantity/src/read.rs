//! Text to quantity: "21 L", "145 °F ± 2 °F", "about 1.048", and what to say when it can't be meant.
//!
//! A unit is never guessed: only a specific gravity may stand without one. It reads one quantity
//! from one text; files and places in them are not its business.

use std::ops::Range;

use crate::number::{Number, may_begin, number_at_start};
use crate::unit::{Scale, Unit, units_of};
use crate::{Dimension, Quantity};

/// A quantity as a person stated it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stated<Q> {
    /// The value.
    pub value: Q,
    /// Half of the 80 % interval, as a difference in the SI unit of `Q`; none when not stated.
    pub half_width: Option<f64>,
    /// Written with a leading `about`: the planner may move it.
    pub about: bool,
}

impl<Q: Quantity> Stated<Q> {
    /// A value without doubt that is kept as it is.
    #[must_use]
    pub fn exactly(value: Q) -> Self {
        Self { value, half_width: None, about: false }
    }
}

/// A stated quantity whose kind is known at run time only; numbers in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StatedSi {
    /// The kind.
    pub dimension: Dimension,
    /// The value in [`Dimension::si_unit`].
    pub value: f64,
    /// Half of the 80 % interval in the same unit.
    pub half_width: Option<f64>,
    /// Written with a leading `about`.
    pub about: bool,
}

impl StatedSi {
    /// As the newtype, when it is of that kind.
    #[must_use]
    pub fn typed<Q: Quantity>(self) -> Option<Stated<Q>> {
        (self.dimension == Q::DIMENSION).then(|| Stated {
            value: Q::from_si(self.value),
            half_width: self.half_width,
            about: self.about,
        })
    }
}

/// Why a text can't be read as a quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reason {
    /// Nothing stands there.
    Empty,
    /// No number where one should be; `nan` and `inf` are none.
    NoNumber,
    /// Both kinds of decimal mark, or a comma that may mean thousands.
    AmbiguousNumber,
    /// A number without its unit.
    MissingUnit,
    /// A unit that could mean two things.
    AmbiguousUnit,
    /// A unit nobody knows here.
    UnknownUnit,
    /// A unit of another kind of quantity.
    WrongKind,
    /// Less or more than there can be.
    OutOfRange,
    /// The doubt after `±` can't be meant.
    BadDoubt,
    /// Text left over after the quantity.
    Leftover,
}

/// A text that is no such quantity: what was found, what was expected, what may have been meant.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{found}; expected {expected}")]
pub struct ReadError {
    /// The kind of mistake.
    pub reason: Reason,
    /// What stands there, in words.
    pub found: String,
    /// What should, in words.
    pub expected: String,
    /// What may have been meant.
    pub suggestion: Option<String>,
    /// The bytes of the text that are at fault.
    pub range: Range<usize>,
}

/// Reads a quantity of one kind.
///
/// # Errors
/// [`ReadError`] when the text is not that, or not clearly that.
pub fn read<Q: Quantity>(text: &str) -> Result<Stated<Q>, ReadError> {
    let stated = read_any(text, &[Q::DIMENSION])?;
    Ok(Stated {
        value: Q::from_si(stated.value),
        half_width: stated.half_width,
        about: stated.about,
    })
}

/// Reads a quantity of any of several kinds; the unit says which, the first wins.
///
/// # Errors
/// [`ReadError`] when the text is none of them, or not clearly one.
pub fn read_any(text: &str, kinds: &[Dimension]) -> Result<StatedSi, ReadError> {
    let reader = Reader { text, kinds };
    let whole = reader.trimmed(0..text.len());
    if whole.is_empty() {
        return Err(reader.error(Reason::Empty, whole, "nothing", None));
    }
    if text.len() > 200 {
        return Err(reader.error(Reason::Leftover, 0..text.len(), "a long text", None));
    }
    let (about, body) = reader.about(whole);
    let (left, right) = reader.doubt(body)?;
    let mut parts = reader.parts(left)?;
    let doubt = right.map(|range| reader.parts(range)).transpose()?;
    reader.borrow_unit(&mut parts, doubt.as_deref());
    let (unit, dimension) = reader.unit(&parts)?;
    let value = reader.value(&parts, &unit, dimension)?;
    let half_width = match doubt {
        None => None,
        Some(doubt) => Some(reader.half_width(&doubt, &parts, &unit, dimension, value)?),
    };
    Ok(StatedSi { dimension, value, half_width, about })
}

/// A number and the unit behind it, as places in the text.
#[derive(Debug, Clone)]
struct Part {
    number: Number,
    at: Range<usize>,
    unit: Range<usize>,
}

struct Reader<'a> {
    text: &'a str,
    kinds: &'a [Dimension],
}

/// Units that may follow each other in one quantity: `2 h 31 min`, `5 ft 3 in`, `4 lb 8 oz`.
const CHAINS: [&[&str]; 3] = [&["d", "h", "min", "s"], &["ft", "in"], &["lb", "oz"]];

/// Units that mean two things, or not what is read here, with what to write.
const AMBIGUOUS: [(&str, &str); 15] = [
    ("°", "\"°C\" or \"°F\""),
    ("deg", "\"°C\" or \"°F\""),
    ("degrees", "\"°C\" or \"°F\""),
    ("fl oz", "the volume in \"mL\", \"qt\" or \"gal\""),
    ("pt", "the volume in \"qt\" or \"L\" (pints differ between countries)"),
    ("pint", "the volume in \"qt\" or \"L\" (pints differ between countries)"),
    ("pints", "the volume in \"qt\" or \"L\" (pints differ between countries)"),
    ("imp gal", "the volume in \"L\" (one imperial gallon is 4.54609 L; \"gal\" is US)"),
    ("UK gal", "the volume in \"L\" (one imperial gallon is 4.54609 L; \"gal\" is US)"),
    ("t", "the mass in \"kg\""),
    ("Btu", "\"Btu/h\" or \"kBtu/h\" (a power has its \"/h\")"),
    ("BTU", "\"Btu/h\" or \"kBtu/h\" (a power has its \"/h\")"),
    ("hp", "the power in \"kW\""),
    ("°f", "\"°F\", or \"°dH\" for a hardness"),
    ("GPM", "\"gal/min\" or \"L/min\""),
];

impl Reader<'_> {
    fn trimmed(&self, range: Range<usize>) -> Range<usize> {
        let text = &self.text[range.clone()];
        let start = range.start + text.len() - text.trim_start().len();
        let end = (start + text.trim().len()).min(range.end);
        start..end
    }

    /// Cuts a leading "about" off.
    fn about(&self, range: Range<usize>) -> (bool, Range<usize>) {
        let text = &self.text[range.clone()];
        let word = text.get(..5).is_some_and(|w| w.eq_ignore_ascii_case("about"));
        let free =
            text.get(5..).and_then(|rest| rest.chars().next()).is_some_and(char::is_whitespace);
        if word && free { (true, self.trimmed(range.start + 5..range.end)) } else { (false, range) }
    }

    /// Cuts at the one `±`, `+-` or `+/-`.
    fn doubt(
        &self,
        range: Range<usize>,
    ) -> Result<(Range<usize>, Option<Range<usize>>), ReadError> {
        let text = &self.text[range.clone()];
        let found = ["±", "+/-", "+-"]
            .iter()
            .filter_map(|mark| text.find(mark).map(|at| (at, mark.len())))
            .min();
        let Some((at, len)) = found else { return Ok((range, None)) };
        let left = self.trimmed(range.start..range.start + at);
        let right = self.trimmed(range.start + at + len..range.end);
        if right.is_empty() {
            let mark = range.start + at..range.start + at + len;
            return Err(self.error(Reason::BadDoubt, mark, "± with nothing behind it", None));
        }
        Ok((left, Some(right)))
    }

    /// Splits into numbers and their units.
    fn parts(&self, range: Range<usize>) -> Result<Vec<Part>, ReadError> {
        let mut parts = Vec::new();
        let mut at = range.start;
        while at < range.end {
            let Some(number) = number_at_start(&self.text[at..range.end]) else {
                return Err(self.no_number(at..range.end));
            };
            let number_at = at..at + number.len;
            if number.two_separators {
                let found = "a number with both comma and point";
                let advice = "write thousands without a separator: \"1200.5\"".to_owned();
                return Err(self.error(Reason::AmbiguousNumber, range, found, Some(advice)));
            }
            let unit = self
                .trimmed(number_at.end..number_at.end + self.unit_len(number_at.end, range.end));
            let next = self.trimmed(unit.end..range.end).start;
            parts.push(Part { number, at: number_at, unit });
            at = next.max(at + 1);
        }
        if parts.is_empty() { Err(self.no_number(range)) } else { Ok(parts) }
    }

    /// Bytes of the unit that begins at `start`: up to the next number.
    fn unit_len(&self, start: usize, end: usize) -> usize {
        let text = &self.text[start..end];
        if self.find(&self.spelling(&self.trimmed(start..end))).is_some() {
            return text.len(); // `5 in2` is an area, not five inches and two
        }
        for link in CHAINS.iter().flat_map(|chain| chain.iter()) {
            let glued = text.strip_prefix(link);
            if glued.is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit())) {
                return link.len();
            }
        }
        let mut after_space = false;
        for (i, c) in text.char_indices() {
            if after_space && may_begin(c) {
                return i;
            }
            after_space = c.is_whitespace();
        }
        text.len()
    }

    /// In `400 ± 1 mm` both numbers have the unit that stands behind the second.
    fn borrow_unit(&self, parts: &mut [Part], doubt: Option<&[Part]>) {
        let ([value], Some([doubt])) = (parts, doubt) else { return };
        let relative = self.spelling(&doubt.unit) == "%" && !self.kinds.contains(&Dimension::Share);
        if value.unit.is_empty() && !doubt.unit.is_empty() && !relative {
            value.unit = doubt.unit.clone();
        }
    }

    /// The spelling of a unit, with look-alike degree signs and a space behind the sign mended.
    fn spelling(&self, range: &Range<usize>) -> String {
        let plain = self.text[range.clone()].replace(['º', '˚'], "°");
        let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ");
        match plain.strip_prefix("° ") {
            Some(rest) => format!("°{rest}"),
            None => plain,
        }
    }

    fn find(&self, spelling: &str) -> Option<(Unit, Dimension)> {
        self.kinds.iter().find_map(|kind| unit_spelled(spelling, *kind).map(|unit| (unit, *kind)))
    }

    /// The unit of the first part, which decides the kind.
    fn unit(&self, parts: &[Part]) -> Result<(Unit, Dimension), ReadError> {
        let part = &parts[0];
        let spelling = self.spelling(&part.unit);
        if let Some(found) = self.find(&spelling) {
            return Ok(found);
        }
        if let ([first, second, ..], true) = (parts, spelling.is_empty()) {
            let range = first.at.start..second.unit.end.max(second.at.end);
            let text = &self.text[range.clone()];
            let found = format!("\"{}\", two numbers without a unit between", clip(text));
            let joined = format!(
                "{}{}",
                &self.text[first.at.clone()],
                &self.text[second.at.start..range.end]
            );
            return Err(self.error(
                Reason::AmbiguousNumber,
                range,
                &found,
                Some(format!("\"{joined}\"")),
            ));
        }
        if spelling.is_empty() {
            let gravity = (0.97..=1.2).contains(&part.number.value);
            if gravity && self.kinds.contains(&Dimension::Extract) {
                return Ok((gravity_unit(), Dimension::Extract));
            }
            return Err(self.missing_unit(part));
        }
        Err(self.unknown_unit(part, &spelling))
    }

    /// The value in SI, all parts added.
    fn value(&self, parts: &[Part], unit: &Unit, dimension: Dimension) -> Result<f64, ReadError> {
        let first = &parts[0];
        let whole = first.at.start..parts[parts.len() - 1].unit.end.max(first.at.end);
        if parts.iter().any(|p| p.number.maybe_thousands) && unit.scale != Scale::Gravity {
            let digits = self.text[first.at.clone()].to_owned();
            let meant = self.text[whole.clone()].replace(',', "");
            let other = self.text[whole.clone()].replace(',', ".");
            let found = format!("\"{digits}\", which may mean thousands or a decimal comma");
            let advice = format!("\"{meant}\" or \"{other}\"");
            return Err(self.error(Reason::AmbiguousNumber, whole, &found, Some(advice)));
        }
        let mut si = unit.to_si(first.number.value);
        let mut last = unit.symbol;
        for part in &parts[1..] {
            let next = self.link(last, part, dimension)?;
            si += next.to_si(part.number.value).copysign(if first.number.value < 0.0 {
                -1.0
            } else {
                1.0
            });
            last = next.symbol;
        }
        let (least, greatest) = dimension.limits();
        if si.is_finite() && (least..=greatest).contains(&si) {
            return Ok(si);
        }
        let found = if si < least && least == 0.0 {
            format!("{} below nothing", dimension.name())
        } else {
            format!("{} that can't be", dimension.name())
        };
        let mut error = self.error(Reason::OutOfRange, whole, &found, None);
        let (from, to) = (unit.number_of(least), unit.number_of(greatest));
        error.expected = format!(
            "{} between {} and {} {}",
            dimension.name(),
            short(from),
            short(to),
            unit.symbol
        );
        Err(error)
    }

    /// The unit of a further part, which must be a smaller one of the same family.
    fn link(&self, before: &str, part: &Part, dimension: Dimension) -> Result<Unit, ReadError> {
        let mut spelling = self.spelling(&part.unit);
        if spelling.is_empty() && before == "h" {
            "min".clone_into(&mut spelling);
        }
        let unit = unit_spelled(&spelling, dimension);
        let follows = unit.filter(|unit| {
            CHAINS.iter().any(|chain| {
                let place = |symbol: &str| chain.iter().position(|link| *link == symbol);
                matches!((place(before), place(unit.symbol)), (Some(a), Some(b)) if a < b)
            })
        });
        follows.filter(|_| part.number.value >= 0.0).ok_or_else(|| {
            let range = part.at.start..part.unit.end.max(part.at.end);
            let found = format!("a second number \"{}\"", &self.text[range.clone()]);
            self.error(Reason::Leftover, range, &found, None)
        })
    }

    /// The half width in SI.
    fn half_width(
        &self,
        doubt: &[Part],
        parts: &[Part],
        unit: &Unit,
        dimension: Dimension,
        value_si: f64,
    ) -> Result<f64, ReadError> {
        let part = &doubt[0];
        let range = part.at.start..part.unit.end.max(part.at.end);
        let spelling = self.spelling(&part.unit);
        let number = part.number.value;
        let bad = |found: &str, advice: Option<String>| {
            Err(self.error(Reason::BadDoubt, range.clone(), found, advice))
        };
        if doubt.len() > 1 {
            return bad("more than one number behind ±", None);
        }
        if !number.is_finite() || number < 0.0 {
            return bad("a doubt that is no plain number above zero", None);
        }
        if part.number.maybe_thousands && unit.scale != Scale::Gravity {
            return bad("a doubt that may mean thousands or a decimal comma", None);
        }
        let own = unit.number_of(value_si);
        let si = if spelling == "%" && dimension != Dimension::Share {
            if !unit.starts_at_zero() {
                let found =
                    format!("a percentage of a number in {}, which has no true zero", unit.symbol);
                let example =
                    format!("\"{} ± 1 {}\"", &self.text[parts[0].at.clone()], unit.symbol);
                return bad(&found, Some(example));
            }
            unit.half_width_to_si(own, own.abs() * number / 100.0)
        } else if spelling.is_empty() && unit.scale == Scale::Gravity {
            unit.half_width_to_si(own, number)
        } else if let Some(other) = unit_spelled(&spelling, dimension) {
            other.half_width_to_si(other.number_of(value_si), number)
        } else if spelling.is_empty() {
            let value = self.text[parts[0].at.start..parts[0].unit.end].to_owned();
            let meant = format!("\"{value} ± {} {}\"", &self.text[part.at.clone()], unit.symbol);
            return bad("a doubt without a unit", Some(meant));
        } else {
            return bad(&format!("a doubt in \"{spelling}\""), None);
        };
        let (least, greatest) = dimension.limits();
        if si.is_finite() && si <= greatest - least {
            return Ok(si);
        }
        bad("a doubt greater than the quantity can be", None)
    }

    fn no_number(&self, range: Range<usize>) -> ReadError {
        let found = format!("\"{}\" where a number should be", clip(&self.text[range.clone()]));
        self.error(Reason::NoNumber, range, &found, None)
    }

    fn missing_unit(&self, part: &Part) -> ReadError {
        let number = self.text[part.at.clone()].to_owned();
        let value = part.number.value;
        let meant = match self.kinds.first() {
            Some(Dimension::Extract) if (1000.0..1200.0).contains(&value) => {
                format!("\"{}\"", short(value / 1000.0))
            }
            Some(kind) => {
                let (least, greatest) = kind.limits();
                let could = |u: &&Unit| (least..=greatest).contains(&u.to_si(value));
                let units = units_of(*kind).iter().filter(could).take(2);
                units.map(|u| format!("\"{number} {}\"", u.symbol)).collect::<Vec<_>>().join(" or ")
            }
            None => String::new(),
        };
        let found = format!("the number {number} without a unit");
        let meant = Some(meant).filter(|meant| !meant.is_empty());
        self.error(Reason::MissingUnit, part.at.clone(), &found, meant)
    }

    fn unknown_unit(&self, part: &Part, spelling: &str) -> ReadError {
        let number = &self.text[part.at.clone()];
        let range = part.unit.clone();
        if let Some((_, meant)) = AMBIGUOUS.iter().find(|(unit, _)| *unit == spelling) {
            let found = format!("the unit \"{spelling}\", which is not clear");
            return self.error(Reason::AmbiguousUnit, range, &found, Some((*meant).to_owned()));
        }
        let other = Dimension::ALL.into_iter().find(|kind| unit_spelled(spelling, *kind).is_some());
        if let Some(kind) = other {
            let found = format!("\"{number} {spelling}\" is {}", kind.name());
            return self.error(Reason::WrongKind, range, &found, None);
        }
        let lower = spelling.to_lowercase();
        let units = self.kinds.iter().flat_map(|kind| units_of(*kind));
        let meant = units
            .flat_map(|unit| unit.spellings().map(move |s| (s, unit.symbol)))
            .find(|(s, _)| s.to_lowercase() == lower)
            .map(|(_, symbol)| format!("\"{number} {symbol}\""));
        let found = format!("the unit \"{}\", which is not known", clip(spelling));
        self.error(Reason::UnknownUnit, range, &found, meant)
    }

    fn error(
        &self,
        reason: Reason,
        range: Range<usize>,
        found: &str,
        suggestion: Option<String>,
    ) -> ReadError {
        let expected = expected(self.kinds);
        ReadError { reason, found: found.to_owned(), expected, suggestion, range }
    }
}

/// What is expected for these kinds, in words with an example.
fn expected(kinds: &[Dimension]) -> String {
    let mut words = Vec::new();
    for kind in kinds {
        let units: Vec<_> = units_of(*kind).iter().take(4).map(|u| u.symbol).collect();
        words.push(described(*kind, &units));
    }
    words.join("; or ")
}

fn described(kind: Dimension, units: &[&str]) -> String {
    let units = units.join(", ");
    let within = if units.is_empty() { units } else { format!(" in {units}") };
    format!("{}{within}, as \"{}\"", kind.name(), kind.example())
}

fn unit_spelled(spelling: &str, dimension: Dimension) -> Option<Unit> {
    units_of(dimension).iter().find(|unit| unit.spellings().any(|s| s == spelling)).copied()
}

fn gravity_unit() -> Unit {
    Unit { symbol: "SG", also: &[], scale: Scale::Gravity }
}

/// A number with no more figures than it needs.
fn short(number: f64) -> String {
    let rounded = (number * 1e4).round() / 1e4;
    format!("{rounded}")
}

fn clip(text: &str) -> String {
    if text.chars().count() <= 40 {
        text.to_owned()
    } else {
        text.chars().take(39).chain(['…']).collect()
    }
}
