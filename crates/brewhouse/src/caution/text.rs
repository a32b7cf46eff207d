//! The words of the cautions, in the second person, what to do before why.
//!
//! Figures are the day's own, in the person's units; US words go with US units.

use quantity::{NARROW, Temperature, UnitSystem};

use super::Caution;

/// Stands on every page and sheet that shows a caution.
pub const OVER_EVERYTHING: &str = "These are reminders for someone who is already careful. They \
     replace no law, no maker's instructions, no trained person. Local codes come first. Gas, \
     mains electricity and pressure vessels are work for people licensed for it. In an emergency \
     call the local emergency number first.";

/// A temperature to a whole degree.
fn temp(celsius: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{celsius:.0}{NARROW}°C"),
        UnitSystem::Us => {
            format!("{:.0}{NARROW}°F", Temperature::from_celsius(celsius).fahrenheit())
        }
    }
}

/// A mass to a tenth of a kilogram or a whole pound.
fn mass(kg: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{kg:.1}{NARROW}kg"),
        UnitSystem::Us => format!("{:.0}{NARROW}lb", quantity::Mass::from_kilograms(kg).pounds()),
    }
}

/// A length to a whole centimetre or inch.
fn length(m: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{:.0}{NARROW}cm", m * 100.0),
        UnitSystem::Us => format!("{:.0}{NARROW}in", quantity::Length::from_metres(m).inches()),
    }
}

/// A level to a whole millimetre or a quarter inch.
fn level(m: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{:.0}{NARROW}mm", m * 1000.0),
        UnitSystem::Us => {
            let quarters = (quantity::Length::from_metres(m).inches() * 4.0).ceil() / 4.0;
            format!("{quarters}{NARROW}in")
        }
    }
}

/// A force to two figures; pounds-force in US units.
fn force(newton: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric if newton >= 1000.0 => format!("{:.0}{NARROW}kN", newton / 1000.0),
        UnitSystem::Metric => format!("{:.0}{NARROW}N", newton),
        // One pound-force is 4.448 221 615 260 5 N (NIST SP 811).
        UnitSystem::Us => format!("{:.0}{NARROW}lb of force", newton / 4.448_221_615_260_5),
    }
}

fn power(watts: f64) -> String {
    format!("{:.1}{NARROW}kW", watts / 1000.0)
}

/// A short time: seconds under a minute and a half, then minutes.
fn time(seconds: f64) -> String {
    if seconds < 1.5 {
        "a second".to_owned()
    } else if seconds < 90.0 {
        format!("{seconds:.0} seconds")
    } else {
        format!("{:.0} minutes", seconds / 60.0)
    }
}

impl Caution {
    /// What it says, with the day's own numbers in the person's units.
    pub fn text(&self, units: UnitSystem) -> String {
        self.about_heat(units)
            .or_else(|| self.about_weight(units))
            .or_else(|| self.about_flame(units))
            .unwrap_or_else(|| self.about_the_rest(units))
    }

