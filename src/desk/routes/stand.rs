//! Where to stand: before any clip, and the next time.

use axum::Json;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use serde::Deserialize;

use super::look_query::LookQuery;
use super::rounds::with_round;
use super::{Answer, Shared, apart};
use crate::desk::answers::Refusal;
use crate::desk::stand_view::{stand_view, stood_view};
use crate::desk::wire::{StandQuery, StandView};
use crate::quantity::LengthUnits;
use crate::stand::StandError;

/// Where to stand; it needs no clip.
pub(in crate::desk) async fn stand(
    Query(asked): Query<StandQuery>,
    Query(look): Query<LookQuery>,
) -> Answer<StandView> {
    apart(move || {
        let view = stand_view(&asked, look.units(), look.theme());
        view.map(Json).map_err(|error| not_planned(&error, look.units()))
    })
    .await
}

/// Which approach of a round.
#[derive(Deserialize)]
pub(in crate::desk) struct ApproachQuery {
    approach: Option<String>,
}

/// Where to stand the next time.
pub(in crate::desk) async fn stood(
    State(desk): Shared,
    Path(name): Path<String>,
    Query(asked): Query<ApproachQuery>,
    Query(look): Query<LookQuery>,
) -> Answer<StandView> {
    with_round(desk, name, move |_, round| {
        let measured = round.measured()?;
        stood_view(&measured, asked.approach.as_deref(), look.units(), look.theme())
            .map_err(|error| not_planned(&error, look.units()))
    })
    .await
}

fn not_planned(error: &StandError, units: LengthUnits) -> Refusal {
    let status = StatusCode::UNPROCESSABLE_ENTITY;
    Refusal::new(status, error.words(units), Some(error.hint()))
}
