//! Rider, horse and file names left off what was measured.

use serde_json::{Error, Value};

use crate::marks::{MarksDoubt, Round};
use crate::stride::Measurement;

/// Keys whose text a person chose to call a thing by; notes are not among them.
const NAMING: [&str; 13] = [
    "approach",
    "fence",
    "first_approach",
    "first_fence",
    "second_approach",
    "second_fence",
    "footfall",
    "from_footfall",
    "id",
    "name",
    "reference",
    "tie",
    "to_footfall",
];

/// The same numbers and doubts without the names of `round` and without file names. In what things
/// are called ("Copper's oxer") the words "the horse" and "the rider" stand for the names. Notes
/// are the coach's own words and stay.
pub fn without_names(
    measurement: &Measurement,
    doubts: &[MarksDoubt],
    round: &Round,
) -> Result<(Measurement, Vec<MarksDoubt>), Error> {
    // Through JSON, because there every name in whatever doubt has a key.
    let mut measured = serde_json::to_value(measurement)?;
    leave_off(&mut measured, round);
    let mut doubted = serde_json::to_value(doubts)?;
    leave_off(&mut doubted, round);
    Ok((serde_json::from_value(measured)?, serde_json::from_value(doubted)?))
}

/// The same of whatever was made of the numbers, as JSON.
pub fn leave_names_off_json(value: &mut Value, round: &Round) {
    leave_off(value, round);
}

fn leave_off(value: &mut Value, round: &Round) {
    match value {
        Value::Array(values) => values.iter_mut().for_each(|value| leave_off(value, round)),
        Value::Object(map) => {
            for (key, value) in map {
                match value {
                    Value::String(file) if key == "clip" => file.clear(),
                    Value::String(name) if NAMING.contains(&key.as_str()) => {
                        *name = round.without_names(name);
                    }
                    value => leave_off(value, round),
                }
            }
        }
        _ => {}
    }
}
