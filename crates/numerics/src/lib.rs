//! Steppers with events, roots, elementary functions; knows no beer.
//!
//! In reading order: [`math`] is the arithmetic that gives the same bits on every machine,
//! [`dopri`] integrates ordinary differential equations and stops at events, [`root`] finds where
//! a function crosses zero, [`least_squares`] solves small problems with bounds, [`interpolate`]
//! draws a monotone curve through points.
//!
//! Deliberately absent: units, processes, random numbers, threads, input and output. Nothing here
//! uses another crate of this workspace, so it could be lifted out and used for another plant.

pub mod dopri;
pub mod interpolate;
pub mod least_squares;
pub mod math;
pub mod root;