    fn about_heat(&self, units: UnitSystem) -> Option<String> {
        let text = match *self {
            Caution::Carry { mass_kg, temp_c } => format!(
                "Do not lift or carry this pot. It weighs {} at {}. Empty it by valve, pump or \
                 siphon, or wait until it is below {}.",
                mass(mass_kg, units),
                temp(temp_c, units),
                temp(45.0, units)
            ),
            Caution::Transfer { temp_c, burn_s } => format!(
                "Liquid at {} burns deep in about {}. Trousers over closed boots, long sleeves, \
                 face cover. Clamp the hose at both ends and tie its free end down before you \
                 open the valve. Nobody below.",
                temp(temp_c, units),
                time(burn_s)
            ),
            Caution::BoilOver { head_m, boiling_c } => format!(
                "The kettle has {} of head space. Stay with it until the foam has fallen. Low \
                 flame from {}, lid off, cold water hose or spray in hand, nobody beside the pot.",
                length(head_m, units),
                temp(boiling_c - 4.0, units)
            ),
            Caution::Flash => "Flame low, add a little at a time from the side. It can rise up \
                               at once, most of all after a pause in the boil."
                .to_owned(),
            Caution::Lid => "Open the lid away from you, far edge first. Never boil with the lid \
                             shut."
                .to_owned(),
            Caution::HotMetal => "Valve, handles, stand and lid are hot: dry gloves. A wet glove \
                                  lets heat through."
                .to_owned(),
            Caution::DoughIn => "Grain into water, slowly, arm's length paddle, firm footing. \
                                 Hot mash sticks."
                .to_owned(),
            Caution::Siphon => "Never start a siphon by mouth. Fill the hose with water or use a \
                                pump or bulb."
                .to_owned(),
            Caution::ShutHot { force_n } => format!(
                "A shut vessel pulls itself in as it cools: up to {} on its lid. Leave it vented, \
                 through a filter if need be, until it is at room temperature.",
                force(force_n, units)
            ),
            Caution::Pump { temp_c } => format!(
                "Open the outlet before you pull a hose. A shut line can spray at {}. Silicone \
                 hose is soft now: check clamps.",
                temp(temp_c, units)
            ),
            Caution::DryFire { least_m } => {
                format!("Turn the heat off before the level falls under {}.", level(least_m, units))
            }
            Caution::Sample => "Small metal cup, not glass; cool before you taste or float the \
                                hydrometer."
                .to_owned(),
            Caution::SkinBurn => "Cool the burn under gently running cool water for 20 minutes; \
                                  take off rings and clothes that are not stuck; cover loosely \
                                  with cling film or clean cloth; no ice, no cream. Get medical \
                                  help for children, face, hands, joints, anything bigger than \
                                  the palm or white."
                .to_owned(),
            Caution::Spillage => "Children and animals away, clear dry way out, boots: a split \
                                  hose floods the floor."
                .to_owned(),
            _ => return None,
        };
        Some(text)
    }

    fn about_weight(&self, units: UnitSystem) -> Option<String> {
        let text = match *self {
            Caution::Lift { mass_kg, from_m, to_m, limit_kg } => format!(
                "{} from {} to {} is more than one person should lift here ({}). Two people, a \
                 trolley, or move it in parts.",
                mass(mass_kg, units),
                length(from_m, units),
                length(to_m, units),
                mass(limit_kg, units)
            ),
            Caution::LiftAlone { mass_kg } => format!(
                "{}: nobody lifts this alone. Pump it, drain it, or change the heights.",
                mass(mass_kg, units)
            ),
            Caution::Tip { angle_deg, force_n } => format!(
                "This stand tips at {angle_deg:.0} degrees, or a push of {}. Widen the feet, \
                 chain it, or lower the pot.",
                force(force_n, units)
            ),
            Caution::Stand { mass_kg } => {
                format!("Check what the stand bears: it will carry {}, hot.", mass(mass_kg, units))
            }
            Caution::Hoist { mass_kg } => format!(
                "{} of hot wet grain. Rated hoist over the pot's middle, line tied off, hands \
                 and face out from under, let it drip before it swings.",
                mass(mass_kg, units)
            ),
            Caution::WetFloor => "Wet floors: boots with grip, hoses along the wall, no step \
                                  stools by a lit pot."
                .to_owned(),
            Caution::HeavyGoods => match units {
                UnitSystem::Metric => "Slide, roll or split it. Gas bottles upright and tied.",
                UnitSystem::Us => "Slide, roll or split it. Propane tanks upright and tied.",
            }
            .to_owned(),
            _ => return None,
        };
        Some(text)
    }

