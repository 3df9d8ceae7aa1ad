//! Reading the fields of a request so that everything wrong comes back at once.

// The outer option: whether it could be read; the inner: whether it was given.
#![allow(clippy::option_option)]

use super::time;
use crate::errors;
use jiff::Timestamp;
use ringland_ledger::NameError;
use std::str::FromStr;
use tonic::Status;
use tonic_types::FieldViolation;

/// Collects what is wrong with a request's fields.
#[derive(Debug, Default)]
pub struct Fields(Vec<FieldViolation>);

impl Fields {
    /// Nothing wrong so far.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds something wrong.
    pub fn refuse(&mut self, field: &str, text: impl Into<String>) {
        self.0.push(errors::violation(field, text));
    }

    /// A resource name.
    pub fn name<T: FromStr<Err = NameError>>(&mut self, field: &str, text: &str) -> Option<T> {
        text.parse()
            .map_err(|error: NameError| self.refuse(field, error.to_string()))
            .ok()
    }

    /// A resource name that may be left out. `Some(None)` when it is.
    pub fn optional_name<T: FromStr<Err = NameError>>(
        &mut self,
        field: &str,
        text: &str,
    ) -> Option<Option<T>> {
        if text.is_empty() {
            Some(None)
        } else {
            self.name(field, text).map(Some)
        }
    }

    /// A name, or `-` in the place of its last part for all. `Some(None)` stands for all.
    pub fn name_or_all<T: FromStr<Err = NameError>>(
        &mut self,
        field: &str,
        text: &str,
    ) -> Option<Option<T>> {
        if text.ends_with("/-") && text.matches('/').count() == 1 {
            let collection = text.trim_end_matches('-');
            // Whether it is the right collection shows when it is tried with an id.
            return self
                .name::<T>(field, &format!("{collection}a"))
                .map(|_| None);
        }
        self.name(field, text).map(Some)
    }

    /// A message that must be there.
    pub fn required<T>(&mut self, field: &str, message: Option<T>) -> Option<T> {
        if message.is_none() {
            self.refuse(field, "is not set; it is required");
        }
        message
    }

    /// A time that must be there.
    pub fn time(
        &mut self,
        field: &str,
        message: Option<prost_types::Timestamp>,
    ) -> Option<Timestamp> {
        let message = self.required(field, message)?;
        self.readable_time(field, message)
    }

    /// A time that may be left out. `Some(None)` when it is.
    pub fn optional_time(
        &mut self,
        field: &str,
        message: Option<prost_types::Timestamp>,
    ) -> Option<Option<Timestamp>> {
        match message {
            None => Some(None),
            Some(message) => self.readable_time(field, message).map(Some),
        }
    }

    fn readable_time(&mut self, field: &str, message: prost_types::Timestamp) -> Option<Timestamp> {
        let read = time::from_message(message);
        if read.is_none() {
            let text = "is not a time; expected seconds of the years 1 to 9999 and 0 to 999999999 nanoseconds";
            self.refuse(field, text);
        }
        read
    }

    /// The value, if nothing was wrong.
    ///
    /// # Errors
    /// `INVALID_ARGUMENT` with everything that was.
    pub fn settle<T>(self, value: Option<T>) -> Result<T, Status> {
        match value {
            Some(value) if self.0.is_empty() => Ok(value),
            _ => Err(self.refusal()),
        }
    }

    /// `INVALID_ARGUMENT` with everything that was wrong.
    pub fn refusal(self) -> Status {
        errors::invalid(self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_ledger::UnitName;
    use tonic::Code;
    use tonic_types::StatusExt;

    #[test]
    fn everything_wrong_comes_at_once() {
        let mut fields = Fields::new();
        let unit = fields.name::<UnitName>("unit", "engine");
        let start = fields.time("start_time", None);
        let end = fields.time(
            "end_time",
            Some(prost_types::Timestamp {
                seconds: 0,
                nanos: -1,
            }),
        );
        let refusal = fields.settle(unit.zip(start).zip(end)).unwrap_err();
        assert_eq!(refusal.code(), Code::InvalidArgument);
        let details = refusal.get_error_details();
        let named: Vec<_> = details
            .bad_request()
            .unwrap()
            .field_violations
            .iter()
            .map(|violation| violation.field.as_str())
            .collect();
        assert_eq!(named, ["unit", "start_time", "end_time"]);
    }

    #[test]
    fn a_dash_stands_for_all_in_the_right_collection_only() {
        let mut fields = Fields::new();
        assert_eq!(
            fields.name_or_all::<UnitName>("parent", "units/-"),
            Some(None)
        );
        assert!(
            fields
                .name_or_all::<UnitName>("parent", "units/a")
                .unwrap()
                .is_some()
        );
        assert_eq!(
            fields.name_or_all::<UnitName>("parent", "components/-"),
            None
        );
        assert!(fields.settle(Some(())).is_err());
    }
}
