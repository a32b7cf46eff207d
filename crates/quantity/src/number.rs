//! A number as people type it: decimal point or comma, fractions, real minus, thin spaces.
//!
//! It reads one number at the start of a text and knows no unit.

/// What stands at the start of a text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Number {
    /// Its value, perhaps infinite when an exponent is absurd.
    pub value: f64,
    /// Bytes it takes.
    pub len: usize,
    /// It is written like `1,500`: a comma and just three digits, which may mean thousands.
    pub maybe_thousands: bool,
    /// A second separator follows, as in `1,200.5`.
    pub two_separators: bool,
}

/// Spaces that may stand between groups of three digits.
const GROUP_SPACES: [char; 3] = ['\u{2009}', '\u{202f}', '\u{a0}'];

const VULGAR: [(char, f64); 15] = [
    ('¼', 0.25),
    ('½', 0.5),
    ('¾', 0.75),
    ('⅛', 0.125),
    ('⅜', 0.375),
    ('⅝', 0.625),
    ('⅞', 0.875),
    ('⅓', 1.0 / 3.0),
    ('⅔', 2.0 / 3.0),
    ('⅕', 0.2),
    ('⅖', 0.4),
    ('⅗', 0.6),
    ('⅘', 0.8),
    ('⅙', 1.0 / 6.0),
    ('⅚', 5.0 / 6.0),
];

fn vulgar(c: char) -> Option<f64> {
    VULGAR.iter().find(|(v, _)| *v == c).map(|(_, value)| *value)
}

/// Whether a number could begin with this character.
pub(crate) fn may_begin(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '-' | '−' | '+' | '.') || vulgar(c).is_some()
}

fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

/// Reads the number at the very start of `text`; `None` when there is none.
pub(crate) fn number_at_start(text: &str) -> Option<Number> {
    let mut at = 0;
    let mut sign = 1.0;
    if let Some(c) = text.chars().next().filter(|c| matches!(c, '-' | '−' | '–' | '+')) {
        at += c.len_utf8();
        sign = if c == '+' { 1.0 } else { -1.0 };
        at += text[at..].len() - text[at..].trim_start().len();
    }
    if let Some(value) = text[at..].chars().next().and_then(vulgar) {
        let len = at + text[at..].chars().next().map_or(0, char::len_utf8);
        return Some(plain(sign * value, len));
    }
    let mut figures = String::new();
    at += integer(&text[at..], &mut figures);
    let whole_end = at;
    let whole = figures.clone();
    let mut maybe_thousands = false;
    let mut two_separators = false;
    if let Some(separator @ (b'.' | b',')) = text.as_bytes().get(at).copied() {
        let n = digits(&text[at + 1..]);
        if n > 0 {
            figures.push('.');
            figures.push_str(&text[at + 1..at + 1 + n]);
            at += 1 + n;
            let leading = whole.bytes().any(|b| b != b'0');
            maybe_thousands = separator == b',' && n == 3 && leading && whole.len() <= 3;
            let next = text.as_bytes().get(at).copied();
            two_separators = matches!(next, Some(b'.' | b',')) && digits(&text[at + 1..]) > 0;
        }
    }
    if figures.is_empty() {
        return None;
    }
    if at == whole_end
        && let Some((fraction, len)) = fraction_after(&text[at..], &whole)
    {
        return Some(plain(sign * fraction, at + len));
    }
    at += exponent(&text[at..], &mut figures);
    let value = sign * figures.parse::<f64>().unwrap_or(f64::NAN);
    Some(Number { value, len: at, maybe_thousands, two_separators })
}

fn plain(value: f64, len: usize) -> Number {
    Number { value, len, maybe_thousands: false, two_separators: false }
}

/// Takes digits in groups; says how many bytes they take.
fn integer(text: &str, figures: &mut String) -> usize {
    let mut at = digits(text);
    figures.push_str(&text[..at]);
    if at == 0 || at > 3 {
        return at;
    }
    while let Some(space) = text[at..].chars().next().filter(|c| GROUP_SPACES.contains(c)) {
        let group = &text[at + space.len_utf8()..];
        if digits(group) != 3 {
            break;
        }
        figures.push_str(&group[..3]);
        at += space.len_utf8() + 3;
    }
    at
}

/// Takes `e-3`; says how many bytes it takes.
fn exponent(text: &str, figures: &mut String) -> usize {
    let bytes = text.as_bytes();
    if !matches!(bytes.first(), Some(b'e' | b'E')) {
        return 0;
    }
    let signed = usize::from(matches!(bytes.get(1), Some(b'+' | b'-')));
    let n = digits(&text[1 + signed..]);
    if n == 0 {
        return 0;
    }
    figures.push_str(&text[..1 + signed + n]);
    1 + signed + n
}

/// The number with a fraction behind the whole part `15`: ` 3/4`, `-3/4`, `¾`, or `/4` itself.
fn fraction_after(text: &str, whole: &str) -> Option<(f64, usize)> {
    let whole_value = whole.parse::<f64>().ok()?;
    if let Some(rest) = text.strip_prefix(['/', '⁄']) {
        let slash = text.len() - rest.len();
        let n = digits(rest);
        let under = rest[..n].parse::<f64>().ok().filter(|d| *d > 0.0)?;
        return Some((whole_value / under, slash + n));
    }
    let trimmed = text.trim_start().strip_prefix('-').unwrap_or(text.trim_start());
    let skipped = text.len() - trimmed.len();
    if let Some(value) = trimmed.chars().next().and_then(vulgar) {
        let len = trimmed.chars().next().map_or(0, char::len_utf8);
        return Some((whole_value + value, skipped + len));
    }
    let n = digits(trimmed);
    if n == 0 || skipped == 0 {
        return None;
    }
    let over = trimmed[..n].parse::<f64>().ok()?;
    let rest = trimmed[n..].strip_prefix(['/', '⁄'])?;
    let slash = trimmed.len() - n - rest.len();
    let m = digits(rest);
    let under = rest[..m].parse::<f64>().ok().filter(|d| *d > 0.0)?;
    (over < under).then_some((whole_value + over / under, skipped + n + slash + m))
}
