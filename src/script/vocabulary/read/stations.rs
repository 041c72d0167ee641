//! The stations of a turned profile, read.

use super::values::{FARTHEST, LEAST, Read, choice, fault_help, wrong_type};
use crate::model::OptionValue;
use crate::script::run::Run;
use crate::script::value::Value;
use crate::solid::{Station, Transition};

/// How a profile can run on from a station. A straight run and a taper are both
/// lines; a taper must end at another diameter.
const KINDS: [&str; 5] = ["straight", "taper", "cove", "bead", "fillet"];

/// How far two diameters may lie apart and be one, mm: both are read, not reckoned.
const SAME: f64 = 1e-9;

impl Run {
    /// Stations `[along, diameter]` or `[along, diameter, "cove"]`, from 0 up. A
    /// fillet keeps its diameter up to the next station and ends in a square step.
    pub(in crate::script) fn stations(&self, value: &Value) -> Read<OptionValue> {
        let wants = "a list of at least two stations [along, diameter]";
        let Some(list) = value.list() else {
            return wrong_type(wants, value);
        };
        let mut stations: Vec<Station> = Vec::new();
        let mut tapers = false;
        for item in list {
            let (station, kind) = self.station(item)?;
            let before = stations.last().copied();
            self.follows(before, station, tapers)?;
            if let Some(last) = before.filter(|last| last.then == Transition::Fillet) {
                // The step at the end of a fillet is a station of its own.
                let step = Station { along: station.along, then: Transition::Straight, ..last };
                stations.extend(((last.diameter - station.diameter).abs() > SAME).then_some(step));
            }
            tapers = kind == "taper";
            stations.push(station);
        }
        if stations.len() < 2 {
            return wrong_type(wants, value);
        }
        if stations.last().is_none_or(|s| s.along < LEAST) {
            let help = "let the last station stand at the length of the part".into();
            return fault_help("out-of-range", "has no length: all its stations stand at 0".into(), help);
        }
        Ok(OptionValue::Stations(stations))
    }

    /// One station, and the word for how the profile runs on.
    fn station(&self, item: &Value) -> Read<(Station, &'static str)> {
        let wants = "stations [along, diameter] or [along, diameter, \"cove\"]";
        let (along, diameter, kind) = match item.list() {
            Some([along, diameter]) => (along, diameter, "straight"),
            Some([along, diameter, kind]) => (along, diameter, kind_of(kind)?),
            _ => return wrong_type(wants, item),
        };
        let (along, diameter) = (self.length(along)?, self.length_in(diameter, LEAST, FARTHEST)?);
        let then = match kind {
            "cove" => Transition::Cove,
            "bead" => Transition::Bead,
            "fillet" => Transition::Fillet,
            _ => Transition::Straight,
        };
        Ok((Station { along, diameter, then }, kind))
    }

    /// A station must stand beyond the one before it, and end what that began.
    fn follows(&self, before: Option<Station>, station: Station, tapers: bool) -> Read<()> {
        let from = before.map_or(0.0, |s| s.along);
        let along = station.along;
        if along < from || (before.is_none() && along != 0.0) {
            let message =
                format!("has a station at {} that does not follow {}", self.show(along), self.show(from));
            return fault_help("wrong-order", message, "write stations from 0 upwards".into());
        }
        let Some(last) = before else { return Ok(()) };
        if tapers && (last.diameter - station.diameter).abs() < SAME {
            let message = format!(
                "has a taper from {} to {} that keeps its diameter of {}",
                self.show(from),
                self.show(along),
                self.show(last.diameter)
            );
            return fault_help(
                "contradiction",
                message,
                "end it at another diameter, or leave `taper` out".into(),
            );
        }
        if last.then != Transition::Straight && along - from < LEAST {
            let message =
                format!("has a {} at {} that is no longer than nothing", name(last.then), self.show(from));
            return fault_help("contradiction", message, "let the next station stand further on".into());
        }
        Ok(())
    }
}

/// The word for how a profile runs on, checked.
fn kind_of(value: &Value) -> Read<&'static str> {
    let OptionValue::Text(said) = choice(value, &KINDS)? else {
        return wrong_type("a kind of profile", value);
    };
    Ok(KINDS.into_iter().find(|kind| *kind == said).unwrap_or(KINDS[0]))
}

/// What a moulding is called.
fn name(how: Transition) -> &'static str {
    match how {
        Transition::Straight => "straight",
        Transition::Cove => "cove",
        Transition::Bead => "bead",
        Transition::Fillet => "fillet",
    }
}
