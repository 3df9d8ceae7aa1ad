//! A sheet as pieces that stay whole, one under the other.

use super::{
    Paper,
    table::{self, Row},
    typeface::{Typefaces, Weight},
};
use crate::{Block, Fact, Section, Sheet};

/// Free at each edge of the paper \[pt\].
pub(super) const MARGIN: f32 = 42.0;
pub(super) const TEXT: f32 = 9.0;
const HEADING: f32 = 11.0;
/// Of cautions, which stand in two columns.
const CAUTION: f32 = 8.0;
/// Between those columns.
const BETWEEN: f32 = 14.0;
/// From a dash to its text.
const DASH: f32 = 8.0;
pub(super) const LEADING: f32 = 1.3;
/// Between a line to write on and the next.
const WRITING_LINE: f32 = 22.0;

/// Texts at places in a piece, from its upper left corner, y downwards \[pt\].
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Set {
    pub(super) x: f32,
    /// Of the base line.
    pub(super) y: f32,
    pub(super) size: f32,
    pub(super) weight: Weight,
    pub(super) text: String,
}

/// A stroke, or a filled or framed box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Shape {
    Line {
        from: (f32, f32),
        to: (f32, f32),
        width: f32,
        dashed: bool,
    },
    Frame {
        corner: (f32, f32),
        size: (f32, f32),
        width: f32,
    },
    Bar {
        corner: (f32, f32),
        size: (f32, f32),
        grey: f32,
    },
}

/// What stays on one page.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Piece {
    pub(super) height: f32,
    pub(super) texts: Vec<Set>,
    pub(super) shapes: Vec<Shape>,
    /// It stays with the one that follows.
    pub(super) with_next: bool,
    /// What stands above it when a page begins with it: the head of its table.
    pub(super) head: Option<Box<Piece>>,
}

/// The width between the margins.
pub(super) fn measure(paper: Paper) -> f32 {
    paper.size_pt().0 - 2.0 * MARGIN
}

/// All of a sheet.
pub(super) fn of(sheet: &Sheet, faces: &mut Typefaces, paper: Paper) -> Vec<Piece> {
    let width = measure(paper);
    let mut pieces = vec![title(sheet, faces, width)];
    pieces.extend(facts(&sheet.facts, faces, width));
    for section in &sheet.sections {
        pieces.extend(of_section(section, faces, width));
    }
    pieces.extend(cautions(&sheet.cautions, faces, width));
    if !sheet.signatures.is_empty() {
        pieces.push(signatures(&sheet.signatures, width));
    }
    pieces
}

fn title(sheet: &Sheet, faces: &mut Typefaces, width: f32) -> Piece {
    let mut piece = Piece::default();
    let right = 0.34 * width;
    let left = width - right - 12.0;
    let above = [
        (sheet.title.as_str(), 17.0, Weight::Bold),
        (sheet.subject.as_str(), 13.0, Weight::Plain),
    ];
    for (text, size, weight) in above {
        piece.paragraph(faces, text, (size, weight), (0.0, left));
    }
    let mut beside = Piece::default();
    for text in [&sheet.shop, &sheet.made] {
        for line in faces.plain.lines(text, TEXT, right) {
            let x = width - faces.plain.width(&line, TEXT);
            beside.line(&line, (TEXT, Weight::Plain), x);
        }
    }
    piece.height = piece.height.max(beside.height) + 4.0;
    piece.texts.extend(beside.texts);
    piece.rule(width, 1.6);
    piece.height += 6.0;
    piece
}

fn of_section(section: &Section, faces: &mut Typefaces, width: f32) -> Vec<Piece> {
    let mut heading = Piece {
        height: 12.0,
        with_next: true,
        ..Piece::default()
    };
    heading.paragraph(
        faces,
        &section.heading,
        (HEADING, Weight::Bold),
        (0.0, width),
    );
    heading.rule(width, 0.5);
    heading.height += 3.0;
    let mut pieces = vec![heading];
    for block in &section.blocks {
        pieces.extend(of_block(block, faces, width));
    }
    pieces
}

fn of_block(block: &Block, faces: &mut Typefaces, width: f32) -> Vec<Piece> {
    match block {
        Block::Text(text) => vec![text_piece(text, faces, width)],
        Block::Alarm(text) => vec![alarm(text, faces, width)],
        Block::List(points) => {
            let of = |point: &String| dashed(point, faces, width);
            points.iter().map(of).collect()
        }
        Block::Facts(pairs) => facts(pairs, faces, width),
        Block::Table(table) => table::rows(table, faces, width)
            .into_iter()
            .map(Row::into_piece)
            .collect(),
        Block::Lines(count) => (0..*count).map(|_| writing_line(width)).collect(),
    }
}

