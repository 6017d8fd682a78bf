//! The interpreter's calls to drawings.

use super::letters::Letters;
use super::{Drawing, Ink, Letter};
use hayro_interpret::font::{Glyph, GlyphRun, PositionedGlyph};
use hayro_interpret::hayro_syntax::object::{Dict, String as PdfString};
use hayro_interpret::kurbo::{Affine, BezPath, Cap, PathEl, Point, Rect, Shape};
use hayro_interpret::{
    BlendMode, ClipPath, Device, DrawMode, DrawProps, Image, ImageDrawProps, Paint,
    SoftMask, StrokeProps,
};
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::rc::Rc;

/// Collects what a page draws.
pub(super) struct Recorder<'f> {
    drawings: Vec<Drawing>,
    /// The letters of the file.
    letters: &'f mut Letters,
    /// The layer of each marked content that is open; empty for none.
    layers: Vec<Rc<str>>,
    /// How often the interpreter called.
    calls: usize,
    /// How many clips are open.
    clips: usize,
    /// For each open group what it does to its content.
    groups: Vec<Option<&'static str>>,
    /// What takes a printer without bounds to draw.
    heavy: Option<&'static str>,
}

/// More calls than any sheet makes: a sheet of 100 m of strap makes some thousand.
const MOST_CALLS: usize = 400_000;
/// Patterns, shadings and masks draw pictures of their own, as large and as often as the file
/// says.
const PATTERN: &str = "a pattern or a shading";
const MASK: &str = "a soft mask";
/// More dashes in a line than paper has room for.
const MOST_DASHES: f64 = 100_000.0;

/// What the recording is broken off with: a device cannot return an error.
struct TooMuch;

/// Records what `draw` draws, and what of it a printer might never end to draw.
///
/// # Errors
/// Says that it is more than any sheet holds.
pub(super) fn recorded(
    letters: &mut Letters,
    draw: impl FnOnce(&mut Recorder<'_>),
) -> Result<(Vec<Drawing>, Option<&'static str>), String> {
    let mut recorder = Recorder {
        drawings: Vec::new(),
        letters,
        layers: Vec::new(),
        calls: 0,
        clips: 0,
        groups: Vec::new(),
        heavy: None,
    };
    let drawn = catch_unwind(AssertUnwindSafe(|| draw(&mut recorder)));
    match drawn {
        Ok(()) => Ok((recorder.drawings, recorder.heavy)),
        Err(why) if why.is::<TooMuch>() => {
            Err("a page draws far more than any sheet of a strap".to_owned())
        }
        Err(_) => Err("a page cannot be read".to_owned()),
    }
}

impl Recorder<'_> {
    /// Counts a call, and breaks off after too many.
    fn count(&mut self) {
        self.calls += 1;
        if self.calls > MOST_CALLS {
            resume_unwind(Box::new(TooMuch));
        }
    }

    fn add(&mut self, ink: Ink, lightness: Option<f64>, effect: Option<&'static str>) {
        self.count();
        self.heavy = self.heavy.or(effect.filter(|e| [PATTERN, MASK].contains(e)));
        let clip = (self.clips > 0).then_some("a clip");
        let group = self.groups.iter().flatten().next().copied();
        let layer = self.layers.iter().rev().find(|name| !name.is_empty());
        self.drawings.push(Drawing {
            ink,
            layer: layer.map_or_else(Rc::default, Rc::clone),
            lightness,
            effect: effect.or(group).or(clip),
        });
    }

    /// Whether a pen goes along the edges of the letters that were filled just before, in the
    /// same tone: then they are bold.
    fn makes_bold(
        &mut self,
        stroked: &[Letter],
        tone: Option<f64>,
        stroke: &StrokeProps,
        transform: Affine,
    ) -> bool {
        let Some(Drawing { ink: Ink::Text { letters, bold, .. }, lightness, .. }) =
            self.drawings.last_mut()
        else {
            return false;
        };
        let is_solid = stroke.dash_array.is_empty();
        let is_same = letters == stroked && *lightness == tone && *bold <= 0.0;
        if is_same && is_solid {
            let scale = transform.determinant().abs().sqrt();
            *bold = f64::from(stroke.line_width) * scale;
        }
        is_same && is_solid
    }

    fn add_path(&mut self, path: &BezPath, props: &DrawProps<'_>, mode: &DrawMode) {
        let (lightness, effect) = paint(props);
        let stroke = match mode {
            DrawMode::Fill(_) => None,
            DrawMode::Stroke(stroke) | DrawMode::FillAndStroke(_, stroke) => Some(stroke),
            DrawMode::Invisible => return,
        };
        let fills = !matches!(mode, DrawMode::Stroke(_));
        let path = props.transform * path;
        for part in parts(&path) {
            if fills {
                let mut path = part.clone();
                // A filled path is closed, whether it says so or not.
                if path.elements().last() != Some(&PathEl::ClosePath) {
                    path.close_path();
                }
                self.add(Ink::Area { path }, lightness, effect);
            }
            if let Some(stroke) = stroke {
                let dashes: f64 =
                    stroke.dash_array.iter().map(|dash| f64::from(*dash)).sum();
                let scale = props.transform.determinant().abs().sqrt();
                if dashes > 0.0 && part.perimeter(0.1) / (dashes * scale) > MOST_DASHES {
                    resume_unwind(Box::new(TooMuch));
                }
                let (ink, ends) = stroked(part, stroke, props.transform);
                self.add(ink, lightness, effect.or(ends));
            }
        }
    }
}

