//! The wanted beer: targets, grist, hops, liquor, rests, yeast; the brew document.
//!
//! Knows no pots, no clock and no physics: a brew says what is wanted and how, and leaves open
//! what the planner shall find.

mod brew;
mod judge;
mod read;
mod shape;

pub use brew::{
    Acid, Addition, AdditionKind, Analysis, Boil, Brew, Certificate, GristAmount, GristItem,
    HopAddition, HopAmount, HopForm, Limit, Liquor, LiquorUse, Mash, Reach, Rest, RestName, Salt,
    Sparge, SpargeHow, Target, Thickness, Wanted, When, Yeast,
};
pub use read::{ReadBrew, read, read_file, read_placed, schema};
