//! A regular expression for quantities of some kinds, for JSON Schema.
//!
//! It accepts what the reader accepts, but for sizes; a wrong unit or none fails.

use crate::Dimension;
use crate::unit::units_of;

const UNSIGNED: &str = "(?:[0-9]+(?:[\u{2009}\u{202f}\u{a0}][0-9]{3})*(?:[.,][0-9]+)?\
    (?:[eE][-+]?[0-9]+)?(?:[ \u{202f}-]*[0-9]+/[0-9]+|/[0-9]+|[ \u{202f}-]*[¼½¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚])?\
    |[.,][0-9]+|[¼½¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚])";

/// The regular expression (ECMA 262) for a text that states a quantity of one of these kinds.
#[must_use]
pub fn pattern(kinds: &[Dimension]) -> String {
    let one: Vec<_> = kinds.iter().map(|kind| one_kind(*kind)).collect();
    format!("^\\s*(?:[Aa][Bb][Oo][Uu][Tt]\\s+)?(?:{})\\s*$", one.join("|"))
}

fn one_kind(kind: Dimension) -> String {
    let signed = kind.takes_sign();
    let number =
        if signed { format!("[-−–+]?\\s*{UNSIGNED}") } else { format!("\\+?{UNSIGNED}") };
    let mut spellings: Vec<_> = units_of(kind).iter().flat_map(|u| u.spellings()).collect();
    spellings.sort_by_key(|s| std::cmp::Reverse(s.len()));
    let unit = spellings.iter().map(|s| escaped(s)).collect::<Vec<_>>().join("|");
    let unit = format!("(?:{unit})");
    let mark = "\\s*(?:±|\\+/?-)\\s*";
    let further = match kind {
        Dimension::Duration | Dimension::Length | Dimension::Altitude | Dimension::Mass => {
            format!("(?:\\s*{UNSIGNED}\\s*{unit}?)*")
        }
        _ => String::new(),
    };
    let doubt = format!("{mark}{UNSIGNED}\\s*(?:{unit}|%)");
    let mut pattern =
        format!("{number}\\s*{unit}{further}(?:{doubt})?|{number}{mark}{UNSIGNED}\\s*{unit}");
    if kind == Dimension::Extract {
        let gravity = "(?:0[.,]9[789][0-9]*|1(?:[.,][01][0-9]*|[.,]20*)?)";
        pattern = format!("{pattern}|{gravity}(?:\\s*(?:SG|sg))?(?:{mark}{UNSIGNED}\\s*{unit}?)?");
    }
    pattern
}

/// Characters with a meaning in a regular expression, and degree signs with their look-alikes.
fn escaped(spelling: &str) -> String {
    let mut out = String::new();
    for c in spelling.chars() {
        match c {
            '°' => out.push_str("[°º˚]\\s*"),
            ' ' => out.push_str("\\s+"),
            '(' | ')' | '^' | '.' | '*' | '+' | '?' | '$' | '|' | '[' | ']' | '{' | '}' | '\\' => {
                out.push('\\');
                out.push(c);
            }
            _ => out.push(c),
        }
    }
    out
}
