//! The ticket on paper: its parts flow down columns, and a card's outline stands at the
//! end, to check the scale without a good ruler.

mod breaks;
mod card;

use super::annotations::corners;
use super::canvas::{Canvas, Words, cap, shortened};
use super::lanes::Page;
use super::paper::Form;
use super::sheet::{Anchor, Layer, Pen, Sheet};
use super::{Request, StripCheck};
use crate::geom::{Length, Path, Point};
use crate::lettering;
use crate::ticket::{Body, Part, Table, Ticket};
use crate::words::Wording;
use breaks::{leading, table_width, widest, wrapped};
use card::{BESIDE_CARD, CARD};

const TITLE: Length = Length::from_um(5_500);
const HEADING: Length = Length::from_um(3_500);
/// Sizes of the type, the wanted one first: the largest that keeps to one page.
const SIZES: [Length; 4] =
    [Length::from_um(3_300), Length::from_mm(3), Length::from_um(2_750), SMALLEST];
const SMALLEST: Length = Length::from_um(2_500);
/// Above a heading, and from its rule to the line below.
const ABOVE: Length = Length::from_um(2_400);
const BELOW_RULE: Length = Length::from_um(900);
/// Between two columns of the page, and two of a table.
const GUTTER: Length = Length::from_mm(7);
const CELL: Length = Length::from_mm(2);
/// A column is at least so wide, and as the widest table takes in the type of the sheets'
/// small labels.
const NARROWEST: Length = Length::from_mm(66);
const IN_TABLES: Length = Length::from_mm(2);
const MOST_COLUMNS: i64 = 4;
const INSET: Length = Length::from_mm(3);

/// What the ticket's pages are drawn from.
#[derive(Clone, Copy)]
pub(super) struct Scene<'a> {
    pub(super) ticket: &'a Ticket,
    pub(super) request: &'a Request<'a>,
    /// The long checks of the joined pieces.
    pub(super) checks: &'a [StripCheck],
    /// The short name of the print.
    pub(super) print: &'a str,
}

/// Sets the ticket on one page, or on as many as the smallest type takes. Every sheet has its
/// bars, so the card is no reason for a page more.
pub(super) fn draw(scene: &Scene<'_>) -> Vec<Sheet> {
    let page = page(scene.request);
    let parts = parts(scene);
    let needed = parts.iter().map(|part| match &part.body {
        Body::Table(table) => table_width(table, IN_TABLES),
        _ => Length::ZERO,
    });
    let narrowest = needed.max().unwrap_or(NARROWEST).max(NARROWEST);
    let set = |size, with_card| {
        let mut flow = Flow::new(page, scene, size, narrowest);
        for part in &parts {
            flow.part(part);
        }
        if with_card {
            flow.card();
        }
        flow.finish()
    };
    let on_one = |with_card| {
        let all = SIZES.into_iter().map(|size| set(size, with_card));
        all.into_iter().find(|pages| pages.len() == 1)
    };
    on_one(true).or_else(|| on_one(false)).unwrap_or_else(|| {
        let [with, without] = [true, false].map(|with_card| set(SMALLEST, with_card));
        if without.len() < with.len() { without } else { with }
    })
}

/// Upright, as a form is read; a roll is cut square.
fn page(request: &Request<'_>) -> Page {
    let form = request.paper.form();
    let (width, height) = match form {
        Form::Sheet { short, long } => (short, long),
        Form::Roll { width } => (width, width),
    };
    Page::new(width, height, form, request.correction)
}

/// The ticket's parts; what to measure on the joined strips stands with what else is to be
/// checked.
fn parts(scene: &Scene<'_>) -> Vec<Part> {
    let mut parts = scene.ticket.parts.clone();
    let to_check = parts.iter_mut().find_map(|p| match &mut p.body {
        Body::Checks(all) => Some(all),
        _ => None,
    });
    if let Some(all) = to_check {
        let wording = scene.ticket.wording;
        all.extend(scene.checks.iter().map(|c| c.full_sentence(wording)));
    }
    parts
}

/// A line that is ready to be set.
struct Line {
    size: Length,
    /// Its pieces of text, each with its shift from the left.
    texts: Vec<(Length, String)>,
    /// Whether it begins with a box to tick.
    boxed: bool,
}

