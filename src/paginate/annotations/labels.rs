//! The words beside the marks: which one it is, what to punch, and what the tape reads there.
//!
//! Marks of one feature on a tile that have a form are labelled alike: in the fullest way for
//! which all of them have room.

use super::super::Print;
use super::super::area::Area;
use super::super::canvas::{Canvas, Clearance, TextItem, cap_height, points};
use super::super::item::{Anchor, Claim, Layer, Tone};
use super::super::lane::ARM;
use super::super::plan::PlacedTile;
use super::super::run::Run;
use super::{across, nested};
use crate::geom::clip::intersections_at;
use crate::geom::{Extent, Length, Path, Point, QuarterTurn, Sheet};
use crate::job::FeatureId;
use crate::layout::{Mark, MarkKind, Piece};
use crate::words::{Word, Wording};

/// Type sizes, best first.
pub(super) const SIZES: [Length; 2] = [points(100), points(90)];
/// Between text and any other ink.
pub(super) const CLEAR: Clearance =
    Clearance { ink: Length::from_um(300), text: Length::from_mm(1) };
/// From the strap's edge to text inside it.
const FROM_EDGE: Length = Length::from_um(700);
/// From the arm of a cross, and from a line across the strap, to text.
pub(super) const GAP: Length = Length::from_um(600);
pub(super) const FROM_LINE: Length = Length::from_um(1_200);
/// From the rim of a mark to the middle of its reading, at most.
const TO_READING: Length = Length::from_um(5_500);

/// What is said of a mark.
pub(super) struct Said {
    pub(super) name: String,
    /// The hole of the size itself, whose name stands white on black: its number.
    size_number: Option<String>,
    /// The size to punch: `Ø 4.8`.
    size: String,
    /// What a tape reads there; empty at its zero.
    reading: String,
    claim: Claim,
}

/// How a mark with a form is labelled, the fullest first.
#[derive(Clone, Copy, PartialEq)]
enum Style {
    /// Name and size above, reading below.
    Apart,
    /// All in one line.
    OneLine { above: bool },
    /// Name above, reading below.
    NameApart,
    /// Name and reading, above and below in turn.
    InTurn,
    /// Name and size beside the middle: where there is no reading, but a bend runs through.
    Aside { above: bool },
    /// The name alone; the readings are on the ticket.
    Name { above: bool },
    /// The name alone beside a bend.
    NameAside { above: bool },
}

const STYLES: [Style; 11] = [
    Style::Apart,
    Style::Aside { above: true },
    Style::Aside { above: false },
    Style::OneLine { above: false },
    Style::OneLine { above: true },
    Style::NameApart,
    Style::InTurn,
    Style::Name { above: true },
    Style::Name { above: false },
    Style::NameAside { above: true },
    Style::NameAside { above: false },
];

/// Writes what each mark is, as fully as there is room. A label without room is left out.
pub(super) fn draw(canvas: &mut Canvas, print: &Print<'_>, tile: &PlacedTile<'_>) {
    let rows = print.request.rows;
    let is_named = |m: &&&Mark| {
        let is_of_row = m.size.is_some() && m.path().is_some();
        let is_bare = matches!(m.kind, MarkKind::Stitch | MarkKind::Slit);
        !is_bare && !is_of_row && !nested::has_tag(m, rows)
    };
    let marks: Vec<&Mark> = tile.marks.iter().filter(is_named).copied().collect();
    let (formed, across): (Vec<&Mark>, Vec<&Mark>) =
        marks.into_iter().partition(|m| m.path().is_some());
    // Slots have the longest labels, so they come last.
    let key = |m: &Mark| (m.kind == MarkKind::Slot, m.feature);
    let mut rows: Vec<(bool, FeatureId)> = formed.iter().map(|m| key(m)).collect();
    rows.sort_unstable();
    rows.dedup();
    for row in rows {
        let mut row: Vec<&Mark> =
            formed.iter().filter(|m| key(m) == row).copied().collect();
        let name = |m: &Mark| print.request.layout.label(m, canvas.wording);
        let alike = |a: &&Mark, b: &&Mark| a.at.x == b.at.x && name(a) == name(b);
        let columns = row.chunk_by(alike).filter(|marks| marks.len() > 1);
        let columns: Vec<Vec<&Mark>> = columns.map(<[_]>::to_vec).collect();
        row.retain(|mark| !columns.iter().flatten().any(|m| m == mark));
        draw_row(canvas, print, tile, &row);
        for column in columns {
            draw_column(canvas, print, tile, &column);
        }
    }
    for mark in across {
        let said = said(print, tile, mark, canvas.wording);
        across::draw(canvas, tile, mark, &said);
    }
}

