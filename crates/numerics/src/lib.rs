//! Steppers with events, roots, elementary functions; knows no beer.
