//! Each action of a procedure with its numbers under their own names. It knows no order of actions.

use super::get;
use anyhow::{Result, bail};
use day::procedure::Action;
use serde_json::{Value, json};

macro_rules! actions {
    ($($variant:ident { $($field:ident),* }),+ $(,)?) => {
        /// An action as JSON: its name under `do`, its numbers beside it.
        pub(super) fn write(action: &Action) -> Value {
            match action {
                $(Action::$variant { $($field),* } => json!({
                    "do": stringify!($variant), $((stringify!($field)): $field),*
                })),+
            }
        }

        /// An action from the JSON of [`write`].
        pub(super) fn read(v: &Value) -> Result<Action> {
            Ok(match get::<String>(v, "do")?.as_str() {
                $(stringify!($variant) => {
                    Action::$variant { $($field: get(v, stringify!($field))?),* }
                })+
                other => bail!("no action `{other}`"),
            })
        }
    };
}

actions! {
    Wait { for_s },
    Fill { pot, mass_kg, flow_kg_s },
    Heat { pot, setting, to_c, lid },
    Keep { pot, at_c, until },
    Pour { from, to, mass_kg, flow_m3_s },
    DoughIn { grist_kg, for_s },
    Rest { for_s },
    Circulate { flow_m3_s, for_s },
    FireMash { setting, to_c, flow_m3_s },
    Infuse { mass_kg, flow_m3_s },
    DrawDecoction { solids, liquid, for_s },
    BoilDecoction { setting, for_s },
    ReturnDecoction { loss_k, for_s },
    RunOff { flow_m3_s, until_m3 },
    Sparge { mass_kg, flow_m3_s },
    Refill { mass_kg, for_s },
    LiftBag { for_s },
    BringToBoil { setting },
    Boil { setting, for_s },
    Hop { addition },
    Sugar { extract_kg, water_kg, fermentable, colour_ebc_m3 },
    Stand { for_s, to_c, lid, chill },
    Chill { to_c },
    ToFermenter { flow_m3_s, chill },
}