fn said(print: &Print<'_>, tile: &PlacedTile<'_>, mark: &Mark, wording: Wording) -> Said {
    let piece = tile.span.piece;
    let reading = piece.from_bend(mark.at.x);
    let is_end = matches!(mark.kind, MarkKind::End | MarkKind::Tip);
    let here = Extent::at(mark.at.x);
    let is_target = mark.kind == MarkKind::Target
        || is_end && piece.on_blank.iter().any(|there| there.holds(here));
    let mut name = print.request.layout.label(mark, wording);
    if is_target {
        let on_blank = wording.say(Word::OnBlank);
        name = if name.is_empty() {
            on_blank.to_owned()
        } else {
            format!("{name} {on_blank}")
        };
    }
    let (long, wide) = (mark.x_extent().length(), mark.y_extent().length());
    let size = match mark.path() {
        _ if is_target => String::new(),
        None => String::new(),
        Some(_) if long == wide => format!("Ø {}", wording.bare(wide)),
        Some(_) => format!("{} × {}", wording.bare(long), wording.bare(wide)),
    };
    let is_zero = reading == Length::ZERO;
    let reading = match is_zero {
        true if mark.kind == MarkKind::Bend => "0".to_owned(),
        true => String::new(),
        false => wording.reading(reading),
    };
    let claim = if is_zero {
        Claim::None
    } else {
        Claim::Reading { piece: tile.span.index, x: mark.at.x }
    };
    let size_number = mark.role.is_size().then(|| mark.role.number());
    let size_number = size_number.flatten().map(|n| n.to_string());
    Said { name, size_number, size, reading, claim }
}

impl Said {
    pub(super) fn texts(&self, size: Length) -> [TextItem; 3] {
        let text =
            |words: &str| TextItem::new(Point::default(), Anchor::Start, size, words);
        let reading = text(&self.reading).claiming(self.claim);
        let name = text(&self.name).bold();
        let name = if self.size_number.is_some() { name.white() } else { name };
        [name, text(&self.size), reading]
    }

    /// The name where there is little room.
    fn short_name(&self, name: &TextItem) -> TextItem {
        let text = self.size_number.clone().unwrap_or_else(|| name.text.clone());
        TextItem { text, ..name.clone() }
    }
}

