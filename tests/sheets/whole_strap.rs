//! The whole strap as DXF and as SVG, of every template: read again with libraries that are not
//! the writers (`dxf`, `usvg`) and held against the layout, as the PDF is by its own judge. The
//! preview, read with `image`, has its ink where the layout has its holes.

use crate::common::samples::jobs;
use crate::common::straps::all;
use crate::common::{laid, printed};
use dxf::Drawing;
use dxf::entities::EntityType;
use std::f64::consts::TAU;
use strapwright::export::Format;
use strapwright::geom::{Extent, Length, Path, Point, Step, Strap};
use strapwright::layout::{Layout, MarkKind, Shape};
use strapwright::paginate::{Heading, Paper, Request, SheetSet, paginate};
use strapwright::print::draw;
use strapwright::template::DEMO_JOB;
use usvg::tiny_skia_path::PathSegment;

/// What is asked of every place, in mm.
const WITHIN: f64 = 0.001;
/// The reader of SVG turns true arcs into cubic curves: one of a quarter turn strays by so much
/// of the radius (see `export/page/arc.rs`).
const QUARTER: f64 = 2.8e-4;
const MM_PER_PX: f64 = 25.4 / 96.0;

type Place = [f64; 2];

fn mm(length: Length) -> f64 {
    length.nm() as f64 / 1e6
}

fn place<S: Copy>(at: Point<S>) -> Place {
    [mm(at.x), mm(at.y)]
}

fn far(a: Place, b: Place) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

/// A line of a file as places close together along it.
struct Run {
    layer: String,
    places: Vec<Place>,
    closed: bool,
}

impl Run {
    fn bounds(&self) -> [Place; 2] {
        let side = |axis: usize, pick: fn(f64, f64) -> f64| {
            self.places.iter().map(|p| p[axis]).reduce(pick).unwrap()
        };
        [[side(0, f64::min), side(1, f64::min)], [side(0, f64::max), side(1, f64::max)]]
    }

    fn middle(&self) -> Place {
        let [low, high] = self.bounds();
        [0, 1].map(|i| f64::midpoint(low[i], high[i]))
    }
}

/// What a reader of DXF sees; arcs by their bulges, in parts of a quarter turn and less.
fn dxf_runs(bytes: &[u8]) -> Vec<Run> {
    let drawing = Drawing::load(&mut &bytes[..]).unwrap();
    let about = |centre: Place, radius: f64, from: f64, sweep: f64| {
        (0..=64).map(move |i| {
            let angle = from + sweep * f64::from(i) / 64.0;
            [centre[0] + radius * libm::cos(angle), centre[1] + radius * libm::sin(angle)]
        })
    };
    let mut runs = Vec::new();
    for entity in drawing.entities() {
        let (places, closed): (Vec<Place>, bool) = match &entity.specific {
            EntityType::Circle(c) => {
                (about([c.center.x, c.center.y], c.radius, 0.0, TAU).collect(), true)
            }
            EntityType::Line(l) => (vec![[l.p1.x, l.p1.y], [l.p2.x, l.p2.y]], false),
            EntityType::Polyline(line) => {
                let corners: Vec<(Place, f64)> = line
                    .vertices()
                    .map(|v| ([v.location.x, v.location.y], v.bulge))
                    .collect();
                let closed = line.is_closed();
                let count = if closed { corners.len() } else { corners.len() - 1 };
                let mut places = vec![corners[0].0];
                for i in 0..count {
                    let ((a, bulge), (b, _)) =
                        (corners[i], corners[(i + 1) % corners.len()]);
                    if bulge != 0.0 {
                        // DXF reference, VERTEX, group 42: tan of a quarter of the angle.
                        let angle = 4.0 * libm::atan(bulge);
                        let chord = far(a, b);
                        let radius = chord / 2.0 / libm::sin(angle / 2.0);
                        let off = radius * libm::cos(angle / 2.0);
                        let along = [(b[0] - a[0]) / chord, (b[1] - a[1]) / chord];
                        let centre = [
                            f64::midpoint(a[0], b[0]) - along[1] * off,
                            f64::midpoint(a[1], b[1]) + along[0] * off,
                        ];
                        let from = libm::atan2(a[1] - centre[1], a[0] - centre[0]);
                        places.extend(about(centre, radius.abs(), from, angle));
                    }
                    places.push(b);
                }
                (places, closed)
            }
            EntityType::Text(text) => {
                assert_eq!(entity.common.layer, "TEXT");
                assert!(text.value.is_ascii(), "{}", text.value);
                continue;
            }
            other => unreachable!("no part of a strap: {other:?}"),
        };
        runs.push(Run { layer: entity.common.layer.to_lowercase(), places, closed });
    }
    runs
}

