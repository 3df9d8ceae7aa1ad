//! Pages and fonts as a file (ISO 32000-1).

use super::{
    Paper,
    typeface::{Typeface, Typefaces},
};
use crate::{Sheet, SheetError};
use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::{
    Filter, Finish, Name, Pdf, Rect, Ref, Str, TextStr,
    types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap},
};
use subsetter::Profile;

const LEVEL: u8 = 6;
const IDENTITY: SystemInfo = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};
/// Numbers of the objects that stand in every file; pages come after.
const CATALOG: i32 = 1;
const PAGES: i32 = 2;
const INFO: i32 = 3;
const PLAIN: i32 = 10;
const BOLD: i32 = 20;
const FIRST_PAGE: i32 = 30;

pub(super) fn write(
    sheet: &Sheet,
    pages: Vec<Vec<u8>>,
    faces: &Typefaces,
    paper: Paper,
) -> Result<Vec<u8>, SheetError> {
    let mut pdf = Pdf::new();
    pdf.catalog(Ref::new(CATALOG))
        .pages(Ref::new(PAGES))
        .lang(TextStr("en"));
    let count = i32::try_from(pages.len()).unwrap_or(i32::MAX);
    let ids = (0..count).map(|index| Ref::new(FIRST_PAGE + 2 * index));
    pdf.pages(Ref::new(PAGES)).kids(ids.clone()).count(count);
    pdf.document_info(Ref::new(INFO))
        .title(TextStr(&format!("{}: {}", sheet.title, sheet.subject)))
        .producer(TextStr("Ringland"));
    let (width, height) = paper.size_pt();
    for (id, content) in ids.zip(pages) {
        let drawn = Ref::new(id.get() + 1);
        let mut page = pdf.page(id);
        page.parent(Ref::new(PAGES))
            .media_box(Rect::new(0.0, 0.0, width, height))
            .contents(drawn);
        page.resources()
            .fonts()
            .pair(Name(b"P"), Ref::new(PLAIN))
            .pair(Name(b"B"), Ref::new(BOLD));
        page.finish();
        pdf.stream(drawn, &compress_to_vec_zlib(&content, LEVEL))
            .filter(Filter::FlateDecode);
    }
    font(&mut pdf, PLAIN, b"RLPLNA+DejaVuSansCondensed", &faces.plain)?;
    font(
        &mut pdf,
        BOLD,
        b"RLBLDA+DejaVuSansCondensed-Bold",
        &faces.bold,
    )?;
    Ok(pdf.finish())
}

/// A font with the glyphs that were used, and which characters they are, so that text can be found and copied.
fn font(pdf: &mut Pdf, first: i32, name: &[u8], face: &Typeface) -> Result<(), SheetError> {
    let at = |offset| Ref::new(first + offset);
    let (cid, descriptor, cmap, data) = (at(1), at(2), at(3), at(4));
    pdf.type0_font(at(0))
        .base_font(Name(name))
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(cid)
        .to_unicode(cmap);
    let per_em = f32::from(face.face.units_per_em());
    let thousandths = |units: i16| 1000.0 * f32::from(units) / per_em;
    let mut written = pdf.cid_font(cid);
    written
        .subtype(CidFontType::Type2)
        .base_font(Name(name))
        .system_info(IDENTITY)
        .font_descriptor(descriptor)
        .default_width(0.0)
        .cid_to_gid_map_predefined(Name(b"Identity"));
    let mut widths = written.widths();
    for glyph in face.used.keys() {
        let advance = face.face.glyph_hor_advance(ttf_parser::GlyphId(*glyph));
        let width = 1000.0 * f32::from(advance.unwrap_or_default()) / per_em;
        widths.consecutive(*glyph, [width]);
    }
    widths.finish();
    written.finish();
    let bounds = face.face.global_bounding_box();
    pdf.font_descriptor(descriptor)
        .name(Name(name))
        .flags(FontFlags::NON_SYMBOLIC)
        .bbox(Rect::new(
            thousandths(bounds.x_min),
            thousandths(bounds.y_min),
            thousandths(bounds.x_max),
            thousandths(bounds.y_max),
        ))
        .italic_angle(0.0)
        .ascent(thousandths(face.face.ascender()))
        .descent(thousandths(face.face.descender()))
        .cap_height(thousandths(face.face.capital_height().unwrap_or_default()))
        .stem_v(80.0)
        .font_file2(data);
    let mut unicode = UnicodeCmap::new(Name(b"Ringland"), IDENTITY);
    for (glyph, character) in &face.used {
        unicode.pair(*glyph, *character);
    }
    pdf.cmap(cmap, &unicode.finish());
    let glyphs: Vec<u16> = face.used.keys().copied().collect();
    let subset = subsetter::subset(face.data, 0, Profile::pdf(&glyphs))
        .map_err(|error| SheetError::Font(error.to_string()))?;
    let length = i32::try_from(subset.len()).unwrap_or(i32::MAX);
    let packed = compress_to_vec_zlib(&subset, LEVEL);
    let mut stream = pdf.stream(data, &packed);
    stream
        .filter(Filter::FlateDecode)
        .pair(Name(b"Length1"), length);
    stream.finish();
    Ok(())
}
