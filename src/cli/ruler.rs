//! The ruler of the user, and what to measure with it on a print.

use crate::diagnostic::numbered;
use crate::fit::{MeasurementUncertainty, RulerClass};
use crate::geom::{Extent, Length};
use crate::paginate::{ScaleBar, SheetSet, StripCheck};
use crate::words::{Units, Wording};
use clap::Args;
use std::collections::BTreeMap;

/// The ruler, and how closely it is read.
#[derive(Args, Clone, Copy, Debug, Default)]
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
    let mut lines = Vec::new();
    // Wide and tall sheets have bars of their own.
    let mut by_bars: BTreeMap<Vec<Length>, Vec<usize>> = BTreeMap::new();
    for sheet in &set.sheets {
        let bars = sheet.bars.iter().map(ScaleBar::length).collect();
        by_bars.entry(bars).or_default().push(sheet.number);
    }
    let of_all = by_bars.len() == 1;
    for (bars, numbers) in by_bars {
        let bars = bars.into_iter().zip(["width", "height"]).map(|(length, side)| {
            let accepted = accept(length, measuring.window(length, 0), wording);
            format!("along the {side} {}, {accepted}", wording.both(length))
        });
        let bars = bars.collect::<Vec<_>>().join("; ");
        let of =
            if of_all { "every sheet".to_owned() } else { numbered("sheet", numbers) };
        lines.push(format!("scale bars of {of}: {bars}"));
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
