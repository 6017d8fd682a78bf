//! Paths of the strap as path data of SVG, in millimetres, y downward.

use crate::geom::{Length, Path, Point, Step, Strap};

/// A number with two decimals at most.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Millimetres.
pub(super) fn mm(length: Length) -> f64 {
    length.as_mm_f64()
}

/// The data of a path. Its arcs are half a turn at most, so none is the larger one.
pub(super) fn data(path: &Path<Strap>) -> String {
    let place = |p: Point<Strap>| format!("{} {}", number(mm(p.x)), number(-mm(p.y)));
    let mut data = format!("M{}", place(path.start));
    let mut at = path.start;
    for step in &path.steps {
        match *step {
            Step::Line { to } => data = data + "L" + &place(to),
            Step::Arc { to, .. } if to == at => {}
            Step::Arc { to, centre, clockwise } => {
                let radius = number(mm((at - centre).norm()));
                let sweep = u8::from(clockwise);
                data = format!("{data}A{radius} {radius} 0 0 {sweep} {}", place(to));
            }
        }
        at = step.to();
    }
    if path.closed { data + "Z" } else { data }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arcs_turn_as_on_the_strap() {
        let [x, y] = [Length::from_mm(10), Length::from_mm(2)];
        let circle = Path::circle(Point::new(x, y), Length::from_um(1_500));
        assert_eq!(data(&circle), "M11.5 -2A1.5 1.5 0 0 0 8.5 -2A1.5 1.5 0 0 0 11.5 -2Z");
    }
}
