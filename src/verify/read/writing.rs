//! The operators that set and show words (ISO 32000-1:2008, 9.3 and 9.4).

use super::Words;
use super::drawing::{Drawing, numbers};
use super::file::Layer;
use super::font::Font;
use super::plane::{Matrix, Spot};
use super::state::Cursor;
use super::tokens::Token;
use lopdf::{Dictionary, Object};
use std::collections::BTreeMap;
use std::rc::Rc;

/// More faces than any print has.
const MOST_FONTS: usize = 256;
/// Words that are set apart by more than this, in thousandths of their size, are not one.
const APART: f64 = 800.0;
/// Room for the letters of a line.
const LINE: usize = 64;
/// Words go on where the last ones ended, to so much of their height.
const GOES_ON: f64 = 0.1;

/// The fonts so far, each read once.
#[derive(Debug, Default)]
pub(super) struct Fonts(BTreeMap<*const Dictionary, Rc<Font>>);

impl<'f> Drawing<'f, '_> {
    pub(super) fn set_font(
        &mut self,
        operands: &[Token<'_>],
        resources: Option<&'f Dictionary>,
    ) -> Result<(), String> {
        let [size] = numbers(operands)?;
        self.state.text.size = size;
        self.state.text.font = None;
        let [Token::Name(name), _] = operands else { return Ok(()) };
        let found = self.file.resource(resources, "Font", name);
        let Some((_, Object::Dictionary(font))) = found else { return Ok(()) };
        let key = std::ptr::from_ref(font);
        let known = &mut self.fonts.0;
        if !known.contains_key(&key) && known.len() < MOST_FONTS {
            known.insert(key, Rc::new(Font::read(&self.file.document, font)));
        }
        self.state.text.font = known.get(&key).cloned();
        Ok(())
    }

    /// The operators that set and show words.
    pub(super) fn write(
        &mut self,
        word: &[u8],
        operands: &[Token<'_>],
    ) -> Result<(), String> {
        let text = &mut self.state.text;
        match word {
            b"BT" => self.cursor = Cursor::START,
            b"Tc" => [text.letter_space] = numbers(operands)?,
            b"Tw" => [text.word_space] = numbers(operands)?,
            b"TL" => [text.leading] = numbers(operands)?,
            b"Ts" => [text.rise] = numbers(operands)?,
            b"Tz" => {
                let [percent] = numbers(operands)?;
                text.stretch = percent / 100.0;
            }
            b"Tr" => {
                let [mode] = numbers(operands)?;
                text.hidden = (2.5..3.5).contains(&mode) || mode > 6.5;
            }
            b"Td" | b"TD" => {
                let [x, y] = numbers(operands)?;
                if word == b"TD" {
                    text.leading = -y;
                }
                self.cursor.next_line(Spot::new(x, y));
            }
            b"Tm" => self.cursor.set(Matrix(numbers(operands)?)),
            b"T*" => self.cursor.next_line(Spot::new(0.0, -text.leading)),
            b"Tj" | b"TJ" => self.show(operands)?,
            b"'" | b"\"" => {
                if word == b"\""
                    && let [Token::Number(word_space), Token::Number(letter_space), _] =
                        operands
                {
                    (text.word_space, text.letter_space) = (*word_space, *letter_space);
                }
                let leading = text.leading;
                self.cursor.next_line(Spot::new(0.0, -leading));
                self.show(
                    operands.get(operands.len().saturating_sub(1)..).unwrap_or(&[]),
                )?;
            }
            _ => {}
        }
        Ok(())
    }

    fn show(&mut self, operands: &[Token<'_>]) -> Result<(), String> {
        self.count()?;
        let font = self.state.text.font.clone().unwrap_or_default();
        let mut text = String::with_capacity(LINE);
        let mut from = self.here();
        for operand in operands {
            let state = &self.state.text;
            match operand {
                Token::Text(bytes) => {
                    let mut along = 0.0;
                    for (letters, width, is_space) in font.codes(bytes) {
                        let space = if is_space { state.word_space } else { 0.0 };
                        along += width * state.size + state.letter_space + space;
                        text.push_str(letters);
                    }
                    self.cursor.advance(along * state.stretch);
                }
                Token::Number(back) => {
                    let along = -back / 1_000.0 * state.size * state.stretch;
                    // Other words that stand at the same height.
                    if *back < -APART {
                        self.count()?;
                        self.written(std::mem::take(&mut text), from);
                        self.cursor.advance(along);
                        from = self.here();
                        continue;
                    }
                    // A space that is left out where the words are set apart anyway.
                    if *back < -200.0 && !text.ends_with(' ') {
                        text.push(' ');
                    }
                    self.cursor.advance(along);
                }
                _ => {}
            }
        }
        self.written(text, from);
        Ok(())
    }

    fn here(&self) -> Spot {
        let base = Spot::new(0.0, self.state.text.rise);
        self.cursor.matrix().then(self.state.matrix).place(base)
    }

    /// Keeps what was written from a place to here, unless it is not to be seen.
    fn written(&mut self, text: String, from: Spot) {
        let way = self.cursor.matrix().then(self.state.matrix);
        let up = way.way(Spot::new(0.0, self.state.text.size));
        let to = self.here();
        let hidden = self.state.text.hidden || self.layer() == Layer::Hidden;
        if !hidden && from.is_sane() && to.is_sane() && !text.is_empty() {
            self.keep(Words { text, from, to, up });
        }
    }

    /// Keeps words, as one with the last ones where they go on from there.
    fn keep(&mut self, words: Words) {
        if let Some(last) = self.page.words.last_mut() {
            let near = GOES_ON * words.up.norm();
            if last.to.far(words.from) < near && (last.up - words.up).norm() < near / 10.0
            {
                last.text.push_str(&words.text);
                last.to = words.to;
                return;
            }
        }
        self.page.words.push(words);
    }
}
