//! A card, in itself and against the vocabulary. Found when a plugin is loaded, so that its author
//! learns of it and nobody else does.

use crate::contract::{
    Card, ChannelNeed, ChoiceField, Finding, NumberField, ReadingField, Severity, ShockNeed,
    TableField, check_against_card, default_specimen,
    vocabulary::{CHANNELS, Channel, SHOCKS, SURFACE_PROPERTIES},
};
use std::collections::BTreeSet;

/// Everything that is wrong with a card.
pub(super) fn check_card(card: &Card) -> Vec<Finding> {
    let mut check = Check::default();
    check.identity(card);
    check.spec(card);
    check.condition_and_readings(card);
    check.mechanisms(card);
    check.duty(card);
    check.names("operation", card.operations.iter().map(|o| o.name.as_str()));
    check.names("constant", card.constants.iter().map(|c| c.name.as_str()));
    for constant in &card.constants {
        check.finite(&constant.name, constant.value);
    }
    for finding in check_against_card(card, &default_specimen(card)) {
        check.wrong(&finding.field, &finding.value, &finding.expected);
    }
    check.findings
}

#[derive(Default)]
struct Check {
    findings: Vec<Finding>,
}

impl Check {
    fn wrong(&mut self, field: &str, value: &str, expected: &str) {
        self.findings.push(Finding {
            severity: Severity::Error,
            field: field.into(),
            value: value.into(),
            expected: expected.into(),
            remedy: "mend the card".into(),
        });
    }

    fn identity(&mut self, card: &Card) {
        self.name("component_type", &card.component_type);
        let numbers: Vec<&str> = card.version.split('.').collect();
        let is_number = |part: &&str| part.parse::<u32>().is_ok();
        if numbers.len() != 3 || !numbers.iter().all(is_number) {
            self.wrong("version", &card.version, "three numbers: major.minor.patch");
        }
        for (what, text) in [("label", &card.label), ("description", &card.description)] {
            if text.trim().is_empty() {
                self.wrong(what, text, "some words for people");
            }
        }
    }

    fn spec(&mut self, card: &Card) {
        let numbers = card.numbers.iter().map(|n| n.name.as_str());
        let choices = card.choices.iter().map(|c| c.name.as_str());
        let tables = card.tables.iter().map(|t| t.name.as_str());
        let surfaces = card.surfaces.iter().map(|s| s.name.as_str());
        // One name space: a finding about a spec names its field by these alone.
        self.names(
            "field",
            numbers.chain(choices).chain(tables).chain(surfaces),
        );
        card.numbers.iter().for_each(|number| self.number(number));
        card.choices.iter().for_each(|choice| self.choice(choice));
        card.tables.iter().for_each(|table| self.table(table));
        for surface in &card.surfaces {
            self.names(
                "property",
                surface.properties.iter().map(|p| p.name.as_str()),
            );
            for property in &surface.properties {
                self.number(property);
                let known = SURFACE_PROPERTIES.iter().find(|p| p.name == property.name);
                match known {
                    None => self.wrong("property", &property.name, "a name of the vocabulary"),
                    Some(known) if known.unit != property.unit => {
                        self.wrong(&property.name, &property.unit, known.unit);
                    }
                    Some(_) => {}
                }
            }
        }
    }

    fn number(&mut self, field: &NumberField) {
        self.range(&field.name, field.minimum, field.maximum);
        if !(field.minimum..=field.maximum).contains(&field.default_value) {
            let expected = format!("a default of {} to {}", field.minimum, field.maximum);
            self.wrong(&field.name, &field.default_value.to_string(), &expected);
        }
    }

    fn choice(&mut self, field: &ChoiceField) {
        self.names("option", field.options.iter().map(|o| o.name.as_str()));
        if field.default_option as usize >= field.options.len() {
            let expected = format!("the index of one of {} options", field.options.len());
            self.wrong(&field.name, &field.default_option.to_string(), &expected);
        }
    }

    fn table(&mut self, field: &TableField) {
        self.names("column", field.columns.iter().map(|c| c.name.as_str()));
        field.columns.iter().for_each(|column| self.number(column));
        if field.minimum_rows > field.maximum_rows {
            let rows = format!("{} to {} rows", field.minimum_rows, field.maximum_rows);
            self.wrong(&field.name, &rows, "fewest rows before most");
        }
    }

