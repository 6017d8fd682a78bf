//! From the operators of a page's content to what is on its paper.

use super::dash::Dashes;
use super::file::{File, Layer, PageObject};
use super::groups::Known;
use super::paths::{Growing, Pen, Step};
use super::plane::{Matrix, Spot};
use super::state::{Cursor, State};
use super::tokens::{Token, Tokens};
use super::writing::Fonts;
use super::{Limits, Page};
use lopdf::{Dictionary, Object};

/// More operands than any operator of a page has.
const MOST_OPERANDS: usize = 1 << 14;

/// No pattern of dashes has more.
const MOST_DASHES: usize = 64;

/// What may still be read.
#[derive(Debug)]
pub(super) struct Budget {
    content: usize,
    operators: usize,
    things: usize,
    stream: usize,
    pub(super) depth: usize,
}

impl Budget {
    pub(super) fn new(limits: &Limits) -> Self {
        let &Limits { content, operators, things, stream, depth, .. } = limits;
        Self { content, operators, things, stream, depth }
    }

    fn take(from: &mut usize, count: usize) -> Result<(), String> {
        *from = from
            .checked_sub(count)
            .ok_or_else(|| "there is more on it than on any sheet".to_owned())?;
        Ok(())
    }
}

/// Reads one page; what could be read before something broke is kept.
pub(super) fn page(
    file: &File,
    page: &PageObject<'_>,
    fonts: &mut Fonts,
    budget: &mut Budget,
) -> Page {
    let Some((size, matrix)) = file.frame(page) else {
        let broken = Some("it has no size".to_owned());
        return Page { broken, ..Page::default() };
    };
    let most = budget.content.min(budget.stream);
    let content = match file.content(page, most) {
        Ok(content) => content,
        Err(why) => return Page { size, broken: Some(why), ..Page::default() },
    };
    let mut drawing = Drawing {
        file,
        fonts,
        budget,
        page: Page { size, ..Page::default() },
        state: State::new(matrix),
        kept: Vec::new(),
        path: Growing::default(),
        cursor: Cursor::START,
        layers: Vec::new(),
        known: Vec::new(),
    };
    let done = drawing.run(&content, page.resources(), 0);
    Page { broken: done.err(), ..drawing.page }
}

pub(super) struct Drawing<'f, 'b> {
    pub(super) file: &'f File,
    pub(super) fonts: &'b mut Fonts,
    pub(super) budget: &'b mut Budget,
    pub(super) page: Page,
    pub(super) state: State,
    kept: Vec<State>,
    path: Growing,
    pub(super) cursor: Cursor,
    pub(super) layers: Vec<Layer>,
    pub(super) known: Vec<Known>,
}

