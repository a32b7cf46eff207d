//! The invented brewhouses and brews that stand in the store at the first start.
//! They are the files in `demo/`, word for word.

/// A document that comes with the program.
#[derive(Debug, Clone, Copy)]
pub struct DemoDocument {
    /// Its name in an address.
    pub slug: &'static str,
    /// Its text.
    pub text: &'static str,
}

/// The brewhouse that is chosen at the first start.
pub const DEMO_BREWHOUSE: &str = "orchard-shed";

/// The brew that is chosen at the first start.
pub const DEMO_BREW: &str = "windfall-amber";

macro_rules! demo {
    ($($slug:literal),* $(,)?) => {
        &[$(DemoDocument {
            slug: $slug,
            text: include_str!(concat!("../../../demo/", $slug, ".toml")),
        }),*]
    };
}

/// The invented brewhouses.
#[must_use]
pub fn demo_brewhouses() -> &'static [DemoDocument] {
    demo!["orchard-shed", "three-step", "tiled-kitchen", "window-bench", "club-barn"]
}

/// The invented brews.
#[must_use]
pub fn demo_brews() -> &'static [DemoDocument] {
    demo!["windfall-amber", "cellar-lamp", "morning-slate", "sill-pale", "threshing-gold"]
}
