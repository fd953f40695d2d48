// What goes between page and program. Written by hand in the shape that ts-rs gives; the twin of
// src/desk/wire/*.rs, from which it is to be made.

export type ActRequest = { revision: string, key: string, act: Act };

export type Act =
  | { "act": "set_poles", count: number, spacing_m: number, length_m: number, taped: boolean }
  | { "act": "set_fence", fence: string | null, name: string, kind: FenceKindName, height_m: number | null, spread_m: number | null }
  | { "act": "place_pole_end", pole: number, end: Side, at: Click, snap: boolean }
  | { "act": "place_base", fence: string | null, end: BaseEnd, at: Click }
  | { "act": "place_footfall", approach: string | null, limb: LimbName, event: EventName, at: Click, hidden: boolean }
  | { "act": "place_tie", tie: string | null, at: Click }
  | { "act": "move", spot: Spot, at: Click }
  | { "act": "nudge", spot: Spot, frame: number, dx: number, dy: number }
  | { "act": "remove", spot: Spot, frame: number }
  | { "act": "set_limb", spot: Spot, limb: LimbName }
  | { "act": "set_event", spot: Spot, event: EventName }
  | { "act": "set_hidden", spot: Spot, hidden: boolean }
  | { "act": "set_frame", spot: Spot, frame: number }
  | { "act": "set_round", about: RoundAbout }
  | { "act": "set_turning", turning: boolean }
  | { "act": "set_approach", approach: string, lead: Side | null, left_turn_frame: number | null, note: string }
  | { "act": "set_stride_note", approach: string, stride: number, text: string }
  | { "act": "new_approach", fence: string }
  | { "act": "undo" }
  | { "act": "redo" };

export type Click = { frame: number, x: number, y: number };
export type Side = "left" | "right";
export type BaseEnd = "take_off_left" | "take_off_right" | "landing_left" | "landing_right";
export type LimbName = "trailing_hind" | "leading_hind" | "trailing_fore" | "leading_fore";
export type EventName = "stride" | "take_off" | "landing" | "away";
export type FenceKindName = "vertical" | "oxer" | "cross_rail" | "triple_bar" | "ground_pole" | "other_kind";
export type ActDone = { round: RoundView, said: string, selected: Placed | null };
export type Placed = { spot: Spot, frame: number };
export type Refused = { error: string, hint: string | null, round: RoundView | null };

export type FolderView = { name: string, clips: Array<ClipCard>, open_elsewhere: string | null, first: string | null };
export type ClipCard = { clip: string, rider: string, horse: string, date: string, fences: string, state: string, progress: Progress, unreadable: string | null };
export type Progress = "not_begun" | "begun" | "measured" | "unreadable";
export type ClipView = { clip: string, width: number, height: number, times_s: Array<number>, times: Array<string>, last_s: number, doubts: Array<string> };

export type HandOutKind = "sheet" | "stills" | "approach_picture" | "csv" | "workbook" | "reel";
export type HandOutRequest = { kind: HandOutKind, no_names: boolean, feet: boolean };
export type HandOutView = { id: number, kind: HandOutKind, state: HandOutState, says: string, file: string | null };
export type HandOutState = "working" | "done" | "failed" | "cancelled";

export type NumbersView = { revision: string, headline: string, cannot: string | null, approaches: Array<ApproachNumbers>, doubts: Array<DoubtView>, suspects: Array<SuspectView>, took_ms: number };
export type ApproachNumbers = { approach: string, headline: string, facts: Array<FactView>, strides: Array<StrideView>, lane: string };
export type FactView = { name: string, value: string, plus_minus: string, explained: string };
export type StrideView = { number: number, name: string, length: string, plus_minus: string, duration: string, tempo: string, pace: string, from_frame: number, to_frame: number, note: string };
export type DoubtView = { text: string };
export type SuspectView = { spot: Spot, frame: number, text: string };
export type OverlayView = { revision: string, frame: number, svg: string, expected: Array<ExpectedView> };
export type ExpectedView = { spot: Spot, label: string, x: number, y: number };

export type RoundView = { clip: string, revision: string, title: string, about: RoundAbout, turning: boolean, poles: PolesView | null, fences: Array<FenceView>, approaches: Array<ApproachView>, marks: Array<MarkView>, steps: Array<StepView>, undo: string | null, redo: string | null };
export type RoundAbout = { rider: string, horse: string, place: string, date: string, surface: string, note: string };
export type PolesView = { count: number, spacing_m: number, length_m: number, taped: boolean };
export type FenceView = { id: string, name: string, kind: FenceKindName, height_m: number | null, spread_m: number | null };
export type ApproachView = { id: string, fence: string, lead: Side | null, left_turn_frame: number | null, note: string, stride_notes: Array<StrideNoteView> };
export type StrideNoteView = { stride: number, text: string };
export type MarkView = { spot: Spot, label: string, frame: number, x: number, y: number, hidden: boolean };
export type Spot =
  | { "of": "pole_end", pole: number, end: Side }
  | { "of": "base", fence: string, end: BaseEnd }
  | { "of": "tie", tie: string }
  | { "of": "footfall", approach: string, footfall: string, limb: LimbName, event: EventName }
  | { "of": "other", address: string };
export type StepView = { step: StepName, done: boolean, count: string, says: string, wanted: Array<Target> };
export type StepName = "poles" | "fence" | "hooves" | "ties";
export type Target =
  | { "target": "pole_end", pole: number, end: Side, label: string }
  | { "target": "base", fence: string, end: BaseEnd, label: string }
  | { "target": "footfall", limb: LimbName, event: EventName, label: string }
  | { "target": "tie", tie: string | null, label: string };