/// Labels marks of one feature alike; where no way has room for all, each as well as it can.
fn draw_row(
    canvas: &mut Canvas,
    print: &Print<'_>,
    tile: &PlacedTile<'_>,
    row: &[&Mark],
) {
    let said: Vec<Said> =
        row.iter().map(|mark| said(print, tile, mark, canvas.wording)).collect();
    let all = || STYLES.into_iter().flat_map(|style| SIZES.map(|size| (style, size)));
    // Small words beside a bend would run into the next mark's.
    let is_small_aside = |(style, size): &(Style, Length)| {
        matches!(style, Style::Aside { .. }) && *size != SIZES[0]
    };
    let ways = || all().filter(|way| !is_small_aside(way));
    let label = |n: usize, (style, size): (Style, Length)| {
        labels(tile, row[n], &said[n], style, size, n)
    };
    // Names alone leave out readings that some of the row have room for.
    let is_full = |way: &(Style, Length)| {
        !matches!(way.0, Style::Name { .. } | Style::NameAside { .. })
    };
    let way = ways().filter(is_full).find(|way| {
        let mut areas: Vec<Area> = Vec::new();
        (0..row.len()).all(|n| {
            let runs = label(n, *way);
            if !suits(way.0, &said[n]) || !are_near(tile, row[n], runs.iter()) {
                return false;
            }
            let fits = runs.iter().flat_map(|run| &run.0).all(|text| {
                let near = text.area().grown(CLEAR.text / 2);
                is_text_free(canvas, tile, text)
                    && !areas.iter().any(|a| a.overlaps(near))
            });
            let texts = runs.iter().flat_map(|run| &run.0);
            areas.extend(texts.map(|text| text.area().grown(CLEAR.text / 2)));
            fits
        })
    });
    for n in 0..row.len() {
        let is_free = |runs: &Vec<Run>| {
            let mut texts = runs.iter().flat_map(|run| &run.0);
            texts.all(|text| is_text_free(canvas, tile, text))
                && are_near(tile, row[n], runs.iter())
        };
        let ways = || ways().filter(|(style, _)| suits(*style, &said[n]));
        let runs = match way {
            Some(way) => Some(label(n, way)),
            None => ways().map(|way| label(n, way)).find(is_free),
        };
        for text in runs.into_iter().flatten().flat_map(|run| run.0) {
            write(canvas, text);
        }
    }
}

/// Labels marks over each other once, beside one of them.
fn draw_column(
    canvas: &mut Canvas,
    print: &Print<'_>,
    tile: &PlacedTile<'_>,
    column: &[&Mark],
) {
    let said = said(print, tile, column[0], canvas.wording);
    let run = |letters: Length, mark: &Mark, (above, anchor): (bool, Anchor)| {
        let [name, diameter, reading] = said.texts(letters);
        let text = format!("{} × {}", column.len(), diameter.text);
        let y = if above {
            mark.y_extent().to + ARM + GAP
        } else {
            mark.y_extent().from - ARM - GAP - cap_height(letters)
        };
        let aside = match anchor {
            Anchor::Start => FROM_LINE,
            Anchor::Middle => Length::ZERO,
            Anchor::End => -FROM_LINE,
        };
        let size = TextItem { text, ..diameter };
        // The reading next to its marks.
        let parts = match anchor {
            Anchor::Start => vec![reading, name, size],
            Anchor::Middle | Anchor::End => vec![name, size, reading],
        };
        Run::new(tile.at(mark.at.x + aside, y), anchor, QuarterTurn::None, parts)
    };
    let sides = [Anchor::Middle, Anchor::Start, Anchor::End];
    let sides = sides.into_iter().flat_map(|anchor| [(true, anchor), (false, anchor)]);
    let ways = SIZES.into_iter().flat_map(|size| {
        let sides = sides.clone();
        column.iter().flat_map(move |mark| sides.clone().map(move |s| (size, *mark, s)))
    });
    let mut runs = ways.map(|(size, mark, side)| run(size, mark, side));
    let is_free = |run: &Run| {
        run.0.iter().all(|text| is_text_free(canvas, tile, text))
            && are_near(tile, column[0], [run].into_iter())
    };
    if let Some(run) = runs.find(is_free) {
        canvas.write_run(run);
    }
}

/// Whether the readings among texts stand near their mark.
fn are_near<'r>(
    tile: &PlacedTile<'_>,
    mark: &Mark,
    mut runs: impl Iterator<Item = &'r Run>,
) -> bool {
    let room = mark.x_extent().grown(TO_READING);
    runs.all(|run| {
        let readings = run.0.iter().filter(|text| text.claim != Claim::None);
        let middles = readings.map(|text| text.area().x);
        let mut middles =
            middles.map(|x| Point::new(x.from + x.length() / 2, Length::ZERO));
        let forms = || tile.marks.iter().filter(|m| m.path().is_some());
        middles.all(|at| {
            let x = tile.placement.invert(at).x;
            let off = |m: &Mark| (m.at.x - x).abs();
            room.has(x) && forms().all(|m| off(m) >= off(mark))
        })
    })
}

