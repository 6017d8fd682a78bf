//! The ticket on paper: its parts run down columns, with the outline of a card at the end.

mod breaks;
mod card;
mod drawn;

use super::annotations::corners;
use super::canvas::{Canvas, TextItem, cap_height, points, shorten};
use super::item::{Anchor, Layer, Pen};
use super::page::Page;
use super::paper::PaperForm;
use super::sheet::Sheet;
use super::{Print, Request};
use crate::geom::{Length, Path, Point};
use crate::lettering;
use crate::ticket::{Body, Part, Table, Ticket};
use breaks::{column_width, leading, table_width, wrap};
use card::{BESIDE_CARD, CARD};

const TITLE: Length = points(200);
const HEADING: Length = points(110);
/// Sizes of the type, best first.
const SIZES: [Length; 5] = [points(100), points(95), points(90), points(85), SMALLEST];
const SMALLEST: Length = points(80);
/// Above a heading, and between the line under it and the text below.
const ABOVE: Length = Length::from_um(2_400);
const BELOW_HEADING: Length = Length::from_um(900);
/// Between two columns of the page, and between two of a table.
const GUTTER: Length = Length::from_mm(5);
const CELL_GAP: Length = Length::from_um(1_500);
/// The least width of a column. It is wider where a table needs more in the smallest type for
/// tables.
const MIN_COLUMN: Length = Length::from_mm(66);
/// What the box of a mark takes behind its row.
const BOX: Length = Length::from_mm(4);
/// A page for the ticket of a print on a roll: A4, or as wide as the roll.
const ROLL_PAGE: (Length, Length) = (Length::from_mm(210), Length::from_mm(297));
const MAX_COLUMNS: i64 = 4;
const INSET: Length = Length::from_mm(3);

/// Draws the ticket on one page in the largest type that fits, or on as many as it takes in
/// the smallest type. Punches and card are left out where they would take another page: the
/// punches are named too, and every sheet has its scale bars.
pub(super) fn draw(print: &Print<'_>, ticket: &Ticket) -> Vec<Sheet> {
    let parts = parts(print, ticket);
    let needed = parts.iter().map(|part| match &part.body {
        Body::Table(table) => table_width(table, SMALLEST),
        Body::Marks(table) => table_width(table, SMALLEST) + BOX,
        _ => Length::ZERO,
    });
    let min_column = needed.fold(MIN_COLUMN, Length::max);
    let set = |size, extras| {
        let mut writer = TicketWriter::new(print, ticket, size, min_column);
        for part in &parts {
            // How to join follows what to check.
            writer.write_part(part);
            if matches!(part.body, Body::Checks(_)) && !print.plan.joins.is_empty() {
                writer.draw_joins();
            }
        }
        writer.draw_signs();
        if extras > 0 {
            writer.draw_punches(print.request.layout);
        }
        if extras > 1 {
            writer.draw_card();
        }
        writer.finish()
    };
    let on_one = |extras| {
        let all = SIZES.into_iter().map(|size| set(size, extras));
        all.into_iter().find(|pages| pages.len() == 1)
    };
    on_one(2).or_else(|| on_one(1)).or_else(|| on_one(0)).unwrap_or_else(|| {
        let [without, with] = [0, 2].map(|extras| set(SMALLEST, extras));
        if without.len() < with.len() { without } else { with }
    })
}

/// A portrait page; for a print on a roll one of a usual size.
fn page(request: &Request<'_>) -> Page {
    let form = request.paper.form();
    let (width, height) = match form {
        PaperForm::Sheet { short, long } => (short, long),
        PaperForm::Roll { width } => (width.min(ROLL_PAGE.0), ROLL_PAGE.1),
    };
    Page::new(width, height, form, request.correction)
}

/// The parts of the ticket. What to measure on the joined pieces is added to its checks.
fn parts(print: &Print<'_>, ticket: &Ticket) -> Vec<Part> {
    let mut parts = ticket.parts.clone();
    let checks = parts.iter_mut().find_map(|p| match &mut p.body {
        Body::Checks(all) => Some(all),
        _ => None,
    });
    if let Some(checks) = checks {
        checks.extend(print.checks.iter().map(|c| c.sentence(ticket.wording)));
    }
    parts
}

/// A line of a column.
struct ColumnLine {
    size: Length,
    /// Its texts, each with its distance from the left.
    texts: Vec<(Length, String)>,
    /// Where it has a box to tick, from the left.
    tick: Option<Length>,
}

impl ColumnLine {
    fn new(size: Length, texts: Vec<(Length, String)>) -> Self {
        Self { size, texts, tick: None }
    }
}

