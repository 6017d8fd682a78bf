//! The same drawing by `pdf-writer`, as short as it can be.

use super::drawn::{self, Stroke, grey, pt};
use flate2::{Compression, write::ZlibEncoder};
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, Str, TextStr};
use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;
use std::sync::OnceLock;
use strapwright::geom::{Length, Path, QuarterTurn, Sheet as OnSheet};
use strapwright::lettering;
use strapwright::paginate::{Anchor, Item, Layer, Pen, Sheet, SheetSet, TickRow};
use subsetter::GlyphRemapper;

const SYSTEM: SystemInfo<'_> =
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// The bytes of `set`.
pub(crate) fn pdf(set: &SheetSet) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let mut last = 0;
    let mut next = || {
        last += 1;
        Ref::new(last)
    };
    let [catalog, tree, info, face, cid, descriptor, program, unicode] =
        [(); 8].map(|()| next());
    let groups: Vec<(&[u8], Ref)> =
        Layer::ALL.into_iter().map(|layer| (layer.name().as_bytes(), next())).collect();
    let pages: Vec<(Ref, Ref)> = set.pages().map(|_| (next(), next())).collect();

    let mut root = pdf.catalog(catalog);
    root.pages(tree);
    root.viewer_preferences().display_doc_title(true);
    let mut properties = root.insert(Name(b"OCProperties")).dict();
    properties.insert(Name(b"OCGs")).array().items(groups.iter().map(|g| g.1));
    properties
        .insert(Name(b"D"))
        .dict()
        .insert(Name(b"ON"))
        .array()
        .items(groups.iter().map(|g| g.1));
    properties.finish();
    root.finish();
    for (name, id) in &groups {
        pdf.indirect(*id)
            .dict()
            .pair(Name(b"Type"), Name(b"OCG"))
            .pair(Name(b"Name"), Str(name));
    }
    pdf.document_info(info).title(TextStr(&set.title));
    pdf.pages(tree)
        .kids(pages.iter().map(|p| p.0))
        .count(i32::try_from(pages.len()).unwrap_or_default());

    let glyphs = embed(&mut pdf, set, [face, cid, descriptor, program, unicode]);
    for (sheet, (page, contents)) in set.pages().zip(pages) {
        let mut writer = pdf.page(page);
        writer.media_box(Rect::new(0.0, 0.0, pt(sheet.width), pt(sheet.height)));
        writer.parent(tree).contents(contents);
        let mut resources = writer.resources();
        resources.fonts().pair(Name(b"Sans"), face);
        resources
            .insert(Name(b"Properties"))
            .dict()
            .pairs(groups.iter().map(|g| (Name(g.0), g.1)));
        resources.finish();
        writer.finish();
        let packed = deflate(&content(sheet, &glyphs));
        pdf.stream(contents, &packed).filter(Filter::FlateDecode);
    }
    pdf.finish()
}

fn embed(pdf: &mut Pdf, set: &SheetSet, ids: [Ref; 5]) -> BTreeMap<char, u16> {
    static FACE: OnceLock<ttf_parser::Face<'static>> = OnceLock::new();
    let whole =
        FACE.get_or_init(|| ttf_parser::Face::parse(lettering::face(), 0).unwrap());
    let used: BTreeSet<char> = set
        .pages()
        .flat_map(|sheet| &sheet.items)
        .filter_map(|item| match item {
            Item::Text { text, .. } => Some(text.chars()),
            _ => None,
        })
        .flatten()
        .collect();
    let [face, cid, descriptor, program, unicode] = ids;
    let base = Name(b"ABCDEF+NotoSans-Regular");
    let mut remapper = GlyphRemapper::new();
    let mut widths = vec![0.0];
    let mut cmap = UnicodeCmap::new(Name(b"Custom"), SYSTEM);
    let mut glyphs = BTreeMap::new();
    for letter in used {
        let glyph = whole.glyph_index(letter).unwrap();
        let kept = remapper.remap(glyph.0);
        widths.push(f32::from(whole.glyph_hor_advance(glyph).unwrap()));
        cmap.pair(kept, letter);
        glyphs.insert(letter, kept);
    }
    let subset = subsetter::subset(lettering::face(), 0, &remapper).unwrap();
    pdf.stream(program, &deflate(&subset))
        .filter(Filter::FlateDecode)
        .pair(Name(b"Length1"), i32::try_from(subset.len()).unwrap());
    pdf.stream(unicode, &deflate(&cmap.finish())).filter(Filter::FlateDecode);
    pdf.type0_font(face)
        .base_font(base)
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(cid)
        .to_unicode(unicode);
    let mut font = pdf.cid_font(cid);
    font.subtype(CidFontType::Type2).base_font(base).system_info(SYSTEM);
    font.font_descriptor(descriptor).cid_to_gid_map_predefined(Name(b"Identity"));
    font.widths().consecutive(0, widths);
    font.finish();
    pdf.font_descriptor(descriptor)
        .name(base)
        .flags(FontFlags::NON_SYMBOLIC)
        .bbox(Rect::new(0.0, -300.0, 1000.0, 1000.0))
        .italic_angle(0.0)
        .ascent(1069.0)
        .descent(-293.0)
        .cap_height(714.0)
        .stem_v(88.0)
        .font_file2(program);
    glyphs
}

