//! What a commit carries.

/// A table. The number is its place on disk and never changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u8)]
pub enum Table {
    /// Units.
    Units = 1,
    /// Builds of units.
    Builds = 2,
    /// Components.
    Components = 3,
    /// Revisions of spec and surfaces.
    Revisions = 4,
    /// Installations of components in builds.
    Installations = 5,
    /// Shop operations on components.
    Reworks = 6,
    /// Duty records.
    Duty = 7,
    /// Duty profiles of events.
    Profiles = 8,
    /// Answers to request ids.
    Requests = 9,
    /// Plugin bytes by digest.
    Plugins = 10,
    /// Activations of plugins.
    Activations = 11,
    /// Measured readings.
    Inspections = 12,
    /// Treatments of the shop's own.
    Treatments = 13,
    /// Ends of components.
    Retirements = 14,
    /// Calendars of events.
    Calendars = 16,
    /// What owners decided other than advised.
    Overrides = 17,
    /// Derived: conditions of components after each record.
    Conditions = 64,
    /// Derived: predictions.
    Predictions = 65,
    /// Derived: what inspections say of the rates of mechanisms.
    Observations = 66,
}

impl Table {
    /// All tables, in the order of their numbers.
    pub const ALL: [Self; 19] = [
        Self::Units,
        Self::Builds,
        Self::Components,
        Self::Revisions,
        Self::Installations,
        Self::Reworks,
        Self::Duty,
        Self::Profiles,
        Self::Requests,
        Self::Plugins,
        Self::Activations,
        Self::Inspections,
        Self::Treatments,
        Self::Retirements,
        Self::Calendars,
        Self::Overrides,
        Self::Conditions,
        Self::Predictions,
        Self::Observations,
    ];
}

/// What must hold for a batch to apply.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Expectation {
    /// Table.
    pub table: Table,
    /// Key.
    pub key: Vec<u8>,
    /// The value it must have; `None` for no such key.
    pub value: Option<Vec<u8>>,
}

/// One change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Write {
    /// Table.
    pub table: Table,
    /// Key.
    pub key: Vec<u8>,
    /// The new value; `None` to delete.
    pub value: Option<Vec<u8>>,
}

/// Expectations and changes that apply together or not at all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Batch {
    /// What must hold.
    pub expectations: Vec<Expectation>,
    /// What changes.
    pub writes: Vec<Write>,
}

impl Batch {
    /// An empty batch.
    pub fn new() -> Self {
        Self::default()
    }

    /// Requires that a key does not exist.
    #[must_use]
    pub fn expect_absent(mut self, table: Table, key: impl Into<Vec<u8>>) -> Self {
        self.expectations.push(Expectation {
            table,
            key: key.into(),
            value: None,
        });
        self
    }

    /// Requires that a key has this value.
    #[must_use]
    pub fn expect_value(
        mut self,
        table: Table,
        key: impl Into<Vec<u8>>,
        value: impl Into<Vec<u8>>,
    ) -> Self {
        self.expectations.push(Expectation {
            table,
            key: key.into(),
            value: Some(value.into()),
        });
        self
    }

    /// Sets a key.
    #[must_use]
    pub fn put(mut self, table: Table, key: impl Into<Vec<u8>>, value: impl Into<Vec<u8>>) -> Self {
        self.writes.push(Write {
            table,
            key: key.into(),
            value: Some(value.into()),
        });
        self
    }

    /// Deletes a key.
    #[must_use]
    pub fn delete(mut self, table: Table, key: impl Into<Vec<u8>>) -> Self {
        self.writes.push(Write {
            table,
            key: key.into(),
            value: None,
        });
        self
    }
}
