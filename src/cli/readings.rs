//! The readings that `calibrate` takes: as options, or asked for on a terminal.

use super::terminal::{message, prompt};
use super::{Failure, Result};
use crate::geom::Length;
use crate::paginate::Gauge;
use crate::printer::Readings;
use clap::Args;
use std::io::IsTerminal;

/// What the ruler reads on a print.
#[derive(Args, Debug)]
pub(super) struct ReadingArgs {
    /// What the ruler reads on the scale bar along the width, from end to end; can be given
    /// again for another sheet
    #[arg(long, value_name = "READ", value_parser = length, allow_hyphen_values = true)]
    wide_bar: Vec<Length>,
    /// What the ruler reads on the scale bar along the height; can be given again
    #[arg(long, value_name = "READ", value_parser = length, allow_hyphen_values = true)]
    tall_bar: Vec<Length>,
    /// What the ruler reads from A to B of the joined strip
    #[arg(long, value_name = "READ", value_parser = length, allow_hyphen_values = true)]
    strip: Option<Length>,
    /// From corner mark to corner mark: lower left to upper right, then upper left to
    /// lower right
    #[arg(long, value_names = ["RISING", "FALLING"], num_args = 2, value_parser = length)]
    #[arg(allow_hyphen_values = true)]
    diagonals: Option<Vec<Length>>,
}

fn length(text: &str) -> std::result::Result<Length, String> {
    Length::parse(text).map_err(|e| e.to_string())
}

impl ReadingArgs {
    /// The readings; on a terminal, those that were not given are asked for.
    ///
    /// # Errors
    /// When the print has no strip that was read, or the terminal cannot be read.
    pub(super) fn read(&self, gauge: &Gauge) -> Result<Readings> {
        if self.strip.is_some() && gauge.strip.is_none() {
            return Err(Failure::Usage(
                "--strip: no piece of this print has joins, so it has no lines A and B; \
                 leave --strip out, or give the file whose print you measured"
                    .to_owned(),
            ));
        }
        let mut readings = Readings {
            wide: self.wide_bar.clone(),
            tall: self.tall_bar.clone(),
            strip: self.strip,
            diagonals: self.diagonals.as_deref().and_then(|d| d.try_into().ok()),
        };
        let is_asked = std::io::stdin().is_terminal() && std::io::stderr().is_terminal();
        let none = readings.wide.is_empty() && readings.tall.is_empty();
        if is_asked && none && readings.strip.is_none() {
            let [wide, tall] = [0, 1].map(|i| ask(&gauge.names[i], gauge.bars[i]));
            readings.wide.extend(wide?);
            readings.tall.extend(tall?);
            if let Some(strip) = &gauge.strip {
                readings.strip = ask(&strip.labels.join(" to "), strip.length)?;
            }
        }
        Ok(readings)
    }
}

/// Asks for a reading on the terminal; nothing for an empty line.
fn ask(what: &str, drawn: Length) -> Result<Option<Length>> {
    loop {
        let question = format!("{what} ({} on a true print): ", drawn.both());
        prompt(&question);
        let mut line = String::new();
        let read = std::io::stdin().read_line(&mut line);
        read.map_err(|e| Failure::System(format!("cannot read from the terminal: {e}")))?;
        if line.trim().is_empty() {
            return Ok(None);
        }
        match length(line.trim()) {
            Ok(read) => return Ok(Some(read)),
            Err(why) => message(&why),
        }
    }
}

/// Says which readings are needed, and how long each is on a true print.
pub(super) fn missing_readings(gauge: &Gauge) -> Failure {
    let [wide, tall] = [0, 1].map(|i| (&gauge.names[i], gauge.bars[i].both()));
    let strip = gauge.strip.as_ref().map(|strip| {
        let (ends, length) = (strip.labels.join(" to "), strip.length.both());
        format!("\n  --strip READ      joined strip, {ends}, {length}: the surest of the three")
    });
    Failure::Usage(format!(
        "give what the ruler reads on the print:\n  --wide-bar READ   {}, {} on a true print\n  \
         --tall-bar READ   {}, {}{}",
        wide.0,
        wide.1,
        tall.0,
        tall.1,
        strip.unwrap_or_default()
    ))
}