fn content(sheet: &Sheet, glyphs: &BTreeMap<char, u16>) -> Vec<u8> {
    let mut out = Content::new();
    let (mut pen_now, mut tone_now, mut size_now) = (None, None, None);
    let (mut layer_now, mut in_text) = (None, false);
    for item in &sheet.items {
        let layer = item.layer();
        if layer_now != Some(layer) {
            if layer_now.is_some() {
                out.end_marked_content();
            }
            out.begin_marked_content_with_properties(Name(b"OC"))
                .properties_named(Name(layer.name().as_bytes()));
            layer_now = Some(layer);
        }
        match item {
            Item::Stroke { pen, paths, .. } => {
                if pen_now != Some(*pen) {
                    out.set_stroke_gray(grey(pen.tone()));
                    out.set_line_width(pt(pen.width()));
                    out.set_dash_pattern(pen.dashes().iter().map(|&dash| pt(dash)), 0.0);
                    pen_now = Some(*pen);
                }
                // One operation for many straight strokes, as the exporter has it.
                let solid = pen.dashes().is_empty();
                let (ticks, others): (Vec<_>, Vec<_>) =
                    paths.iter().partition(|p| solid && p.steps.len() == 1 && !p.closed);
                for path in &ticks {
                    trace(&mut out, path);
                }
                if !ticks.is_empty() {
                    out.stroke();
                }
                for path in others {
                    trace(&mut out, path);
                    if path.closed {
                        out.close_path();
                    }
                    out.stroke();
                }
            }
            Item::TickRows { pen, tick_rows, .. } => {
                rows(&mut out, *pen, tick_rows);
                pen_now = None;
            }
            Item::Fill { tone, paths, .. } => {
                if tone_now != Some(*tone) {
                    out.set_fill_gray(grey(*tone));
                    tone_now = Some(*tone);
                }
                for path in paths {
                    trace(&mut out, path);
                }
                out.fill_nonzero();
            }
            Item::Text { tone, at, anchor, turn, size, text, .. } => {
                if !in_text {
                    out.begin_text();
                    in_text = true;
                }
                if tone_now != Some(*tone) {
                    out.set_fill_gray(grey(*tone));
                    tone_now = Some(*tone);
                }
                if size_now != Some(*size) {
                    out.set_font(Name(b"Sans"), pt(*size));
                    size_now = Some(*size);
                }
                let shift = match anchor {
                    Anchor::Start => Length::ZERO,
                    Anchor::Middle => -lettering::width(text, *size) / 2,
                    Anchor::End => -lettering::width(text, *size),
                };
                out.set_text_matrix(match turn {
                    QuarterTurn::None => [1.0, 0.0, 0.0, 1.0, pt(at.x + shift), pt(at.y)],
                    QuarterTurn::Left => {
                        [0.0, 1.0, -1.0, 0.0, pt(at.x), pt(at.y + shift)]
                    }
                });
                let codes: Vec<u8> =
                    text.chars().flat_map(|c| glyphs[&c].to_be_bytes()).collect();
                out.show(Str(&codes));
            }
        }
    }
    if in_text {
        out.end_text();
    }
    out.end_marked_content();
    out.finish().to_vec()
}

fn rows(out: &mut Content, pen: Pen, tick_rows: &[TickRow]) {
    out.set_stroke_gray(grey(pen.tone()));
    let size = |c: &TickRow| (c.tick.norm(), c.pitch.norm());
    for alike in tick_rows.chunk_by(|a, b| size(a) == size(b)) {
        for (i, row) in alike.iter().enumerate() {
            let (width, dashes, parts) = drawn::row(row, pen);
            if i == 0 {
                out.set_line_width(width);
                out.set_dash_pattern(dashes, 0.0);
            }
            for [from, to] in parts {
                out.move_to(from[0], from[1]);
                out.line_to(to[0], to[1]);
            }
        }
        out.stroke();
    }
}

fn trace(out: &mut Content, path: &Path<OnSheet>) {
    drawn::trace(path, |stroke| {
        match stroke {
            Stroke::Move([x, y]) => out.move_to(x, y),
            Stroke::Line([x, y]) => out.line_to(x, y),
            Stroke::Curve(p) => out.cubic_to(p[0], p[1], p[2], p[3], p[4], p[5]),
        };
    });
}

fn deflate(bytes: &[u8]) -> Vec<u8> {
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::default());
    encoder.write_all(bytes).unwrap();
    encoder.finish().unwrap()
}
