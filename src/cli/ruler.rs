//! The ruler of the user, and what to measure with it on a print.

use crate::fit::{MeasurementUncertainty, RulerClass};
use crate::geom::{Extent, Length};
use crate::paginate::{SheetSet, StripCheck};
use crate::words::{Units, Wording};
use clap::Args;

/// The ruler, and how closely it is read.
#[derive(Args, Clone, Copy, Debug)]
pub(super) struct RulerArgs {
    /// Accuracy class of your ruler by Directive 2014/32/EU: I, II or III; it is marked on
    /// the ruler [default: II]
    #[arg(long = "ruler-class", value_name = "CLASS", value_parser = ruler_class)]
    class: Option<RulerClass>,
    /// How closely you read a mark at each end [default: 0.5 mm]
    #[arg(long, value_name = "LENGTH", value_parser = resolution)]
    #[arg(allow_hyphen_values = true)]
    resolution: Option<Length>,
    /// How closely you lay one cross on another at a join [default: 0.3 mm]
    #[arg(long, value_name = "LENGTH", value_parser = resolution)]
    #[arg(allow_hyphen_values = true)]
    join: Option<Length>,
}

impl RulerArgs {
    /// What is given, and the rest as it is by `default`.
    pub(super) fn measuring(
        &self,
        default: MeasurementUncertainty,
    ) -> MeasurementUncertainty {
        MeasurementUncertainty {
            ruler: self.class.unwrap_or(default.ruler),
            reading: self.resolution.unwrap_or(default.reading),
            join: self.join.unwrap_or(default.join),
        }
    }
}

fn ruler_class(text: &str) -> Result<RulerClass, String> {
    match text.to_uppercase().as_str() {
        "I" | "1" => Ok(RulerClass::I),
        "II" | "2" => Ok(RulerClass::II),
        "III" | "3" => Ok(RulerClass::III),
        _ => Err("give class I, II or III".to_owned()),
    }
}

/// A length between 0.01 and 5 mm.
fn resolution(text: &str) -> Result<Length, String> {
    let length = Length::parse(text).map_err(|e| e.to_string())?;
    let (least, most) = (Length::from_um(10), Length::from_mm(5));
    if length < least || length > most {
        return Err(format!("{length} is not between {least} and {most}"));
    }
    Ok(length)
}

/// What to measure on the sheets and on the joined strip, and what that proves; one line
/// each.
pub(super) fn measuring_lines(
    set: &SheetSet,
    measuring: MeasurementUncertainty,
    units: Units,
) -> Vec<String> {
    let wording = Wording { units, ..Wording::default() };
    let bars = set.sheets.first().map(|s| s.bars.as_slice()).unwrap_or_default();
    let bars = bars.iter().zip(["width", "height"]).map(|(bar, side)| {
        let (length, window) = (bar.length(), bar.window(measuring));
        let accepted = accept(length, window, wording);
        format!("along the {side} {}, {accepted}", wording.both(length))
    });
    let bars: Vec<String> = bars.collect();
    let mut lines = Vec::new();
    if !bars.is_empty() {
        lines.push(format!("scale bars of every sheet: {}", bars.join("; ")));
    }
    lines.extend(set.checks.iter().flat_map(|c| strip_lines(c, wording)));
    // A piece of one tile, or a roll: no strip says more than the bars.
    let gauge = set.gauge.as_ref().filter(|gauge| gauge.strip.is_none());
    if let Some((gauge, last)) = gauge.and_then(|g| Some((g, g.last.as_ref()?))) {
        let bar = gauge.bars[usize::from(!last.is_wide)];
        // Up to the next tenth: less would promise too much.
        let open = measuring.of_distance(last.way, bar, last.joins);
        let open = -(-open).floor_to(Length::from_um(100));
        lines.push(format!("last hole: {} by the scale bars", wording.within(open)));
    }
    if !lines.is_empty() {
        let MeasurementUncertainty { ruler, reading, join } = measuring;
        lines.push(format!(
            "tolerances assume a class {ruler:?} steel ruler read to {reading} and crosses \
             laid to {join} (95 % confidence)"
        ));
    }
    if let Some(long) = set.checks.iter().map(|c| c.length).max() {
        // Trade figures for bond paper, along and across its grain.
        lines.push(format!(
            "damp paper grows 0.1 to 0.4 %, here {} to {} mm: measure just before punching",
            long.times(1, 1_000).mm(0),
            long.times(4, 1_000).mm(0)
        ));
    }
    lines
}

/// `accept 259.1 to 260.9 mm`, `accept ± 1/32 in`.
fn accept(length: Length, window: Extent, wording: Wording) -> String {
    let unit = if wording.units == Units::Inches { "" } else { " mm" };
    format!("accept {}{unit}", wording.accepted(length, window))
}

fn strip_lines(check: &StripCheck, wording: Wording) -> Vec<String> {
    let [from, to] = &check.labels;
    let mut lines = vec![format!(
        "on the joined strip, line {from} to line {to}: {}; {}",
        wording.both(check.length),
        accept(check.length, check.window, wording)
    )];
    if let Some(hole) = check.last_hole {
        let is_inches = wording.units == Units::Inches;
        let within = |l: Length| {
            if is_inches { wording.within(l) } else { format!("±{} mm", l.mm(1)) }
        };
        let mut ways = vec![format!("{} by the scale bars alone", within(hole.by_bar))];
        if let Some(by_printer) = hole.by_printer {
            ways.push(format!("{} by the printer file on any day", within(by_printer)));
        }
        ways.push(format!("{} once {from} to {to} is accepted", within(hole.by_check)));
        let (both, mm) = (wording.both(hole.reading), hole.reading.mm(1));
        let at = if is_inches { both } else { format!("{mm} mm") };
        lines.push(format!("last hole, at {at}: {}", ways.join(", ")));
    }
    lines
}
