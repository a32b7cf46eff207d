//! The same numbers as a drawing shows, as a table: for those who don't see it.

use crate::components::quantity;
use app::picture::LevelRow;
use maud::{Markup, html};

/// Volume and temperature of every vessel at the moments of the day.
pub(crate) fn levels(vessels: &[String], rows: &[LevelRow]) -> Markup {
    html! {
        details.twin {
            summary { "The same as a table" }
            table {
                thead { tr {
                    th { "Time" }
                    @for vessel in vessels { th.n { (vessel) } }
                } }
                tbody {
                    @for row in rows {
                        tr {
                            td.n { (row.clock) }
                            @for cell in &row.cells {
                                td.n {
                                    @if let Some((volume, temperature)) = cell {
                                        (quantity(volume))
                                        @if let Some(temperature) = temperature {
                                            ", " (quantity(temperature))
                                        }
                                    } @else { "empty" }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}
