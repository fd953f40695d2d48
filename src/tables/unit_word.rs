//! Units as the heads of columns say them, and numbers in them.

use crate::quantity::{LengthUnits, Metres, MetresPerSecond, Unit};

/// `m`, `ft_per_s`, `deg`: what follows the quantity in a column's head.
pub(super) fn unit_word<U: Unit>(units: LengthUnits) -> String {
    let symbol = if has_length::<U>() {
        U::SYMBOL.replacen(Metres::SYMBOL, units.symbol(), 1)
    } else {
        U::SYMBOL.to_owned()
    };
    symbol.replace('/', "_per_").replace('°', "deg").replace('%', "percent")
}

/// A number of the unit `U` as it stands in a column headed by [`unit_word`].
pub(super) fn in_units<U: Unit>(number: U, units: LengthUnits) -> f64 {
    if has_length::<U>() { units.from_metres(number.get()) } else { number.get() }
}

fn has_length<U: Unit>() -> bool {
    [Metres::SYMBOL, MetresPerSecond::SYMBOL].contains(&U::SYMBOL)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Degrees, METRES_PER_FOOT, Percent, Seconds, StridesPerMinute};

    #[test]
    fn only_lengths_and_speeds_follow_the_setting() {
        let ft = LengthUnits::Feet;
        assert_eq!(unit_word::<Metres>(ft), "ft");
        assert_eq!(unit_word::<MetresPerSecond>(ft), "ft_per_s");
        assert_eq!(unit_word::<MetresPerSecond>(LengthUnits::Metres), "m_per_s");
        assert_eq!(unit_word::<Seconds>(ft), "s");
        assert_eq!(unit_word::<StridesPerMinute>(ft), "strides_per_min");
        assert_eq!(unit_word::<Degrees>(ft), "deg");
        assert_eq!(unit_word::<Percent>(ft), "percent");
        assert_eq!(in_units(MetresPerSecond::new(METRES_PER_FOOT), ft), 1.0);
        assert_eq!(in_units(Seconds::new(0.6), ft), 0.6);
    }
}
