//! What a line needs of the horse in fewer, as many and more strides, in words.

use super::adjusting::{StrideNeeded, Version};
use super::distance::Distance;
use super::wording::{laid_words, walked_words};
use crate::quantity::LengthUnits;

/// "as it lies, 4 strides would be 4.38 m each, not among those measured of this horse", a line for
/// each number of strides.
pub fn as_it_lies(needed: &[StrideNeeded], units: LengthUnits) -> Vec<String> {
    needed.iter().map(|one| format!("as it lies, {}", needed_words(one, units))).collect()
}

/// "4 strides would be 4.38 m each, not among those measured of this horse".
pub(super) fn needed_words(needed: &StrideNeeded, units: LengthUnits) -> String {
    let noun = if needed.strides == 1 { "stride" } else { "strides" };
    let never = match needed.is_never_shown {
        Some(true) => ", not among those measured of this horse",
        _ => "",
    };
    format!("{} {noun} would be {} each{never}", needed.strides, laid_words(needed.stride_m, units))
}

/// The versions of a line to train adjusting, with their names.
pub fn versions(distance: &Distance) -> impl Iterator<Item = (&'static str, &Version)> {
    let shorter = distance.shorter.iter().map(|version| ("shorter", version));
    let longer = distance.longer.iter().map(|version| ("longer", version));
    shorter.chain(longer)
}

/// "shorter 6.90 m (22 ft 8 in, 7½ walked paces)".
pub fn version_words(name: &str, version: &Version, units: LengthUnits) -> String {
    let aim = version.length.aim_m;
    let (first, second) = (laid_words(aim, units), laid_words(aim, units.other()));
    format!("{name} {first} ({second}, {})", walked_words(aim))
}

/// The same with the stride it needs.
pub fn version_with_stride(name: &str, version: &Version, units: LengthUnits) -> String {
    let stride = laid_words(version.stride_m, units);
    format!("{}, strides of {stride}", version_words(name, version, units))
}