/// The numbers at the end of `operands`.
pub(super) fn numbers<const N: usize>(
    operands: &[Token<'_>],
) -> Result<[f64; N], String> {
    let wrong = || "an operator of it lacks its numbers".to_owned();
    let first = operands.len().checked_sub(N).ok_or_else(wrong)?;
    let mut all = [0.0; N];
    for (number, operand) in all.iter_mut().zip(&operands[first..]) {
        let Token::Number(n) = operand else { return Err(wrong()) };
        *number = *n;
    }
    Ok(all)
}

fn spots<const N: usize>(matrix: Matrix, flat: &[f64]) -> [Spot; N] {
    let mut all = [Spot::ZERO; N];
    for (spot, pair) in all.iter_mut().zip(flat.chunks_exact(2)) {
        *spot = matrix.place(Spot::new(pair[0], pair[1]));
    }
    all
}

impl<'f> Drawing<'f, '_> {
    fn run(
        &mut self,
        content: &[u8],
        resources: Option<&'f Dictionary>,
        depth: usize,
    ) -> Result<(), String> {
        Budget::take(&mut self.budget.content, content.len())?;
        let mut tokens = Tokens::new(content);
        let mut operands: Vec<Token<'_>> = Vec::new();
        while let Some(token) = tokens.next() {
            let Token::Word(word) = token else {
                if operands.len() == MOST_OPERANDS {
                    return Err("its content is not a page's".to_owned());
                }
                operands.push(token);
                continue;
            };
            Budget::take(&mut self.budget.operators, 1)?;
            match word {
                b"true" | b"false" | b"null" => continue,
                b"ID" => tokens.skip_image(),
                b"Do" => self.form(operands.last(), resources, depth)?,
                b"BDC" | b"BMC" => self.enter(&operands, resources)?,
                b"EMC" => {
                    self.layers.pop();
                }
                b"gs" => self.apply(operands.last(), resources),
                b"Tf" => self.set_font(&operands, resources)?,
                _ if self.paint(word)? => {}
                _ => {
                    self.draw(word, &operands)?;
                    self.set(word, &operands)?;
                    self.write(word, &operands)?;
                }
            }
            operands.clear();
        }
        Ok(())
    }

    /// The operators that grow a path.
    fn draw(&mut self, word: &[u8], operands: &[Token<'_>]) -> Result<(), String> {
        let matrix = self.state.matrix;
        let step = match word {
            b"m" => {
                let [to] = spots(matrix, &numbers::<2>(operands)?);
                self.path.move_to(to);
                return Ok(());
            }
            b"h" => {
                self.path.close();
                return Ok(());
            }
            b"re" => {
                let [x, y, wide, high] = numbers(operands)?;
                let (right, top) = (x + wide, y + high);
                let [start] = spots(matrix, &[x, y]);
                let others: [Spot; 3] = spots(matrix, &[right, y, right, top, x, top]);
                self.path.move_to(start);
                for to in others {
                    self.count()?;
                    self.path.step(Step::Line(to));
                }
                self.path.close();
                return Ok(());
            }
            b"l" => {
                let [to] = spots(matrix, &numbers::<2>(operands)?);
                Step::Line(to)
            }
            b"c" => {
                let [a, b, to] = spots(matrix, &numbers::<6>(operands)?);
                Step::Curve(a, b, to)
            }
            b"v" => {
                let [b, to] = spots(matrix, &numbers::<4>(operands)?);
                Step::Curve(self.path.here(), b, to)
            }
            b"y" => {
                let [a, to] = spots(matrix, &numbers::<4>(operands)?);
                Step::Curve(a, to, to)
            }
            _ => return Ok(()),
        };
        self.count()?;
        self.path.step(step);
        Ok(())
    }

    /// The operators that paint a path; whether this was one.
    fn paint(&mut self, word: &[u8]) -> Result<bool, String> {
        if matches!(word, b"s" | b"b" | b"b*") {
            self.path.close();
        }
        match word {
            b"S" | b"s" | b"B" | b"B*" | b"b" | b"b*" => {
                let layer = self.layer();
                if self.state.white || layer == Layer::Hidden {
                    self.path.drop_all();
                } else {
                    let width = self.state.pen_width();
                    let pen = Pen { layer, width, dashed: self.state.dashes.is_some() };
                    let first = self.page.lines.len();
                    self.path.stroke(pen, &mut self.page.lines, &mut self.page.paths);
                    self.part(first)?;
                }
            }
            b"f" | b"F" | b"f*" | b"n" => self.path.drop_all(),
            _ => return Ok(false),
        }
        Ok(true)
    }

    /// Parts the lines from `first` on into the strokes across them that they show, if they
    /// do.
    fn part(&mut self, first: usize) -> Result<(), String> {
        let State { matrix, width, butt, .. } = self.state;
        let Some(dashes) = &self.state.dashes else { return Ok(()) };
        if !butt || !dashes.are_bars(width) {
            return Ok(());
        }
        for line in self.page.lines.split_off(first) {
            Budget::take(&mut self.budget.things, dashes.count(&line, matrix))?;
            self.page.lines.extend(dashes.bars(line, width, matrix));
        }
        Ok(())
    }

    /// The operators that change the state.
    fn set(&mut self, word: &[u8], operands: &[Token<'_>]) -> Result<(), String> {
        match word {
            b"q" => {
                if self.kept.len() >= self.budget.depth * 16 {
                    return Err(
                        "its content keeps more states than any page's".to_owned()
                    );
                }
                self.kept.push(self.state.clone());
            }
            b"Q" => {
                if let Some(state) = self.kept.pop() {
                    self.state = state;
                }
            }
            b"cm" => {
                self.state.matrix = Matrix(numbers(operands)?).then(self.state.matrix);
            }
            b"w" => [self.state.width] = numbers(operands)?,
            b"d" => self.state.dashes = dashes(operands),
            b"J" => {
                let [cap] = numbers(operands)?;
                self.state.butt = cap < 0.5;
            }
            b"G" => {
                let [grey] = numbers(operands)?;
                self.state.white = grey > WHITE;
            }
            b"RG" => {
                let light: [f64; 3] = numbers(operands)?;
                self.state.white = light.iter().all(|c| *c > WHITE);
            }
            b"K" => {
                let ink: [f64; 4] = numbers(operands)?;
                self.state.white = ink.iter().all(|c| *c < 1.0 - WHITE);
            }
            // Another colour space begins with its black; of its colours nothing is known
            // but that grey and RGB are light where all their parts are.
            b"CS" => self.state.white = false,
            b"SC" | b"SCN" => {
                let parts = || {
                    operands
                        .iter()
                        .map(|o| if let Token::Number(n) = o { *n } else { 0.0 })
                };
                let known = matches!(operands.len(), 1 | 3);
                self.state.white = known && parts().all(|c| c > WHITE);
            }
            _ => {}
        }
        Ok(())
    }

    /// What a named state changes of the pen.
    fn apply(&mut self, name: Option<&Token<'_>>, resources: Option<&'f Dictionary>) {
        let Some(Token::Name(name)) = name else { return };
        let found = self.file.resource(resources, "ExtGState", name);
        let Some((_, Object::Dictionary(named))) = found else { return };
        let width = self.file.get(named, "LW").and_then(|w| w.as_float().ok());
        self.state.width = width.map_or(self.state.width, f64::from);
        let cap = self.file.get(named, "LC").and_then(|c| c.as_i64().ok());
        self.state.butt = cap.map_or(self.state.butt, |cap| cap == 0);
        if let Some(Object::Array(dash)) = self.file.get(named, "D")
            && let Some(lengths @ Object::Array(_)) = dash.first()
        {
            let phase = dash.get(1).and_then(|p| p.as_float().ok()).unwrap_or(0.0);
            self.state.dashes = Dashes::of(self.file.numbers(lengths), phase.into());
        }
    }

    /// Counts one more thing on the page.
    pub(super) fn count(&mut self) -> Result<(), String> {
        Budget::take(&mut self.budget.things, 1)
    }

    /// Draws a form; pictures are passed over.
    fn form(
        &mut self,
        name: Option<&Token<'_>>,
        resources: Option<&'f Dictionary>,
        depth: usize,
    ) -> Result<(), String> {
        let Some(Token::Name(name)) = name else { return Ok(()) };
        let found = self.file.resource(resources, "XObject", name);
        let Some((_, Object::Stream(form))) = found else { return Ok(()) };
        if !form
            .dict
            .get(b"Subtype")
            .and_then(Object::as_name)
            .is_ok_and(|n| n == b"Form")
        {
            return Ok(());
        }
        if depth >= self.budget.depth {
            return Err("its forms lie within each other too deep".to_owned());
        }
        let most = self.budget.content.min(self.budget.stream);
        let content = File::unpacked(form, most)?;
        let state = self.state.clone();
        let (kept, layers) = (std::mem::take(&mut self.kept), self.layers.len());
        self.state.matrix = self.file.matrix_of(&form.dict).then(state.matrix);
        self.push_layer(self.file.own_layer(&form.dict))?;
        let own = self.file.resources_of(&form.dict).or(resources);
        let done = self.run(&content, own, depth + 1);
        self.layers.truncate(layers);
        (self.state, self.kept) = (state, kept);
        done
    }
}

/// Lighter than this leaves no ink.
const WHITE: f64 = 0.97;

/// `[dash gap ...] phase`.
fn dashes(operands: &[Token<'_>]) -> Option<Dashes> {
    let number = |o: &Token<'_>| if let Token::Number(n) = o { Some(*n) } else { None };
    let lengths = operands.iter().skip(1).map_while(number).take(MOST_DASHES);
    let phase = operands.last().and_then(number).unwrap_or(0.0);
    Dashes::of(lengths.collect(), phase)
}