/// What a reader of SVG sees, in mm, y upward.
fn svg_runs(bytes: &[u8]) -> Vec<Run> {
    let tree = usvg::Tree::from_data(bytes, &usvg::Options::default()).unwrap();
    let height = f64::from(tree.size().height()) * MM_PER_PX;
    let mut runs: Vec<Run> = Vec::new();
    let mut nodes: Vec<(&str, &usvg::Node)> =
        tree.root().children().iter().map(|node| ("", node)).collect();
    while let Some((layer, node)) = nodes.pop() {
        match node {
            usvg::Node::Group(group) => {
                let layer = if group.id().is_empty() { layer } else { group.id() };
                nodes.extend(group.children().iter().map(|node| (layer, node)));
            }
            usvg::Node::Path(_) if layer == "text" => {}
            usvg::Node::Path(path) => add_runs(&mut runs, layer, path, height),
            other => unreachable!("no part of a strap: {other:?}"),
        }
    }
    runs
}

fn add_runs(runs: &mut Vec<Run>, layer: &str, path: &usvg::Path, height: f64) {
    let at = |mut p: usvg::tiny_skia_path::Point| {
        path.abs_transform().map_point(&mut p);
        [f64::from(p.x) * MM_PER_PX, height - f64::from(p.y) * MM_PER_PX]
    };
    for segment in path.data().segments() {
        match segment {
            PathSegment::MoveTo(to) => {
                let (layer, places) = (layer.to_owned(), vec![at(to)]);
                runs.push(Run { layer, places, closed: false });
            }
            PathSegment::LineTo(to) => runs.last_mut().unwrap().places.push(at(to)),
            PathSegment::CubicTo(first, second, to) => {
                let places = &mut runs.last_mut().unwrap().places;
                let curve = [*places.last().unwrap(), at(first), at(second), at(to)];
                places.extend((1..=64).map(|i| on_curve(curve, f64::from(i) / 64.0)));
            }
            PathSegment::QuadTo(..) => unreachable!("no line has one"),
            PathSegment::Close => runs.last_mut().unwrap().closed = true,
        }
    }
}

/// A place on a cubic Bézier curve.
fn on_curve(curve: [Place; 4], part: f64) -> Place {
    let rest = 1.0 - part;
    let weights = [
        rest * rest * rest,
        3.0 * rest * rest * part,
        3.0 * rest * part * part,
        part * part * part,
    ];
    [0, 1].map(|k| curve.iter().zip(weights).map(|(p, w)| p[k] * w).sum())
}

/// How far a place is from a path of the layout. An arc may be off by `stray` of its radius.
fn off(path: &Path<Strap>, at: Place, stray: f64) -> f64 {
    let distances = path.segments().into_iter().map(|segment| {
        let (a, b) = (place(segment.from), place(segment.step.to()));
        let ends = far(at, a).min(far(at, b));
        match segment.step {
            Step::Line { .. } => {
                let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
                let along = (at[0] - a[0]) * dx + (at[1] - a[1]) * dy;
                let part = along / (dx * dx + dy * dy);
                if !(0.0..=1.0).contains(&part) {
                    return ends;
                }
                far(at, [a[0] + dx * part, a[1] + dy * part])
            }
            Step::Arc { centre, clockwise, .. } => {
                let c = place(centre);
                let turn = |p: Place| libm::atan2(p[1] - c[1], p[0] - c[0]);
                let swept = |p: Place| {
                    let by =
                        if clockwise { turn(a) - turn(p) } else { turn(p) - turn(a) };
                    (by % TAU + TAU) % TAU
                };
                if swept(at) > swept(b) {
                    return ends;
                }
                (far(at, c) - far(a, c)).abs() - far(a, c) * stray
            }
        }
    });
    distances.fold(f64::INFINITY, f64::min)
}

