//! What goes between the page and the program, as JSON. The page's types are made from these.
//!
//! Numbers that a person reads are written here, once; the page never formats one.

mod act;
mod folder;
mod hand_out;
mod lesson;
mod limits;
mod numbers;
mod round;
mod stand;

pub use act::*;
pub use folder::*;
pub use hand_out::*;
pub use lesson::*;
pub use limits::*;
pub use numbers::*;
pub use round::*;
pub use stand::*;

use ts_rs::{Config, TS};

/// The types as the page's checker reads them: `src/desk/page/wire.d.ts` is this text.
pub fn page_types() -> String {
    let config = Config::default();
    let types = [
        FolderView::decl(&config),
        ClipCard::decl(&config),
        Progress::decl(&config),
        ClipView::decl(&config),
        RoundView::decl(&config),
        RoundAbout::decl(&config),
        PolesView::decl(&config),
        LengthView::decl(&config),
        FenceView::decl(&config),
        ApproachView::decl(&config),
        StrideNoteView::decl(&config),
        MarkView::decl(&config),
        Spot::decl(&config),
        StepView::decl(&config),
        StepName::decl(&config),
        Target::decl(&config),
        ActRequest::decl(&config),
        Act::decl(&config),
        Click::decl(&config),
        Side::decl(&config),
        BaseEnd::decl(&config),
        LengthKind::decl(&config),
        KnownBy::decl(&config),
        LengthEnd::decl(&config),
        LimbName::decl(&config),
        EventName::decl(&config),
        FenceKindName::decl(&config),
        ActDone::decl(&config),
        Placed::decl(&config),
        Refused::decl(&config),
        NumbersView::decl(&config),
        ApproachNumbers::decl(&config),
        FactView::decl(&config),
        SentenceView::decl(&config),
        StrideView::decl(&config),
        DoubtView::decl(&config),
        SuspectView::decl(&config),
        OverlayView::decl(&config),
        ExpectedView::decl(&config),
        MotionView::decl(&config),
        MotionState::decl(&config),
        SteadyView::decl(&config),
        HandOutKind::decl(&config),
        Limits::decl(&config),
        HandOutRequest::decl(&config),
        HandOutView::decl(&config),
        HandOutState::decl(&config),
        StandQuery::decl(&config),
        StandUsed::decl(&config),
        StandView::decl(&config),
        StandRow::decl(&config),
        StandChange::decl(&config),
        LessonWish::decl(&config),
        LessonGait::decl(&config),
        LessonSize::decl(&config),
        LessonGoing::decl(&config),
        LessonReadiness::decl(&config),
        LessonView::decl(&config),
        LessonUsed::decl(&config),
        LessonDistance::decl(&config),
    ];
    let mut text = String::from(
        "// Made from the types in src/desk/wire by a test (tests/it/desk_wire.rs says how); not written by \
         hand.\n",
    );
    for declared in types {
        text.push_str("export ");
        text.push_str(&declared);
        text.push('\n');
    }
    text
}