impl Line {
    fn new(size: Length, texts: Vec<(Length, String)>) -> Self {
        Self { size, texts, boxed: false }
    }
}

struct Flow<'a> {
    page: Page,
    scene: &'a Scene<'a>,
    /// Size of the type.
    size: Length,
    canvas: Canvas,
    done: Vec<Canvas>,
    /// Left edges of the columns, and their common width.
    columns: Vec<Length>,
    wide: Length,
    column: usize,
    /// Where the columns before this one end, on this page.
    ends: Vec<Length>,
    /// Where the next line goes in below.
    y: Length,
    top: Length,
}

impl<'a> Flow<'a> {
    fn new(page: Page, scene: &'a Scene<'a>, size: Length, narrowest: Length) -> Self {
        let all = page.printable();
        let room = all.x.length() - INSET * 2;
        let fit = (room + GUTTER).nm() / (narrowest + GUTTER).nm();
        let count = fit.clamp(1, MOST_COLUMNS);
        let even = (room - GUTTER * (count - 1)) / count;
        // Columns that are narrower than the card leave room for it in the last of them.
        let others = (count - 1).max(1);
        let beside = (room - CARD.0 - BESIDE_CARD - GUTTER * (others - 1)) / others;
        let wide = if count > 1 && beside >= narrowest { even.min(beside) } else { even };
        let left = |i| all.x.from + INSET + (wide + GUTTER) * i;
        let mut flow = Self {
            page,
            scene,
            size,
            canvas: Canvas::new(all, scene.ticket.wording),
            done: Vec::new(),
            columns: (0..count).map(left).collect(),
            wide,
            column: 0,
            ends: Vec::new(),
            y: Length::ZERO,
            top: Length::ZERO,
        };
        flow.head();
        flow
    }

    fn wording(&self) -> Wording {
        self.scene.ticket.wording
    }

    /// The title over the whole width, and which print this belongs to.
    fn head(&mut self) {
        corners::draw(&mut self.canvas);
        let all = self.page.printable();
        let room = all.x.length() - INSET * 2;
        let left = all.x.from + INSET;
        let base = all.y.to - Length::from_um(7_500);
        let ticket = self.scene.ticket;
        let which = format!("{} · {}", ticket.name, self.scene.print);
        let which_wide = lettering::width(&which, HEADING);
        let title = [ticket.title.as_str(), ticket.wearer.as_str()].join(" ");
        let title = shortened(title.trim(), TITLE, room - which_wide - GUTTER);
        if !title.is_empty() {
            let at = Point::new(left, base);
            self.canvas.write(Words::new(at, Anchor::Start, TITLE, &title));
        }
        let right = Point::new(all.x.to - INSET, base);
        self.canvas.write(Words::new(right, Anchor::End, HEADING, &which));
        let rule = base - Length::from_mm(2);
        let line = Path::line(Point::new(left, rule), Point::new(left + room, rule));
        self.canvas.stroke(Layer::Guides, Pen::Thin, vec![line]);
        self.top = rule - Length::from_mm(1);
        self.y = self.top;
    }

    fn floor(&self) -> Length {
        self.page.printable().y.from + INSET
    }

    /// Goes on at the top of the next column, or of the first of a new page.
    fn advance(&mut self) {
        self.column += 1;
        self.ends.push(self.y);
        self.y = self.top;
        if self.column == self.columns.len() {
            self.ends.clear();
            let fresh = Canvas::new(self.page.printable(), self.wording());
            self.done.push(std::mem::replace(&mut self.canvas, fresh));
            self.column = 0;
            self.head();
        }
    }

    /// Makes room for `height`, unless a fresh column has no more either.
    fn need(&mut self, height: Length) {
        if self.y - height < self.floor() && self.y < self.top {
            self.advance();
        }
    }

    fn set(&mut self, line: &Line) {
        let size = line.size;
        self.need(leading(size));
        let left = self.columns[self.column];
        self.y -= leading(size);
        let base = self.y + size / 4;
        for (shift, text) in &line.texts {
            let at = Point::new(left + *shift, base);
            self.canvas.write(Words::new(at, Anchor::Start, size, text));
        }
        if line.boxed {
            let to = Point::new(left + cap(size), base + cap(size));
            let square = Path::rectangle(Point::new(left, base), to);
            self.canvas.stroke(Layer::Guides, Pen::Thin, vec![square]);
        }
    }