    fn condition_and_readings(&mut self, card: &Card) {
        self.names("slot", card.condition.iter().map(|s| s.name.as_str()));
        for slot in &card.condition {
            self.range(&slot.name, slot.minimum, slot.maximum);
        }
        self.names("reading", card.readings.iter().map(|r| r.name.as_str()));
        for reading in &card.readings {
            self.reading(card, reading);
        }
    }

    fn reading(&mut self, card: &Card, reading: &ReadingField) {
        for sd in [reading.instrument_sd, reading.instrument_sd_relative] {
            self.spread(&reading.name, sd);
        }
        if let Some(informs) = &reading.informs
            && !card.mechanisms.iter().any(|m| &m.name == informs)
        {
            self.wrong(&reading.name, informs, "to inform a mechanism of this card");
        }
    }

    fn mechanisms(&mut self, card: &Card) {
        if card.mechanisms.is_empty() {
            self.wrong("mechanisms", "none", "at least one way to end the life");
        }
        self.names("mechanism", card.mechanisms.iter().map(|m| m.name.as_str()));
        for mechanism in &card.mechanisms {
            self.spread(&mechanism.name, mechanism.rate_ln_sd);
            if let Some(reading) = &mechanism.reading
                && !card.readings.iter().any(|r| &r.name == reading)
            {
                self.wrong(&mechanism.name, reading, "a reading of this card");
            }
        }
    }

    fn duty(&mut self, card: &Card) {
        let duty = &card.duty;
        self.names("channel", duty.channels.iter().map(|c| c.name.as_str()));
        duty.channels.iter().for_each(|need| self.channel(need));
        self.names("counted channel", duty.cycles.iter().map(String::as_str));
        for name in &duty.cycles {
            if !CHANNELS.iter().any(|c| c.name == name && c.counted) {
                self.wrong("cycles", name, "a channel whose cycles are counted");
            }
        }
        self.names("shock", duty.shocks.iter().map(|s| s.kind.as_str()));
        duty.shocks.iter().for_each(|need| self.shock(need));
        for mate in &duty.mates {
            self.name("mate", &mate.component_type);
            self.name("mate slot", &mate.slot);
            self.finite(&mate.slot, mate.default_value);
        }
    }

    fn channel(&mut self, need: &ChannelNeed) {
        let Some(known) = CHANNELS.iter().find(|c| c.name == need.name) else {
            return self.wrong("channel", &need.name, "a name of the vocabulary");
        };
        let Channel {
            minimum, maximum, ..
        } = *known;
        if !need.required && !(minimum..=maximum).contains(&need.default_value) {
            let expected = format!("a default of {minimum} to {maximum}");
            self.wrong(&need.name, &need.default_value.to_string(), &expected);
        }
    }

    fn shock(&mut self, need: &ShockNeed) {
        let Some(known) = SHOCKS.iter().find(|s| s.kind == need.kind) else {
            return self.wrong("shock", &need.kind, "a kind of the vocabulary");
        };
        for field in &need.fields {
            if !known.fields.contains(&field.as_str()) {
                let expected = format!("one of {}", known.fields.join(", "));
                self.wrong(&need.kind, field, &expected);
            }
        }
    }

    /// Well-formed names, each once.
    fn names<'a>(&mut self, what: &str, names: impl Iterator<Item = &'a str>) {
        let mut seen = BTreeSet::new();
        for name in names {
            self.name(what, name);
            if !seen.insert(name) {
                self.wrong(what, name, "each name once");
            }
        }
    }

    fn name(&mut self, what: &str, name: &str) {
        let starts = name.starts_with(|c: char| c.is_ascii_lowercase());
        let allowed = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
        if !starts || !name.chars().all(allowed) || name.len() > LONGEST_NAME {
            let expected = "lower-case words joined by underscores, at most 64 letters";
            self.wrong(what, &format!("{name:?}"), expected);
        }
    }

    fn range(&mut self, name: &str, minimum: f64, maximum: f64) {
        if !(minimum.is_finite() && maximum.is_finite() && minimum <= maximum) {
            let range = format!("{minimum} to {maximum}");
            self.wrong(name, &range, "a finite range, minimum first");
        }
    }

    fn spread(&mut self, name: &str, sd: f64) {
        if !(sd.is_finite() && sd >= 0.0) {
            self.wrong(
                name,
                &sd.to_string(),
                "a finite standard deviation, 0 or more",
            );
        }
    }

    fn finite(&mut self, name: &str, value: f64) {
        if !value.is_finite() {
            self.wrong(name, &value.to_string(), "a finite number");
        }
    }
}

const LONGEST_NAME: usize = 64;
