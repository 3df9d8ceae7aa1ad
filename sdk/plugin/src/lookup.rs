//! Where an entry of the card stands. A model that reads its inputs by fixed index pins the index
//! in a test: `assert_eq!(card.number_index("bore_m"), Some(BORE))`.

use crate::contract::{ModelCard, SurfaceField, TableField};

fn position<T>(entries: &[T], name: &str, of: impl Fn(&T) -> &str) -> Option<usize> {
    entries.iter().position(|entry| of(entry) == name)
}

impl ModelCard {
    /// Index of a number of the spec.
    pub fn number_index(&self, name: &str) -> Option<usize> {
        position(&self.numbers, name, |entry| &entry.name)
    }

    /// Index of a choice.
    pub fn choice_index(&self, name: &str) -> Option<usize> {
        position(&self.choices, name, |entry| &entry.name)
    }

    /// Index of a table.
    pub fn table_index(&self, name: &str) -> Option<usize> {
        position(&self.tables, name, |entry| &entry.name)
    }

    /// Index of a surface.
    pub fn surface_index(&self, name: &str) -> Option<usize> {
        position(&self.surfaces, name, |entry| &entry.name)
    }

    /// Index of a slot of the condition.
    pub fn slot_index(&self, name: &str) -> Option<usize> {
        position(&self.condition, name, |entry| &entry.name)
    }

    /// Index of a reading.
    pub fn reading_index(&self, name: &str) -> Option<usize> {
        position(&self.readings, name, |entry| &entry.name)
    }

    /// Index of a mechanism.
    pub fn mechanism_index(&self, name: &str) -> Option<usize> {
        position(&self.mechanisms, name, |entry| &entry.name)
    }

    /// Index of a channel among those that the card asks for.
    pub fn channel_index(&self, name: &str) -> Option<usize> {
        position(&self.duty.channels, name, |entry| &entry.name)
    }

    /// Index of a counted channel among those that the card asks for.
    pub fn cycles_index(&self, channel: &str) -> Option<usize> {
        position(&self.duty.cycles, channel, |entry| entry)
    }

    /// Index of a kind of shock among those that the card asks for.
    pub fn shock_index(&self, kind: &str) -> Option<usize> {
        position(&self.duty.shocks, kind, |entry| &entry.kind)
    }

    /// Index of a shop operation.
    pub fn operation_index(&self, name: &str) -> Option<usize> {
        position(&self.operations, name, |entry| &entry.name)
    }
}

impl SurfaceField {
    /// Index of a property of this surface.
    pub fn property_index(&self, name: &str) -> Option<usize> {
        position(&self.properties, name, |entry| &entry.name)
    }
}

impl TableField {
    /// Index of a column of this table.
    pub fn column_index(&self, name: &str) -> Option<usize> {
        position(&self.columns, name, |entry| &entry.name)
    }
}
