//! Numbers as a field of the page holds them: without a unit, which stands behind the field.

use crate::quantity::{LengthUnits, Metres, Unit, written_tick};

/// To the hundredth.
pub(super) fn field_number(value: f64) -> String {
    let hundredths = (value * 100.0).round() / 100.0;
    written_tick(hundredths, hundredths)
}

/// A length in the unit that was chosen.
pub(super) fn field_length(length: Metres, units: LengthUnits) -> String {
    field_number(units.from_metres(length.get()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_holds_hundredths_of_its_unit() {
        assert_eq!(field_length(Metres::new(3.2164), LengthUnits::Metres), "3.22");
        assert_eq!(field_length(Metres::new(3.0), LengthUnits::Feet), "9.84");
        assert_eq!(field_number(66.0), "66");
    }
}