/// Whether a style says what there is to say.
fn suits(style: Style, said: &Said) -> bool {
    let is_aside = matches!(style, Style::Aside { .. } | Style::NameAside { .. });
    !is_aside || said.reading.is_empty()
}

/// Black about a white name.
const BLACK: Length = Length::from_um(450);

/// Writes a text, on black if it is white.
fn write(canvas: &mut Canvas, text: TextItem) {
    if text.tone == Tone::White {
        let [low, high] = text.area().grown(BLACK).corners();
        canvas.fill(Layer::Guides, Tone::Black, vec![Path::rectangle(low, high)]);
    }
    canvas.write(text);
}

/// Whether there is room on the leather for a text, clear of the centre line.
pub(super) fn is_text_free(
    canvas: &Canvas,
    tile: &PlacedTile<'_>,
    text: &TextItem,
) -> bool {
    let area = text.area();
    let centre = tile.at(Length::ZERO, Length::ZERO).y;
    is_on_leather(tile, area)
        && !area.y.grown(CLEAR.ink).overlaps(Extent::at(centre))
        && canvas.is_free(text, CLEAR)
}

/// The label of the `n`th mark of a row in a style.
fn labels(
    tile: &PlacedTile<'_>,
    mark: &Mark,
    said: &Said,
    style: Style,
    size: Length,
    n: usize,
) -> Vec<Run> {
    let (high, x) = (cap_height(size), mark.at.x);
    let over = mark.y_extent().to + ARM + GAP;
    let under = mark.y_extent().from - ARM - GAP - high;
    let [name, diameter, reading] = said.texts(size);
    let run = |above: bool, parts: Vec<TextItem>| {
        let at: Point<Sheet> = tile.at(x, if above { over } else { under });
        Run::new(at, Anchor::Middle, QuarterTurn::None, parts)
    };
    match style {
        Style::Apart => vec![run(true, vec![name, diameter]), run(false, vec![reading])],
        Style::OneLine { above } => vec![run(above, vec![name, reading, diameter])],
        Style::Aside { above } => {
            let at = tile.at(x + FROM_LINE, if above { over } else { under });
            let parts = vec![name, diameter];
            vec![Run::new(at, Anchor::Start, QuarterTurn::None, parts)]
        }
        Style::NameAside { above } => {
            let at = tile.at(x + FROM_LINE, if above { over } else { under });
            vec![Run::new(at, Anchor::Start, QuarterTurn::None, vec![name])]
        }
        Style::NameApart => vec![run(true, vec![name]), run(false, vec![reading])],
        Style::InTurn => {
            vec![run(n.is_multiple_of(2), vec![said.short_name(&name), reading])]
        }
        Style::Name { above } => vec![run(above, vec![said.short_name(&name)])],
    }
}

/// Whether an area of the sheet lies on the leather that the tile shows.
pub(super) fn is_on_leather(tile: &PlacedTile<'_>, area: Area) -> bool {
    let [low, high] = area.corners().map(|corner| tile.placement.invert(corner));
    let across = Extent { from: low.y, to: high.y }.grown(FROM_EDGE);
    let along = Extent { from: low.x, to: high.x };
    tile.span.stretch.holds(along)
        && tile.span.across.holds(across)
        && common_edges(tile.span.piece, along.grown(FROM_EDGE))
            .is_some_and(|edges| edges.holds(across))
}

/// From the lower to the upper edge of the leather, as far as it is there at both ends of
/// `along`.
pub(super) fn common_edges(piece: &Piece, along: Extent) -> Option<Extent> {
    let at = |x| {
        let intersections_at = intersections_at(&piece.outline, x).into_iter();
        intersections_at.map(Extent::at).reduce(Extent::union)
    };
    let edges = at(along.from)?.intersection(at(along.to)?);
    (edges.from < edges.to).then_some(edges)
}
