//! Lines of two fences, and what a fence asks.

use super::sentence::Sentence;
use super::text_key::TextKey;
use super::values::{Teller, Values};
use crate::marks::FenceKind;
use crate::quantity::{Metres, Unit, written_bare, written_percent};
use crate::reading::{FenceAsks, LineReading};
use crate::stride::{LineDoubt, ShownStrides};

pub(super) fn about_line(teller: &Teller, line: &LineReading) -> Vec<Sentence> {
    let measured = &line.measured;
    let bare = |length: Metres| written_bare(length, teller.units);
    let ridden = Values::default()
        .with("taken", teller.texts.number(measured.strides_taken))
        .with("distance", teller.number(&measured.distance_m))
        .with("first", measured.first_fence.as_str())
        .with("second", measured.second_fence.as_str())
        .with("landing", teller.number(&measured.landing_m))
        .with("take_off", teller.number(&measured.take_off_m));
    let strides = || measured.strides.clone();
    let other = line.fits_too().filter(|_| !line.is_another_number());
    let ridden_said = match other {
        Some(other) if measured.strides_taken != line.built_for || line.may_be_for.is_some() => {
            let (least, most) = (other.min(line.built_for), other.max(line.built_for));
            let ridden = ridden
                .with("built", teller.texts.number(least))
                .with("other", teller.texts.number(most));
            teller.say(TextKey::LineRiddenEither, &ridden, strides())
        }
        _ => teller.say(
            TextKey::LineRidden,
            &ridden.with("built", teller.texts.number(line.built_for)),
            strides(),
        ),
    };
    let mut said = vec![ridden_said];
    let counted = |key, count: u32| {
        let values = Values::default().with("count", teller.texts.number(count));
        teller.say(key, &values, strides())
    };
    for rule in &line.rules {
        let values = Values::default()
            .with("count", teller.texts.number(rule.strides))
            .with("twelve_foot", bare(rule.twelve_foot_m))
            .with("metric", bare(rule.metric_m));
        said.push(teller.say(TextKey::LineRules, &values, strides()));
    }
    if line.built_for_by_metric != line.built_for {
        said.push(counted(TextKey::LineOtherRule, line.built_for_by_metric));
    }
    said.extend(line.may_be_for.map(|count| counted(TextKey::LineBetween, count)));
    if let Some(mean) = &measured.mean_stride_m {
        let values = Values::default().with("mean", teller.number(mean));
        said.push(teller.say(TextKey::LineMean, &values, strides()));
    }
    let shown_where = shown_where(teller, line.shown.as_ref());
    for needed in line.needed.iter().filter(|needed| needed.strides != measured.strides_taken) {
        let values = Values::default()
            .with("count", teller.texts.number(needed.strides))
            .with("stride", teller.number(&needed.stride_m))
            .with("where", shown_where.as_str());
        let key = if needed.is_shown { TextKey::LineShown } else { TextKey::LineNeverShown };
        said.push(teller.say(key, &values, strides()));
    }
    for LineDoubt::CountedByTime { marked } in &measured.doubts {
        let values = Values::default().with("marked", teller.texts.number(*marked));
        said.push(teller.say(TextKey::LineByTime, &values, strides()));
    }
    said.into_iter().flatten().collect()
}

/// "here", or in how many rounds.
fn shown_where(teller: &Teller, shown: Option<&ShownStrides>) -> String {
    match shown.map_or(1, |shown| shown.rounds) {
        0 | 1 => teller.texts.word("shown_here").to_owned(),
        rounds => teller.texts.word_with("shown_in_rounds", &teller.texts.number(rounds)),
    }
}

pub(super) fn about_asks(teller: &Teller, asks: &FenceAsks) -> Option<Sentence> {
    let texts = teller.texts;
    let length = |metres: f64| written_bare(Metres::new(metres), teller.units);
    let kind = texts.word(match asks.kind {
        FenceKind::Vertical => "vertical",
        FenceKind::Oxer => "oxer",
        FenceKind::CrossRail => "cross_rail",
        FenceKind::TripleBar => "triple_bar",
        FenceKind::GroundPole => "ground_pole",
        FenceKind::OtherKind => "other_kind",
    });
    let slope = asks.slope_percent.filter(|slope| slope.abs() >= 0.05).map(|slope| {
        let way = if slope > 0.0 { "uphill" } else { "downhill" };
        texts.word_with(way, &written_percent(slope.abs()))
    });
    let parts = [
        Some(kind.to_owned()),
        asks.height_m.map(|height| texts.word_with("high", &length(height))),
        asks.spread_m.map(|spread| texts.word_with("spread", &length(spread))),
        (!asks.behind.is_empty()).then(|| texts.word_with("behind", &asks.behind)),
        (!asks.around.is_empty()).then(|| texts.word_with("around", &asks.around)),
        slope,
        (!asks.surface.is_empty()).then(|| asks.surface.clone()),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    let values = Values::default().with("parts", parts.join(", "));
    teller.say(TextKey::Asks, &values, Vec::new())
}
