//! The state that a content stream draws in (ISO 32000-1:2008, 8.4 and 9.3).

use super::dash::Dashes;
use super::font::Font;
use super::plane::{Matrix, Spot};
use std::rc::Rc;

/// Everything that `q` keeps and `Q` brings back.
#[derive(Clone, Debug)]
pub(super) struct State {
    pub(super) matrix: Matrix,
    pub(super) width: f64,
    /// `None` for a continuous line.
    pub(super) dashes: Option<Dashes>,
    /// Whether lines end where they end, without caps.
    pub(super) butt: bool,
    /// Whether strokes leave no ink on white paper.
    pub(super) white: bool,
    pub(super) text: TextState,
}

/// How words are set.
#[derive(Clone, Debug)]
pub(super) struct TextState {
    pub(super) font: Option<Rc<Font>>,
    pub(super) size: f64,
    /// After each letter, and after each space, in units of the text.
    pub(super) letter_space: f64,
    pub(super) word_space: f64,
    /// Of the width, 1 for all of it.
    pub(super) stretch: f64,
    pub(super) leading: f64,
    pub(super) rise: f64,
    pub(super) hidden: bool,
}

impl State {
    pub(super) fn new(matrix: Matrix) -> Self {
        Self {
            matrix,
            width: 1.0,
            dashes: None,
            butt: true,
            white: false,
            text: TextState {
                font: None,
                size: 0.0,
                letter_space: 0.0,
                word_space: 0.0,
                stretch: 1.0,
                leading: 0.0,
                rise: 0.0,
                hidden: false,
            },
        }
    }

    /// Width of a stroke in mm: by the root of the area, since a pen may be stretched.
    pub(super) fn pen_width(&self) -> f64 {
        self.width * libm::sqrt(self.matrix.area().abs())
    }
}

/// Where the next words go, between `BT` and `ET`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cursor {
    line: Matrix,
    at: Matrix,
}

impl Cursor {
    pub(super) const START: Self = Self { line: Matrix::IDENTITY, at: Matrix::IDENTITY };

    pub(super) fn set(&mut self, matrix: Matrix) {
        (self.line, self.at) = (matrix, matrix);
    }

    /// To the next line, which lies `by` from the start of this one.
    pub(super) fn next_line(&mut self, by: Spot) {
        self.set(Matrix::shift(by).then(self.line));
    }

    pub(super) fn advance(&mut self, by: f64) {
        self.at = Matrix::shift(Spot::new(by, 0.0)).then(self.at);
    }

    pub(super) fn matrix(&self) -> Matrix {
        self.at
    }
}
