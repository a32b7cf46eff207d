//! The pen: SVG elements by class name, every number finite and short, every word escaped.
//! It deliberately knows no colour, no font and no width: those are the style sheet's.

use maud::{Markup, PreEscaped, html};
use std::fmt::Write;

/// Farthest a coordinate may lie; what is beyond is drawn here, so that no file grows absurd.
const FARTHEST: f64 = 100_000.0;

/// A coordinate as text: one decimal, no trailing zero, never NaN or infinite.
pub(crate) fn num(x: f64) -> String {
    digits(x, 1)
}

/// A coordinate as text with up to `places` decimals.
pub(crate) fn digits(x: f64, places: usize) -> String {
    let x = if x.is_finite() { x.clamp(-FARTHEST, FARTHEST) } else { 0.0 };
    let mut text = format!("{x:.places$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

/// The value, or `otherwise` where it is not finite, held between `low` and `high`.
pub(crate) fn sane(x: f64, low: f64, high: f64, otherwise: f64) -> f64 {
    if x.is_finite() { x.clamp(low, high) } else { otherwise }
}

/// An id's start from what the caller gave: ASCII letters only, never empty.
pub(crate) fn id_start(id: &str, otherwise: &str) -> String {
    let letters: String = id.chars().filter(char::is_ascii_alphabetic).take(16).collect();
    if letters.is_empty() { otherwise.to_owned() } else { letters }
}

/// Words without control characters: those have no place in a drawing, nor in XML.
pub(crate) fn words(text: &str) -> String {
    text.chars().filter(|c| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}')).collect()
}

/// Breaks words into lines of about `width_px` at 13.5 px type.
pub(crate) fn lines_of(text: &str, width_px: f64) -> Vec<String> {
    let most = sane(width_px / 6.5, 8.0, 200.0, 40.0) as usize;
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Where a text is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Hold {
    Start,
    Middle,
    End,
}

impl Hold {
    fn name(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Middle => "middle",
            Self::End => "end",
        }
    }
}

/// The way of a path; capitals of SVG are `to` methods, small letters are `by` methods.
#[derive(Clone, Debug, Default)]
pub(crate) struct Way(String);

impl Way {
    pub(crate) fn at(x: f64, y: f64) -> Self {
        Self(String::new()).and_at(x, y)
    }

    fn put(mut self, letter: char, numbers: &[f64]) -> Self {
        self.0.push(letter);
        for (i, &x) in numbers.iter().enumerate() {
            if i > 0 {
                self.0.push(' ');
            }
            self.0.push_str(&num(x));
        }
        self
    }

    pub(crate) fn and_at(self, x: f64, y: f64) -> Self {
        self.put('M', &[x, y])
    }

    pub(crate) fn to(self, x: f64, y: f64) -> Self {
        self.put('L', &[x, y])
    }

    pub(crate) fn by(self, dx: f64, dy: f64) -> Self {
        self.put('l', &[dx, dy])
    }

    pub(crate) fn bend(self, cx: f64, cy: f64, dx: f64, dy: f64) -> Self {
        self.put('q', &[cx, cy, dx, dy])
    }

    pub(crate) fn bend_to(self, cx: f64, cy: f64, x: f64, y: f64) -> Self {
        self.put('Q', &[cx, cy, x, y])
    }

    pub(crate) fn swing(self, c1: (f64, f64), c2: (f64, f64), d: (f64, f64)) -> Self {
        self.put('c', &[c1.0, c1.1, c2.0, c2.1, d.0, d.1])
    }

    pub(crate) fn close(mut self) -> Self {
        self.0.push('z');
        self
    }

    /// A way through points; empty where there are none.
    pub(crate) fn through(points: &[(f64, f64)]) -> Self {
        points.iter().enumerate().fold(Self::default(), |way, (i, &(x, y))| {
            if i == 0 { way.and_at(x, y) } else { way.to(x, y) }
        })
    }
}

/// Collects the elements of one drawing.
#[derive(Debug)]
pub(crate) struct Pen {
    /// Start of every id.
    pub(crate) id: String,
    out: String,
}

impl Pen {
    pub(crate) fn new(id: &str, otherwise: &str) -> Self {
        Self { id: id_start(id, otherwise), out: String::new() }
    }

    fn push(&mut self, element: std::fmt::Arguments<'_>) {
        // Writing into a String cannot fail.
        let _ = self.out.write_fmt(element);
    }

    pub(crate) fn line(&mut self, a: (f64, f64), b: (f64, f64), class: &str) {
        self.line_with(a, b, class, "");
    }

    /// A line with arrows at both ends.
    pub(crate) fn arrow(&mut self, a: (f64, f64), b: (f64, f64)) {
        let ends = format!(r#" marker-start="url(#{0}arr)" marker-end="url(#{0}arr)""#, self.id);
        self.line_with(a, b, "l-dim", &ends);
    }

    fn line_with(&mut self, a: (f64, f64), b: (f64, f64), class: &str, more: &str) {
        let (x1, y1, x2, y2) = (num(a.0), num(a.1), num(b.0), num(b.1));
        self.push(format_args!(
            r#"<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}" class="{class}"{more}/>"#
        ));
    }

    pub(crate) fn path(&mut self, way: &Way, class: &str) {
        self.push(format_args!(r#"<path d="{}" class="{class}"/>"#, way.0));
    }

    /// A path broken into dashes, for what no class says.
    pub(crate) fn dashes(&mut self, way: &Way, class: &str, dash: &str) {
        self.push(format_args!(
            r#"<path d="{}" class="{class}" stroke-dasharray="{dash}"/>"#,
            way.0
        ));
    }

    /// A path that ends in an arrow.
    pub(crate) fn pointing(&mut self, way: &Way, class: &str) {
        let id = self.id.clone();
        self.push(format_args!(
            r#"<path d="{}" class="{class}" marker-end="url(#{id}arr)"/>"#,
            way.0
        ));
    }

    pub(crate) fn rect(&mut self, corner: (f64, f64), size: (f64, f64), class: &str) {
        self.rect_with(corner, size, class, "");
    }

    /// A hatched rectangle of cut metal with its outline.
    pub(crate) fn solid(&mut self, corner: (f64, f64), size: (f64, f64), outline: &str) {
        self.hatched(corner, size, "metal", "cut");
        self.rect(corner, size, outline);
    }

    /// A rectangle filled with one of the patterns: `grain`, `earth`, `metal`. The class must not
    /// be one that the style sheet fills.
    pub(crate) fn hatched(
        &mut self,
        corner: (f64, f64),
        size: (f64, f64),
        what: &str,
        class: &str,
    ) {
        let fill = format!(r#" fill="url(#{}{what})""#, self.id);
        self.rect_with(corner, size, class, &fill);
    }

    fn rect_with(&mut self, corner: (f64, f64), size: (f64, f64), class: &str, more: &str) {
        let (x, y) = (num(corner.0), num(corner.1));
        let (w, h) = (num(size.0.max(0.0)), num(size.1.max(0.0)));
        self.push(format_args!(
            r#"<rect x="{x}" y="{y}" width="{w}" height="{h}"{more} class="{class}"/>"#
        ));
    }

    pub(crate) fn circle(&mut self, centre: (f64, f64), r: f64, class: &str) {
        let (x, y, r) = (num(centre.0), num(centre.1), num(r.max(0.0)));
        self.push(format_args!(r#"<circle cx="{x}" cy="{y}" r="{r}" class="{class}"/>"#));
    }

    pub(crate) fn text(&mut self, at: (f64, f64), hold: Hold, class: &str, text: &str) {
        self.text_with(at, hold, class, text, "");
    }

    /// Text that reads upwards.
    pub(crate) fn text_up(&mut self, at: (f64, f64), class: &str, text: &str) {
        let turn = format!(r#" transform="rotate(-90 {} {})""#, num(at.0), num(at.1));
        self.text_with(at, Hold::Middle, class, text, &turn);
    }

    fn text_with(&mut self, at: (f64, f64), hold: Hold, class: &str, text: &str, more: &str) {
        let (x, y, hold) = (num(at.0), num(at.1), hold.name());
        let inner = html! { (words(text)) }.into_string();
        self.push(format_args!(
            r#"<text x="{x}" y="{y}" text-anchor="{hold}" class="{class}"{more}>{inner}</text>"#
        ));
    }

    /// One line of figures: big value, small unit, for each pair.
    pub(crate) fn figures(&mut self, at: (f64, f64), pairs: &[(String, String)]) {
        let (x, y) = (num(at.0), num(at.1));
        let inner = html! {
            @for (i, (value, unit)) in pairs.iter().enumerate() {
                @let gap = (i > 0).then_some("12");
                tspan class="t-big" dx=[gap] { (value) }
                tspan class="t-pm" dx="3" { (unit) }
            }
        }
        .into_string();
        self.push(format_args!(r#"<text x="{x}" y="{y}" text-anchor="middle">{inner}</text>"#));
    }

    /// Opens a group of a class; each is closed again.
    pub(crate) fn open_group(&mut self, class: &str) {
        self.push(format_args!(r#"<g class="{class}">"#));
    }

    /// Closes the innermost group.
    pub(crate) fn close_group(&mut self) {
        self.out.push_str("</g>");
    }

    /// The finished drawing, `width` by `height`, said in one sentence.
    pub(crate) fn finish(self, class: &str, size: (f64, f64), sentence: &str) -> Markup {
        let frame = format!("0 0 {} {}", digits(size.0, 0), digits(size.1, 0));
        self.finish_in(class, &frame, sentence)
    }

    /// The finished drawing in a view box of its own.
    pub(crate) fn finish_in(self, class: &str, frame: &str, sentence: &str) -> Markup {
        let patterns = self.out.contains("url(#").then(|| patterns(&self.id, &self.out));
        html! {
            svg class=(class) viewBox=(frame) role="img" aria-label=(words(sentence)) {
                @if let Some(patterns) = patterns { (patterns) }
                (PreEscaped(self.out))
            }
        }
    }
}

/// The patterns and the arrow that the drawing refers to, and no others.
fn patterns(id: &str, drawn: &str) -> Markup {
    let used = |what: &str| drawn.contains(&format!("url(#{id}{what})"));
    let hatch = |size: &str, d: &str, what: &str| {
        html! {
            pattern id={(id)(what)} width=(size) height=(size) patternUnits="userSpaceOnUse" {
                path d=(d) class="l-hatch" {}
            }
        }
    };
    let husks = [(3.5, 2.8, -24), (11.0, 4.6, 18), (5.8, 8.4, 6), (13.4, 9.6, -35)];
    html! {
        defs {
            @if used("grain") {
                pattern id={(id)"grain"} width="15" height="11" patternUnits="userSpaceOnUse" {
                    rect width="15" height="11" class="w-grain" {}
                    g class="i-grain" {
                        @for (x, y, turn) in husks {
                            ellipse cx=(x) cy=(y) rx="2.5" ry="1.1"
                                transform={"rotate(" (turn) " " (x) " " (y) ")"} {}
                        }
                    }
                }
            }
            @if used("earth") { (hatch("9", "M-1 10 10 -1M-1 1 1 -1M8 10 10 8", "earth")) }
            @if used("metal") { (hatch("4", "M-1 5 5 -1", "metal")) }
            @if used("arr") {
                marker id={(id)"arr"} viewBox="0 0 10 6" refX="9.4" refY="3" markerWidth="9"
                    markerHeight="6" markerUnits="userSpaceOnUse" orient="auto-start-reverse" {
                    path d="M0 .9 10 3 0 5.1z" class="f-dim" {}
                }
            }
        }
    }
}
