//! Resource names: parsed and checked, and shown as the paths of the API.

use crate::{FieldViolation, LedgerError};
use ringland_host::contract::Digest;
use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr};

/// Why a text is not a name.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{value:?} is not a name: expected {expected}")]
pub struct NameError {
    /// What was given.
    pub value: String,
    /// The form that was expected.
    pub expected: &'static str,
}

/// Parses a name given in `field` of a call.
///
/// # Errors
/// [`LedgerError::InvalidArgument`] that names the field, the value and the form expected.
pub fn parse_name<T: FromStr<Err = NameError>>(field: &str, text: &str) -> Result<T, LedgerError> {
    text.parse().map_err(|error: NameError| {
        LedgerError::invalid(FieldViolation::new(
            field,
            &format!("{text:?}"),
            error.expected,
            "give the full resource name",
        ))
    })
}

/// What the last part of a client-chosen name must look like.
pub const ID_FORM: &str =
    "lower-case letters, digits and hyphens, 1 to 63 long, starting with a letter or digit";

/// Whether a text may be the last part of a name.
pub fn is_id(text: &str) -> bool {
    let letter_or_digit = |c: u8| c.is_ascii_lowercase() || c.is_ascii_digit();
    (1..=63).contains(&text.len())
        && text.bytes().next().is_some_and(letter_or_digit)
        && text.bytes().all(|c| letter_or_digit(c) || c == b'-')
}

/// The parts between fixed words: `units/{}/builds/{}` against `units`, `builds`.
fn ids<const N: usize>(text: &str, collections: [&str; N]) -> Option<[String; N]> {
    let mut parts = text.split('/');
    let mut found = std::array::from_fn(|_| String::new());
    for (collection, id) in collections.iter().zip(&mut found) {
        if parts.next()? != *collection {
            return None;
        }
        let part = parts.next()?;
        if !is_id(part) {
            return None;
        }
        part.clone_into(id);
    }
    parts.next().is_none().then_some(found)
}

// Thirteen names with the same four impls each: the only place where a macro says it shorter.
macro_rules! name {
    ($(#[$doc:meta])* $name:ident, $form:literal, $show:literal, [$($collection:literal => $part:ident),+]) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(into = "String", try_from = "String")]
        pub struct $name { $($part: String),+ }

        impl $name {
            /// From its parts.
            ///
            /// # Errors
            /// [`NameError`] when a part is not well formed.
            pub fn new($($part: &str),+) -> Result<Self, NameError> {
                format!($show, $($part),+).parse()
            }

            $(
                /// A part of the name.
                pub fn $part(&self) -> &str {
                    &self.$part
                }
            )+
        }

        impl FromStr for $name {
            type Err = NameError;

            fn from_str(text: &str) -> Result<Self, NameError> {
                let [$($part),+] = ids(text, [$($collection),+])
                    .ok_or_else(|| NameError { value: text.chars().take(200).collect(), expected: $form })?;
                Ok(Self { $($part),+ })
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, $show, $(self.$part),+)
            }
        }

        impl From<$name> for String {
            fn from(name: $name) -> Self {
                name.to_string()
            }
        }

        impl TryFrom<String> for $name {
            type Error = NameError;

            fn try_from(text: String) -> Result<Self, NameError> {
                text.parse()
            }
        }
    };
}