/// Writes the ticket down the columns of its pages.
struct TicketWriter<'a> {
    ticket: &'a Ticket,
    fingerprint: &'a str,
    page: Page,
    /// Size of the type.
    size: Length,
    /// The current page, and those before it.
    canvas: Canvas,
    done: Vec<Canvas>,
    /// The left edges of the columns, and their width.
    columns: Vec<Length>,
    width: Length,
    /// The current column.
    column: usize,
    /// Where the earlier columns of this page end.
    ends: Vec<Length>,
    /// The next line goes below this.
    y: Length,
    top: Length,
}

impl<'a> TicketWriter<'a> {
    fn new(
        print: &'a Print<'_>,
        ticket: &'a Ticket,
        size: Length,
        min_column: Length,
    ) -> Self {
        let page = page(print.request);
        let all = page.printable();
        let room = all.x.length() - INSET * 2;
        let fit = (room + GUTTER).nm() / (min_column + GUTTER).nm();
        let count = fit.clamp(1, MAX_COLUMNS);
        let even = (room - GUTTER * (count - 1)) / count;
        // Columns that are narrower than the card leave room for it in the last of them.
        let others = (count - 1).max(1);
        let beside = (room - CARD.0 - BESIDE_CARD - GUTTER * (others - 1)) / others;
        let width =
            if count > 1 && beside >= min_column { even.min(beside) } else { even };
        let left = |i| all.x.from + INSET + (width + GUTTER) * i;
        let mut writer = Self {
            ticket,
            fingerprint: &print.fingerprint,
            page,
            size,
            canvas: Canvas::new(all, ticket.wording),
            done: Vec::new(),
            columns: (0..count).map(left).collect(),
            width,
            column: 0,
            ends: Vec::new(),
            y: Length::ZERO,
            top: Length::ZERO,
        };
        writer.write_head();
        writer
    }

    /// Writes the title over the whole width, and which print the ticket belongs to.
    fn write_head(&mut self) {
        corners::draw(&mut self.canvas);
        let all = self.page.printable();
        let (left, right) = (all.x.from + INSET, all.x.to - INSET);
        let base = all.y.to - Length::from_um(7_500);
        let Ticket { name, title, wearer, .. } = self.ticket;
        let print = format!("{name} · {}", self.fingerprint);
        let room = right - left - lettering::width(&print, HEADING) - GUTTER;
        let title = format!("{title} {wearer}");
        let title = shorten(title.trim(), TITLE, room);
        if !title.is_empty() {
            self.write(left, base, Anchor::Start, TITLE, &title);
        }
        self.write(right, base, Anchor::End, HEADING, &print);
        let line = base - Length::from_mm(2);
        self.draw_line(left, right, line);
        self.top = line - Length::from_mm(1);
        self.y = self.top;
    }

    fn write(&mut self, x: Length, y: Length, anchor: Anchor, size: Length, text: &str) {
        let item = TextItem::new(Point::new(x, y), anchor, size, text);
        // Title and headings.
        let is_bold = size == TITLE || size == HEADING;
        self.canvas.write(if is_bold { item.bold() } else { item });
    }

    fn draw_line(&mut self, from: Length, to: Length, y: Length) {
        let line = Path::line(Point::new(from, y), Point::new(to, y));
        self.canvas.stroke(Layer::Guides, Pen::Thin, vec![line]);
    }

    fn floor(&self) -> Length {
        self.page.printable().y.from + INSET
    }

    /// Goes on at the top of the next column, or of the first one of a new page.
    fn advance(&mut self) {
        self.column += 1;
        self.ends.push(self.y);
        self.y = self.top;
        if self.column == self.columns.len() {
            self.ends.clear();
            let fresh = Canvas::new(self.page.printable(), self.ticket.wording);
            self.done.push(std::mem::replace(&mut self.canvas, fresh));
            self.column = 0;
            self.write_head();
        }
    }

    /// Makes room for `height`, unless an empty column has no more either.
    fn make_room(&mut self, height: Length) {
        if self.y - height < self.floor() && self.y < self.top {
            self.advance();
        }
    }

    fn write_line(&mut self, line: &ColumnLine) {
        let size = line.size;
        self.make_room(leading(size));
        let left = self.columns[self.column];
        self.y -= leading(size);
        let base = self.y + size / 4;
        for (shift, text) in &line.texts {
            self.write(left + *shift, base, Anchor::Start, size, text);
        }
        if let Some(tick) = line.tick {
            let from = Point::new(left + tick, base);
            let to = Point::new(from.x + cap_height(size), base + cap_height(size));
            let square = Path::rectangle(from, to);
            self.canvas.stroke(Layer::Guides, Pen::Thin, vec![square]);
        }
    }

