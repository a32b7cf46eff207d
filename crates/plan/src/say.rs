//! Numbers in the sentences of a plan, in the person's units. It knows no step.

use brewhouse::vessel::Vessel;
use quantity::{
    Duration, Length, Mass, Temperature, UnitSystem, Volume, VolumeFlow, write, write_hops,
};

/// Writes SI numbers in one system of units.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Say(pub(crate) UnitSystem);

impl Say {
    pub(crate) fn us(self) -> bool {
        self.0 == UnitSystem::Us
    }

    pub(crate) fn volume(self, m3: f64) -> String {
        write(Volume::from_cubic_metres(m3), self.0)
    }

    pub(crate) fn temp(self, c: f64) -> String {
        write(Temperature::from_celsius(c), self.0)
    }

    pub(crate) fn rise(self, k: f64) -> String {
        // a rise on a dial is spoken of in its degrees
        if self.us() { format!("{:.1} °F", 1.8 * k) } else { format!("{k:.1} °C") }
    }

    pub(crate) fn mass(self, kg: f64) -> String {
        write(Mass::from_kilograms(kg), self.0)
    }

    pub(crate) fn hops(self, kg: f64) -> String {
        write_hops(Mass::from_kilograms(kg), self.0)
    }

    pub(crate) fn length(self, m: f64) -> String {
        write(Length::from_metres(m), self.0)
    }

    pub(crate) fn flow(self, m3_s: f64) -> String {
        write(VolumeFlow::from_cubic_metres_per_second(m3_s), self.0)
    }

    pub(crate) fn minutes(self, s: f64) -> String {
        write(Duration::from_minutes((s / 60.0).round()), self.0)
    }

    /// Minutes and seconds, for a jug.
    pub(crate) fn jug_time(self, s: f64) -> String {
        let whole = s.round().max(0.0);
        format!("{:.0} min {:02.0} s", (whole / 60.0).floor(), whole % 60.0)
    }
}

/// A vessel's name inside a sentence that puts "the" before it: "hot liquor tank".
pub(crate) fn lower(vessel: &Vessel) -> String {
    let name = vessel.name.to_lowercase();
    name.strip_prefix("the ").unwrap_or(&name).to_string()
}