name!(
    /// `units/{unit}`
    UnitName, "units/{unit}", "units/{}", ["units" => unit]
);
name!(
    /// `units/{unit}/builds/{build}`
    BuildName, "units/{unit}/builds/{build}", "units/{}/builds/{}", ["units" => unit, "builds" => build]
);
name!(
    /// `units/{unit}/dutyRecords/{record}`; the last part is the start time.
    DutyRecordName, "units/{unit}/dutyRecords/{record}", "units/{}/dutyRecords/{}", ["units" => unit, "dutyRecords" => record]
);
name!(
    /// `components/{component}`
    ComponentName, "components/{component}", "components/{}", ["components" => component]
);
name!(
    /// `components/{component}/revisions/{revision}`; the last part counts from 1.
    RevisionName, "components/{component}/revisions/{revision}", "components/{}/revisions/{}", ["components" => component, "revisions" => revision]
);
name!(
    /// `components/{component}/installations/{installation}`; the last part is the install time.
    InstallationName, "components/{component}/installations/{installation}", "components/{}/installations/{}", ["components" => component, "installations" => installation]
);
name!(
    /// `components/{component}/reworks/{rework}`; the last part is the time and the operation.
    ReworkName, "components/{component}/reworks/{rework}", "components/{}/reworks/{}", ["components" => component, "reworks" => rework]
);
name!(
    /// `components/{component}/inspections/{inspection}`; the last part is the time.
    InspectionName, "components/{component}/inspections/{inspection}", "components/{}/inspections/{}", ["components" => component, "inspections" => inspection]
);
name!(
    /// `components/{component}/predictions/{prediction}`; the last part counts from 1.
    PredictionName, "components/{component}/predictions/{prediction}", "components/{}/predictions/{}", ["components" => component, "predictions" => prediction]
);
name!(
    /// `treatments/{treatment}`
    TreatmentName, "treatments/{treatment}", "treatments/{}", ["treatments" => treatment]
);
name!(
    /// `profiles/{profile}`
    ProfileName, "profiles/{profile}", "profiles/{}", ["profiles" => profile]
);

name!(
    /// `calendars/{calendar}`
    CalendarName, "calendars/{calendar}", "calendars/{}", ["calendars" => calendar]
);
name!(
    /// `overrides/{override}`; the last part is the time of the decision and a digest of it.
    OverrideName, "overrides/{override}", "overrides/{}", ["overrides" => id]
);

impl BuildName {
    /// The unit of the build.
    pub fn parent(&self) -> UnitName {
        UnitName {
            unit: self.unit.clone(),
        }
    }
}

impl DutyRecordName {
    /// The unit of the record.
    pub fn parent(&self) -> UnitName {
        UnitName {
            unit: self.unit.clone(),
        }
    }
}

impl InspectionName {
    /// The component inspected.
    pub fn parent(&self) -> ComponentName {
        ComponentName {
            component: self.component.clone(),
        }
    }
}

impl PredictionName {
    /// The component predicted.
    pub fn parent(&self) -> ComponentName {
        ComponentName {
            component: self.component.clone(),
        }
    }
}

/// `models/{sha256 of the plugin}`
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub struct ModelName(pub Digest);

impl FromStr for ModelName {
    type Err = NameError;

    fn from_str(text: &str) -> Result<Self, NameError> {
        let digest = text
            .strip_prefix("models/")
            .and_then(|digest| digest.parse().ok());
        digest.map(Self).ok_or_else(|| NameError {
            value: text.chars().take(200).collect(),
            expected: "models/{64 hexadecimal digits}",
        })
    }
}

impl fmt::Display for ModelName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "models/{}", self.0)
    }
}

impl From<ModelName> for String {
    fn from(name: ModelName) -> Self {
        name.to_string()
    }
}

impl TryFrom<String> for ModelName {
    type Error = NameError;

    fn try_from(text: String) -> Result<Self, NameError> {
        text.parse()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_shown_as_it_was_parsed() {
        let build: BuildName = "units/engine-a/builds/b1".parse().unwrap();
        assert_eq!(build.to_string(), "units/engine-a/builds/b1");
        assert_eq!(build.parent(), UnitName::new("engine-a").unwrap());
    }

    #[test]
    fn what_is_no_name_is_refused() {
        let long = format!("units/{}", "a".repeat(64));
        for text in [
            "",
            "units",
            "units/",
            "units/A",
            "units/a/b",
            "unit/a",
            "units/-a",
            "units/a\0",
            &long,
        ] {
            assert!(text.parse::<UnitName>().is_err(), "{text:?}");
        }
        let error = parse_name::<UnitName>("parent", "engine").unwrap_err();
        assert!(error.to_string().contains("parent"), "{error}");
    }
}
