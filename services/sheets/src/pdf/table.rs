//! Rows of a table.

use super::{
    pieces::{LEADING, Piece, Set, Shape},
    typeface::{Typefaces, Weight},
};
use crate::{Cell, Marks, Side, Table};

const CELL: f32 = 8.4;
/// Between columns.
const GAP: f32 = 6.0;
const ABOVE: f32 = 2.5;
const BELOW: f32 = 3.0;
/// Least height of a row to write in.
const WRITING: f32 = 20.0;
const TICK: f32 = 9.0;
const MARK_HEIGHT: f32 = 11.0;
const GREY: f32 = 0.6;

/// A row with the head of its table.
pub(super) struct Row {
    piece: Piece,
    head: Option<Piece>,
}

impl Row {
    pub(super) fn into_piece(self) -> Piece {
        Piece {
            head: self.head.map(Box::new),
            ..self.piece
        }
    }
}

/// Where a column stands.
struct Place {
    x: f32,
    width: f32,
    side: Side,
}

/// The head, which stays with the first row, and the rows.
pub(super) fn rows(table: &Table, faces: &mut Typefaces, width: f32) -> Vec<Row> {
    let places = places(table, width);
    let titles: Vec<Cell> = table
        .columns
        .iter()
        .map(|column| Cell::Strong(column.title.clone()))
        .collect();
    let mut head = row(&titles, &places, faces, width, 0.9);
    head.with_next = true;
    let first = Row {
        piece: head.clone(),
        head: None,
    };
    let others = table.rows.iter().map(|cells| Row {
        piece: row(cells, &places, faces, width, 0.3),
        head: Some(head.clone()),
    });
    std::iter::once(first).chain(others).collect()
}

fn places(table: &Table, width: f32) -> Vec<Place> {
    let all: f32 = table.columns.iter().map(|column| column.share).sum();
    let mut x = 0.0;
    let mut places = Vec::with_capacity(table.columns.len());
    for column in &table.columns {
        let whole = width * column.share / all;
        places.push(Place {
            x,
            width: (whole - GAP).max(CELL),
            side: column.side,
        });
        x += whole;
    }
    places
}

fn row(cells: &[Cell], places: &[Place], faces: &mut Typefaces, width: f32, rule: f32) -> Piece {
    let mut piece = Piece::default();
    for (cell, place) in cells.iter().zip(places) {
        let height = match cell {
            Cell::Text(text) => words(text, Weight::Plain, place, faces, &mut piece),
            Cell::Strong(text) => words(text, Weight::Bold, place, faces, &mut piece),
            Cell::Write => WRITING,
            Cell::Tick => {
                piece.shapes.push(Shape::Frame {
                    corner: (place.x, ABOVE),
                    size: (TICK, TICK),
                    width: 0.7,
                });
                TICK
            }
            Cell::Range(range) => {
                if let Some(marks) = range.marks() {
                    draw(&marks, place, &mut piece);
                }
                MARK_HEIGHT
            }
        };
        piece.height = piece.height.max(height + ABOVE + BELOW);
    }
    let bottom = piece.height;
    for (cell, place) in cells.iter().zip(places) {
        if *cell == Cell::Write {
            piece.shapes.push(Shape::Frame {
                corner: (place.x, 2.0),
                size: (place.width, bottom - 4.0),
                width: 0.5,
            });
        }
    }
    piece.shapes.push(Shape::Line {
        from: (0.0, bottom),
        to: (width, bottom),
        width: rule,
        dashed: false,
    });
    piece
}

/// Sets a cell's text; its height.
fn words(
    text: &str,
    weight: Weight,
    place: &Place,
    faces: &mut Typefaces,
    piece: &mut Piece,
) -> f32 {
    let face = faces.of(weight);
    let lines = face.lines(text, CELL, place.width);
    let mut y = ABOVE + CELL;
    for line in &lines {
        let x = match place.side {
            Side::Left => place.x,
            Side::Right => place.x + place.width - face.width(line, CELL),
        };
        piece.texts.push(Set {
            x,
            y,
            size: CELL,
            weight,
            text: line.clone(),
        });
        y += LEADING * CELL;
    }
    LEADING * CELL * lines.len() as f32
}

/// Draws a spread: a grey bar, a stroke at its middle, a dashed line at the limit, a box at what was measured.
fn draw(marks: &Marks, place: &Place, piece: &mut Piece) {
    let at = |part: f64| place.x + place.width * part as f32;
    let (top, bottom) = (ABOVE, ABOVE + MARK_HEIGHT);
    let middle = 0.5 * (top + bottom);
    let stroke = |x: f32, from: f32, to: f32, width: f32, dashed: bool| Shape::Line {
        from: (x, from),
        to: (x, to),
        width,
        dashed,
    };
    piece.shapes.push(Shape::Line {
        from: (place.x, middle),
        to: (place.x + place.width, middle),
        width: 0.3,
        dashed: false,
    });
    piece.shapes.push(Shape::Bar {
        corner: (at(marks.low), middle - 2.0),
        size: (at(marks.high) - at(marks.low), 4.0),
        grey: GREY,
    });
    piece.shapes.push(stroke(
        at(marks.middle),
        middle - 3.5,
        middle + 3.5,
        1.4,
        false,
    ));
    if let Some(limit) = marks.limit {
        piece.shapes.push(stroke(at(limit), top, bottom, 0.9, true));
    }
    if let Some(measured) = marks.measured {
        piece.shapes.push(Shape::Frame {
            corner: (at(measured) - 2.2, middle - 2.2),
            size: (4.4, 4.4),
            width: 0.9,
        });
    }
}
