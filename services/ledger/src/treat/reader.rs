//! Reads a TOML table field by field and gathers everything that is wrong with it.

use crate::violations::Violations;
use toml::{Table, Value};

/// Most entries of any list.
const LONGEST_LIST: usize = 200;
/// Most bytes of any text but the description.
const LONGEST_TEXT: usize = 1000;

/// A table and where it stands.
pub(super) struct Entry<'t> {
    pub(super) place: String,
    pub(super) table: &'t Table,
}

impl<'t> Entry<'t> {
    fn at(&self, key: &str) -> String {
        if self.place.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.place)
        }
    }

    pub(super) fn refuse(
        &self,
        found: &mut Violations,
        key: &str,
        value: impl std::fmt::Display,
        expected: &str,
        remedy: &str,
    ) {
        found.add(self.at(key), value, expected, remedy);
    }

    /// Refuses keys that nobody reads.
    pub(super) fn only(&self, found: &mut Violations, known: &[&str]) {
        let strangers = self
            .table
            .keys()
            .filter(|key| !known.contains(&key.as_str()));
        for key in strangers {
            let expected = format!("one of {}", known.join(", "));
            self.refuse(
                found,
                key,
                "given",
                &expected,
                "correct the key or leave it out",
            );
        }
    }

    /// A text; empty when it is not there.
    pub(super) fn text(&self, found: &mut Violations, key: &str) -> String {
        match self.table.get(key) {
            None => String::new(),
            Some(Value::String(text)) if text.len() <= LONGEST_TEXT => text.clone(),
            Some(other) => {
                let expected = format!("a text of at most {LONGEST_TEXT} bytes");
                self.refuse(found, key, kind(other), &expected, "correct or shorten it");
                String::new()
            }
        }
    }

    /// A text that must be there.
    pub(super) fn required_text(&self, found: &mut Violations, key: &str) -> String {
        let text = self.text(found, key);
        if text.trim().is_empty() && !matches!(self.table.get(key), Some(v) if !v.is_str()) {
            self.refuse(found, key, "not given", "a text", "write it");
        }
        text
    }

    /// A finite number, written with or without a decimal point.
    pub(super) fn number(&self, found: &mut Violations, key: &str) -> Option<f64> {
        let value = self.table.get(key)?;
        let number = as_number(value);
        if number.is_none() {
            self.refuse(found, key, kind(value), "a finite number", "write a number");
        }
        number
    }

    /// A finite number within limits.
    pub(super) fn number_in(
        &self,
        found: &mut Violations,
        key: &str,
        (low, high): (f64, f64),
    ) -> Option<f64> {
        let number = self.number(found, key)?;
        if (low..=high).contains(&number) {
            return Some(number);
        }
        let expected = format!("{low} to {high}");
        self.refuse(found, key, number, &expected, "correct it");
        None
    }

    /// A list of texts; empty when it is not there.
    pub(super) fn texts(&self, found: &mut Violations, key: &str) -> Vec<String> {
        let Some(value) = self.table.get(key) else {
            return Vec::new();
        };
        let texts = value.as_array().and_then(|list| {
            let text = |value: &Value| value.as_str().map(str::to_owned);
            list.iter().map(text).collect::<Option<Vec<_>>>()
        });
        match texts {
            Some(texts) if texts.len() <= LONGEST_LIST && texts.iter().all(|text| fits(text)) => {
                texts
            }
            _ => {
                let expected = format!("at most {LONGEST_LIST} texts of 1 to {LONGEST_TEXT} bytes");
                self.refuse(found, key, kind(value), &expected, "write a list of texts");
                Vec::new()
            }
        }
    }

    /// A list of numbers.
    pub(super) fn numbers(&self, found: &mut Violations, key: &str) -> Vec<f64> {
        let value = self.table.get(key);
        let list = value.and_then(Value::as_array);
        let numbers = list.and_then(|list| list.iter().map(as_number).collect::<Option<Vec<_>>>());
        match numbers {
            Some(numbers) if numbers.len() <= LONGEST_LIST => numbers,
            _ => {
                let what = value.map_or("not given", kind);
                let expected = format!("at most {LONGEST_LIST} finite numbers");
                self.refuse(found, key, what, &expected, "write a list of numbers");
                Vec::new()
            }
        }
    }

    /// A list of tables; empty when it is not there.
    pub(super) fn entries(&self, found: &mut Violations, key: &str) -> Vec<Entry<'t>> {
        let Some(value) = self.table.get(key) else {
            return Vec::new();
        };
        let tables = value.as_array().and_then(|list| {
            let tables = list.iter().map(Value::as_table);
            tables.collect::<Option<Vec<_>>>()
        });
        match tables {
            Some(tables) if tables.len() <= LONGEST_LIST => {
                let entry = |(index, table)| Entry {
                    place: format!("{}[{index}]", self.at(key)),
                    table,
                };
                tables.into_iter().enumerate().map(entry).collect()
            }
            _ => {
                let expected = format!("at most {LONGEST_LIST} tables");
                let remedy = "write it as [[...]]";
                self.refuse(found, key, kind(value), &expected, remedy);
                Vec::new()
            }
        }
    }

    /// A table.
    pub(super) fn entry(&self, found: &mut Violations, key: &str) -> Option<Entry<'t>> {
        let value = self.table.get(key)?;
        let table = value.as_table();
        if table.is_none() {
            self.refuse(found, key, kind(value), "a table", "write it as { ... }");
        }
        Some(Entry {
            place: self.at(key),
            table: table?,
        })
    }
}

fn fits(text: &str) -> bool {
    (1..=LONGEST_TEXT).contains(&text.len())
}

fn as_number(value: &Value) -> Option<f64> {
    match value {
        Value::Integer(number) => Some(*number as f64),
        Value::Float(number) if number.is_finite() => Some(*number),
        _ => None,
    }
}

/// What a value is, for people.
fn kind(value: &Value) -> &'static str {
    match value {
        Value::String(_) => "a text",
        Value::Integer(_) => "a whole number",
        Value::Float(_) => "a number",
        Value::Boolean(_) => "true or false",
        Value::Datetime(_) => "a time",
        Value::Array(_) => "a list",
        Value::Table(_) => "a table",
    }
}