/// The whole strap in a format, after its PDF was read back.
fn file(layout: &Layout, set: &SheetSet, name: &str) -> Vec<u8> {
    let format = Format::named(name).unwrap();
    let (mut files, _) = draw(set, layout, &[], &format).unwrap();
    assert_eq!(files.len(), 1);
    files.remove(0)
}

/// Asserts that the lines of a file are those of the layout, each once.
fn agrees(about: &str, layout: &Layout, runs: &[Run], stray: f64) {
    let of = |layer: &str| runs.iter().filter(|r| r.layer == layer).collect::<Vec<_>>();
    let (outlines, mut punched) = (of("outline"), of("punch"));
    let (mut seen, mut marks) = (0, 0);
    // The pieces start at 10 mm, and lie 10 mm apart from 30 mm up, the last one lowest.
    let mut bottom = 30.0;
    for piece in layout.pieces.iter().rev() {
        let Extent { from, to } = piece.edges(piece.extent).unwrap();
        let from_strap = [10.0 - mm(piece.extent.from), bottom - mm(from)];
        bottom += mm(to - from) + 10.0;
        let on_strap = |p: Place| [p[0] - from_strap[0], p[1] - from_strap[1]];
        let edge = |run: &&&Run| {
            run.places.iter().all(|p| off(&piece.outline, on_strap(*p), stray) < WITHIN)
        };
        let edges: Vec<_> = outlines.iter().filter(edge).collect();
        let is_there = !edges.is_empty() || !piece.on_blank.is_empty();
        assert!(is_there, "{about}: {}", piece.key());
        seen += edges.len();
        if piece.on_blank.is_empty() {
            assert!(edges.iter().all(|run| run.closed), "{about}");
            for step in piece.outline.segments() {
                let [x, y] = place(step.from);
                let there = [x + from_strap[0], y + from_strap[1]];
                let is_met =
                    |run: &&&Run| run.places.iter().any(|p| far(*p, there) < WITHIN);
                assert!(edges.iter().any(is_met), "{about}: no corner at {there:?}");
            }
        }
        for mark in &piece.marks {
            let Some(path) = mark.path() else { continue };
            if mark.kind == MarkKind::Target {
                continue;
            }
            let is_slit = mark.kind == MarkKind::Slit;
            let at = place(mark.at);
            let at = [at[0] + from_strap[0], at[1] + from_strap[1]];
            let found = punched.iter().position(|run| {
                let close = far(run.middle(), at) < WITHIN && run.closed != is_slit;
                close
                    && (is_slit
                        || run
                            .places
                            .iter()
                            .all(|p| off(&path, on_strap(*p), stray) < WITHIN))
            });
            let size = match mark.shape {
                Shape::Slot { length, width } => mm(length.max(width)),
                Shape::Round { diameter } => mm(diameter),
                Shape::Across | Shape::Point => 0.0,
            };
            let found =
                found.unwrap_or_else(|| unreachable!("{about}: no {mark:?} at {at:?}"));
            let [low, high] = punched.swap_remove(found).bounds();
            let longest = (high[0] - low[0]).max(high[1] - low[1]);
            assert!(
                (longest - size).abs() < 2.0 * WITHIN,
                "{about}: {longest} for {size}"
            );
            marks += 1;
        }
    }
    assert!(
        punched.is_empty(),
        "{about}: {} more are punched than {marks}",
        punched.len()
    );
    assert_eq!(seen, outlines.len(), "{about}: another outline");
}

