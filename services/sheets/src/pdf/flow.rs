//! Pieces over pages.

use super::{
    Paper,
    pieces::{MARGIN, Piece, Set, Shape},
    typeface::{Typefaces, Weight},
};
use crate::Sheet;
use pdf_writer::{Content, Name, Str};

/// Of the line at the foot of each page.
const FOOT: f32 = 7.5;

/// The drawing of each page.
pub(super) fn pages(
    sheet: &Sheet,
    pieces: &[Piece],
    faces: &mut Typefaces,
    paper: Paper,
) -> Vec<Vec<u8>> {
    let height = paper.size_pt().1 - 2.0 * MARGIN - 2.0 * FOOT;
    let broken = break_pages(pieces, height);
    let count = broken.len();
    let drawn = broken.iter().enumerate().map(|(index, page)| {
        let mut content = Content::new();
        let mut y = paper.size_pt().1 - MARGIN;
        for piece in page {
            draw(piece, y, faces, &mut content);
            y -= piece.height;
        }
        let foot = format!(
            "{}: {}, {} \u{2013} page {} of {count}",
            sheet.title,
            sheet.subject,
            sheet.made,
            index + 1
        );
        let foot = Set {
            x: 0.0,
            y: 0.0,
            size: FOOT,
            weight: Weight::Plain,
            text: faces
                .plain
                .lines(&foot, FOOT, super::pieces::measure(paper))
                .swap_remove(0),
        };
        set(&foot, MARGIN - FOOT, faces, &mut content);
        content.finish().into_vec()
    });
    drawn.collect()
}

/// Which pieces stand on which page. One that is higher than a page stands alone and runs over its foot.
fn break_pages(pieces: &[Piece], height: f32) -> Vec<Vec<&Piece>> {
    let mut pages = Vec::new();
    let (mut page, mut used): (Vec<&Piece>, f32) = (Vec::new(), 0.0);
    let mut rest = pieces;
    while !rest.is_empty() {
        let bound = rest.iter().position(|piece| !piece.with_next);
        let (group, after) = rest.split_at(bound.map_or(rest.len(), |last| last + 1));
        let needed: f32 = group.iter().map(|piece| piece.height).sum();
        if used + needed > height && !page.is_empty() {
            pages.push(std::mem::take(&mut page));
            used = 0.0;
            if let Some(head) = group.first().and_then(|piece| piece.head.as_deref()) {
                page.push(head);
                used += head.height;
            }
        }
        page.extend(group);
        used += needed;
        rest = after;
    }
    pages.push(page);
    pages
}

fn draw(piece: &Piece, top: f32, faces: &mut Typefaces, content: &mut Content) {
    for shape in &piece.shapes {
        stroke(shape, top, content);
    }
    for text in &piece.texts {
        set(text, top, faces, content);
    }
}

fn set(text: &Set, top: f32, faces: &mut Typefaces, content: &mut Content) {
    let font = match text.weight {
        Weight::Plain => Name(b"P"),
        Weight::Bold => Name(b"B"),
    };
    let glyphs = faces.of(text.weight).glyphs(&text.text);
    content
        .begin_text()
        .set_font(font, text.size)
        .next_line(MARGIN + text.x, top - text.y)
        .show(Str(&glyphs))
        .end_text();
}

fn stroke(shape: &Shape, top: f32, content: &mut Content) {
    match *shape {
        Shape::Line {
            from,
            to,
            width,
            dashed,
        } => {
            if dashed {
                content.set_dash_pattern([2.0, 1.5], 0.0);
            } else {
                content.set_dash_pattern([], 0.0);
            }
            content
                .set_line_width(width)
                .move_to(MARGIN + from.0, top - from.1)
                .line_to(MARGIN + to.0, top - to.1)
                .stroke();
        }
        Shape::Frame {
            corner,
            size,
            width,
        } => {
            content
                .set_dash_pattern([], 0.0)
                .set_line_width(width)
                .rect(MARGIN + corner.0, top - corner.1 - size.1, size.0, size.1)
                .stroke();
        }
        Shape::Bar { corner, size, grey } => {
            content
                .save_state()
                .set_fill_gray(grey)
                .rect(MARGIN + corner.0, top - corner.1 - size.1, size.0, size.1)
                .fill_nonzero()
                .restore_state();
        }
    }
}
