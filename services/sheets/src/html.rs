//! The page for a browser. What people typed is escaped by the template.

use crate::{Block, Cell, Marks, Sheet, SheetError, Side, Table};
use askama::Template;

#[derive(Template)]
#[template(path = "sheet.html")]
struct Page<'a> {
    sheet: &'a Sheet,
}

/// Width of a drawn spread in the page's units.
const MARK_WIDTH: f64 = 120.0;

/// A sheet as a page: one file, no script, nothing fetched.
///
/// # Errors
/// What [`Sheet::check`] refuses.
pub fn html(sheet: &Sheet) -> Result<String, SheetError> {
    sheet.check()?;
    Page { sheet }
        .render()
        .map_err(|error| SheetError::Page(error.to_string()))
}

impl Table {
    /// Percent of the width of each column.
    fn widths(&self) -> Vec<String> {
        let all: f32 = self.columns.iter().map(|column| column.share).sum();
        let share = |column: &crate::Column| format!("{:.1}", 100.0 * column.share / all);
        self.columns.iter().map(share).collect()
    }

    #[expect(clippy::trivially_copy_pass_by_ref)] // the template hands references
    fn side(&self, index: &usize) -> &'static str {
        match self.columns.get(*index).map(|column| column.side) {
            Some(Side::Right) => "number",
            _ => "word",
        }
    }

    /// The cells that a row lacks.
    fn missing(&self, row: &[Cell]) -> usize {
        self.columns.len().saturating_sub(row.len())
    }
}

/// A place in the drawing.
#[expect(clippy::trivially_copy_pass_by_ref)] // as above
fn x(part: &f64) -> String {
    format!("{:.1}", MARK_WIDTH * part)
}

fn width_of(marks: &Marks) -> String {
    format!("{:.1}", MARK_WIDTH * (marks.high - marks.low))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Column, Fact, Range, Section};
    use proptest::prelude::*;

    fn sheet(text: &str) -> Sheet {
        let table = Table {
            columns: vec![Column::left(text, 1.0), Column::right("mark", 2.0)],
            rows: vec![
                vec![Cell::Text(text.into()), Cell::Range(Range::default())],
                vec![Cell::Strong(text.into())],
                vec![Cell::Write, Cell::Tick],
            ],
        };
        let blocks = vec![
            Block::Text(text.into()),
            Block::Alarm(text.into()),
            Block::List(vec![text.into()]),
            Block::Facts(vec![Fact::new(text, text)]),
            Block::Table(table),
            Block::Lines(2),
        ];
        Sheet {
            title: text.into(),
            subject: text.into(),
            shop: text.into(),
            made: text.into(),
            facts: vec![Fact::new(text, text)],
            sections: vec![Section::new(text, blocks)],
            cautions: vec![format!("heed {text}")],
            signatures: vec![text.into()],
        }
    }

    #[test]
    fn a_sheet_without_cautions_is_refused() {
        let bare = Sheet {
            cautions: vec![" ".into()],
            ..sheet("x")
        };
        assert!(matches!(html(&bare), Err(SheetError::NoCautions { .. })));
    }

    #[test]
    fn a_row_that_is_short_is_filled_and_one_that_is_long_is_refused() {
        let mut sheet = sheet("x");
        let page = html(&sheet).unwrap();
        assert_eq!(page.matches("<td").count(), 3 * 2);
        let Block::Table(table) = &mut sheet.sections[0].blocks[4] else {
            panic!("the table");
        };
        table.rows.push(vec![Cell::Write; 3]);
        assert!(matches!(
            html(&sheet),
            Err(SheetError::RowTooLong {
                cells: 3,
                columns: 2,
                ..
            })
        ));
    }

    proptest! {
        /// Whatever is typed stays text.
        #[test]
        fn what_is_typed_makes_no_markup(typed in "[<>\"'&a-z/=]{0,40}") {
            let page = html(&sheet(&format!("<script>{typed}"))).unwrap();
            prop_assert!(!page.contains("<script"));
            let tags = |text: &str| text.matches('<').count();
            prop_assert_eq!(tags(&page), tags(&html(&sheet("x")).unwrap()));
        }
    }
}
