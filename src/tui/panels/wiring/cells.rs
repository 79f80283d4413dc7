//! The figures of a line of the diagram.

use crate::checks::{Finding, Severity};
use crate::study::wiring::length::LengthBy;
use crate::study::wiring::run::Run;
use crate::units::Measure;

/// What the figures are called: current in ordinary use and at most, what it may be, fuse, wire size, length one way,
/// drop at most.
pub const HEADS: [&str; 7] = ["A", "peak", "of", "fuse", "AWG", "one way", "drop"];

/// A figure of a line.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Cell {
    /// `1.4`, `20`, `3100 mm`.
    pub text: String,
    /// The weight of the finding about it.
    pub bad: Option<Severity>,
    /// Whether the last change altered it.
    pub changed: bool,
}

/// Which figure a check is about, by its place in [`HEADS`].
fn told_by(check: &str) -> Option<usize> {
    Some(match check {
        "channel-over" => 1,
        "fuse-wrong" | "fuse-far" | "channel-free" => 3,
        "wire-thin" => 4,
        "drop-over" => 6,
        _ => return None,
    })
}

/// The figures of a wire with its fuse, what speaks against one of them, and what the last change altered.
pub(super) fn of_run(run: &Run, before: Option<Option<&Run>>, of_a: Option<f64>, tape: Measure) -> Vec<Cell> {
    let now = texts(run, of_a, tape);
    let then = before.map(|before| before.map(|run| texts(run, of_a, tape)));
    now.into_iter()
        .enumerate()
        .map(|(index, text)| {
            let changed = then.as_ref().is_some_and(|then| then.as_ref().is_none_or(|then| then[index] != text));
            Cell { text, bad: None, changed }
        })
        .collect()
}

fn texts(run: &Run, of_a: Option<f64>, tape: Measure) -> [String; 7] {
    let way = run.one_way.map_or(String::new(), |way| {
        // A tape's length stands as it is; one that is worked out is about right.
        let about = if way.by == LengthBy::Measured { "" } else { "~" };
        format!("{about}{}", tape.length(way.mm))
    });
    [
        amps(run.amps.typical),
        amps(run.amps.peak),
        of_a.map(plain).unwrap_or_default(),
        run.fuse_a.map_or("none".into(), |fuse| format!("{} A", plain(fuse))),
        run.gauge_awg.map_or("?".into(), |awg| awg.to_string()),
        way,
        run.total().map_or(String::new(), |lost| format!("{:.1} %", run.percent(lost.peak))),
    ]
}

/// Currents alone: of a load, or of a unit.
pub(super) fn of_currents(typical_a: f64, peak_a: f64, of_a: Option<f64>) -> Vec<Cell> {
    let mut cells = vec![Cell::default(); HEADS.len()];
    cells[0].text = amps(typical_a);
    cells[1].text = amps(peak_a);
    cells[2].text = of_a.map(plain).unwrap_or_default();
    cells
}

/// A length alone: of a cable, and whether the last change altered it.
pub(super) fn of_length(mm: Option<f64>, measured: bool, before: Option<Option<f64>>, tape: Measure) -> Vec<Cell> {
    let text = |mm: Option<f64>| {
        mm.map_or(String::new(), |mm| format!("{}{}", if measured { "" } else { "~" }, tape.length(mm)))
    };
    let mut cells = vec![Cell::default(); HEADS.len()];
    cells[5].text = text(mm);
    cells[5].changed = before.is_some_and(|before| text(before) != cells[5].text);
    cells
}

/// Marks the figures that findings are about; the heaviest comes first.
pub(super) fn judge<'a>(cells: &mut [Cell], findings: impl Iterator<Item = &'a Finding>) {
    for finding in findings {
        if let Some(cell) = told_by(finding.check).and_then(|index| cells.get_mut(index)) {
            cell.bad = cell.bad.or(Some(finding.severity));
        }
    }
}

fn amps(amps: f64) -> String {
    format!("{amps:.1}")
}

/// Without decimals where there are none.
fn plain(number: f64) -> String {
    format!("{}", (number * 10.0).round() / 10.0)
}
