//! What stands on every plan.

/// Cautions, in the order they are read. Wording after section 9 of the design page, which rests on
/// the rules and handbooks of section 6 of the reference values; no plan leaves without them.
pub const CAUTIONS: [&str; 7] = [
    "Figures from video are estimates, not a permit to jump.",
    "Distances are starting points: the person on the ground decides. Shorten for trot approaches, \
     ponies, small fences, uphill, deep or slippery ground, tired or green horses.",
    "Build up one element at a time, a qualified coach present.",
    "Helmet to a current standard, fastened; body protector for solid fences; safety cups; no pole \
     a horse can land on.",
    "Rules of the year and of the country come first.",
    "Stop when strides become uneven or short; a steady left–right difference is a question for a \
     vet.",
    "Filming others, above all children, needs their consent.",
];
