//! Colours and sizes, here and nowhere else.
//!
//! Two sets of the same tokens. Text colours keep a contrast of at least 4.5 on `paper`, `card`
//! and `sand`; lines at least 3 (tests below). No meaning rests on colour alone: leading prints
//! are filled and trailing ones open, doubts carry a hatch or a sign.

use crate::marks::Limb;
use crate::scene::PictureSize;

/// An opaque sRGB colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour {
    /// Red, 0 to 255.
    pub red: u8,
    /// Green, 0 to 255.
    pub green: u8,
    /// Blue, 0 to 255.
    pub blue: u8,
}

/// The tokens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Theme {
    /// The ground everything lies on.
    pub paper: Colour,
    /// Panels and label plates.
    pub card: Colour,
    /// Tolerance band and the arena of the plan view.
    pub sand: Colour,
    /// Text.
    pub ink: Colour,
    /// Second text: units, ±, notes.
    pub muted: Colour,
    /// Rules and axes.
    pub line: Colour,
    /// Leading limbs.
    pub leading: Colour,
    /// Trailing limbs.
    pub trailing: Colour,
    /// Take-off.
    pub take_off: Colour,
    /// Landing.
    pub landing: Colour,
    /// Suspect marks and doubts; always with a hatch or a sign.
    pub doubt: Colour,
}

/// How much of the picture shows through a label's plate.
pub const PLATE_OPACITY: f64 = 0.92;

const fn hex(rgb: u32) -> Colour {
    Colour { red: (rgb >> 16) as u8, green: (rgb >> 8) as u8, blue: rgb as u8 }
}

impl Theme {
    /// Dark on light: pictures, sheet, desk by day.
    pub const LIGHT: Self = Self {
        paper: hex(0xFBF8F2),
        card: hex(0xFFFFFF),
        sand: hex(0xEFE6D6),
        ink: hex(0x1B2330),
        muted: hex(0x474F5C),
        line: hex(0x8C8271),
        leading: hex(0x0B6E69),
        trailing: hex(0x7A3E9D),
        take_off: hex(0xA3460B),
        landing: hex(0x1F5FA8),
        doubt: hex(0xB3261E),
    };

    /// Light on dark: the desk in the evening.
    pub const DARK: Self = Self {
        paper: hex(0x14181F),
        card: hex(0x1C222B),
        sand: hex(0x2A2F38),
        ink: hex(0xF3EEE4),
        muted: hex(0xA9B0BB),
        line: hex(0x7C8593),
        leading: hex(0x4FC3B8),
        trailing: hex(0xC79BE6),
        take_off: hex(0xF2A65A),
        landing: hex(0x7FB2F0),
        doubt: hex(0xFF8A80),
    };

    /// The colour of a limb.
    pub const fn limb(&self, limb: Limb) -> Colour {
        match limb {
            Limb::LeadingHind | Limb::LeadingFore => self.leading,
            Limb::TrailingHind | Limb::TrailingFore => self.trailing,
        }
    }
}

impl Colour {
    /// As written in SVG and typst, for example `#0b6e69`.
    pub fn hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.red, self.green, self.blue)
    }

    /// This colour laid over `below` with `opacity` between 0 and 1.
    pub fn over(self, below: Self, opacity: f64) -> Self {
        let mix = |top: u8, bottom: u8| {
            (f64::from(top) * opacity + f64::from(bottom) * (1.0 - opacity)).round() as u8
        };
        Self {
            red: mix(self.red, below.red),
            green: mix(self.green, below.green),
            blue: mix(self.blue, below.blue),
        }
    }

    /// Contrast ratio with `other`, 1 to 21 (W3C, WCAG 2.2, "contrast ratio").
    pub fn contrast(self, other: Self) -> f64 {
        let (a, b) = (self.luminance(), other.luminance());
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    fn luminance(self) -> f64 {
        let linear = |channel: u8| {
            let c = f64::from(channel) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(self.red) + 0.7152 * linear(self.green) + 0.0722 * linear(self.blue)
    }
}

/// Sizes on a picture, in its own pixels; they follow its height, so that a still of 480 lines
/// and one of 2160 look the same.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PictureSizes {
    /// Text of a value.
    pub text: f64,
    /// Text of ±, units and captions; never under 2.2 % of the picture's height.
    pub small: f64,
    /// A thin line (1 px at 1080 lines, never under 0.75).
    pub hair: f64,
    /// An ink line.
    pub line: f64,
    /// How far the pale casing reaches beyond an ink line on each side.
    pub casing: f64,
    /// Space between a plate's edge and its text.
    pub padding: f64,
    /// Rounding of a plate's corners.
    pub corner: f64,
    /// Space kept free along the picture's edges.
    pub margin: f64,
    /// Least and greatest length of a hoof print.
    pub print: (f64, f64),
}

