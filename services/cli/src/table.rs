//! Tables and paragraphs that fit the line.

use crate::out::Look;
use comfy_table::{
    Cell, CellAlignment, ColumnConstraint, ContentArrangement, Table, presets::UTF8_FULL_CONDENSED,
};
use textwrap::Options;

/// Lines at least this long have room for columns that do not wrap.
const ROOMY: usize = 90;

/// A table. Columns whose header starts with `>` are set right; wide cells wrap, those of columns whose
/// header starts with `=` only on short lines.
pub fn table(look: &Look, header: &[&str], rows: Vec<Vec<String>>) -> String {
    let mut table = Table::new();
    table
        .load_style(UTF8_FULL_CONDENSED)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(u16::try_from(look.width).unwrap_or(u16::MAX))
        .set_header(
            header
                .iter()
                .map(|title| title.trim_start_matches(['>', '='])),
        );
    let right: Vec<bool> = header.iter().map(|title| title.starts_with('>')).collect();
    for row in rows {
        table.add_row(row.into_iter().enumerate().map(|(index, text)| {
            let right = right.get(index).copied().unwrap_or(false);
            let side = if right {
                CellAlignment::Right
            } else {
                CellAlignment::Left
            };
            Cell::new(text).set_alignment(side)
        }));
    }
    if look.width >= ROOMY {
        for (column, title) in table.column_iter_mut().zip(header) {
            if title.starts_with('=') {
                column.set_constraint(ColumnConstraint::ContentWidth);
            }
        }
    }
    table.trim_fmt()
}

/// Names on the left, values on the right, wrapped under each other.
pub fn pairs(look: &Look, pairs: &[(&str, String)]) -> String {
    let widest = pairs
        .iter()
        .map(|(name, _)| name.chars().count())
        .max()
        .unwrap_or(0);
    let indent = " ".repeat(widest + 4);
    let lines = pairs.iter().map(|(name, value)| {
        let first = format!("  {name:widest$}  ");
        wrapped(look, value, &first, &indent)
    });
    lines.collect::<Vec<_>>().join("\n")
}

/// A paragraph after a dash.
pub fn item(look: &Look, text: &str) -> String {
    wrapped(look, text, "  - ", "    ")
}

/// A paragraph.
pub fn paragraph(look: &Look, text: &str) -> String {
    wrapped(look, text, "", "")
}

fn wrapped(look: &Look, text: &str, first: &str, rest: &str) -> String {
    let options = Options::new(look.width)
        .initial_indent(first)
        .subsequent_indent(rest)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(text, options)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measures::System;

    #[test]
    fn a_table_fits_a_narrow_line_and_loses_no_word() {
        let look = Look {
            system: System::Shop,
            width: 44,
        };
        let long = "top ring face worn until its gap passes the limit";
        let rows = vec![vec![
            "face_wear".to_owned(),
            long.to_owned(),
            "9.3".to_owned(),
        ]];
        let text = table(&look, &["mechanism", "life ends when", ">P50"], rows);
        assert!(
            text.lines().all(|line| line.chars().count() <= 44),
            "{text}"
        );
        for word in long.split(' ') {
            assert!(text.contains(word), "{word} is missing from\n{text}");
        }
    }

    #[test]
    fn a_marked_column_wraps_on_short_lines_only() {
        let row = || {
            vec![
                "19.4 (18.5 to 21.4)".to_owned(),
                "end gap of the ring ".repeat(9),
            ]
        };
        let text = |width| {
            let look = Look {
                system: System::Shop,
                width,
            };
            table(&look, &["=now", "reading"], vec![row()])
        };
        assert!(text(90).contains("19.4 (18.5 to 21.4)"));
        assert!(text(40).lines().all(|line| line.chars().count() <= 40));
    }

    #[test]
    fn pairs_wrap_under_their_value() {
        let look = Look {
            system: System::Shop,
            width: 30,
        };
        let text = pairs(
            &look,
            &[
                ("a", "one two three four five six seven".into()),
                ("long", "x".into()),
            ],
        );
        assert_eq!(
            text,
            "  a     one two three four\n        five six seven\n  long  x"
        );
    }
}