    fn part(&mut self, part: &Part) {
        let lines = self.lines(&part.body);
        let headings = wrapped(&part.heading, HEADING, self.wide);
        let head_lines = i64::try_from(headings.len()).unwrap_or(0);
        // A heading stands with its first two lines, never alone at the foot.
        self.need(ABOVE + leading(HEADING) * head_lines + leading(self.size) * 2);
        if self.y < self.top {
            self.y -= ABOVE;
        }
        for heading in headings {
            self.set(&Line::new(HEADING, vec![(Length::ZERO, heading)]));
        }
        if !part.heading.is_empty() {
            let (from, y) = (self.columns[self.column], self.y - Length::from_um(300));
            let rule = Path::line(Point::new(from, y), Point::new(from + self.wide, y));
            self.canvas.stroke(Layer::Guides, Pen::Thin, vec![rule]);
            self.y -= BELOW_RULE;
        }
        let goes_on =
            |line: &&Line| line.texts.first().is_some_and(|t| t.0 > Length::ZERO);
        for (i, line) in lines.iter().enumerate() {
            // The lines of one entry stay together.
            let after = lines[i + 1..].iter().take_while(goes_on);
            self.need(
                leading(line.size) * (1 + i64::try_from(after.count()).unwrap_or(0)),
            );
            self.set(line);
        }
    }

    fn lines(&self, body: &Body) -> Vec<Line> {
        let size = self.size;
        // Ten steps and more have numbers of two digits.
        let by = match body {
            Body::Steps(all) if all.len() > 9 => size.times(21, 10),
            _ => size.times(8, 5),
        };
        let indented = |mark: &str, text: &str| -> Vec<Line> {
            let texts = wrapped(text, size, self.wide - by).into_iter();
            let mut lines: Vec<Line> =
                texts.map(|t| Line::new(size, vec![(by, t)])).collect();
            if let Some(first) = lines.first_mut() {
                first.texts.insert(0, (Length::ZERO, mark.to_owned()));
            }
            lines
        };
        match body {
            Body::Lines(all) => all.iter().flat_map(|t| indented("–", t)).collect(),
            Body::Steps(all) => {
                let steps = all.iter().enumerate();
                steps.flat_map(|(i, t)| indented(&format!("{}.", i + 1), t)).collect()
            }
            Body::Checks(all) => all
                .iter()
                .flat_map(|t| {
                    let lines = indented("", t).into_iter().enumerate();
                    lines.map(|(i, line)| Line { boxed: i == 0, ..line })
                })
                .collect(),
            Body::Table(table) => self.table(table),
        }
    }

    /// Columns as wide as their widest cell, numbers at their right, in smaller type where
    /// the column of the page is too narrow.
    fn table(&self, table: &Table) -> Vec<Line> {
        let count = table.head.len();
        let mut size = self.size;
        let total = table_width(table, size);
        if total > self.wide {
            let gaps = CELL * i64::try_from(count.saturating_sub(1)).unwrap_or(0);
            let room = (self.wide - gaps).max(Length::from_um(1));
            size = size.times(room.nm(), (total - gaps).nm());
        }
        let mut left = Length::ZERO;
        let mut columns = Vec::with_capacity(count);
        for column in 0..count {
            let wide = widest(table, column, size);
            columns.push((left, wide, table.is_numeric(column)));
            left += wide + CELL;
        }
        let set = |cell: &String, (from, wide, numeric): (Length, Length, bool)| {
            let aside =
                if numeric { wide - lettering::width(cell, size) } else { Length::ZERO };
            (from + aside, cell.clone())
        };
        let line = |row: &[String]| {
            let cells = row.iter().zip(&columns).filter(|(cell, _)| !cell.is_empty());
            Line::new(size, cells.map(|(cell, column)| set(cell, *column)).collect())
        };
        table.lines().map(line).collect()
    }

    fn finish(mut self) -> Vec<Sheet> {
        self.done.push(self.canvas);
        let page = self.page;
        let sheet = |canvas: Canvas| Sheet {
            number: 0,
            width: page.width,
            height: page.height,
            tiles: Vec::new(),
            bars: Vec::new(),
            items: canvas.items,
            head: 0,
        };
        self.done.into_iter().map(sheet).collect()
    }
}
