//! Ways of filming the design scene from the hand.

use groundline::arena::{Clicking, Handling, Truth};
use groundline::scene::PictureSize;

use super::cases::{Case, Held};
use super::design::{Arrangement, scene};

/// A way of filming.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Steady hands: 5 cm of sway.
    Steady,
    /// A person who shifts from foot to foot: 15 cm.
    Swaying,
    /// Zooming in by a third while panning.
    Zooming,
}

impl Way {
    pub const ALL: [Self; 3] = [Self::Steady, Self::Swaying, Self::Zooming];

    pub fn words(self) -> &'static str {
        match self {
            Self::Steady => "in the hand, sway 5 cm",
            Self::Swaying => "in the hand, sway 15 cm",
            Self::Zooming => "in the hand, sway 5 cm, zoom 1.3",
        }
    }

    pub fn scenes(self) -> u64 {
        match self {
            Self::Steady => 10,
            Self::Swaying | Self::Zooming => 4,
        }
    }
}

/// The design scene filmed that way, 30 frames a second, pole ends snapped, no tie by hand.
pub fn case(way: Way, number: u64) -> Case {
    case_of(way, number, PictureSize { width: 1920, height: 1080 })
}

/// The same in pictures of that size.
pub fn case_of(way: Way, number: u64, picture: PictureSize) -> Case {
    let mut scene = scene(Arrangement::InTheHand, 9_000 + number);
    let (sway_sd_m, zoom_to) = match way {
        Way::Steady => (0.05, 1.0),
        Way::Swaying => (0.15, 1.0),
        Way::Zooming => (0.05, 1.3),
    };
    scene.filming.handling = Handling::Turning { tremor_deg: 0.12, sway_sd_m, zoom_to };
    scene.filming.frames_per_s = 30.0;
    scene.filming.picture = picture;
    let mut clicking = Clicking::usual(number);
    clicking.hand_ties = false;
    let truth = Truth::of(&scene).expect("the design scene can be filmed");
    Case { number, held: Held::InTheHand, scene, truth, clicking }
}
