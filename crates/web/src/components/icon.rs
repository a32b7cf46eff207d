//! The small signs: word mark, lamp, caution.

use maud::{Markup, html};

/// The vessel between mash tun and kettle.
pub(crate) fn word_mark() -> Markup {
    html! {
        svg.word-mark viewBox="0 0 30 26" aria-hidden="true" {
            path.l-cut d="M3 2v18h24V2" {}
            path.w-wort d="M4.5 11h21v7.5h-21z" {}
            path.l-out.i-wort d="M4 11h22" {}
            path.l-fb.mark-fb d="M4 15.5h22" {}
            path.l-out d="M12 20v5M18 20v5" {}
        }
    }
}

/// A lamp over the sheet.
pub(crate) fn lamp() -> Markup {
    html! {
        svg viewBox="0 0 24 24" aria-hidden="true" {
            path.l-out d="M6 15a6 6 0 0 1 12 0z" {}
            path.l-out d="M12 9V3M4 15h16" {}
            path.l-out d="M10 15.6a2 2 0 0 0 4 0" {}
            path.l-thin d="M7 19l-2 2.4M12 19.6v2.8M17 19l2 2.4" {}
        }
    }
}

/// A triangle with a stroke.
pub(crate) fn caution() -> Markup {
    html! {
        svg viewBox="0 0 28 28" role="img" aria-label="Caution" {
            path d="M14 3 26 25H2z" fill="none" stroke="currentColor" stroke-width="2.4" {}
            path d="M14 11v7M14 20.4v2" stroke="currentColor" stroke-width="2.6" {}
        }
    }
}