/// A line, and what is unusual about its ends.
fn stroked(
    path: BezPath,
    stroke: &StrokeProps,
    transform: Affine,
) -> (Ink, Option<&'static str>) {
    let scale = transform.determinant().abs().sqrt();
    let width = f64::from(stroke.line_width) * scale;
    let dashes = stroke.dash_array.iter().map(|dash| f64::from(*dash) * scale).collect();
    let ends = (stroke.line_cap != Cap::Butt).then_some("round or square ends");
    let offset = (stroke.dash_offset.abs() > 0.0).then_some("a shift of its dashes");
    (Ink::Stroke { path, width, dashes }, ends.or(offset))
}

/// How light a drawing is, and what may hide it.
fn paint(props: &DrawProps<'_>) -> (Option<f64>, Option<&'static str>) {
    let (lightness, opaque) = match &props.paint {
        Paint::Color(colour) => {
            let [red, green, blue, alpha] = colour.to_rgba().components().map(f64::from);
            let grey = (red - green).abs() + (green - blue).abs() < 0.01;
            (grey.then_some(red), alpha > 0.999)
        }
        Paint::Pattern(_) => (None, true),
    };
    let effect = match props {
        DrawProps { paint: Paint::Pattern(_), .. } => Some(PATTERN),
        DrawProps { soft_mask: Some(_), .. } => Some(MASK),
        _ if !opaque => Some("transparency"),
        DrawProps { blend_mode, .. } if *blend_mode != BlendMode::Normal => {
            Some("a blend mode")
        }
        _ => None,
    };
    (lightness, effect)
}

/// The parts of a path that hang together.
fn parts(path: &BezPath) -> Vec<BezPath> {
    let mut all: Vec<BezPath> = Vec::new();
    for element in path.elements() {
        match (element, all.last_mut()) {
            (PathEl::MoveTo(_), _) | (_, None) => {
                all.push(BezPath::from_vec(vec![*element]));
            }
            (_, Some(part)) => part.push(*element),
        }
    }
    all.retain(|part| part.elements().len() > 1);
    all
}

impl<'a> Device<'a> for Recorder<'_> {
    fn draw_path(&mut self, path: &BezPath, props: DrawProps<'a>, mode: &DrawMode) {
        self.add_path(path, &props, mode);
    }

    fn draw_rect(&mut self, rect: &Rect, props: DrawProps<'a>, mode: &DrawMode) {
        self.add_path(&rect.to_path(0.1), &props, mode);
    }

    fn draw_glyph_run(
        &mut self,
        run: &GlyphRun<'_, 'a>,
        props: DrawProps<'a>,
        mode: &DrawMode,
    ) {
        let Some(first) = run.glyphs().first() else { return };
        for glyph in run.glyphs() {
            // A glyph that is drawn by operators.
            if let Glyph::Type3(own) = &**glyph {
                own.interpret(self, props.transform, glyph.transform(), &props.paint);
            }
        }
        let letter = |glyph: &PositionedGlyph<'a>| {
            let from = props.transform * glyph.transform() * Point::ORIGIN;
            (self.letters.letter(glyph), from)
        };
        let letters: Vec<Letter> = run.glyphs().iter().map(letter).collect();
        let (lightness, effect) = paint(&props);
        // A glyph's own space has 1000 units to the em.
        let to_page = props.transform * first.transform() * Affine::scale(1000.0);
        let from = to_page * Point::ORIGIN;
        let em = [Point::new(1.0, 0.0), Point::new(0.0, 1.0)];
        let em = em.map(|end| to_page * end - from);
        let mode = match mode {
            DrawMode::Fill(_) => None,
            DrawMode::Invisible => Some("no ink at all"),
            DrawMode::Stroke(stroke) | DrawMode::FillAndStroke(_, stroke) => {
                if self.makes_bold(&letters, lightness, stroke, props.transform) {
                    return;
                }
                Some("stroked letters")
            }
        };
        self.add(Ink::Text { letters, em, bold: 0.0 }, lightness, mode.or(effect));
    }

    fn draw_image(&mut self, image: Image<'a, '_>, props: ImageDrawProps<'a>) {
        let size =
            Rect::new(0.0, 0.0, f64::from(image.width()), f64::from(image.height()));
        let area = (props.transform * size.to_path(0.1)).bounding_box();
        let mut effect = props.soft_mask.is_some().then_some(MASK);
        if let Image::Stencil(stencil) = &image {
            let painted = |_, paint: &Paint<'_>| {
                effect = effect.or(matches!(paint, Paint::Pattern(_)).then_some(PATTERN));
            };
            stencil.with_stencil(painted, Some((1, 1)));
        }
        self.add(Ink::Image { area }, None, effect);
    }

    fn push_clip_path(&mut self, _: &ClipPath) {
        self.count();
        self.clips += 1;
    }

    fn pop_clip(&mut self) {
        self.clips = self.clips.saturating_sub(1);
    }

    fn push_transparency_group(
        &mut self,
        opacity: f32,
        mask: Option<SoftMask<'a>>,
        blend: BlendMode,
    ) {
        self.count();
        self.heavy = self.heavy.or(mask.is_some().then_some(MASK));
        self.groups.push(if opacity < 0.999 {
            Some("transparency")
        } else if mask.is_some() {
            Some(MASK)
        } else if blend != BlendMode::Normal {
            Some("a blend mode")
        } else {
            None
        });
    }

    fn pop_transparency_group(&mut self) {
        self.groups.pop();
    }

    fn begin_marked_content(&mut self, tag: &[u8], properties: Option<&Dict<'_>>) {
        self.count();
        let name = properties.filter(|_| tag == b"OC").and_then(|group| {
            let name = group.get::<PdfString<'_>>(b"Name".as_slice())?;
            Some(String::from_utf8_lossy(name.as_bytes()).into_owned())
        });
        self.layers.push(name.unwrap_or_default().into());
    }

    fn end_marked_content(&mut self) {
        self.layers.pop();
    }
}
