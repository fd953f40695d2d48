//! Colours of the scene and what the light makes of them.

use resvg::tiny_skia::{Color, Shader};

use crate::arena::filming::Light;
use crate::arena::scene::Coat;

/// A colour, 0 to 255 each, with opacity 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Colour {
    pub(super) r: f32,
    pub(super) g: f32,
    pub(super) b: f32,
    pub(super) a: f32,
}

impl Colour {
    pub(super) const BLACK: Self = Self::new(0.0, 0.0, 0.0);
    pub(super) const WHITE: Self = Self::new(255.0, 255.0, 255.0);

    pub(super) const fn new(r: f32, g: f32, b: f32) -> Self {
        Self { r, g, b, a: 1.0 }
    }

    /// Brighter or darker.
    pub(super) fn times(self, by: f32) -> Self {
        Self { r: self.r * by, g: self.g * by, b: self.b * by, a: self.a }
    }

    /// With opacity multiplied.
    pub(super) fn fade(self, by: f32) -> Self {
        Self { a: self.a * by, ..self }
    }

    pub(super) fn mix(self, other: Self, share: f32) -> Self {
        let mix = |a: f32, b: f32| a + (b - a) * share;
        Self {
            r: mix(self.r, other.r),
            g: mix(self.g, other.g),
            b: mix(self.b, other.b),
            a: mix(self.a, other.a),
        }
    }

    pub(super) fn skia(self) -> Color {
        let unit = |v: f32| (v / 255.0).clamp(0.0, 1.0);
        Color::from_rgba(unit(self.r), unit(self.g), unit(self.b), self.a.clamp(0.0, 1.0))
            .unwrap_or(Color::BLACK)
    }

    pub(super) fn shader(self) -> Shader<'static> {
        Shader::SolidColor(self.skia())
    }
}

/// A horse's colours.
#[derive(Clone, Copy, Debug)]
pub(super) struct CoatColours {
    pub(super) body: Colour,
    pub(super) hair: Colour,
    pub(super) points: Colour,
    pub(super) muzzle: Colour,
    /// White socks.
    pub(super) socks: bool,
}

pub(super) fn coat(coat: Coat) -> CoatColours {
    let c = Colour::new;
    match coat {
        Coat::Bay => CoatColours {
            body: c(128.0, 72.0, 38.0),
            hair: c(30.0, 22.0, 20.0),
            points: c(38.0, 27.0, 23.0),
            muzzle: c(52.0, 36.0, 30.0),
            socks: false,
        },
        Coat::Chestnut => CoatColours {
            body: c(158.0, 82.0, 40.0),
            hair: c(176.0, 104.0, 54.0),
            points: c(146.0, 76.0, 38.0),
            muzzle: c(128.0, 76.0, 54.0),
            socks: true,
        },
        Coat::Grey => CoatColours {
            body: c(214.0, 211.0, 205.0),
            hair: c(226.0, 223.0, 216.0),
            points: c(132.0, 129.0, 128.0),
            muzzle: c(108.0, 102.0, 100.0),
            socks: false,
        },
        Coat::Black => CoatColours {
            body: c(54.0, 45.0, 42.0),
            hair: c(24.0, 20.0, 20.0),
            points: c(34.0, 29.0, 28.0),
            muzzle: c(44.0, 38.0, 36.0),
            socks: false,
        },
        Coat::Palomino => CoatColours {
            body: c(198.0, 152.0, 88.0),
            hair: c(240.0, 228.0, 200.0),
            points: c(186.0, 142.0, 86.0),
            muzzle: c(150.0, 116.0, 92.0),
            socks: true,
        },
    }
}

/// Where the light comes from and its colours.
#[derive(Clone, Copy, Debug)]
pub(super) struct LightColours {
    /// Direction the light travels along x and, away from the camera, along y, per metre of
    /// fall.
    pub(super) along_per_m: f64,
    pub(super) away_per_m: f64,
    pub(super) sky_top: Colour,
    pub(super) sky_low: Colour,
    /// Multiplies lit surfaces.
    pub(super) sun: Colour,
    pub(super) haze: Colour,
    /// Opacity of shadows on the ground.
    pub(super) shadow: f32,
}

pub(super) fn light(light: Light) -> LightColours {
    let c = Colour::new;
    match light {
        Light::Evening => LightColours {
            along_per_m: 0.75,
            away_per_m: 1.05,
            sky_top: c(118.0, 156.0, 200.0),
            sky_low: c(246.0, 222.0, 188.0),
            sun: c(255.0, 236.0, 206.0),
            haze: c(226.0, 208.0, 184.0),
            shadow: 0.46,
        },
        Light::Noon => LightColours {
            along_per_m: 0.18,
            away_per_m: 0.30,
            sky_top: c(92.0, 144.0, 208.0),
            sky_low: c(206.0, 224.0, 240.0),
            sun: c(255.0, 252.0, 244.0),
            haze: c(202.0, 214.0, 224.0),
            shadow: 0.52,
        },
    }
}

impl LightColours {
    /// A surface's colour in this light.
    pub(super) fn lit(&self, colour: Colour) -> Colour {
        Colour {
            r: colour.r * self.sun.r / 255.0,
            g: colour.g * self.sun.g / 255.0,
            b: colour.b * self.sun.b / 255.0,
            a: colour.a,
        }
    }
}
