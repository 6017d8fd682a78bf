//! The same drawing by `krilla`, at its fastest: no metadata, no tags, no layers.

use super::drawn::{self, Stroke, grey, pt};
use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke as Brush, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};
use strapwright::geom::{Length, Path as OnSheet, QuarterTurn, Sheet as Space};
use strapwright::lettering;
use strapwright::paginate::{Anchor, Item, Pen, Sheet, SheetSet, TickRow, Tone};

/// What is parsed but once in a process, as for the others.
pub(crate) struct Face {
    font: Font,
    letters: ttf_parser::Face<'static>,
}

impl Face {
    pub(crate) fn new() -> Self {
        let font = Font::new(lettering::face().into(), 0).unwrap();
        let letters = ttf_parser::Face::parse(lettering::face(), 0).unwrap();
        Self { font, letters }
    }
}

/// The bytes of `set`.
pub(crate) fn pdf(set: &SheetSet, face: &Face) -> Vec<u8> {
    let mut document = Document::new_with(SerializeSettings {
        xmp_metadata: false,
        enable_tagging: false,
        ..SerializeSettings::default()
    });
    for sheet in set.pages() {
        let size = PageSettings::from_wh(pt(sheet.width), pt(sheet.height)).unwrap();
        let mut page = document.start_page_with(size);
        let mut surface = page.surface();
        draw(&mut surface, sheet, face);
        surface.finish();
        page.finish();
    }
    document.finish().unwrap()
}

fn draw(out: &mut Surface<'_>, sheet: &Sheet, face: &Face) {
    let top = pt(sheet.height);
    for item in &sheet.items {
        match item {
            Item::Stroke { pen, paths, .. } => {
                out.set_fill(None);
                out.set_stroke(Some(brush(*pen)));
                let solid = pen.dashes().is_empty();
                let (ticks, others): (Vec<_>, Vec<_>) =
                    paths.iter().partition(|p| solid && p.steps.len() == 1 && !p.closed);
                if !ticks.is_empty() {
                    out.draw_path(&traced(ticks, top));
                }
                for path in others {
                    out.draw_path(&traced([path], top));
                }
            }
            Item::TickRows { pen, tick_rows, .. } => {
                out.set_fill(None);
                let size = |c: &TickRow| (c.tick.norm(), c.pitch.norm());
                for alike in tick_rows.chunk_by(|a, b| size(a) == size(b)) {
                    let mut path = PathBuilder::new();
                    for (i, row) in alike.iter().enumerate() {
                        let (width, dashes, parts) = drawn::row(row, *pen);
                        if i == 0 {
                            let array = dashes.to_vec();
                            let dash = Some(StrokeDash { array, offset: 0.0 });
                            out.set_stroke(Some(Brush { width, dash, ..brush(*pen) }));
                        }
                        for [from, to] in parts {
                            path.move_to(from[0], top - from[1]);
                            path.line_to(to[0], top - to[1]);
                        }
                    }
                    out.draw_path(&path.finish().unwrap());
                }
            }
            Item::Fill { tone, paths, .. } => {
                out.set_stroke(None);
                out.set_fill(Some(fill(*tone)));
                out.draw_path(&traced(paths, top));
            }
            Item::Text { tone, at, anchor, turn, size, text, .. } => {
                out.set_stroke(None);
                out.set_fill(Some(fill(*tone)));
                let shift = match anchor {
                    Anchor::Start => Length::ZERO,
                    Anchor::Middle => -lettering::width(text, *size) / 2,
                    Anchor::End => -lettering::width(text, *size),
                };
                let glyphs: Vec<KrillaGlyph> =
                    text.char_indices().map(|(at, c)| glyph(face, at, c)).collect();
                let (x, y) = (pt(at.x), top - pt(at.y));
                let (font, size) = (face.font.clone(), pt(*size));
                match turn {
                    QuarterTurn::None => {
                        let start = Point::from_xy(x + pt(shift), y);
                        out.draw_glyphs(start, &glyphs, font, text, size, false);
                    }
                    QuarterTurn::Left => {
                        let turned = Transform::from_row(0.0, -1.0, 1.0, 0.0, x, y);
                        out.push_transform(&turned);
                        let start = Point::from_xy(pt(shift), 0.0);
                        out.draw_glyphs(start, &glyphs, font, text, size, false);
                        out.pop();
                    }
                }
            }
        }
    }
}

fn glyph(face: &Face, at: usize, letter: char) -> KrillaGlyph {
    let id = face.letters.glyph_index(letter).unwrap();
    let advance = f32::from(face.letters.glyph_hor_advance(id).unwrap());
    let em = f32::from(face.letters.units_per_em());
    let range = at..at + letter.len_utf8();
    let id = GlyphId::new(u32::from(id.0));
    KrillaGlyph::new(id, advance / em, 0.0, 0.0, 0.0, range, None)
}

fn brush(pen: Pen) -> Brush {
    let dashes: Vec<f32> = pen.dashes().iter().map(|&dash| pt(dash)).collect();
    Brush {
        paint: luma::Color::new((grey(pen.tone()) * 255.0) as u8).into(),
        width: pt(pen.width()),
        dash: (!dashes.is_empty()).then_some(StrokeDash { array: dashes, offset: 0.0 }),
        ..Brush::default()
    }
}

fn fill(tone: Tone) -> Fill {
    Fill { paint: luma::Color::new((grey(tone) * 255.0) as u8).into(), ..Fill::default() }
}

fn traced<'a>(paths: impl IntoIterator<Item = &'a OnSheet<Space>>, top: f32) -> Path {
    let mut to = PathBuilder::new();
    for path in paths {
        drawn::trace(path, |stroke| match stroke {
            Stroke::Move([x, y]) => to.move_to(x, top - y),
            Stroke::Line([x, y]) => to.line_to(x, top - y),
            Stroke::Curve(p) => {
                to.cubic_to(p[0], top - p[1], p[2], top - p[3], p[4], top - p[5]);
            }
        });
        if path.closed {
            to.close();
        }
    }
    to.finish().unwrap()
}