fn text_piece(text: &str, faces: &mut Typefaces, width: f32) -> Piece {
    let mut piece = Piece::default();
    piece.paragraph(faces, text, (TEXT, Weight::Plain), (0.0, width));
    piece.height += 3.0;
    piece
}

fn dashed(text: &str, faces: &mut Typefaces, width: f32) -> Piece {
    let mut piece = Piece::default();
    piece.paragraph(faces, text, (TEXT, Weight::Plain), (10.0, width - 10.0));
    if let Some(first) = piece.texts.first() {
        let dash = Set {
            x: 0.0,
            text: "\u{2013}".into(),
            ..first.clone()
        };
        piece.texts.push(dash);
    }
    piece.height += 2.0;
    piece
}

fn writing_line(width: f32) -> Piece {
    let mut piece = Piece {
        height: WRITING_LINE,
        ..Piece::default()
    };
    piece.rule(width, 0.5);
    piece
}

fn facts(pairs: &[Fact], faces: &mut Typefaces, width: f32) -> Vec<Piece> {
    let widest = pairs
        .iter()
        .map(|fact| faces.bold.width(&fact.name, TEXT))
        .fold(0.0, f32::max)
        .min(0.4 * width);
    let gap = widest + 14.0;
    let of = |fact: &Fact| {
        let mut name = Piece::default();
        name.paragraph(faces, &fact.name, (TEXT, Weight::Bold), (0.0, widest + 1.0));
        let mut piece = Piece::default();
        piece.paragraph(
            faces,
            &fact.value,
            (TEXT, Weight::Plain),
            (gap, width - gap),
        );
        piece.texts.extend(name.texts);
        piece.height = piece.height.max(name.height) + 1.0;
        piece
    };
    pairs.iter().map(of).collect()
}

fn alarm(text: &str, faces: &mut Typefaces, width: f32) -> Piece {
    let mut piece = Piece {
        height: 7.0,
        ..Piece::default()
    };
    piece.paragraph(faces, text, (TEXT, Weight::Bold), (8.0, width - 16.0));
    piece.height += 6.5;
    piece.shapes.push(Shape::Frame {
        corner: (0.0, 1.0),
        size: (width, piece.height - 1.0),
        width: 1.6,
    });
    piece.height += 3.0;
    piece
}

/// A heading and pairs of points side by side, so that many run over pages as rows do.
fn cautions(cautions: &[String], faces: &mut Typefaces, width: f32) -> Vec<Piece> {
    let heading = Section::new("Heed first", Vec::new());
    let mut pieces = of_section(&heading, faces, width);
    pieces.extend(cautions.chunks(2).map(|pair| beside(pair, faces, width)));
    pieces
}

fn beside(pair: &[String], faces: &mut Typefaces, width: f32) -> Piece {
    let column = 0.5 * (width - BETWEEN);
    let mut both = Piece::default();
    for (index, text) in pair.iter().enumerate() {
        let x = index as f32 * (column + BETWEEN);
        let mut one = Piece::default();
        one.paragraph(faces, "\u{2013}", (CAUTION, Weight::Plain), (x, DASH));
        one.height = 0.0;
        let place = (x + DASH, column - DASH);
        one.paragraph(faces, text, (CAUTION, Weight::Plain), place);
        both.height = both.height.max(one.height);
        both.texts.extend(one.texts);
    }
    both.height += 2.0;
    both
}

fn signatures(names: &[String], width: f32) -> Piece {
    let mut piece = Piece {
        height: 40.0,
        ..Piece::default()
    };
    let (gap, count) = (20.0, names.len() as f32);
    let each = (width - gap * (count - 1.0)) / count;
    let mut x = 0.0;
    for name in names {
        piece.shapes.push(Shape::Line {
            from: (x, 40.0),
            to: (x + each, 40.0),
            width: 0.6,
            dashed: false,
        });
        piece.texts.push(Set {
            x,
            y: 50.0,
            size: TEXT,
            weight: Weight::Plain,
            text: format!("{name}, date"),
        });
        x += each + gap;
    }
    piece.height = 54.0;
    piece
}

impl Piece {
    /// Sets one line under what is there.
    fn line(&mut self, text: &str, (size, weight): (f32, Weight), x: f32) {
        self.texts.push(Set {
            x,
            y: self.height + size,
            size,
            weight,
            text: text.into(),
        });
        self.height += LEADING * size;
    }

    /// Sets a paragraph under what is there, from `x`, so wide.
    pub(super) fn paragraph(
        &mut self,
        faces: &mut Typefaces,
        text: &str,
        (size, weight): (f32, Weight),
        (x, width): (f32, f32),
    ) {
        for line in faces.of(weight).lines(text, size, width) {
            self.line(&line, (size, weight), x);
        }
    }

    fn rule(&mut self, length: f32, width: f32) {
        self.shapes.push(Shape::Line {
            from: (0.0, self.height),
            to: (length, self.height),
            width,
            dashed: false,
        });
    }
}