#[test]
fn every_template_agrees_with_its_layout() {
    let (mut count, mut points) = (0, 0);
    let templates =
        all().map(|(template, run)| (template.name.to_owned(), run.laid.unwrap()));
    let samples = jobs().into_iter().map(|(name, text)| {
        let laid = strapwright::prepare(&name, &text, &[]).laid.unwrap();
        (name, laid)
    });
    for (name, (job, fit, layout)) in templates.chain(samples) {
        let heading = Heading::new(&job, fit.as_ref(), &layout);
        let paper = Paper::whole(&layout, None);
        let set = paginate(&Request::new(&layout, &heading, &paper)).unwrap();
        for (format, runs, stray) in [
            ("dxf", dxf_runs(&file(&layout, &set, "dxf")), 0.0),
            ("svg", svg_runs(&file(&layout, &set, "svg")), QUARTER),
        ] {
            agrees(&format!("{name} as {format}"), &layout, &runs, stray);
            points += runs.iter().map(|run| run.places.len()).sum::<usize>();
            // The bar that proves the scale.
            let is_bar = |run: &Run| {
                run.layer == "guides"
                    && (far(run.places[0], run.places[1]) - 100.0).abs() < WITHIN
            };
            assert!(runs.iter().any(is_bar), "{name}: no bar of 100 mm");
        }
        count += 1;
    }
    assert!(count > 25 && points > count * 1_000, "{count} straps, {points} places");
}

/// Words of any script are ASCII in a DXF, and two files of one strap are the same.
#[test]
fn a_dxf_is_plain_and_the_same_every_time() {
    let (job, fit, layout) = laid(DEMO_JOB, &["title=\"Łukasz's belt — é\""]);
    let heading = Heading::new(&job, fit.as_ref(), &layout);
    let set =
        paginate(&Request::new(&layout, &heading, &Paper::whole(&layout, None))).unwrap();
    let bytes = file(&layout, &set, "dxf");
    assert!(bytes.is_ascii() && bytes == file(&layout, &set, "dxf"));
    let text = String::from_utf8(bytes).unwrap();
    assert!(text.contains("\\U+0141ukasz's belt \\U+2014 \\U+00E9"), "{text}");
    let at = |words: &str| text.find(words).unwrap();
    assert!(at("CIRCLE\n8\nPUNCH") < at("POLYLINE\n8\nOUTLINE"), "inner cuts come first");
}

/// A picture of each sheet: its size, its scale, and ink on the rim of each round hole.
#[test]
fn a_preview_shows_the_sheets() {
    let (_, _, layout) = laid(DEMO_JOB, &[]);
    let set = printed(&laid(DEMO_JOB, &[]), "a4");
    let dpi = 200;
    let format = Format::named("png").unwrap().with_dpi(dpi);
    let (files, _) = draw(&set, &layout, &[], &format).unwrap();
    assert_eq!(files.len(), set.sheets.len());
    let per_mm = f64::from(dpi) / 25.4;
    let mut holes = 0;
    for (bytes, sheet) in files.iter().zip(&set.sheets) {
        let picture = image::load_from_memory(bytes).unwrap().into_luma8();
        let (width, height) = picture.dimensions();
        for (pixels, side) in [(width, sheet.width), (height, sheet.height)] {
            assert!((f64::from(pixels) - mm(side) * per_mm).abs() <= 1.0);
        }
        // PNG specification (third edition), 11.3.4.3: pixels a metre, 200 dpi is 7874.
        let scale =
            [&b"pHYs"[..], &7874_u32.to_be_bytes(), &7874_u32.to_be_bytes(), &[1]]
                .concat();
        assert!(bytes.windows(scale.len()).any(|w| w == scale));
        for tile in &sheet.tiles {
            let piece = &layout.pieces[tile.piece];
            for mark in piece.marks.iter().filter(|m| tile.holds(m)) {
                let Shape::Round { diameter } = mark.shape else { continue };
                let [x, y] = place(tile.placement.apply(mark.at));
                holes += 1;
                for i in 0..16 {
                    let angle = TAU * f64::from(i) / 16.0;
                    let radius = mm(diameter) / 2.0;
                    let x = (x + radius * libm::cos(angle)) * per_mm;
                    let y = f64::from(height) - (y + radius * libm::sin(angle)) * per_mm;
                    let pixel = picture.get_pixel(x as u32, y as u32).0[0];
                    assert!(pixel < 160, "{mark:?}: {pixel} on its rim");
                }
            }
        }
    }
    assert!(holes > 10, "{holes}");
    let large = Format::named("png").unwrap().with_dpi(1_200);
    let refused = draw(&set, &layout, &[], &large).unwrap_err().to_string();
    assert!(refused.contains("fewer dots an inch"), "{refused}");
}
