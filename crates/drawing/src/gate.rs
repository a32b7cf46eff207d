//! A gate: the tolerance of a wanted value as two posts, the expected value as a pencil line.
//! It deliberately draws no hump and no chance: nothing here knows how sure the value is.

use crate::pen::{Hold, Pen, Way};
use maud::Markup;

/// Left and right post, in px.
const POSTS: (f64, f64) = (45.0, 105.0);
/// The ground the posts stand on, in px.
const BASE: f64 = 42.0;
/// Width of the drawing.
const WIDTH: f64 = 150.0;

/// A wanted value with its tolerance, and what is expected.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GateView {
    /// Lower post.
    pub low: f64,
    /// Upper post.
    pub high: f64,
    /// What is expected, in the same unit; none when nothing is solved yet.
    pub expected: Option<f64>,
    /// Written at the lower post, with the digits of the quantity.
    pub low_text: String,
    /// Written at the upper post.
    pub high_text: String,
    /// Sentence for those who don't see the drawing.
    pub label: String,
}

/// Draws the gate. An expected value far outside stands at the edge, with an arrow outwards.
#[must_use]
pub fn gate(view: &GateView) -> Markup {
    let mut pen = Pen::new("", "g");
    pen.line((0.0, BASE), (WIDTH, BASE), "base");
    let posts = Way::at(POSTS.0, 4.0).to(POSTS.0, BASE + 4.0);
    pen.path(&posts.and_at(POSTS.1, 4.0).to(POSTS.1, BASE + 4.0), "post");
    if let Some(expected) = view.expected.filter(|x| x.is_finite()) {
        let x = place(view.low, view.high, expected);
        let shown = x.clamp(5.0, WIDTH - 5.0);
        pen.path(&Way::at(shown, 10.0).to(shown, BASE), "c-exp");
        if shown != x {
            let out = if x < shown { -1.0 } else { 1.0 };
            let head = Way::at(shown + 5.0 * out, 20.0).by(-6.0 * out, -4.0).by(0.0, 8.0);
            pen.path(&head.close(), "f-dim");
        }
    }
    pen.text((POSTS.0, 57.0), Hold::Middle, "t-dim", &view.low_text);
    pen.text((POSTS.1, 57.0), Hold::Middle, "t-dim", &view.high_text);
    pen.finish("gate", (WIDTH, 60.0), &view.label)
}

/// Where a value stands, in px; the posts stand where they always stand.
fn place(low: f64, high: f64, value: f64) -> f64 {
    let open = high - low;
    let share = if open.is_finite() && open > 0.0 { (value - low) / open } else { 0.5 };
    let share = if share.is_finite() { share } else { 0.5 };
    POSTS.0 + (POSTS.1 - POSTS.0) * share
}

#[cfg(test)]
mod tests {
    use super::*;

    fn view(expected: Option<f64>) -> GateView {
        GateView {
            low: 20.0,
            high: 22.0,
            expected,
            low_text: "20.0".into(),
            high_text: "22.0".into(),
            label: "Volume: 21.0, wanted 20.0 to 22.0".into(),
        }
    }

    #[test]
    fn the_middle_of_the_tolerance_stands_in_the_middle_of_the_gate() {
        let drawn = gate(&view(Some(21.0))).into_string().replace("><", ">\n<");
        let drawn = drawn.replace(" aria-label", "\naria-label");
        insta::assert_snapshot!(drawn, @r#"
        <svg class="gate" viewBox="0 0 150 60" role="img"
        aria-label="Volume: 21.0, wanted 20.0 to 22.0">
        <line x1="0" y1="42" x2="150" y2="42" class="base"/>
        <path d="M45 4L45 46M105 4L105 46" class="post"/>
        <path d="M75 10L75 42" class="c-exp"/>
        <text x="45" y="57" text-anchor="middle" class="t-dim">20.0</text>
        <text x="105" y="57" text-anchor="middle" class="t-dim">22.0</text>
        </svg>
        "#);
    }

    #[test]
    fn a_value_at_a_post_stands_at_the_post() {
        assert_eq!(place(20.0, 22.0, 20.0), POSTS.0);
        assert_eq!(place(20.0, 22.0, 22.0), POSTS.1);
    }

    #[test]
    fn a_value_far_outside_points_outwards() {
        let drawn = gate(&view(Some(40.0))).into_string();
        assert!(drawn.contains(r#"<path d="M145 10L145 42" class="c-exp"/>"#), "{drawn}");
        assert!(drawn.contains("M150 20"), "{drawn}");
        assert!(!gate(&view(Some(21.5))).into_string().contains("f-dim"));
    }

    #[test]
    fn without_an_answer_the_gate_is_empty() {
        assert!(!gate(&view(None)).into_string().contains("c-exp"));
        assert!(!gate(&view(Some(f64::NAN))).into_string().contains("c-exp"));
    }

    #[test]
    fn a_gate_without_width_does_not_divide_by_it() {
        assert_eq!(place(5.0, 5.0, 5.0), 75.0);
        assert_eq!(place(f64::NEG_INFINITY, f64::INFINITY, 5.0), 75.0);
    }
}
