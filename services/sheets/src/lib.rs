//! Sheets that a shop hands over or fills in. One description ([`Sheet`]) becomes a page for a browser ([`html`]) or a
//! document for the printer ([`pdf`]); both read without colour, and the same description gives the same bytes.
//!
//! | file | subject |
//! | --- | --- |
//! | `sheet.rs` | what a sheet says: facts, tables, lines to fill in, cautions |
//! | `range.rs` | the mark of a spread against its limit, in parts of its width |
//! | `html.rs`, `templates/` | the page |
//! | `pdf/` | the document: type, lines, flow over pages, file |
//!
//! What goes onto a sheet is decided elsewhere: texts come with their units. It leaves out: pictures, languages that are
//! written from right to left, hyphenation.
#![forbid(unsafe_code)]

mod html;
mod pdf;
mod range;
mod sheet;

pub use html::html;
pub use pdf::{Paper, pdf};
pub use range::{Marks, Range};
pub use sheet::{Block, Cell, Column, Fact, Section, Sheet, SheetError, Side, Table};
