//! What a sheet says.

use crate::Range;

/// A sheet. Its cautions are part of it: one without any is refused.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// What kind of sheet: `Teardown sheet`.
    pub title: String,
    /// Whose: `Engine A`.
    pub subject: String,
    /// The shop, if it is named.
    pub shop: String,
    /// When it was made, in words; the clock is the caller's.
    pub made: String,
    /// What stands at its head.
    pub facts: Vec<Fact>,
    /// Its parts, in order.
    pub sections: Vec<Section>,
    /// What to heed. At least one.
    pub cautions: Vec<String>,
    /// Who signs: `engine builder`; each gets a line.
    pub signatures: Vec<String>,
}

/// A name and what it is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Fact {
    /// `installed in`
    pub name: String,
    /// `engine-a/a-1`
    pub value: String,
}

impl Fact {
    /// A name and what it is.
    pub fn new(name: impl Into<String>, value: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            value: value.into(),
        }
    }
}

/// A headed part of a sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// Its heading.
    pub heading: String,
    /// What it holds.
    pub blocks: Vec<Block>,
}

impl Section {
    /// A headed part.
    pub fn new(heading: impl Into<String>, blocks: Vec<Block>) -> Self {
        Self {
            heading: heading.into(),
            blocks,
        }
    }
}

/// A piece of a section.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A paragraph.
    Text(String),
    /// Something that must not be overlooked: framed.
    Alarm(String),
    /// Points, each after a dash.
    List(Vec<String>),
    /// Names on the left, values on the right.
    Facts(Vec<Fact>),
    /// A table.
    Table(Table),
    /// So many lines to write on.
    Lines(usize),
}

/// A table. Each row has as many cells as there are columns; one that has fewer ends in empty cells, what is more is refused.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Vec<Cell>>,
}

/// A column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its heading.
    pub title: String,
    /// Share of the width beside the other columns; more than 0.
    pub share: f32,
    /// Which side texts stand on.
    pub side: Side,
}

impl Column {
    /// A column whose texts start on the left.
    pub fn left(title: impl Into<String>, share: f32) -> Self {
        Self {
            title: title.into(),
            share,
            side: Side::Left,
        }
    }

    /// A column whose texts end on the right: numbers.
    pub fn right(title: impl Into<String>, share: f32) -> Self {
        Self {
            title: title.into(),
            share,
            side: Side::Right,
        }
    }
}

/// Left or right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Texts start on the left.
    Left,
    /// Texts end on the right.
    Right,
}

/// A cell of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// A text; an empty one is an empty cell.
    Text(String),
    /// A text that stands out.
    Strong(String),
    /// Room to write in.
    Write,
    /// A box to tick.
    Tick,
    /// A spread, drawn.
    Range(Range),
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Text(text.into())
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

/// Why there is no sheet.
#[derive(Debug, thiserror::Error, PartialEq)]
pub enum SheetError {
    /// Nothing to heed is named.
    #[error(
        "the sheet {title:?} has no cautions; a sheet that says how long parts last names what comes before it"
    )]
    NoCautions {
        /// Its title.
        title: String,
    },
    /// A row has more cells than there are columns.
    #[error("a row under {heading:?} has {cells} cells; the table has {columns} columns")]
    RowTooLong {
        /// The section's heading.
        heading: String,
        /// Cells in the row.
        cells: usize,
        /// Columns of the table.
        columns: usize,
    },
    /// A column without a width.
    #[error("the column {title:?} has the share {share}; expected more than 0")]
    NoWidth {
        /// Its heading.
        title: String,
        /// What was given.
        share: f32,
    },
    /// A built-in font cannot be read.
    #[error("the built-in font cannot be used: {0}")]
    Font(String),
    /// The template failed.
    #[error("the page cannot be written: {0}")]
    Page(String),
}

impl Sheet {
    /// Whether it can be set.
    ///
    /// # Errors
    /// [`SheetError::NoCautions`], [`SheetError::RowTooLong`], [`SheetError::NoWidth`].
    pub fn check(&self) -> Result<(), SheetError> {
        if self
            .cautions
            .iter()
            .all(|caution| caution.trim().is_empty())
        {
            return Err(SheetError::NoCautions {
                title: self.title.clone(),
            });
        }
        for section in &self.sections {
            for block in &section.blocks {
                if let Block::Table(table) = block {
                    table.check(&section.heading)?;
                }
            }
        }
        Ok(())
    }
}

impl Table {
    fn check(&self, heading: &str) -> Result<(), SheetError> {
        let columns = self.columns.len();
        if let Some(column) = self
            .columns
            .iter()
            .find(|column| !(column.share > 0.0 && column.share.is_finite()))
        {
            return Err(SheetError::NoWidth {
                title: column.title.clone(),
                share: column.share,
            });
        }
        match self.rows.iter().find(|row| row.len() > columns) {
            Some(row) => Err(SheetError::RowTooLong {
                heading: heading.into(),
                cells: row.len(),
                columns,
            }),
            None => Ok(()),
        }
    }
}
