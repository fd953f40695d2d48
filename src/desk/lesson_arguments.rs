//! A wished lesson as it would be typed after `groundline poles MARKS`.

use std::ffi::OsString;

use super::wire::{LessonGait, LessonGoing, LessonReadiness, LessonSize, LessonWish};

pub(super) fn lesson_arguments(wish: &LessonWish) -> Vec<OsString> {
    let number = |value: Option<f64>| value.map(|value| value.to_string());
    let going = wish.going.map(|going| match going {
        LessonGoing::Good => "good",
        LessonGoing::Deep => "deep",
        LessonGoing::Slippery => "slippery",
    });
    let size = match wish.size {
        LessonSize::Horse => "horse",
        LessonSize::Pony => "pony",
        LessonSize::SmallPony => "small-pony",
        LessonSize::MediumPony => "medium-pony",
        LessonSize::LargePony => "large-pony",
    };
    let gait = match wish.gait {
        LessonGait::Canter => "canter",
        LessonGait::Trot => "trot",
    };
    let readiness = match wish.readiness {
        LessonReadiness::Ready => "ready",
        LessonReadiness::Tired => "tired",
        LessonReadiness::Green => "green",
    };
    let options: [(&str, Option<String>); 9] = [
        ("--approach", wish.approach.clone()),
        ("--stride", number(wish.stride_m)),
        ("--height", number(wish.height_m)),
        ("--slope", number(wish.slope_percent)),
        ("--strides", wish.strides.map(|strides| strides.to_string())),
        ("--going", going.map(str::to_owned)),
        ("--size", Some(size.to_owned())),
        ("--gait", Some(gait.to_owned())),
        ("--readiness", Some(readiness.to_owned())),
    ];
    let typed = options.into_iter().filter_map(|(name, value)| Some([name.into(), value?.into()]));
    typed.flatten().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wish_is_typed_as_it_was_set() {
        let wish = LessonWish {
            stride_m: Some(3.4),
            slope_percent: Some(-2.0),
            size: LessonSize::MediumPony,
            going: Some(LessonGoing::Deep),
            ..LessonWish::default()
        };
        let typed: Vec<String> =
            lesson_arguments(&wish).into_iter().map(|word| word.into_string().unwrap()).collect();
        assert_eq!(
            typed.join(" "),
            "--stride 3.4 --slope -2 --going deep --size medium-pony --gait canter --readiness ready"
        );
    }
}
