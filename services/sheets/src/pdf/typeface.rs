//! Type: two weights of one family, their widths, and which of their glyphs were used.

use crate::SheetError;
use std::collections::BTreeMap;
use ttf_parser::Face;

/// Which weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Weight {
    Plain,
    Bold,
}

/// A weight of the family.
pub(super) struct Typeface {
    pub(super) data: &'static [u8],
    pub(super) face: Face<'static>,
    /// Glyphs that were set, each with its character.
    pub(super) used: BTreeMap<u16, char>,
}

/// Both weights.
pub(super) struct Typefaces {
    pub(super) plain: Typeface,
    pub(super) bold: Typeface,
}

/// Stands for what the font lacks.
const UNKNOWN: char = '?';

impl Typefaces {
    pub(super) fn load() -> Result<Self, SheetError> {
        Ok(Self {
            plain: Typeface::load(dejavu::sans_condensed::regular())?,
            bold: Typeface::load(dejavu::sans_condensed::bold())?,
        })
    }

    pub(super) fn of(&mut self, weight: Weight) -> &mut Typeface {
        match weight {
            Weight::Plain => &mut self.plain,
            Weight::Bold => &mut self.bold,
        }
    }
}

impl Typeface {
    fn load(data: &'static [u8]) -> Result<Self, SheetError> {
        let face = Face::parse(data, 0).map_err(|error| SheetError::Font(error.to_string()))?;
        Ok(Self {
            data,
            face,
            used: BTreeMap::new(),
        })
    }

    fn glyph(&self, character: char) -> (u16, char) {
        let found = self.face.glyph_index(character).map(|id| (id.0, character));
        let unknown = || self.face.glyph_index(UNKNOWN).map(|id| (id.0, UNKNOWN));
        found.or_else(unknown).unwrap_or((0, UNKNOWN))
    }

    /// Width of a text \[pt\] at a size \[pt\].
    pub(super) fn width(&self, text: &str, size: f32) -> f32 {
        let units = f32::from(self.face.units_per_em());
        let of = |character| {
            let (glyph, _) = self.glyph(character);
            let advance = self.face.glyph_hor_advance(ttf_parser::GlyphId(glyph));
            f32::from(advance.unwrap_or_default())
        };
        text.chars().map(of).sum::<f32>() / units * size
    }

    /// A text as glyph numbers of two bytes each; they count as used.
    pub(super) fn glyphs(&mut self, text: &str) -> Vec<u8> {
        let mut bytes = Vec::with_capacity(2 * text.len());
        for character in text.chars() {
            let (glyph, shown) = self.glyph(character);
            self.used.entry(glyph).or_insert(shown);
            bytes.extend(glyph.to_be_bytes());
        }
        bytes
    }

    /// A text in lines no wider than `width` \[pt\]. A word that is wider alone is cut.
    pub(super) fn lines(&self, text: &str, size: f32, width: f32) -> Vec<String> {
        let mut lines = Vec::new();
        for paragraph in text.split('\n') {
            let mut line = String::new();
            for word in paragraph.split_whitespace() {
                let longer = if line.is_empty() {
                    word.to_owned()
                } else {
                    format!("{line} {word}")
                };
                if self.width(&longer, size) <= width {
                    line = longer;
                    continue;
                }
                if !line.is_empty() {
                    lines.push(line);
                }
                line = self.cut(word, size, width, &mut lines);
            }
            lines.push(line);
        }
        lines
    }

    /// Cuts a word into full lines; what is left begins the next.
    fn cut(&self, word: &str, size: f32, width: f32, lines: &mut Vec<String>) -> String {
        let mut part = String::new();
        for character in word.chars() {
            let mut longer = part.clone();
            longer.push(character);
            if self.width(&longer, size) > width && !part.is_empty() {
                lines.push(part);
                part = character.to_string();
            } else {
                part = longer;
            }
        }
        part
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn no_line_is_too_wide_and_no_character_is_lost(
            text in "[a-zA-Z0-9 .,]{0,200}", width in 30.0..300.0_f32
        ) {
            let face = Typeface::load(dejavu::sans_condensed::regular()).unwrap();
            let lines = face.lines(&text, 9.0, width);
            for line in &lines {
                prop_assert!(face.width(line, 9.0) <= width || line.chars().count() == 1);
            }
            let letters = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
            prop_assert_eq!(letters(&lines.concat()), letters(&text));
        }
    }
}