    fn write_part(&mut self, part: &Part) {
        let lines = self.lines(&part.body);
        self.write_heading(&part.heading, leading(self.size) * 2);
        let goes_on =
            |line: &&ColumnLine| line.texts.first().is_some_and(|t| t.0 > Length::ZERO);
        for (i, line) in lines.iter().enumerate() {
            // The lines of one entry stay together.
            let after = lines[i + 1..].iter().take_while(goes_on).count();
            self.make_room(leading(line.size) * (1 + count(after)));
            self.write_line(line);
        }
    }

    /// Writes a heading. It stands with so much of what follows, never alone at the foot.
    fn write_heading(&mut self, text: &str, with: Length) {
        let headings = wrap(text, HEADING, self.width);
        let heading = leading(HEADING) * count(headings.len());
        self.make_room(ABOVE + heading + with);
        if self.y < self.top {
            self.y -= ABOVE;
        }
        for heading in headings {
            self.write_line(&ColumnLine::new(HEADING, vec![(Length::ZERO, heading)]));
        }
        if !text.is_empty() {
            let from = self.columns[self.column];
            self.draw_line(from, from + self.width, self.y - Length::from_um(300));
            self.y -= BELOW_HEADING;
        }
    }

    fn lines(&self, body: &Body) -> Vec<ColumnLine> {
        let size = self.size;
        // Ten steps and more have numbers of two digits.
        let indent = match body {
            Body::Steps(all) if all.len() > 9 => size.times(21, 10),
            _ => size.times(8, 5),
        };
        let entry = |mark: String, text: &str| -> Vec<ColumnLine> {
            let texts = wrap(text, size, self.width - indent).into_iter();
            let mut lines: Vec<ColumnLine> =
                texts.map(|t| ColumnLine::new(size, vec![(indent, t)])).collect();
            if let Some(first) = lines.first_mut() {
                first.tick = mark.is_empty().then_some(Length::ZERO);
                first.texts.insert(0, (Length::ZERO, mark));
            }
            lines
        };
        match body {
            Body::Lines(all) => {
                all.iter().flat_map(|text| entry("–".to_owned(), text)).collect()
            }
            Body::Steps(all) => {
                let steps = (1..).zip(all);
                steps.flat_map(|(n, text)| entry(format!("{n}."), text)).collect()
            }
            Body::Checks(all) => {
                all.iter().flat_map(|text| entry(String::new(), text)).collect()
            }
            Body::Table(table) => self.table_lines(table, Length::ZERO),
            Body::Marks(table) => {
                let mut lines = self.table_lines(table, BOX);
                // The last of the rows of a seam or of many equal holes has no name.
                let marks = table.lines().zip(&mut lines).skip(1);
                for (row, line) in marks {
                    let is_mark = row.first().is_some_and(|name| !name.is_empty());
                    line.tick = is_mark.then_some(self.width - BOX / 2);
                }
                lines
            }
        }
    }

    /// The lines of a table: columns as wide as their widest cell, numbers at the right of
    /// theirs; in smaller type where the column of the page is too narrow. `beside` is kept
    /// behind it.
    fn table_lines(&self, table: &Table, beside: Length) -> Vec<ColumnLine> {
        let columns = table.head.len();
        let mut size = self.size;
        let total = table_width(table, size);
        if total > self.width - beside {
            let gaps = CELL_GAP * count(columns.saturating_sub(1));
            let room = (self.width - beside - gaps).max(Length::from_um(1));
            size = size.times(room.nm(), (total - gaps).nm());
        }
        let mut left = Length::ZERO;
        let mut places = Vec::with_capacity(columns);
        for column in 0..columns {
            let width = column_width(table, column, size);
            places.push((left, width, table.is_numeric(column)));
            left += width + CELL_GAP;
        }
        let cell = |(text, place): (&String, &(Length, Length, bool))| {
            let &(left, width, is_numeric) = place;
            let free = width - lettering::width(text, size);
            (if is_numeric { left + free } else { left }, text.clone())
        };
        let line = |row: &[String]| {
            let cells = row.iter().zip(&places).filter(|(text, _)| !text.is_empty());
            ColumnLine::new(size, cells.map(cell).collect())
        };
        table.lines().map(line).collect()
    }

    fn finish(mut self) -> Vec<Sheet> {
        self.done.push(self.canvas);
        let Page { width, height, .. } = self.page;
        let sheet =
            |Canvas { items, .. }| Sheet { width, height, items, ..Sheet::default() };
        self.done.into_iter().map(sheet).collect()
    }
}

fn count(n: usize) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}
