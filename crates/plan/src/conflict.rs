//! placeholder until merged
use crate::error::PlanError;
use crate::output::{Conflict, Limit};
use crate::setting::Place;
use crate::solve::Solved;
use brew::Brew;
use day::simulate::Options;
pub(crate) fn conflict(
    _: &Place<'_>,
    _: &Brew,
    _: Result<&Solved, &PlanError>,
    _: &[Limit],
    _: &Options,
) -> Option<Conflict> {
    None
}
