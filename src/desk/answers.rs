//! Answers that refuse: status, what could not be done, one hint.

use axum::Json;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};

use super::open_round::NotDone;
use super::wire::{Refused, RoundView};
use crate::footage::FootageError;
use crate::store::{NotBegun, StoreError};

/// Something that was not done, as it is answered.
#[derive(Debug)]
pub(super) struct Refusal {
    status: StatusCode,
    /// Boxed: it may carry a whole round.
    body: Box<Refused>,
}

impl Refusal {
    pub fn new(status: StatusCode, error: impl Into<String>, hint: Option<String>) -> Self {
        let body = Refused { error: error.into(), hint, round: None };
        Self { status, body: Box::new(body) }
    }

    pub fn not_found(what: &str) -> Self {
        let error = format!("cannot find `{what}`: the folder has no such clip");
        Self::new(StatusCode::NOT_FOUND, error, None)
    }

    pub fn no_round(clip: &str) -> Self {
        let error = format!("cannot show the marks of `{clip}`: they are not begun");
        Self::new(StatusCode::NOT_FOUND, error, None)
    }

    pub fn unreadable(error: &FootageError) -> Self {
        Self::new(StatusCode::UNSUPPORTED_MEDIA_TYPE, error.to_string(), error.hint())
    }

    pub fn not_begun(error: &NotBegun) -> Self {
        Self::new(StatusCode::CONFLICT, error.to_string(), error.hint())
    }

    /// A fault of ours or of the system.
    pub fn failed(error: impl std::fmt::Display) -> Self {
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, error.to_string(), None)
    }

    fn conflict(error: String, round: RoundView) -> Self {
        let body = Refused { error, hint: None, round: Some(round) };
        Self { status: StatusCode::CONFLICT, body: Box::new(body) }
    }
}

impl From<StoreError> for Refusal {
    fn from(error: StoreError) -> Self {
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, error.to_string(), error.hint())
    }
}

impl From<NotDone> for Refusal {
    fn from(error: NotDone) -> Self {
        let said = error.to_string();
        match error {
            NotDone::Conflict(round) => Self::conflict(said, *round),
            NotDone::Store(error) => error.into(),
            NotDone::NoEdit(_) | NotDone::Rule { .. } | NotDone::Nothing(_) | NotDone::Frame(_) => {
                Self::new(StatusCode::UNPROCESSABLE_ENTITY, said, None)
            }
        }
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        (self.status, Json(self.body)).into_response()
    }
}