    fn about_flame(&self, units: UnitSystem) -> Option<String> {
        let us = units == UnitSystem::Us;
        let text = match *self {
            Caution::FlameIndoors => "Never indoors, in a garage, or at a window. This burner \
                                      fills a room with carbon monoxide in minutes. Take it \
                                      outside, or brew with electricity or a fixed hob and its \
                                      hood."
                .to_owned(),
            Caution::Hob => "Hood or window to the outside open the whole time, CO alarm that \
                             passed its test in the room."
                .to_owned(),
            Caution::FumeSigns => "Headache, dizziness, sickness, sleepiness, more than one \
                                   person or the dog: everybody out, gas off if it is on the \
                                   way, emergency call from outside."
                .to_owned(),
            Caution::HookUp => format!(
                "{} upright on firm ground, away from flame, drains, pits and cellar doors ({} \
                 or what your code says). Hose dated, not cracked. Soapy water on every joint, \
                 valve open, burner shut: bubbles mean stop. Never search with a flame.",
                if us { "Propane tank" } else { "Bottle" },
                if us { "7 ft" } else { "2 m" }
            ),
            Caution::GasSmell => "Smell of gas: valve shut, no switch, no lighter, everyone away \
                                  upwind, call for help. Gas lies low: it stays in hollows."
                .to_owned(),
            Caution::Lighting => "Lighter first, then gas, face and sleeves away. If it does not \
                                  light in 5 s shut it and wait 5 min."
                .to_owned(),
            Caution::Unwatched => {
                "A lit burner is never left. Turn it off or have somebody stay.".to_owned()
            }
            Caution::Wind => format!(
                "The screen goes round the burner, never round the {} or hose. If the flame \
                 lifts, yellows or blows out, turn off.",
                if us { "propane tank" } else { "bottle" }
            ),
            Caution::GroundAndCover => format!(
                "Fireproof, level ground; nothing that burns within {} beside and {} above. \
                 Extinguisher and blanket where you can reach them without crossing the flame.",
                if us { "3 ft" } else { "1 m" },
                if us { "10 ft" } else { "3 m" }
            ),
            Caution::Clothes => "No loose sleeves or synthetic clothes near flame. The beer \
                                 waits until the flame is out."
                .to_owned(),
            Caution::BottleLow { left_kg, planned_kg } => format!(
                "{} left, {} planned. Change it cold and off, not during the boil. Never warm a \
                 {}.",
                mass(left_kg, units),
                mass(planned_kg, units),
                if us { "propane tank" } else { "bottle" }
            ),
            _ => return None,
        };
        Some(text)
    }

    fn about_the_rest(&self, units: UnitSystem) -> String {
        let us = units == UnitSystem::Us;
        match *self {
            Caution::Breaker if us => "Use only a circuit with a working class A GFCI. Press \
                                       its test button now."
                .to_owned(),
            Caution::Breaker => "Use only a circuit with a working residual-current breaker \
                                 (30 mA). Press its test button now."
                .to_owned(),
            Caution::Circuit { load_w, limit_w } => format!(
                "{} on a circuit that carries {} is too much. Heat one pot after the other.",
                power(load_w),
                power(limit_w)
            ),
            Caution::Element => format!(
                "Cover the element by {} before you switch on, and switch off before you drain. \
                 Plug out, not only switch off, before hands go in.",
                if us { "2 in" } else { "50 mm" }
            ),
            Caution::Leads => "No extension leads or plug boxes on the floor; drip loop in every \
                               lead; pump and plug above splash height; dry hands."
                .to_owned(),
            Caution::Earth => format!(
                "Pot and stand {}. Wiring and controls by an electrician, to your local code.",
                if us { "grounded" } else { "earthed" }
            ),
            Caution::Tingle => "A tingle from a pot: off at the wall, do not touch again, call \
                                an electrician."
                .to_owned(),
            Caution::CausticOnAluminium => format!(
                "No caustic on {}. It eats the pot, gets hot and makes hydrogen. Soap and hot \
                 water.",
                if us { "aluminum" } else { "aluminium" }
            ),
            Caution::Caustic => "Goggles that close, long gloves, sleeves. Caustic into cold \
                                 water, little by little, stirring; never water onto caustic; \
                                 plastic or steel, not glass. Splash: water for 15 min at least, \
                                 eyes first, then a doctor."
                .to_owned(),
            Caution::Acid => "Acid into water, measured by syringe or scale, goggles and gloves. \
                              Put the bottle back before the next step."
                .to_owned(),
            Caution::Peracetic => "Open air or fan, goggles, gloves; if it stings the nose, \
                                   leave. Keep it cool and vented, never shut tight."
                .to_owned(),
            Caution::Powder => "Weigh away from the face, no wind, dry spoon, lid on.".to_owned(),
            Caution::Mill => "Fingers out of the rollers, hopper guarded, plug out to clear it. \
                              Dust mask, sweep wet, no flame: dust burns."
                .to_owned(),
            Caution::SlowCooling => "It is warm food: cover it, and get the yeast in.".to_owned(),
            Caution::Dogs => "Hops, also spent, can kill dogs. Shut the bin.".to_owned(),
            Caution::LongDay => "Long day: food, water, light, a phone in the pocket, and \
                                 someone who knows."
                .to_owned(),
            Caution::FirstBeer => "The first beer comes after the last flame.".to_owned(),
            Caution::GlassOverWort => "Sample it in a jar away from the pot. If glass breaks in \
                                       the beer, throw the beer away."
                .to_owned(),
            Caution::Sealed => {
                "Never seal it without a relief device that fits its rating.".to_owned()
            }
            _ => String::new(),
        }
    }
}
