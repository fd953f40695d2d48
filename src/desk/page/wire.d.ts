// Made from the types in src/desk/wire by a test (tests/it/desk_wire.rs says how); not written by hand.
export type FolderView = { 
/**
 * Its name, as a person knows it.
 */
name: string, 
/**
 * Its clips.
 */
clips: Array<ClipCard>, 
/**
 * Where another desk has the same folder open.
 */
open_elsewhere: string | null, 
/**
 * The clip to open first, when the desk was asked for one.
 */
first: string | null, };
export type ClipCard = { 
/**
 * Its file name, by which every route knows it.
 */
clip: string, 
/**
 * Who rode; empty when not stated.
 */
rider: string, 
/**
 * On which horse.
 */
horse: string, 
/**
 * The date of the round, as stated.
 */
date: string, 
/**
 * Names of the fences.
 */
fences: string, 
/**
 * What is done and what is missing, in words: "8 strides measured", "poles marked, no hooves
 * yet", "not begun".
 */
state: string, 
/**
 * How far it is.
 */
progress: Progress, 
/**
 * Why the clip or its marks cannot be used.
 */
unreadable: string | null, };
export type Progress = "not_begun" | "begun" | "measured" | "unreadable";
export type ClipView = { 
/**
 * Its file name.
 */
clip: string, 
/**
 * Width of its upright picture, pixels.
 */
width: number, 
/**
 * Height, pixels.
 */
height: number, 
/**
 * Exact time of every frame since the first one, seconds of playing.
 */
times_s: Array<number>, 
/**
 * The same as they are shown: "3.533 s".
 */
times: Array<string>, 
/**
 * How long the last frame is shown, seconds of playing.
 */
last_s: number, 
/**
 * Reasons to trust frames or times less, as sentences.
 */
doubts: Array<string>, };
export type RoundView = { 
/**
 * The clip's file name.
 */
clip: string, 
/**
 * Stands for the marks file as it is on disk; every change says which one it was made on.
 */
revision: string, 
/**
 * Its name on the page: "Copper · Ada · 2026-09-04", or the clip's name.
 */
title: string, 
/**
 * What was stated of the round.
 */
about: RoundAbout, 
/**
 * Whether the phone turned with the horse.
 */
turning: boolean, 
/**
 * What was stated of the poles.
 */
poles: PolesView | null, 
/**
 * What was stated of other known lengths.
 */
lengths: Array<LengthView>, 
/**
 * What was stated of the fences.
 */
fences: Array<FenceView>, 
/**
 * The approaches.
 */
approaches: Array<ApproachView>, 
/**
 * Every mark on every frame.
 */
marks: Array<MarkView>, 
/**
 * The steps of the work, in order.
 */
steps: Array<StepView>, 
/**
 * What `undo` would take back, in words.
 */
undo: string | null, 
/**
 * What `redo` would make again.
 */
redo: string | null, };
export type RoundAbout = { 
/**
 * Who rode.
 */
rider: string, 
/**
 * On which horse.
 */
horse: string, 
/**
 * Where.
 */
place: string, 
/**
 * ISO 8601 date, or empty.
 */
date: string, 
/**
 * What the horse went on.
 */
surface: string, 
/**
 * Rise towards the fence, per cent; downhill is negative.
 */
slope_percent: number | null, 
/**
 * The coach's note on the round.
 */
note: string, };
export type PolesView = { 
/**
 * How many.
 */
count: number, 
/**
 * From one to the next, metres.
 */
spacing_m: number, 
/**
 * Length of each, metres.
 */
length_m: number, 
/**
 * Whether the spacing was taped, or else paced.
 */
taped: boolean, };
export type LengthView = { 
/**
 * Its id.
 */
id: string, 
/**
 * What it is.
 */
kind: LengthKind, 
/**
 * The same in words, with the fence it belongs to: "width of Blue oxer".
 */
label: string, 
/**
 * Metres.
 */
length_m: number, 
/**
 * How it is known.
 */
known_by: KnownBy, };
export type FenceView = { 
/**
 * Its id.
 */
id: string, 
/**
 * What the coach calls it; may be empty.
 */
name: string, 
/**
 * Kind of fence.
 */
kind: FenceKindName, 
/**
 * Height, metres.
 */
height_m: number | null, 
/**
 * From take-off base to landing base, metres.
 */
spread_m: number | null, 
/**
 * What lies behind it; may be empty.
 */
behind: string, 
/**
 * What lies around it; may be empty.
 */
around: string, };
export type ApproachView = { 
/**
 * Its id.
 */
id: string, 
/**
 * The fence's id.
 */
fence: string, 
/**
 * The lead, when it was seen.
 */
lead: Side | null, 
/**
 * The frame of leaving the turn, when it was marked.
 */
left_turn_frame: number | null, 
/**
 * The coach's note.
 */
note: string, 
/**
 * Her notes on strides: number (negative, −1 the last) and text.
 */
stride_notes: Array<StrideNoteView>, };
export type StrideNoteView = { 
/**
 * Its number: −1 is the last before take-off.
 */
stride: number, 
/**
 * The note.
 */
text: string, };
export type MarkView = { 
/**
 * What it is a mark of, as acts name it.
 */
spot: Spot, 
/**
 * The same in words: "pole 2, left end", "leading hind, take-off".
 */
label: string, 
/**
 * The frame.
 */
frame: number, 
/**
 * Pixels from the picture's left edge.
 */
x: number, 
/**
 * Pixels from its top edge.
 */
y: number, 
/**
 * The hoof was out of sight: the frame counts and the place does not.
 */
hidden: boolean, };
export type Spot = { "of": "pole_end", 
/**
 * Which pole.
 */
pole: number, 
/**
 * Which end, as the horse goes.
 */
end: Side, } | { "of": "base", 
/**
 * The fence's id.
 */
fence: string, 
/**
 * Which end.
 */
end: BaseEnd, } | { "of": "length_end", 
/**
 * Its id.
 */
reference: string, 
/**
 * Which end.
 */
end: LengthEnd, } | { "of": "tie", 
/**
 * Its id.
 */
tie: string, } | { "of": "footfall", 
/**
 * The approach's id.
 */
approach: string, 
/**
 * The footfall's id.
 */
footfall: string, 
/**
 * Which limb.
 */
limb: LimbName, 
/**
 * What it belongs to.
 */
event: EventName, } | { "of": "other", 
/**
 * The address as the marks file names it.
 */
address: string, };
export type StepView = { 
/**
 * Which.
 */
step: StepName, 
/**
 * Done.
 */
done: boolean, 
/**
 * How far it is: "5 of 8 ends".
 */
count: string, 
/**
 * What is missing, in words; empty when nothing is.
 */
says: string, 
/**
 * What can be placed in this step and is not, in the order proposed.
 */
wanted: Array<Target>, };
export type StepName = "poles" | "fence" | "lengths" | "hooves" | "ties";
export type Target = { "target": "pole_end", 
/**
 * Which pole.
 */
pole: number, 
/**
 * Which end.
 */
end: Side, 
/**
 * In words: "pole 2, left end".
 */
label: string, } | { "target": "base", 
/**
 * The fence's id.
 */
fence: string, 
/**
 * Which end.
 */
end: BaseEnd, 
/**
 * In words.
 */
label: string, } | { "target": "length_end", 
/**
 * Its id.
 */
reference: string, 
/**
 * Which end.
 */
end: LengthEnd, 
/**
 * In words.
 */
label: string, } | { "target": "footfall", 
/**
 * Which limb.
 */
limb: LimbName, 
/**
 * What it belongs to.
 */
event: EventName, 
/**
 * In words.
 */
label: string, } | { "target": "tie", 
/**
 * The tie's id.
 */
tie: string | null, 
/**
 * In words.
 */
label: string, };
export type ActRequest = { 
/**
 * The revision that the page showed.
 */
revision: string, 
/**
 * A name the page gives the act, so that one sent twice is done once.
 */
key: string, 
/**
 * The change.
 */
act: Act, };
export type Act = { "act": "set_poles", 
/**
 * How many.
 */
count: number, 
/**
 * From one to the next, metres.
 */
spacing_m: number, 
/**
 * Length of each, metres.
 */
length_m: number, 
/**
 * Whether the spacing was taped (± 0.01 m), or else paced (± 0.10 m).
 */
taped: boolean, } | { "act": "set_fence", 
/**
 * Its id.
 */
fence: string | null, 
/**
 * What it is called.
 */
name: string, 
/**
 * Its kind.
 */
kind: FenceKindName, 
/**
 * Height, metres.
 */
height_m: number | null, 
/**
 * From take-off base to landing base, metres.
 */
spread_m: number | null, 
/**
 * What lies behind it; may be empty.
 */
behind: string, 
/**
 * What lies around it; may be empty.
 */
around: string, } | { "act": "set_length", 
/**
 * Its id.
 */
reference: string | null, 
/**
 * What it is; of one that is known already this stays as it was.
 */
kind: LengthKind, 
/**
 * The fence whose width it is; the only one where it is left out, made where there is none.
 */
fence: string | null, 
/**
 * Metres.
 */
length_m: number, 
/**
 * How it is known.
 */
known_by: KnownBy, } | { "act": "remove_length", 
/**
 * Its id.
 */
reference: string, } | { "act": "place_length_end", 
/**
 * Its id.
 */
reference: string, 
/**
 * Which end.
 */
end: LengthEnd, 
/**
 * Where.
 */
at: Click, } | { "act": "place_pole_end", 
/**
 * Which pole.
 */
pole: number, 
/**
 * Which end.
 */
end: Side, 
/**
 * Where.
 */
at: Click, 
/**
 * Draw it to the pole's own edges where they can be found.
 */
snap: boolean, } | { "act": "place_base", 
/**
 * The fence's id; the only one where it is left out, made where there is none.
 */
fence: string | null, 
/**
 * Which end.
 */
end: BaseEnd, 
/**
 * Where.
 */
at: Click, } | { "act": "place_footfall", 
/**
 * The approach's id; the last one where it is left out.
 */
approach: string | null, 
/**
 * Which limb.
 */
limb: LimbName, 
/**
 * What it belongs to.
 */
event: EventName, 
/**
 * Where.
 */
at: Click, 
/**
 * The hoof was out of sight.
 */
hidden: boolean, } | { "act": "place_tie", 
/**
 * Its id.
 */
tie: string | null, 
/**
 * Where.
 */
at: Click, } | { "act": "move", 
/**
 * Of what.
 */
spot: Spot, 
/**
 * To where.
 */
at: Click, } | { "act": "nudge", 
/**
 * Of what.
 */
spot: Spot, 
/**
 * On which frame.
 */
frame: number, 
/**
 * Pixels to the right.
 */
dx: number, 
/**
 * Pixels down.
 */
dy: number, } | { "act": "remove", 
/**
 * Of what.
 */
spot: Spot, 
/**
 * On which frame.
 */
frame: number, } | { "act": "set_limb", 
/**
 * The footfall.
 */
spot: Spot, 
/**
 * Which limb.
 */
limb: LimbName, } | { "act": "set_event", 
/**
 * The footfall.
 */
spot: Spot, 
/**
 * What.
 */
event: EventName, } | { "act": "set_hidden", 
/**
 * The footfall.
 */
spot: Spot, 
/**
 * Whether.
 */
hidden: boolean, } | { "act": "set_frame", 
/**
 * The footfall.
 */
spot: Spot, 
/**
 * Which frame.
 */
frame: number, } | { "act": "set_round", 
/**
 * All of it.
 */
about: RoundAbout, } | { "act": "set_turning", 
/**
 * Whether.
 */
turning: boolean, } | { "act": "set_approach", 
/**
 * Its id.
 */
approach: string, 
/**
 * The lead, when it was seen.
 */
lead: Side | null, 
/**
 * The frame of leaving the turn.
 */
left_turn_frame: number | null, 
/**
 * The note.
 */
note: string, } | { "act": "set_stride_note", 
/**
 * The approach's id.
 */
approach: string, 
/**
 * Its number: −1 is the last.
 */
stride: number, 
/**
 * The note.
 */
text: string, } | { "act": "new_approach", 
/**
 * The fence's id.
 */
fence: string, } | { "act": "undo" } | { "act": "redo" };
export type Click = { 
/**
 * The frame.
 */
frame: number, 
/**
 * Pixels from the picture's left edge.
 */
x: number, 
/**
 * Pixels from its top edge.
 */
y: number, };
export type Side = "left" | "right";
export type BaseEnd = "take_off_left" | "take_off_right" | "landing_left" | "landing_right";
export type LengthKind = "upright" | "distance" | "fence_width";
export type KnownBy = "tape" | "paces" | "eye";
export type LengthEnd = "foot" | "top" | "from" | "to";
export type LimbName = "trailing_hind" | "leading_hind" | "trailing_fore" | "leading_fore";
export type EventName = "stride" | "take_off" | "landing" | "away";
export type FenceKindName = "vertical" | "oxer" | "cross_rail" | "triple_bar" | "ground_pole" | "other_kind";
export type ActDone = { 
/**
 * The round as it is now on disk.
 */
round: RoundView, 
/**
 * What was done, in words: "placed the left end of pole 2, drawn 1.3 px to its edges".
 */
said: string, 
/**
 * The mark that was placed or moved, to be selected.
 */
selected: Placed | null, };
export type Placed = { 
/**
 * Of what.
 */
spot: Spot, 
/**
 * On which frame.
 */
frame: number, };
export type Refused = { 
/**
 * What could not be done, what was found, what is needed.
 */
error: string, 
/**
 * What to try.
 */
hint: string | null, 
/**
 * The round as it is on disk, where somebody else changed it (status 409).
 */
round: RoundView | null, };
export type NumbersView = { 
/**
 * Of which revision.
 */
revision: string, 
/**
 * One line that says it all, or what is missing for the first number.
 */
headline: string, 
/**
 * Why there are no numbers yet, and what to do; `None` when there are.
 */
cannot: string | null, 
/**
 * One entry an approach.
 */
approaches: Array<ApproachNumbers>, 
/**
 * Reasons to trust the numbers less.
 */
doubts: Array<DoubtView>, 
/**
 * Marks that do not fit the others and were left out.
 */
suspects: Array<SuspectView>, 
/**
 * How long measuring took, milliseconds.
 */
took_ms: number, };
export type ApproachNumbers = { 
/**
 * Its id.
 */
approach: string, 
/**
 * "7 strides, 2.47 to 3.84 m".
 */
headline: string, 
/**
 * Take-off, landing, levelness, changes of pace, track: a name and a value each.
 */
facts: Array<FactView>, 
/**
 * What the numbers support, what matters first.
 */
reading: Array<SentenceView>, 
/**
 * The strides, the farthest from the fence first.
 */
strides: Array<StrideView>, 
/**
 * Bars, tempo and footfalls on the stride axis, as an SVG document.
 */
lane: string, };
export type FactView = { 
/**
 * "take-off".
 */
name: string, 
/**
 * "1.27".
 */
value: string, 
/**
 * "± 0.19 m"; may be empty.
 */
plus_minus: string, 
/**
 * What it means: "leading hind to the ground line, square to it".
 */
explained: string, };
export type SentenceView = { 
/**
 * The sentence.
 */
text: string, 
/**
 * Numbers of the strides that show it; may be empty.
 */
strides: Array<number>, 
/**
 * The frame where that begins; none where a sentence is of what was stated.
 */
go_to: number | null, };
export type StrideView = { 
/**
 * Its number: −1 is the last before take-off.
 */
number: number, 
/**
 * "−1".
 */
name: string, 
/**
 * "2.47"; empty where it was not seen.
 */
length: string, 
/**
 * "± 0.13 m".
 */
plus_minus: string, 
/**
 * "0.60 ± 0.01 s".
 */
duration: string, 
/**
 * "100.0 ± 2.1".
 */
tempo: string, 
/**
 * "353 ± 26 m/min"; empty where no length.
 */
pace: string, 
/**
 * The frame of its first contact.
 */
from_frame: number, 
/**
 * The frame of its last.
 */
to_frame: number, 
/**
 * The coach's note; may be empty.
 */
note: string, };
export type DoubtView = { 
/**
 * The sentence.
 */
text: string, 
/**
 * Only something that is not marked yet.
 */
unfinished: boolean, };
export type SuspectView = { 
/**
 * Of what.
 */
spot: Spot, 
/**
 * On which frame.
 */
frame: number, 
/**
 * Why: "6.2 px off where the other marks put it (4.1 of its own uncertainty)".
 */
text: string, };
export type OverlayView = { 
/**
 * Of which revision.
 */
revision: string, 
/**
 * Of which frame.
 */
frame: number, 
/**
 * Hoof prints, lengths and the fence's line on the ground, as an SVG document of the picture's
 * size; empty where the survey has no camera for the frame.
 */
svg: string, 
/**
 * Where ends of poles that are not marked are expected on this frame.
 */
expected: Array<ExpectedView>, 
/**
 * Where things that stand still and are marked on other frames are on this one, as far as the
 * camera was followed.
 */
carried: Array<ExpectedView>, };
export type ExpectedView = { 
/**
 * Of what.
 */
spot: Spot, 
/**
 * In words.
 */
label: string, 
/**
 * Pixels from the picture's left edge.
 */
x: number, 
/**
 * Pixels from its top edge.
 */
y: number, };
export type MotionView = { 
/**
 * How far it is.
 */
state: MotionState, 
/**
 * The same in words; empty where nobody need know.
 */
words: string, };
export type MotionState = "following" | "followed" | "not_followed";
export type SteadyView = { 
/**
 * The frame that the others are laid over.
 */
onto: number, 
/**
 * Nine numbers a frame, row by row, for homogeneous pixels; `None` where it was not followed.
 */
maps: Array<[number, number, number, number, number, number, number, number, number] | null>, };
export type HandOutKind = "sheet" | "stills" | "approach_picture" | "csv" | "workbook" | "reel" | "lesson";
export type Limits = { 
/**
 * How far a stride may be off the mean and still count as level, metres.
 */
level_within_m: number, 
/**
 * Strides that grow or shrink by more are a change of pace, per cent of their mean.
 */
pace_tolerance_percent: number, 
/**
 * Where take-off should be, metres from the ground line.
 */
zone_m: number, 
/**
 * Where landing should be, metres from the far base.
 */
landing_zone_m: number, 
/**
 * How far both reach either way, metres.
 */
zone_within_m: number, 
/**
 * A last stride shorter than the others by this was added, metres.
 */
added_shorter_m: number, 
/**
 * How far the track may go aside and still be straight, metres.
 */
straight_within_m: number, 
/**
 * How probable what is said outright must be, per cent.
 */
sure_percent: number, };
export type HandOutRequest = { 
/**
 * What.
 */
kind: HandOutKind, 
/**
 * Leave rider, horse, place and file names off.
 */
no_names: boolean, 
/**
 * Feet instead of metres.
 */
feet: boolean, 
/**
 * What decides in its reading.
 */
limits: Limits, 
/**
 * For the next lesson: what it is wanted for.
 */
lesson: LessonWish | null, };
export type HandOutView = { 
/**
 * By which the page asks again.
 */
id: number, 
/**
 * What.
 */
kind: HandOutKind, 
/**
 * How far.
 */
state: HandOutState, 
/**
 * What is being done, or what came of it, in words.
 */
says: string, 
/**
 * Where it can be fetched from; once it is made and is one file.
 */
file: string | null, };
export type HandOutState = "working" | "done" | "failed" | "cancelled";
export type StandQuery = { 
/**
 * How many poles.
 */
poles: number | null, 
/**
 * Centre to centre.
 */
spacing_m: number | null, 
/**
 * Length of each.
 */
pole_length_m: number | null, 
/**
 * The last pole before the fence.
 */
last_pole_m: number | null, 
/**
 * Laid by walking instead of by the tape.
 */
paced: boolean, 
/**
 * Their ends drawn to the poles' own edges.
 */
snapped: boolean, 
/**
 * How many strides are wanted.
 */
strides: number | null, 
/**
 * How long each is.
 */
stride_m: number | null, 
/**
 * To the left of the way the horse goes instead of to the right.
 */
left: boolean, 
/**
 * Turned with the horse instead of on a stand.
 */
turning: boolean, 
/**
 * Horizontal field of view, degrees.
 */
field_deg: number | null, 
/**
 * Frames a second.
 */
frames_per_s: number | null, 
/**
 * Nearest to the track that she can stand.
 */
nearest_m: number | null, 
/**
 * Farthest from it.
 */
farthest_m: number | null, 
/**
 * Where she stands now, if she does: from the track; goes with `along_m`.
 */
distance_m: number | null, 
/**
 * Before the fence; negative, beyond it.
 */
along_m: number | null, 
/**
 * Height of the lens: now, or, with no place, where she will hold it.
 */
height_m: number | null, };
export type StandUsed = { 
/**
 * Poles.
 */
poles: string, 
/**
 * Centre to centre.
 */
spacing: string, 
/**
 * Length of each.
 */
pole_length: string, 
/**
 * The last pole before the fence.
 */
last_pole: string, 
/**
 * Strides.
 */
strides: string, 
/**
 * How long each is.
 */
stride: string, 
/**
 * Field of view.
 */
field: string, 
/**
 * Frames a second.
 */
frames_per_s: string, 
/**
 * Nearest to the track.
 */
nearest: string, 
/**
 * Farthest from it.
 */
farthest: string, };
export type StandView = { 
/**
 * The advice.
 */
sentence: string, 
/**
 * Where the phone is, in words; `None` where it has no place yet.
 */
now: string | null, 
/**
 * Where it had better be; `None` where no place is much better.
 */
advised: string | null, 
/**
 * A number a row.
 */
rows: Array<StandRow>, 
/**
 * What is out of the picture from now; `None` when nothing is.
 */
unseen: string | null, 
/**
 * Where to point the phone at the advised place, and what its picture will not hold.
 */
view: Array<string>, 
/**
 * What the single changes are headed by.
 */
changes_head: string, 
/**
 * Single changes that help, the best first.
 */
changes: Array<StandChange>, 
/**
 * Doubts, as sentences.
 */
doubts: Array<string>, 
/**
 * Cautions, the coach's own place first.
 */
cautions: Array<string>, 
/**
 * From above, to scale.
 */
svg: string, 
/**
 * What stands in the fields that nothing was typed in.
 */
used: StandUsed, };
export type StandRow = { 
/**
 * "stride −1", "take-off", "landing", "tempo".
 */
name: string, 
/**
 * Its ± from now, if she stands anywhere.
 */
now: string | null, 
/**
 * From the place that is advised.
 */
advised: string | null, };
export type StandChange = { 
/**
 * What.
 */
words: string, 
/**
 * The largest ± of take-off and the last three strides then.
 */
half: string, };
export type LessonWish = { 
/**
 * Of which approach the strides are; the last where none is named.
 */
approach: string | null, 
/**
 * The canter stride, metres, where it is not the measured one.
 */
stride_m: number | null, 
/**
 * Height of the fences, metres.
 */
height_m: number | null, 
/**
 * The gait of the approach.
 */
gait: LessonGait, 
/**
 * For whom.
 */
size: LessonSize, 
/**
 * The ground.
 */
going: LessonGoing | null, 
/**
 * The horse's state.
 */
readiness: LessonReadiness, 
/**
 * Rise the way the horse goes, per cent.
 */
slope_percent: number | null, 
/**
 * Only a line of so many strides.
 */
strides: number | null, };
export type LessonGait = "canter" | "trot";
export type LessonSize = "horse" | "pony" | "small_pony" | "medium_pony" | "large_pony";
export type LessonGoing = "good" | "deep" | "slippery";
export type LessonReadiness = "ready" | "tired" | "green";
export type LessonView = { 
/**
 * Why there is none.
 */
cannot: string | null, 
/**
 * The stride it rests on, in words.
 */
stride: string, 
/**
 * What was taken from the round or assumed, a line each.
 */
taken: Array<string>, 
/**
 * Other rounds of the horse are still being measured: the page asks again.
 */
unsettled: boolean, 
/**
 * What is used where a field is empty.
 */
used: LessonUsed, 
/**
 * What to beware of, a sentence each.
 */
notes: Array<string>, 
/**
 * The distances, poles first.
 */
distances: Array<LessonDistance>, 
/**
 * The pace beside course speeds; empty where none was measured.
 */
pace: Array<string>, 
/**
 * What stands on every plan.
 */
cautions: Array<string>, 
/**
 * What the tags stand for.
 */
sources: Array<string>, 
/**
 * The exercises to scale, SVG; empty where there is no plan.
 */
drawing: string, };
export type LessonUsed = { 
/**
 * In the unit set, without it.
 */
stride: string, 
/**
 * In the unit set, without it.
 */
height: string, 
/**
 * The same in metres, to hand back.
 */
height_m: number, 
/**
 * Per cent, written.
 */
slope: string, 
/**
 * The going in a word.
 */
going: string, };
export type LessonDistance = { 
/**
 * What is built.
 */
name: string, 
/**
 * The distance in the unit set.
 */
first: string, 
/**
 * In the other unit.
 */
second: string, 
/**
 * In walked paces.
 */
walked: string, 
/**
 * The room around it.
 */
room: string, 
/**
 * Lines only: the shorter and the longer version to train adjusting.
 */
versions: Array<string>, 
/**
 * What to beware of, a sentence each.
 */
warnings: Array<string>, 
/**
 * The range of the published tables with their tags.
 */
published: string, 
/**
 * Every published row, with source and grade.
 */
rows: Array<string>, };
