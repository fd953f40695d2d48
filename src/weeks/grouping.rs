//! By what approaches are grouped: the fence's name, or something of what it asks.

use crate::poles::SLOPING_PERCENT;
use crate::quantity::{LengthUnits, Metres, Unit, written_bare};
use crate::reading::FenceAsks;

use super::dated_approach::DatedApproach;

/// What approaches of one group have in common.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum GroupBy {
    /// What their fence is called.
    #[default]
    Fence,
    /// Its build.
    Kind,
    /// Its height, to 5 cm.
    Height,
    /// What lies behind it.
    Behind,
    /// What lies around it.
    Around,
    /// Uphill, downhill or flat.
    Slope,
    /// The going.
    Surface,
}

/// Heights this near are one, metres: cups are moved by as much.
const HEIGHT_STEP_M: f64 = 0.05;

impl GroupBy {
    /// What the approach's group is called.
    pub(super) fn group_of(self, approach: &DatedApproach) -> String {
        let asks = &approach.asks;
        let stated = |name: &str, text: &str| match text {
            "" => format!("{name} not stated"),
            text => format!("{name}: {}", text.to_lowercase()),
        };
        match self {
            Self::Fence => approach.fence.clone(),
            Self::Kind => stated("fence", asks.kind.words()),
            Self::Height => asks.height_m.map_or_else(
                || "height not stated".to_owned(),
                |height| {
                    let step = (height / HEIGHT_STEP_M).round() * HEIGHT_STEP_M;
                    format!("height: {}", written_bare(Metres::new(step), LengthUnits::Metres))
                },
            ),
            Self::Behind => stated("behind it", &asks.behind),
            Self::Around => stated("around it", &asks.around),
            Self::Slope => format!("ground: {}", slope_words(asks)),
            Self::Surface => stated("going", &asks.surface),
        }
    }
}

fn slope_words(asks: &FenceAsks) -> &'static str {
    match asks.slope_percent {
        None => "slope not stated",
        Some(slope) if slope >= SLOPING_PERCENT => "uphill",
        Some(slope) if slope <= -SLOPING_PERCENT => "downhill",
        Some(_) => "flat",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weeks::by;
    use crate::weeks::sample::{entry, evenly};

    #[test]
    fn approaches_can_be_grouped_by_what_their_fence_asks() {
        let mut entries: Vec<_> = ["gate", "planks", "wall"]
            .map(|fence| entry(fence, Some("2026-04-04"), fence, &evenly(3.4)))
            .into();
        for (one, (height, slope)) in
            entries.iter_mut().zip([(Some(1.00), Some(3.0)), (Some(1.02), Some(0.2)), (None, None)])
        {
            one.approach.asks.height_m = height;
            one.approach.asks.slope_percent = slope;
        }
        entries[0].approach.asks.surface = "Sand".into();
        let groups = |what| -> Vec<String> {
            by(what, entries.clone()).into_iter().map(|group| group.fence).collect()
        };
        assert_eq!(groups(GroupBy::Fence), ["gate", "planks", "wall"]);
        assert_eq!(groups(GroupBy::Kind), ["fence: vertical"]);
        assert_eq!(groups(GroupBy::Height), ["height not stated", "height: 1.00 m"]);
        assert_eq!(
            groups(GroupBy::Slope),
            ["ground: flat", "ground: slope not stated", "ground: uphill"]
        );
        assert_eq!(groups(GroupBy::Surface), ["going not stated", "going: sand"]);
        assert_eq!(groups(GroupBy::Behind), ["behind it not stated"]);
        // Several fences in one group are said.
        let one = &by(GroupBy::Height, entries)[1];
        let said: Vec<String> = one.doubts.iter().map(|doubt| doubt.sentence(true)).collect();
        assert_eq!(said, ["different fences stand in one comparison (gate, planks)"]);
    }

    #[test]
    fn one_name_for_fences_that_ask_different_things_is_doubted() {
        let mut entries: Vec<_> = ["2026-04-04", "2026-04-11"]
            .map(|date| entry(date, Some(date), "gate", &evenly(3.4)))
            .into();
        entries[0].approach.asks.height_m = Some(0.9);
        entries[1].approach.asks.height_m = Some(1.1);
        let weeks = by(GroupBy::Fence, entries);
        assert_eq!(
            weeks[0].doubts[0].sentence(true),
            "what the fence asks is not the same each time: height (0.90 m, 1.10 m)"
        );
    }
}
