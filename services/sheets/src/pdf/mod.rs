//! The document for the printer.

mod file;
mod flow;
mod pieces;
mod table;
mod typeface;

use crate::{Sheet, SheetError};
use typeface::Typefaces;

/// Paper to print on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 mm x 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 in x 11 in.
    Letter,
}

impl Paper {
    /// Width and height in points, 1/72 in.
    #[must_use]
    pub fn size_pt(self) -> (f32, f32) {
        match self {
            Self::A4 => (595.28, 841.89),
            Self::Letter => (612.0, 792.0),
        }
    }
}

/// A sheet as a PDF with its fonts in it. Rows stay whole, table heads come again on each page, pages are numbered.
///
/// # Errors
/// What [`Sheet::check`] refuses; [`SheetError::Font`].
pub fn pdf(sheet: &Sheet, paper: Paper) -> Result<Vec<u8>, SheetError> {
    sheet.check()?;
    let mut faces = Typefaces::load()?;
    let pieces = pieces::of(sheet, &mut faces, paper);
    let pages = flow::pages(sheet, &pieces, &mut faces, paper);
    file::write(sheet, pages, &faces, paper)
}

#[cfg(test)]
mod tests;