impl PictureSizes {
    /// For a picture of that size. Upright pictures are measured by a height no more than 5/4 of
    /// their width, or text would not fit across; long ones by the height that 16 : 9 would give
    /// them, or text would be too small beside the width it is shown at.
    pub fn of(picture: PictureSize) -> Self {
        let height = f64::from(picture.height).max(1.0);
        let width = f64::from(picture.width).max(1.0);
        let unit = height.min(width * 1.25).max(width * 9.0 / 16.0) / 1080.0;
        let small = (24.0 * unit).max(0.022 * height);
        Self {
            text: 1.2 * small,
            small,
            hair: (1.5 * unit).max(0.75),
            line: (3.0 * unit).max(1.2),
            casing: (2.0 * unit).max(0.9),
            padding: 0.3 * small,
            corner: 0.25 * small,
            margin: 20.0 * unit,
            print: (31.0 * unit, 62.0 * unit),
        }
    }

    /// The same for a picture printed small, in the sheet's strip: type and lines as large as
    /// they must be to read on paper at 45 mm.
    pub fn small_print(picture: PictureSize) -> Self {
        let sizes = Self::of(picture);
        let text = 0.085 * f64::from(picture.height).min(f64::from(picture.width));
        let lines = 0.55 * text / sizes.text;
        Self {
            text,
            small: 0.85 * text,
            hair: sizes.hair * lines,
            line: sizes.line * lines,
            casing: sizes.casing * lines,
            padding: 0.26 * text,
            corner: 0.22 * text,
            margin: 0.4 * text,
            print: (1.1 * text, 2.2 * text),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_reads_on_every_ground_and_on_plates_over_any_picture() {
        for theme in [Theme::LIGHT, Theme::DARK] {
            let texts = [
                theme.ink,
                theme.muted,
                theme.leading,
                theme.trailing,
                theme.take_off,
                theme.landing,
                theme.doubt,
            ];
            for picture in [hex(0x000000), hex(0xFFFFFF), hex(0xE8D5A9), hex(0x3F6B2A)] {
                let plate = theme.card.over(picture, PLATE_OPACITY);
                for text in texts {
                    assert!(text.contrast(plate) >= 4.5, "{} on {}", text.hex(), plate.hex());
                }
            }
            for ground in [theme.paper, theme.card, theme.sand] {
                for text in texts {
                    assert!(text.contrast(ground) >= 4.5, "{} on {}", text.hex(), ground.hex());
                }
                assert!(theme.line.contrast(ground) >= 3.0, "{}", ground.hex());
            }
        }
    }

    /// On a grey printer only lightness is left. What lies side by side and is told apart by its
    /// tone must still differ; leading from trailing and take-off from landing are as dark as each
    /// other there, and are told by fill (prints), by words and by their side of the fence.
    #[test]
    fn tones_that_tell_things_apart_differ_in_grey_too() {
        let theme = Theme::LIGHT;
        for limb in [theme.leading, theme.trailing] {
            let paler = limb.over(theme.card, 0.3);
            // A bar outside the band beside one inside, and either over paper and band.
            assert!(limb.contrast(paler) >= 3.0, "{}", limb.contrast(paler));
            assert!(paler.contrast(theme.card) >= 1.25, "{}", paler.contrast(theme.card));
            // The paler bar's outline against the band it may cross.
            assert!(limb.contrast(theme.sand) >= 3.0);
        }
        // The band on white paper: a wide soft tone, and its middle is dashed besides.
        assert!(theme.sand.contrast(theme.card) >= 1.2, "{}", theme.sand.contrast(theme.card));
        // Whiskers are ink with a pale casing: they show on both.
        assert!(theme.ink.contrast(theme.card) >= 7.0);
        for (one, other) in [(theme.leading, theme.trailing), (theme.take_off, theme.landing)] {
            assert!(one.contrast(other) < 1.5, "if tones tell them apart, say so above");
        }
    }

    #[test]
    fn contrast_is_that_of_the_standard() {
        assert!((hex(0x000000).contrast(hex(0xFFFFFF)) - 21.0).abs() < 1e-9);
        // #767676 on white is the textbook grey that just passes.
        assert!((hex(0x767676).contrast(hex(0xFFFFFF)) - 4.54).abs() < 0.01);
    }

    #[test]
    fn picture_text_is_never_under_its_least_height() {
        for (width, height) in [(854, 480), (1920, 1080), (3840, 2160), (1080, 1920), (320, 240)] {
            let sizes = PictureSizes::of(PictureSize { width, height });
            assert!(sizes.small >= 0.022 * f64::from(height), "{width}x{height}");
        }
    }
}
