//! Text to quantity: "21 L", "145 °F ± 2 °F", "about 1.048".
//!
//! A unit is never guessed: only a specific gravity may stand without one. It reads one quantity
//! from one text; files and places in them are not its business.

use std::ops::Range;

use crate::number::{Number, may_begin, number_at_start};
use crate::refuse::{ReadError, Reason, clip, short};
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

/// Reads a quantity of one kind.
///
/// `about` may stand before it and a doubt behind it, half of the 80 % interval: in a unit, in
/// percent of the value (of a share, in percentage points), or with one unit for both numbers.
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
pub(crate) struct Part {
    pub number: Number,
    pub at: Range<usize>,
    pub unit: Range<usize>,
}

pub(crate) struct Reader<'a> {
    pub text: &'a str,
    pub kinds: &'a [Dimension],
}

/// Units that may follow each other in one quantity: `2 h 31 min`, `5 ft 3 in`, `4 lb 8 oz`.
const CHAINS: [&[&str]; 3] = [&["d", "h", "min", "s"], &["ft", "in"], &["lb", "oz"]];

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
        let below = first.number.value.is_sign_negative() && !dimension.takes_sign();
        if si.is_finite() && (least..=greatest).contains(&si) && !below {
            return Ok(si);
        }
        let found = if below && least == 0.0 {
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
        follows.filter(|_| part.number.value.is_sign_positive()).ok_or_else(|| {
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
        if !number.is_finite() || number.is_sign_negative() {
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
}

pub(crate) fn unit_spelled(spelling: &str, dimension: Dimension) -> Option<Unit> {
    units_of(dimension).iter().find(|unit| unit.spellings().any(|s| s == spelling)).copied()
}

fn gravity_unit() -> Unit {
    Unit { symbol: "SG", also: &[], scale: Scale::Gravity }
}
