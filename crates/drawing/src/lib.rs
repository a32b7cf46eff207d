//! SVG from plain views: section, lanes, dipstick; pure functions.
